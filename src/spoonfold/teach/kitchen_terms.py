"""Kitchen words that a child may not know, for noticing that nobody explains them.

Terms of the trade, from memory. Only words that hardly mean anything else are here: `reduce`,
`cream` or `score` would be noticed in every other sentence.
"""

from __future__ import annotations

from collections.abc import Mapping

KITCHEN_TERMS: Mapping[str, tuple[str, ...]] = {
    "al dente": (),
    "baste": ("basted", "basting"),
    "batter": ("batters",),
    "blanch": ("blanched", "blanching"),
    "braise": ("braised", "braising"),
    "caramelize": ("caramelise", "caramelized", "caramelised", "caramelizing", "caramelising"),
    "colander": ("colanders",),
    "deglaze": ("deglazed", "deglazing"),
    "dice": ("dices", "diced", "dicing"),
    "drizzle": ("drizzled", "drizzling"),
    "emulsify": ("emulsified", "emulsion"),
    "fluff": ("fluffs", "fluffed", "fluffing"),
    "garnish": ("garnished", "garnishing"),
    "griddle": ("griddles",),
    "julienne": ("julienned",),
    "knead": ("kneads", "kneaded", "kneading"),
    "leaven": ("leavened", "leavening"),
    "marinate": ("marinade", "marinated", "marinating"),
    "mince": ("minces", "minced", "mincing"),
    "parboil": ("parboiled", "parboiling"),
    "poach": ("poached", "poaching"),
    "purée": ("puree", "puréed", "pureed"),
    "rinse": ("rinses", "rinsed", "rinsing"),
    "roux": (),
    "sauté": ("saute", "sautéed", "sauteed", "sautéing"),
    "scald": ("scalded", "scalding"),
    "sear": ("seared", "searing"),
    "shred": ("shreds", "shredded", "shredding"),
    "sift": ("sifts", "sifted", "sifting"),
    "simmer": ("simmers", "simmered", "simmering"),
    "stir-fry": ("stir-fried", "stir-frying"),
    "translucent": (),
    "whisk": ("whisks", "whisked", "whisking"),
    "zest": ("zested", "zesting"),
}
"""Each with its other forms."""
