"""Spoonfold: one folder of plain text becomes every sheet that a cooking class needs."""

__version__ = "0.1.0"
