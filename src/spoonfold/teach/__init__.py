"""Words, fractions, colours, skills. Pure functions."""
