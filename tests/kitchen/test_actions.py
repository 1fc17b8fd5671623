"""Each sentence of `actions.txt` with what happens in it, and what a changed word does to that.

The sentences and what they mean are ours, judged as a cook would; the tools, heat and dangers of
the verbs are common practice.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from golden_actions import flow_of, shown, shown_steps

from spoonfold.kitchen.lexicon import english
from spoonfold.knowledge.data import data
from spoonfold.knowledge.equipment import all_tools

GOLDEN: tuple[tuple[str, str], ...] = tuple(
    (line.split(" => ")[0], line.split(" => ")[1])
    for line in (Path(__file__).parent / "actions.txt").read_text("utf-8").splitlines()
    if line and not line.startswith("#")
)
COMMANDS = tuple(
    (words, actions)
    for words, actions in GOLDEN
    if (first := words.split()[0].lower()) in english().commands and actions.startswith(first)
)
HEATS = frozenset({"stove", "oven", "griddle", "grill"})


@pytest.mark.parametrize(("words", "actions"), GOLDEN, ids=[words for words, _ in GOLDEN])
def test_sentence(words: str, actions: str) -> None:
    """Just these actions, in this order."""
    assert shown(words) == actions


def test_the_sentences_are_many_and_said_once() -> None:
    """A line that stands twice holds one thing."""
    sentences = [words for words, _ in GOLDEN]
    assert len(sentences) == len(set(sentences)) >= 200


@pytest.mark.parametrize(("words", "actions"), COMMANDS, ids=[words for words, _ in COMMANDS])
def test_a_verb_that_is_not_known_is_another_action_or_a_question(words: str, actions: str) -> None:
    """Forgotten, replaced by nonsense."""
    first, rest = words.split(" ", 1)
    assert shown(f"Zorfle {rest}") != actions, first


@pytest.mark.parametrize(("words", "actions"), COMMANDS, ids=[words for words, _ in COMMANDS])
def test_a_verb_that_is_denied_is_not_done(words: str, actions: str) -> None:
    """Whatever stands behind “do not” is told as not done."""
    denied = shown(f"Do not {words[0].lower()}{words[1:]}")
    assert denied.split("; ")[0].startswith("NOT "), denied


@pytest.mark.parametrize(
    ("words", "actions"),
    [each for each in GOLDEN if " until " in each[0]],
    ids=[words for words, _ in GOLDEN if " until " in words],
)
def test_a_sign_of_doneness_that_is_dropped_is_missed(words: str, actions: str) -> None:
    """Without “until”, it is another action."""
    assert shown(words.split(" until ")[0] + ".") != actions


def test_what_goes_with_verbs_is_known_equipment() -> None:
    """By its name in the list of equipment, or one of four heats."""
    names = {tool.name for tool in all_tools()}
    known = {
        name
        for row in data("verbs.json")["implies"]["rows"]
        for each in (row, *row.get("unless", ()))
        for name in (*each.get("tools", ()), each.get("vessel", ""), each.get("heat", ""))
    }
    assert known - names - HEATS <= {""}


def test_every_verb_that_implies_something_is_a_verb() -> None:
    """Nothing is said of a word that the lexicon hasn't."""
    rows = data("verbs.json")["implies"]["rows"]
    assert {name for row in rows for name in row["verbs"]} <= english().commands.keys()


def steps(*words: str) -> list[str]:
    """The actions of the last of several steps."""
    return shown_steps(flow_of(*words).actions[len(words)])


def test_a_pronoun_means_what_the_step_before_was_done_to() -> None:
    assert steps("Cut the chicken.", "Fry it.") == ["fry breasts~ | in skillet | on stove"]


def test_what_was_mixed_cannot_be_parted() -> None:
    """The beef of a mix with egg takes the egg along."""
    found = steps("Mix the beef with the eggs.", "Fry the beef.")
    assert found == ["fry beef, eggs | in skillet | on stove"]


def test_slices_are_what_was_sliced() -> None:
    found = steps("Slice the potatoes.", "Rinse the rice.", "Fry the slices.")
    assert found == ["fry potatoes | in skillet | on stove"]


def test_what_nobody_names_is_what_is_worked_on() -> None:
    """With all that is in the pot."""
    found = steps("Warm the oil in the pot.", "Add the onion.", "Stir until soft.")
    assert found == ["stir oil, onion? | (spoon) | in pot | on stove | until soft"]


def test_a_second_bowl_holds_nothing_of_the_first() -> None:
    found = steps(
        "Beat the eggs in a bowl.", "Mix the flour and the sugar in a second bowl.", "Add the salt."
    )
    assert found == ["add salt + flour, sugar | in bowl"]
