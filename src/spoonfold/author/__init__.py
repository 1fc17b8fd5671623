"""What saves an author typing: a first class, a new recipe, what she has brought in, schemas.

Everything here is worked out from the same tables and grammars by which her files are read.
"""
