"""Grids, recipes and their proof. Knows arrays and steps, and nothing of trucks."""
