"""What to buy, what is left, and what it costs."""
