"""Words, colours, food groups, skills, places on the map. Pure functions.

A word of `words.yaml` is marked where it first stands on a page, in any listed form, and explained
just below that text: as an element that opens without a script on the site, as a line under the
step in the booklet (only what the dish itself teaches; other words lead to the list at the back).

The sign † stands behind what was told from memory, in recipes and in `words.yaml`, and every sheet
that prints one says so in a line. Whoever has looked a fact up takes the sign away and adds the
source to `sources:` in the recipe's header.
"""
