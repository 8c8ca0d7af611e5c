"""Measurements behind every claim about speed. No test asserts a time."""
