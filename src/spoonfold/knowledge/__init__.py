"""What is known of kitchens, as data with sources: loaders and look-ups, and no rules.

One list of each kind of thing, in one JSON file, asked by every room to the right. JSON loads in a
few tenths of a millisecond, and every command begins with it.
"""
