"""A session in time, under what the kitchen and the helpers allow."""
