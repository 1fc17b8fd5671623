"""Named cautions: what can hurt, in words that a ten-year-old and a helper both understand.

A step names one (`watch: hot handle`) and every sheet prints it in full. The temperatures
are those of the FoodSafety.gov chart for homes and community kitchens.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

# Where a fact comes from. Ways of handling tools have no published source.
PRACTICE = "common practice"
CHART = "FoodSafety.gov / USDA FSIS, Safe Minimum Internal Temperature chart"
FLOUR = "CDC and FDA, advice on raw flour and dough"
TCS = "FDA Food Code 1-201.10 (which foods need time and temperature control)"
COOLING = "FDA Food Code 3-501.14 (cooling); Bacillus cereus in rice: from memory"
REHEATING = "FoodSafety.gov / USDA FSIS chart (leftovers); FDA Food Code 3-403.11"
CHOKING = "USDA FNS-305 and the ICN Mealtime Memo of December 2022"
HONEY = "advice of public health services on infant botulism, from memory"
CONTACT = "FDA on allergen cross-contact, from memory"


@dataclass(frozen=True, slots=True)
class Caution:
    """One danger and what to do about it."""

    name: str
    """As a step names it."""
    text: str
    """One or two short sentences in English."""
    icon: str
    """A drawing of `layouts/icons/`, by its name without the ending."""
    source: str


@dataclass(frozen=True, slots=True)
class AdultNote:
    """A job that a step keeps for an adult, by name."""

    name: str
    """As a step names it; a verb, with “an adult” left out."""
    text: str
    """A whole sentence in English."""


_ALL = (
    Caution(
        "hot handle",
        "The handle gets hot. Use a dry cloth and turn handles inwards.",
        "heat",
        PRACTICE,
    ),
    Caution(
        "steam",
        "Steam burns. Lift the lid away from you and keep your face back.",
        "steam",
        PRACTICE,
    ),
    Caution(
        "hot oil",
        "Hot oil spits at water. Put food in gently, away from you, and keep drops of water out.",
        "heat",
        PRACTICE,
    ),
    Caution(
        "hot griddle",
        "The whole plate is hot, the edge too. Keep hands and sleeves off it.",
        "heat",
        PRACTICE,
    ),
    Caution(
        "hot oven",
        "An adult opens the oven and moves what is in it with dry oven gloves.",
        "oven",
        PRACTICE,
    ),
    Caution(
        "hot pan",
        "A pan from the oven stays hot for long. Nobody touches it without dry oven gloves.",
        "oven",
        PRACTICE,
    ),
    Caution(
        "boiling water",
        "Boiling water burns at once. An adult pours and drains it.",
        "heat",
        PRACTICE,
    ),
    Caution(
        "sharp edge",
        "Fingertips curl under. Look at the blade while it moves, and lay the "
        "knife flat when you stop.",
        "knife",
        PRACTICE,
    ),
    Caution(
        "peeler edge",
        "A peeler cuts skin too. Push it away from you, with your other hand behind it.",
        "knife",
        PRACTICE,
    ),
    Caution(
        "grater edge",
        "A grater cuts skin too. Stop when the piece is as short as your thumb.",
        "knife",
        PRACTICE,
    ),
    Caution(
        "can lid edge",
        "The lid and the rim are as sharp as a knife. An adult lifts out the lid.",
        "knife",
        PRACTICE,
    ),
    Caution(
        "scissor points", "Carry scissors closed, with the points in your fist.", "knife", PRACTICE
    ),
    Caution(
        "blender blade",
        "The blade is sharp even when it stands still. An adult plugs in and takes apart.",
        "knife",
        PRACTICE,
    ),
    Caution(
        "broken glass", "Don't touch it, and stand still. An adult picks it up.", "knife", PRACTICE
    ),
    Caution(
        "raw poultry",
        "Raw poultry can carry germs. Wash hands, tools and table, taste "
        "nothing, and cook it to 165 °F (74 °C) in the middle.",
        "raw",
        CHART,
    ),
    Caution(
        "raw meat",
        "Raw meat can carry germs. Wash hands, tools and table, and taste nothing. "
        "Ground meat is done at 160 °F (71 °C) in the middle.",
        "raw",
        CHART,
    ),
    Caution(
        "raw egg",
        "Raw egg can carry germs. Wash your hands after you touch it, and taste "
        "nothing until it is cooked.",
        "raw",
        CHART,
    ),
    Caution(
        "raw flour",
        "Raw flour can carry germs. Don't taste dough or batter, and wash your hands.",
        "raw",
        FLOUR,
    ),
    Caution(
        "raw fish",
        "Raw fish can carry germs. Wash hands, tools and table, and cook it to "
        "145 °F (63 °C), until it flakes.",
        "raw",
        CHART,
    ),
    Caution(
        "raw shellfish",
        "Raw shellfish can carry germs. Wash hands, tools and table, and cook "
        "it until it is opaque and firm, or until the shells open.",
        "raw",
        CHART,
    ),
    Caution(
        "raw sprouts",
        "Raw sprouts can carry germs. Cook them until they are hot all through.",
        "raw",
        TCS,
    ),
    Caution(
        "rice cooling",
        "Warm rice grows germs that cooking again doesn't stop. Spread it in a "
        "shallow pan and get it to 70 °F (21 °C) within two hours, to 41 °F (5 °C) within four "
        "more.",
        "thermometer",
        COOLING,
    ),
    Caution(
        "cool quickly",
        "Cooked food grows germs while it is warm. Spread it in a shallow pan "
        "and get it to 70 °F (21 °C) within two hours, to 41 °F (5 °C) within four more.",
        "thermometer",
        COOLING,
    ),
    Caution(
        "reheat",
        "This was cooked the day before. Heat it quickly to 165 °F (74 °C) all "
        "through, only once, and serve it hot.",
        "thermometer",
        REHEATING,
    ),
    Caution(
        "rest",
        "Let the meat stand for three minutes after the heat, before anyone cuts it. "
        "It goes on getting safer.",
        "clock",
        CHART,
    ),
    Caution(
        "cut fruit cold",
        "Cut fruit, tomato and leaves grow germs when they are warm. "
        "Keep them at 41 °F (5 °C) or colder.",
        "thermometer",
        TCS,
    ),
    Caution(
        "keep hot",
        "Food that waits stays at 140 °F (60 °C) or hotter. Check it with the thermometer.",
        "thermometer",
        "USDA FSIS, Cooking for Groups (2001, revised 2011)",
    ),
    Caution(
        "heavy pot",
        "Full pots are heavy. An adult carries and tips them, and the way is kept clear.",
        "pot",
        PRACTICE,
    ),
    Caution(
        "cord",
        "Nobody walks or reaches across the cord. Wet hands stay away from the plug.",
        "heat",
        PRACTICE,
    ),
    Caution("wet floor", "Wipe up spills at once. A wet floor is slippery.", "hands", PRACTICE),
    Caution(
        "choking shape",
        "Round or hard bites can stick in a throat. Cut them lengthwise and "
        "small, and eat sitting down.",
        "people",
        CHOKING,
    ),
    Caution(
        "pits and bones",
        "Look and feel for pits, shells and bones before you eat or cut.",
        "people",
        CHOKING,
    ),
    Caution(
        "honey and babies",
        "No honey, and nothing with honey in it, for a baby under one "
        "year: it can carry germs that make babies very ill.",
        "people",
        HONEY,
    ),
    Caution(
        "allergen swap",
        "Where two versions are made, each has its own bowl and spoon, and "
        "nothing moves from one to the other.",
        "allergen",
        CONTACT,
    ),
    Caution(
        "chili hands",
        "Chili burns eyes and skin. Don't touch your face, and wash your hands with soap.",
        "hands",
        PRACTICE,
    ),
    Caution(
        "citrus hands",
        "Juice stings in cuts and eyes. Don't touch your face, and rinse your hands.",
        "hands",
        PRACTICE,
    ),
)

CAUTIONS: Mapping[str, Caution] = {each.name: each for each in _ALL}
"""Every caution by its name."""

_JOBS = (
    AdultNote("stays at the burner", "An adult stays at the burner."),
    AdultNote("stays at the griddle", "An adult stays at the griddle."),
    AdultNote("stays at the oven", "An adult stays at the oven."),
    AdultNote("stays with the pot", "An adult stays with the pot."),
    AdultNote("sets the oven", "An adult sets the oven."),
    AdultNote("opens the oven", "An adult opens the oven and moves what is in it."),
    AdultNote("lifts out the lids", "An adult lifts out the lids of the cans."),
    AdultNote("lifts the lid", "An adult lifts the lid, away from faces."),
    AdultNote("pours the hot water", "An adult pours the hot water."),
    AdultNote("drains the pot", "An adult drains the pot."),
    AdultNote("carries the pot", "An adult carries the pot."),
    AdultNote(
        "checks with the thermometer", "An adult checks the thickest part with the thermometer."
    ),
    AdultNote("reads the label", "An adult reads every label for allergens."),
    AdultNote(
        "sits beside the cutting board",
        "An adult sits beside the cutting board, within arm's reach.",
    ),
    AdultNote("cuts this", "An adult does the cutting."),
    AdultNote("does this alone", "An adult does this alone."),
)

ADULT: Mapping[str, AdultNote] = {each.name: each for each in _JOBS}
"""Every adult's job by its name."""
