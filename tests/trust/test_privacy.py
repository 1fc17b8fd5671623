"""What is about children, and the class's money, is in no byte of what families or the world
get."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest
from everything_said import said_in
from full_class import FILES, RICE, write_full_class
from PIL import Image

from made_once import handed_out
from spoonfold.build import build
from spoonfold.problem import has_errors

pytestmark = pytest.mark.slow
NAMES = ("Zorabelle", "Quincephas", "Yxandra")
NEED, KEPT_OUT = "zqneedberry", "zqkeptberry"
NOTE, KEPT, CHANGED, WRITTEN = "zqsessionnote", "zqkept", "zqchanged", "zqwritten"
BUDGET, PRICE = "4321.09", "987.65"
BECAUSE, PRIVATE, PHOTO = "zqbecause", "zqprivate", "zqphotographer"

MARKERS: Mapping[str, str] = {
    **{f"a child's name ({name})": name for name in NAMES},
    "a need": NEED,
    "what is kept out of the room": KEPT_OUT,
    "a note for the adults": NOTE,
    "what a child did well": KEPT,
    "what is to change": CHANGED,
    "a story of a child": WRITTEN,
    "the budget": BUDGET,
    "a price": PRICE,
    "why a warning is accepted": BECAUSE,
    "a file of the private folder": PRIVATE,
    "who took a photo": PHOTO,
}
IN_CLASS = ("a child's name (Zorabelle)", "a note for the adults", "a price")
"""What the adults' sheets must say: the search finds it there, or finds nothing anywhere."""


def _pantry() -> str:
    berry = "{section: fruit, colour: red, group: fruit, tags: [plant], processing: 1}"
    return (
        FILES["pantry.yaml"].replace('"1.89"', f'"{PRICE}"')
        + f"{NEED}: {berry}\n{KEPT_OUT}: {berry}\n"
    )


@pytest.fixture(scope="module")
def tree(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What families and the world get of a class with a marker in every private field; and of the
    adults' sheets those that say some of them, and those with answers."""
    folder = tmp_path_factory.mktemp("private")
    photo = folder / "content/pictures/bowl.jpg"
    photo.parent.mkdir(parents=True)
    exif = Image.Exif()
    exif[0x013B] = PHOTO
    Image.radial_gradient("L").convert("RGB").save(photo, exif=exif, comment=PHOTO.encode())
    changes = {
        "class.yaml": FILES["class.yaml"]
        .replace("avoid: [milk]", f"avoid: [milk, {NEED}]")
        .replace("avoid: peanut", f"avoid: {KEPT_OUT}")
        .replace("budget: 4.50", f"budget: {BUDGET}")
        .replace("bring the big spoon", f"{NOTE} for {NAMES[1]}")
        .replace("they wash up meanwhile", BECAUSE),
        "pantry.yaml": _pantry(),
        "recipes/rice.md": RICE.replace("it takes a moment", BECAUSE).replace(
            "Rice as", "![A bowl](../pictures/bowl.jpg)\n\nRice as"
        ),
        "after/2027-09-18.md": FILES["after/2027-09-18.md"]
        .replace("The tasting.", f"Amber {KEPT}")
        .replace("Two pots.", CHANGED)
        .replace("It was", f"Amber {WRITTEN}"),
        "private/children.yaml": f"[{', '.join(NAMES)}, Amber, Eva, Fay, Gil, Hal]\n",
        "private/receipts.txt": PRIVATE,
        "private/notes.md": PRIVATE,
    }
    write_full_class(folder, changes)
    adults = ("jobs", "lesson-card", "shopping", "worksheet", "packet")
    outcome = build(folder, folder / "build", (*handed_out(), *adults))
    assert not has_errors(outcome.problems), outcome.problems
    assert outcome.write_failure is None and outcome.print_failure is None
    return folder / "build"


def found(tree: Path) -> dict[str, set[str]]:
    """The files that say each marker, in any case and with or without its stop."""
    places: dict[str, set[str]] = {what: set() for what in MARKERS}
    for name, text in said_in(tree):
        folded = text.casefold()
        for what, marker in MARKERS.items():
            forms = {marker.casefold(), marker.replace(".", ",").casefold()}
            if any(form in folded for form in forms):
                places[what].add(name)
    return places


@pytest.mark.parametrize("part", ["site", "families"])
def test_nothing_private_is_handed_out(tree: Path, part: str) -> None:
    """No marker in any byte, unpacked, read as a person would, or in a name."""
    assert list((tree / part).rglob("*"))
    assert {what: names for what, names in found(tree / part).items() if names} == {}


def test_the_search_finds_what_is_there(tree: Path) -> None:
    """The adults' sheets do say it, and the same search finds it there."""
    places = found(tree / "class")
    assert all(places[what] for what in IN_CLASS), places


def test_answers_stay_with_the_adults(tree: Path) -> None:
    """No key with answers lies among what families or the world get."""
    names = [
        path.relative_to(tree).as_posix()
        for path in tree.rglob("*")
        if "key" in path.name or "answer" in path.name
    ]
    assert [name for name in names if not name.startswith("class/")] == []
