"""What a food surely contains, and where a label must be read: these lists protect children.

Sources: FD&C Act 201(qq) for the US nine; Regulation (EU) No 1169/2011, Annex II, for the
fourteen. Hidden carriers are common practice, from memory.
"""

from __future__ import annotations

import re
from typing import Any

import pytest

Entry = dict[str, Any]

US_NINE = {"milk", "egg", "fish", "crustacean", "tree nut", "peanut", "wheat", "soy", "sesame"}
EU_MORE = {"gluten", "celery", "mustard", "sulphite", "lupin", "mollusc"}

# By hand: what each surely contains, all of it.
SURE = {
    "soy sauce": {"soy", "wheat", "gluten"},
    "tamari": {"soy"},
    "fish sauce": {"fish"},
    "worcestershire sauce": {"fish"},
    "oyster sauce": {"mollusc"},
    "shrimp paste": {"crustacean"},
    "miso paste": {"soy"},
    "firm tofu": {"soy"},
    "edamame": {"soy"},
    "tempeh": {"soy"},
    "tahini": {"sesame"},
    "hummus": {"sesame"},
    "sesame oil": {"sesame"},
    "za'atar": {"sesame"},
    "pesto": {"milk", "tree nut"},
    "couscous": {"wheat", "gluten"},
    "bulgur": {"wheat", "gluten"},
    "semolina": {"wheat", "gluten"},
    "panko": {"wheat", "gluten"},
    "all-purpose flour": {"wheat", "gluten"},
    "flour tortilla": {"wheat", "gluten"},
    "udon noodle": {"wheat", "gluten"},
    "soba noodle": {"wheat", "gluten"},
    "egg noodle": {"wheat", "gluten", "egg"},
    "naan": {"wheat", "gluten", "milk"},
    "pearl barley": {"gluten"},
    "ghee": {"milk"},
    "butter": {"milk"},
    "plain yogurt": {"milk"},
    "cheddar cheese": {"milk"},
    "sweetened condensed milk": {"milk"},
    "dry milk powder": {"milk"},
    "mayonnaise": {"egg"},
    "egg": {"egg"},
    "peanut butter": {"peanut"},
    "peanut oil": {"peanut"},
    "almond milk": {"tree nut"},
    "almond flour": {"tree nut"},
    "walnut": {"tree nut"},
    "pine nut": {"tree nut"},
    "imitation crab": {"fish"},
    "anchovy": {"fish"},
    "bonito flake": {"fish"},
    "dashi": {"fish"},
    "shrimp": {"crustacean"},
    "squid": {"mollusc"},
    "mussel": {"mollusc"},
    "celery": {"celery"},
    "dijon mustard": {"mustard"},
    "lupin bean": {"lupin"},
    "corn tortilla": set(),
    "rice paper": set(),
    "vegetable broth": set(),
    "rolled oats": {"gluten"},
    "buckwheat": set(),
    "coconut milk": set(),
    "coconut": set(),
    "red curry paste": set(),
    "ground turkey": set(),
}
# By hand: where brands differ, at least these must be looked for.
UNSURE = {
    "vegetable broth": {"celery", "wheat", "gluten", "soy", "milk"},
    "chicken broth": {"celery", "wheat", "gluten", "soy", "milk"},
    "red curry paste": {"crustacean", "fish"},
    "green curry paste": {"crustacean", "fish"},
    "mayonnaise": {"mustard"},
    "rice paper": {"wheat"},
    "rolled oats": {"wheat"},
    "oat milk": {"wheat"},
    "tamari": {"wheat", "gluten"},
    "miso paste": {"wheat", "gluten"},
    "flour tortilla": {"milk", "soy"},
    "corn tortilla": {"wheat"},
    "white bread": {"milk", "soy", "egg", "sesame"},
    "hamburger bun": {"milk", "egg", "sesame"},
    "curry powder": {"mustard", "celery"},
    "margarine": {"milk", "soy"},
    "semisweet chocolate": {"milk", "soy", "tree nut"},
    "raisin": {"sulphite"},
    "dried apricot": {"sulphite"},
    "imitation crab": {"crustacean", "egg", "wheat"},
    "hoisin sauce": {"sesame"},
    "kimchi": {"fish", "crustacean"},
    "walnut": {"peanut"},
    "peanut": {"tree nut"},
    "canned tuna": {"soy"},
    "coconut yogurt": {"milk", "tree nut", "soy"},
}
# A word in a name, and the allergen that it means.
CARRIERS = {
    "milk": (
        "milk|butter|buttermilk|cheese|cream|crema|creamer|yogurt|yoghurt|paneer|ghee|custard|whey"
        "|casein|lactose|curd|kefir|caramel|fudge|ranch|queso|parmesan|mozzarella|ricotta|feta"
        "|cheddar|gelato|pudding|alfredo"
    ),
    "egg": "egg|mayonnaise|mayo|meringue|aioli|custard|eggnog|brioche|challah",
    "fish": (
        "fish|anchovy|anchovies|tuna|salmon|cod|sardine|trout|herring|mackerel|bonito|caviar|roe"
        "|worcestershire|bass|eel|caesar|dashi"
    ),
    "crustacean": "shrimp|crab|prawn|lobster|crayfish|crawfish|langoustine|seafood",
    "mollusc": ("clam|mussel|oyster|scallop|squid|octopus|snail|calamari|abalone|conch|cuttlefish"),
    "tree nut": (
        "almond|walnut|pecan|hazelnut|cashew|pistachio|macadamia|brazil nut|pine nut|nut|marzipan"
        "|praline|frangipane|amaretti|amaretto"
    ),
    "peanut": "peanut|groundnut|satay",
    "soy": ("soy|soya|soybean|tofu|miso|tempeh|edamame|tamari|shoyu|natto|teriyaki|hoisin"),
    "sesame": "sesame|tahini|halva|hummus|furikake",
    "wheat": (
        "wheat|couscous|bulgur|semolina|macaroni|spaghetti|pasta|udon|somen|ramen|panko"
        "|breadcrumb|crumb|baguette|naan|pita|bun|matzo|bread|spelt|farro|durum|seitan|noodle"
        "|cracker|cookie|biscuit|cake|croissant|bagel|waffle|pancake|muffin|dumpling|wonton"
        "|pretzel|pizza|crouton|tortilla|pastry|pie crust|filo|phyllo|lasagna|flour|wafer|pierogi"
        "|ravioli|gnocchi|freekeh|kamut|einkorn|gluten"
    ),
    "gluten": "barley|malt|malted|rye|oat|oatmeal|beer|stout|lager",
    "celery": "celery|celeriac",
    "mustard": "mustard|dijon",
    "lupin": "lupin|lupine|lupini",
}
_PLANTS = (
    "coconut|almond|cashew|soy|soya|oat|rice|hemp|flax|pea|pea protein|nut|hazelnut|macadamia|"
    "walnut|pistachio|chestnut"
)
_GROUND = (
    "almond|apple|pear|plum|fruit|cashew|cookie|macadamia|mixed nut|peanut|pecan|seed|sunflower|"
    "sesame|hazelnut|pistachio|walnut|pumpkin|coconut"
)
# Names with such a word that mean something else, as patterns, each with its reason. Where the
# reason is “on the label”, the food must say so.
LABEL = "on the label"
OTHERWISE = {
    "milk": {
        rf"({_PLANTS})( \w+)? (milk|cream|yogh?urt)( powder| sauce| beverage)?": "of a plant",
        r"(cream of|condensed|whipped) coconut( \w+)?": "of a plant",
        rf"({_GROUND}) butter( \w+)?": "ground to a paste",
        r"butter (bean|lettuce)": "a bean, a lettuce",
        r"bread and butter pickle": "a pickle",
        r"cream style corn": "its own starch",
        r"cream of tartar": "a salt of wine",
        r"marshmallow cream": "egg white and sugar",
        r"water kefir": "sugar and water",
        r"custard apple": "a fruit",
        r"bean curd( \w+)?|tofu": "of soybeans",
        r"pudding spice": "what goes into one",
        r"balsamic cream": "thickened vinegar",
        r"black pudding": LABEL,
        r"cheese rennet": LABEL,
        r"cocoa butter": LABEL,
        r"(\w+ )?custard powder|(\w+ )*pudding mix": LABEL,
        r"ice cream cone": "what it is filled with",
        r"butter cracker": LABEL,
        r"(coffee|nondairy) creamer": LABEL,
        r"(vegan|plant|plant based|dairy free)( whipping| sour)?( ice)? "
        r"(butter|cheese|cheddar|parmesan|cream)( cheese)?": LABEL,
        r"rice milk drink mix": LABEL,
    },
    "egg": {
        r"egg (free|replac)\w*( \w+)*|eggless mayonnaise": "without",
        r"(vegan|plant based|liquid plant) (egg|mayonnaise)": "of a plant",
        r"custard apple": "a fruit",
        r"(frozen )?egg roll( wrapper)?": LABEL,
        r"(\w+ )?custard powder": LABEL,
    },
    "fish": {
        r"(vegan|vegetarian) fish sauce": "of a plant",
        r"(creamy )?caesar dressing": LABEL,
        r"eel sauce": LABEL,
    },
    "crustacean": {
        r"crab ?apple": "a fruit",
        r"seafood cocktail sauce": "what it goes with",
        r"(imitation )?crab( stick)?|surimi": LABEL,
        r"(seafood|crab boil|shrimp boil) seasoning": LABEL,
    },
    "mollusc": {
        r"(king )?oyster mushroom": "a mushroom",
        r"scallop squash": "by its shape",
        r"oyster plant": "a root",
        r"veal scallop": "a thin slice",
        r"(vegetarian|mushroom) oyster sauce": "of mushrooms",
    },
    "tree nut": {
        r"(corn|ginkgo|hickory|pili|soy|tiger) nut": LABEL,
        r"amaretto": LABEL,
        r"almond (extract|essence)": LABEL,
        r"almond bark": LABEL,
        r"nut free pesto|pesto without nut": LABEL,
        r"chili nut oil": LABEL,
    },
    "peanut": {},
    "soy": {r"fish tofu": LABEL, r"(soybean|soya) oil": LABEL},
    "sesame": {r"sesame leaf": "the leaf of perilla"},
    "wheat": {
        r"bread and butter pickle": "a pickle",
        r"spaghetti squash": "a squash",
        r"(zucchini|kelp|konjac|shirataki|glass|cellophane|mung bean|rice|dry rice|flat rice|thin "
        r"rice|rice vermicelli|sweet potato|sweet potato starch) noodle": "of another plant",
        r"(almond|carob|(glutinous|sweet|sticky|white|brown) rice|rice|hazelnut|peanut|potato|"
        r"amaranth|barley|malted barley|(blue |fine )?corn|fine maize|corn masa|corn tortilla|"
        r"buckwheat|cassava|yuca|chestnut|chickpea|gram|garbanzo|coconut|lentil|pea|bean|urad|"
        r"lupine?|millet|oat|plantain|green banana|arepa|quinoa|rye|sorghum|soya?|soybean|tapioca|"
        r"teff|mustard) flour": "of another grain, root, nut or pulse",
        r"gluten free( \w+)*|grain free tortilla": LABEL,
        r"(rice|corn|lentil|red lentil|chickpea|bean) pasta": LABEL,
        r"(cassava|rice|corn|6 inch corn) tortilla": LABEL,
        r"(puffed |korean |tteokbokki )?rice (cake|cracker)( stick)?": LABEL,
        r"(meat |jarred )*(pasta|pizza) sauce": "what it goes on",
        r"pizza cheese blend": "what it goes on",
        r"pancake syrup": "what it goes on",
        r"cake yeast": "pressed",
        r"noodle soup mix|ramen broth": LABEL,
        r"fish ?cake": LABEL,
        r"wafer paper": LABEL,
        r"(amaretti|almond) cookie": LABEL,
        r"crisp bread|cheese bread|cheesy bread": LABEL,
        r"tortilla chip": LABEL,
        r"everything bagel seasoning": LABEL,
    },
    "gluten": {r"(root|ginger) beer( plant leaf)?": "without barley", r"rice malt syrup": LABEL},
    "celery": {},
    "mustard": {},
    "lupin": {},
}


def written(name: str, entry: Entry) -> set[str]:
    """Every name of a food, folded, without its plural ending."""
    names = (name, entry.get("plural", name), *entry.get("also", ()))
    return {re.sub(r"(?<=[^s])s$", "", " ".join(each.split("-"))) for each in names}


@pytest.mark.parametrize("name", sorted(SURE))
def test_sure_allergens_by_hand(pantry: dict[str, Entry], name: str) -> None:
    """The allergens of a food are exactly those that a person worked out by hand."""
    assert set(pantry[name].get("allergens", ())) == SURE[name]


@pytest.mark.parametrize("name", sorted(UNSURE))
def test_labels_to_read_by_hand(pantry: dict[str, Entry], name: str) -> None:
    """Where brands differ, the label is to be read for at least these."""
    assert set(pantry[name].get("check label", ())) >= UNSURE[name]


@pytest.mark.parametrize("allergen", CARRIERS)
def test_a_name_betrays_its_allergen(pantry: dict[str, Entry], allergen: str) -> None:
    """A food with a name after an allergen has it, by whichever of its names; or it is listed
    with the reason why not, and every such reason is needed."""
    word = re.compile(rf"\b(?:{CARRIERS[allergen]})s?\b")
    unused = set(OTHERWISE[allergen])
    for name, entry in pantry.items():
        if allergen in entry.get("allergens", ()):
            continue
        for each in written(name, entry):
            if not word.search(each):
                continue
            meant = [one for one in OTHERWISE[allergen] if re.fullmatch(f".*?(?:{one})", each)]
            assert meant, f"{name}: {each}"
            if OTHERWISE[allergen][meant[0]] is LABEL:
                assert allergen in entry.get("check label", ()), f"{name}: {each}"
            unused.difference_update(meant)
    assert not unused


def test_every_allergen_occurs(pantry: dict[str, Entry]) -> None:
    """The US nine and what the EU fourteen add to them: each is surely in something, or must
    be looked for on labels."""
    sure = {each for entry in pantry.values() for each in entry.get("allergens", ())}
    unsure = {each for entry in pantry.values() for each in entry.get("check label", ())}
    assert sure >= US_NINE
    assert sure | unsure == US_NINE | EU_MORE


def test_wheat_is_gluten(pantry: dict[str, Entry]) -> None:
    """Wheat always comes with gluten, sure or unsure."""
    for name, entry in pantry.items():
        for key in ("allergens", "check label"):
            if "wheat" in entry.get(key, ()):
                both = {*entry.get("allergens", ()), *entry.get(key, ())}
                assert "gluten" in both, f"{name}: {key}"


def test_animal_allergens_are_animal(pantry: dict[str, Entry]) -> None:
    """Milk, egg, fish and shellfish make a food animal; fish and shellfish make it seafood."""
    for name, entry in pantry.items():
        sure = set(entry.get("allergens", ()))
        if sure & {"milk", "egg", "fish", "crustacean", "mollusc"}:
            assert "animal" in entry["tags"], name
        if sure & {"fish", "crustacean", "mollusc"}:
            assert "seafood" in entry["tags"], name


def test_seafood_names_its_allergen(pantry: dict[str, Entry]) -> None:
    """Nothing of the sea is without fish, crustacean or mollusc, sure or on the label."""
    for name, entry in pantry.items():
        if "seafood" in entry["tags"]:
            listed = {*entry.get("allergens", ()), *entry.get("check label", ())}
            assert listed & {"fish", "crustacean", "mollusc"}, name


def test_coconut_is_tagged_but_no_tree_nut(pantry: dict[str, Entry]) -> None:
    """Coconut is no tree nut (FDA allergen guidance, 2025; from memory) but is always tagged,
    since some families avoid it."""
    for name, entry in pantry.items():
        if "coconut" in name:
            assert "coconut" in entry["tags"], name
            assert "tree nut" not in entry.get("allergens", ()), name


def test_nuts_and_seeds_are_checked(pantry: dict[str, Entry]) -> None:
    """Nuts and seeds are packed on shared lines: each has an allergen or a label to read."""
    for name, entry in pantry.items():
        if entry["section"] == "nuts and seeds":
            assert entry.get("allergens") or entry.get("check label"), name


def test_packets_with_long_lists_are_checked(pantry: dict[str, Entry]) -> None:
    """A formulated product without a sure allergen has a label to read, but for a few."""
    plain = {"light corn syrup", "food colouring", "rice milk"}
    for name, entry in pantry.items():
        if entry["processing"] == "4" and name not in plain:
            assert entry.get("allergens") or entry.get("check label"), name
