"""The fixed texts in every language: all gathered, all translated, all blanks in their place."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

from spoonfold.language.amounts import amount_text
from spoonfold.language.texts import load_texts
from spoonfold.press.layouts import shipped_layouts
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.grammar import read_amount

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tools"))
import messages

_BLANK = re.compile(r"\{(\w+)\}")
_LANGUAGES = sorted(path.stem for path in messages.MESSAGES.glob("*.po"))


def _catalogue(language: str) -> Catalog:
    with (messages.MESSAGES / f"{language}.po").open("rb") as file:
        return read_po(file, locale=language)


def _forms(text: str | tuple[str, ...] | list[str]) -> tuple[str, ...]:
    return (text,) if isinstance(text, str) else tuple(text)


def test_template_is_current() -> None:
    """Every fixed text of the sheets is in the template: else run tests/tools/messages.py."""
    assert messages.TEMPLATE.read_bytes() == messages.written(messages.template())


def test_texts_are_said_whole() -> None:
    """Texts are gathered where they stand in full, from templates, code and named cautions."""
    found = messages.template()
    for known in (
        "Gather and measure",
        "hot handle",
        "An adult stays at the burner.",
        "sesame",
        ("cup", "cups"),
        "First, with an adult",
    ):
        assert known in found
    assert len(found) > 250


@pytest.mark.parametrize("language", _LANGUAGES)
class TestTranslation:
    def test_nothing_is_missing(self, language: str) -> None:
        """Every text has a translation, and none is marked as a guess."""
        catalogue = _catalogue(language)
        wanted = {each.id for each in messages.template() if each.id}
        assert {each.id for each in catalogue if each.id} == wanted
        assert [each.id for each in catalogue if each.id and not all(_forms(each.string))] == []
        assert [each.id for each in catalogue if each.fuzzy] == []

    def test_blanks_match(self, language: str) -> None:
        """A translation fills the blanks of its original, each of them and no other."""
        for each in _catalogue(language):
            if not each.id:
                continue
            originals = _forms(each.id)
            for index, text in enumerate(_forms(each.string)):
                # A singular may say its number in words.
                original = originals[min(index, len(originals) - 1)]
                assert set(_BLANK.findall(text)) == set(_BLANK.findall(original)), each.id

    def test_temperatures_and_digits_match(self, language: str) -> None:
        """No translation changes a number: a wrong temperature can hurt."""
        for each in _catalogue(language):
            if each.id and isinstance(each.id, str):
                assert re.findall(r"\d+", str(each.string)) == re.findall(r"\d+", each.id), each.id


def test_spanish_is_spoken() -> None:
    """The catalogue is read when a sheet is made, plurals and lone words too."""
    texts = load_texts("es", shipped_layouts())
    assert texts.say("Cook") == "Cocinar"
    assert texts.say("cup") == "taza"
    assert texts.count("For 1 person", "For {number} people", 4) == "Para 4 personas"
    half, two = read_amount("1/2 cup"), read_amount("2 cups")
    assert isinstance(half, Amount) and isinstance(two, Amount)
    assert (amount_text(half, texts), amount_text(two, texts)) == ("½ taza", "2 tazas")
