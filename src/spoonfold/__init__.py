"""Spoonfold: one folder of plain text becomes every sheet that a cooking class needs."""

__version__ = "0.2.0.dev0"
"""The one place where the version is said."""
