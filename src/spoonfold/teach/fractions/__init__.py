"""Fractions from a dish's own numbers: questions with one right answer each."""
