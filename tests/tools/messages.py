"""Gathers every fixed text that a sheet may print into `layouts/messages/spoonfold.pot`.

Run it after a text was added or changed: `python tests/tools/messages.py`. Each language's
catalogue beside it then keeps what still fits, and lists what is missing with an empty text.
"""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import read_po, write_po

from spoonfold.knowledge.cautions import ADULT, CAUTION_GROUPS, CAUTIONS
from spoonfold.quantity.amount import SIZES
from spoonfold.quantity.unit import UNITS
from spoonfold.read.nutrients import packaged_foods
from spoonfold.read.pantry import ALLERGENS, PLACES, SECTIONS
from spoonfold.sheets.lesson_card.day import PARTS
from spoonfold.sheets.notice import EXAMPLES
from spoonfold.sheets.shared.labels import KINDS, ON_LABELS

ROOT = Path(__file__).resolve().parents[2]
MESSAGES = ROOT / "layouts" / "messages"
TEMPLATE = MESSAGES / "spoonfold.pot"

_SOURCES = (
    (ROOT / "layouts" / "pages", "**.html", "jinja2"),
    (ROOT / "src" / "spoonfold" / "sheets", "**.py", "python"),
    (ROOT / "src" / "spoonfold" / "language", "**.py", "python"),
)
_KEYWORDS = {"say": None, "count": (1, 2)}

# Words that recipes and class.yaml hand to the sheets: what is washed and used, why there is a
# swap, a part of a food.
WASHED = (
    "hands",
    "table",
    "bowl",
    "board",
    "knife",
    "thermometer",
    "spoon",
    "sink",
    "whisk",
    "scissors",
    "griddle",
    "colander",
    "tools",
)
EQUIPMENT = (
    "baking pan",
    "big pot",
    "blender",
    "board",
    "bowl",
    "burner",
    "can opener",
    "clean towel",
    "colander",
    "cooler",
    "grater",
    "griddle",
    "jug",
    "knife",
    "ladle",
    "mixing bowl",
    "oven",
    "oven shelf",
    "peeler",
    "pot",
    "refrigerator",
    "rolling pin",
    "scale",
    "scissors",
    "sink",
    "skillet",
    "spatula",
    "table",
    "thermometer",
    "tongs",
    "whisk",
    "wooden spoon",
)
REASONS = ("price", "taste", "season", "vegetarian", "vegan", "halal", "kosher")
AVOIDED = ("animal", "seafood", "coconut", "hot spice")
"""Kinds that a family may avoid, besides the allergens and what every notice lists."""
PIECES = ("zest", "juice", "yolk", "white", "peel")
_VOLATILE = (
    '"POT-Creation-Date',
    '"PO-Revision-Date',
    '"Generated-By',
    '"Last-Translator',
    '"Report-Msgid-Bugs-To',
)

Message = str | tuple[str, ...]


def messages() -> Iterator[tuple[Message, str]]:
    """Every message, a pair for a plural, and the place that it comes from."""
    for folder, pattern, method in _SOURCES:
        found = extract_from_dir(folder, [(pattern, method)], keywords=_KEYWORDS)
        for name, _, message, _, _ in found:
            yield message, (folder / name).relative_to(ROOT).as_posix()
    for caution in CAUTIONS.values():
        yield caution.name, "src/spoonfold/knowledge/cautions.json"
        yield caution.text, "src/spoonfold/knowledge/cautions.json"
        yield caution.short, "src/spoonfold/knowledge/cautions.json"
        yield caution.few, "src/spoonfold/knowledge/cautions.json"
    for group in CAUTION_GROUPS:
        yield group.name, "src/spoonfold/knowledge/cautions.json"
    for job in ADULT.values():
        yield job.text, "src/spoonfold/knowledge/cautions.json"
    for unit in UNITS:
        if unit.name:
            yield (unit.name, unit.plural), "src/spoonfold/quantity/unit.py"
    for words, place in (
        (SIZES, "src/spoonfold/quantity/amount.py"),
        (ALLERGENS, "src/spoonfold/read/pantry.py"),
        (KINDS, "src/spoonfold/sheets/shared/labels.py"),
        (WASHED, "recipes: wash"),
        (REASONS, "recipes: swaps"),
        (PIECES, "recipes: pieces"),
        (EQUIPMENT, "class.yaml: equipment"),
        (AVOIDED, "src/spoonfold/read/pantry.py"),
        (SECTIONS, "src/spoonfold/read/pantry.py"),
        (PLACES, "src/spoonfold/read/pantry.py"),
        (ON_LABELS.values(), "src/spoonfold/sheets/shared/labels.py"),
        (EXAMPLES.values(), "src/spoonfold/sheets/notice.py"),
        (PARTS.values(), "src/spoonfold/sheets/lesson_card/day.py"),
        ((food.name for food in packaged_foods().values()), "src/spoonfold/read/nutrients.py"),
    ):
        for word in words:
            yield word, place


def template() -> Catalog:
    """The catalogue without a language."""
    catalogue = Catalog(
        project="Spoonfold",
        version="1",
        fuzzy=False,
        charset="utf-8",
        header_comment="# Every fixed text that a sheet of Spoonfold may print.",
    )
    for message, place in messages():
        # A singular that is also used by itself is found through its plural.
        if isinstance(message, str) and message in catalogue and catalogue[message].pluralizable:
            continue
        catalogue.add(message, locations=[(place, 0)])
    return catalogue


def written(catalogue: Catalog) -> bytes:
    """The catalogue as a file, without the clock and without line numbers."""
    file = BytesIO()
    write_po(
        file, catalogue, width=98, sort_output=True, include_lineno=False, ignore_obsolete=True
    )
    lines = file.getvalue().decode().split("\n")
    return "\n".join(line for line in lines if not line.startswith(_VOLATILE)).encode()


def main() -> None:
    found = template()
    MESSAGES.mkdir(exist_ok=True)
    TEMPLATE.write_bytes(written(found))
    for path in sorted(MESSAGES.glob("*.po")):
        with path.open("rb") as file:
            catalogue = read_po(file, locale=path.stem)
        catalogue.update(found, no_fuzzy_matching=True)
        path.write_bytes(written(catalogue))
        missing = [
            each.id
            for each in catalogue
            if each.id
            and not any(each.string if isinstance(each.string, tuple) else (each.string,))
        ]
        print(f"{path.name}: {len(missing)} missing")


if __name__ == "__main__":
    main()
