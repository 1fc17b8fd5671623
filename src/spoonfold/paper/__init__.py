"""Model and results to page values: typed, HTML-free, one file per sheet."""
