"""Frozen values: what the readers make and every later room works on."""
