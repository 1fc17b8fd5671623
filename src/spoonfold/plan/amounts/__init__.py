"""Which step uses how much of what, and amounts at another size, as they are measured."""
