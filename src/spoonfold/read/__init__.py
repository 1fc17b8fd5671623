"""Text to model, or located problems. The only room that knows YAML and Markdown."""
