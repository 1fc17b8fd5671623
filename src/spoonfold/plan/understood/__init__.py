"""Notes that follow from what is written: worked out once, for every rule and sheet."""
