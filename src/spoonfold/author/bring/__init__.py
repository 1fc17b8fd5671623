"""A recipe that she has elsewhere, brought into a file of ours: a saved page, JSON, pasted text.

Published source of the data in pages: schema.org/Recipe (schema.org, an open standard) as JSON-LD,
Microdata or RDFa Lite. Nothing is fetched; what can't be read surely is marked as a guess.
"""
