"""Figures drawn as SVG text."""
