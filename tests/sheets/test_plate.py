"""The drawn dish: its foods in the shares that they weigh, the same on every machine."""

from __future__ import annotations

import re
from math import atan2, pi

import pytest

from demo_class import demo_facts
from spoonfold.language.texts import Texts
from spoonfold.plan.amounts.weights import weights_of
from spoonfold.press.figures.plate import plate_figure
from spoonfold.sheets.booklet.plate import Food, PlateView, plate_view

FACTS = demo_facts()
TEXTS = Texts("en")
SECTOR = re.compile(
    r'd="M(\S+) (\S+?)A78 78 0 ([01]) 1 (\S+) (\S+?)L[^"]*" fill="(#\w+)" fill-opacity'
)


def view_of(key: str) -> PlateView:
    found = plate_view(FACTS.folder.recipes[key], FACTS.uses[key], FACTS.folder.pantry, TEXTS)
    assert found is not None
    return found


@pytest.mark.parametrize("key", sorted(FACTS.folder.recipes))
def test_shares_make_a_whole(key: str) -> None:
    """What is cooked together and what lies around it are each all of their part of the plate."""
    view = view_of(key)
    for foods in (view.middle, view.around):
        assert not foods or sum(food.share for food in foods) == pytest.approx(1)
    assert bool(view.middle) == (view.middle_share > 0)


def test_what_is_cooked_lies_in_the_middle() -> None:
    """Turkey, oats, onion and parsley go into the oven, the vegetables and the yogurt do not; what
    only flavours isn't seen. Weights are the pantry's."""
    view = view_of("turkey-kofta")
    recipe, uses = FACTS.folder.recipes["turkey-kofta"], FACTS.uses["turkey-kofta"]
    grams = {
        each.ingredient.name: each.grams for each in weights_of(recipe, uses, FACTS.folder.pantry)
    }
    cooked = ("ground turkey", "rolled oats", "onion", "parsley")
    around = ("plain yogurt", "cucumber", "mint", "lemon", "romaine lettuce", "tomatoes")
    inside, outside = (sum(grams[name] or 0 for name in names) for names in (cooked, around))
    assert view.middle_share == pytest.approx(float(inside / (inside + outside)))
    assert view.middle[0].colour == "meat"
    heaviest = max(cooked + around, key=lambda name: grams[name] or 0)
    assert view.words.startswith(f"The plate from above, by weight: {heaviest} ")


def test_a_sector_is_as_wide_as_its_share() -> None:
    """Read back from the drawing: three foods, of a half, three tenths and a fifth."""
    foods = (Food("red", "dice", 0.5), Food("green", "leaf", 0.3), Food("pale", "grains", 0.2))
    drawn = plate_figure(PlateView("x", (), foods, 0, "A plate"), "p", 100)
    angles = []
    for x, y, _, to_x, to_y, _ in SECTOR.findall(drawn):
        turned = atan2(float(to_y), float(to_x)) - atan2(float(y), float(x))
        angles.append(turned % (2 * pi) / (2 * pi))
    assert angles == pytest.approx([food.share for food in foods], abs=0.001)


def test_it_is_the_same_every_time_and_says_its_words() -> None:
    """No chance of a process goes in, and who doesn't see it hears what is on it."""
    view = view_of("rice-paper-rolls")
    drawn = plate_figure(view, "p", 172)
    assert drawn == plate_figure(view, "p", 172)
    assert f'<title id="p-title">{view.words}</title>' in drawn
    assert drawn.count("<") < 100
