"""Who sits where, who does what, and what is brought for it."""
