"""Model and results to problems: one file per family of rules, one function per rule."""
