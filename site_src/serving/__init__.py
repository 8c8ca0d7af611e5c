"""Serving the built site: on this machine, and over HTTPS on the shop's network."""
