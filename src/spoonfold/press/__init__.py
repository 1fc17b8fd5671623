"""Page values to bytes: HTML, PDF, figures, and the staged output."""
