"""The arithmetic: uses, scale, scoop. Pure functions."""
