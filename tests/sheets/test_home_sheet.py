"""Home sheets: cautions in full once and never dropped, notes as sentences."""

from __future__ import annotations

from fractions import Fraction

import pytest

from spoonfold.language.texts import Texts
from spoonfold.model.recipe import Step, Term
from spoonfold.problem import Place
from spoonfold.sheets.shared.cautions import CautionView, cautions_of, sentence
from spoonfold.sheets.shared.recipe import reminded
from spoonfold.sheets.shared.steps import StepView

TEXTS = Texts("en")
HERE = Place("content/recipes/rice.md")


def step(number: int, *cautions: CautionView) -> StepView:
    return StepView(
        number=number, group=None, text=(), uses=(), facts=(), cautions=cautions, wash="", easier=""
    )


STEAM = CautionView("steam", "Steam.", "Steam burns. Lift the lid away from you.")
CORD = CautionView("heat", "Cord.", "Nobody walks across the cord.")
ADULT = CautionView("adult", "An adult", "carries the pot. It is heavy.")


def test_a_caution_is_in_full_where_it_comes_first() -> None:
    """The first time whole; then its first sentence, with where the whole of it stands."""
    first, second = reminded((step(2, STEAM), step(5, STEAM)), TEXTS)
    assert first.cautions == (STEAM,)
    assert second.cautions == (CautionView("steam", "Steam.", "Steam burns. More at step 2."),)


def test_no_caution_is_ever_dropped() -> None:
    """As many cautions stand at each step as were written there, under the same names."""
    steps = (step(1, STEAM, CORD, ADULT), step(2, STEAM, ADULT), step(3, CORD, STEAM))
    for before, after in zip(steps, reminded(steps, TEXTS), strict=True):
        assert [each.title for each in after.cautions] == [each.title for each in before.cautions]


def test_an_adults_job_and_a_single_sentence_are_never_shortened() -> None:
    """A job belongs to its own step; one sentence is brief enough."""
    again = reminded((step(1, CORD, ADULT), step(2, CORD, ADULT)), TEXTS)[1]
    assert again.cautions == (CORD, ADULT)


def test_a_decimal_point_ends_no_sentence() -> None:
    """A temperature such as 62.8 °C isn't cut in two."""
    fish = CautionView("raw", "Raw fish.", "Cook it to 62.8 °C in the middle. Wash hands.")
    again = reminded((step(1, fish), step(2, fish)), TEXTS)[1]
    assert again.cautions[0].text == "Cook it to 62.8 °C in the middle. More at step 1."


@pytest.mark.parametrize(
    ("note", "said"),
    [
        ("carries the pot and tips it", ("An adult", "carries the pot and tips it.")),
        ("stays at the burner", ("An adult", "stays at the burner.")),
        (
            "ladles the soup; bowls stay on the table!",
            ("An adult", "ladles the soup; bowls stay on the table!"),
        ),
    ],
)
def test_an_adults_job_reads_as_a_sentence(note: str, said: tuple[str, str]) -> None:
    """Whether the job has a name or is written freely."""
    made = cautions_of(_step(adult=(Term(note, HERE),)), TEXTS)
    assert [(each.title, each.text) for each in made] == [said]


def test_a_caution_of_ones_own_reads_as_a_sentence() -> None:
    """A free caution gets its capital and its full stop."""
    made = cautions_of(_step(watch=(Term("the tray is slippery", HERE),)), TEXTS)
    assert made == (CautionView("caution", "", "The tray is slippery."),)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", ""),
        ("cut it", "Cut it."),
        ("Cut it!", "Cut it!"),
        ("étale", "Étale."),
        ("切る。", "切る。"),
        (" tear it ", "Tear it."),
    ],
)
def test_sentences_get_what_they_lack(text: str, said: str) -> None:
    """A capital first and a full stop last, unless another mark ends it already."""
    assert sentence(text) == said


def _step(watch: tuple[Term, ...] = (), adult: tuple[Term, ...] = ()) -> Step:
    return Step(number=1, text=(), place=HERE, watch=watch, adult=adult, time=Fraction(1))
