"""Exact kitchen amounts: units, numbers, the ingredient line, and how they are shown again."""
