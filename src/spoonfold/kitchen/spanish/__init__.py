"""Recipes in Spanish, put into the words that the rules go by."""
