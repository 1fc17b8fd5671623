"""Fixed texts, plurals, numbers, units and dates in each language."""
