"""What happens in the kitchen: each step understood from its own words."""
