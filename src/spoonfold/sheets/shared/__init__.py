"""Pieces that several sheets share."""
