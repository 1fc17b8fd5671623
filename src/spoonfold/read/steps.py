"""Numbered items with their nested `key: value` notes, as steps."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from spoonfold.knowledge.equipment import wash_words
from spoonfold.model.prose import Inline, Paragraph, Text
from spoonfold.model.recipe import Need, Step, Term
from spoonfold.problem import Edit, Place
from spoonfold.quantity.duration import read_minutes
from spoonfold.quantity.grammar import Refusal
from spoonfold.quantity.temperature import read_temperature
from spoonfold.read.grammar import read_holding, read_need, read_wait
from spoonfold.read.markdown import Item, Note, Section
from spoonfold.read.nodes import Scalar, shorten
from spoonfold.read.record import Key
from spoonfold.read.shape import (
    Choice,
    Found,
    Line,
    Parsed,
    Whole,
    add,
    nearest,
    quoted_list,
    refused,
    spelling,
)

MOST_STEPS = 200
WHEN = ("day before", "before class")
FREE_NOTES = ("watch", "adult", "easier", "home", "done", "card")
WASHED = ("hands", *wash_words())


class _Terms:
    """Names between commas, each with its own column."""

    def read(self, node: Any, found: Found) -> tuple[Term, ...]:
        return tuple(_split_terms(node))


class _Needs:
    """Equipment between commas, with counts."""

    def read(self, node: Any, found: Found) -> tuple[Need, ...]:
        needs = []
        for term in _split_terms(node):
            value = read_need(term.text)
            if isinstance(value, Refusal):
                refused(value, Scalar(term.text, term.place), found)
            else:
                needs.append(Need(value[0], value[1], term.place))
        return tuple(needs)


class _Washed:
    """What is washed: a few fixed words."""

    def read(self, node: Any, found: Found) -> tuple[Term, ...]:
        terms = []
        for term in _split_terms(node):
            if Choice(WASHED, safe=False).read(Scalar(term.text, term.place), found) is not None:
                terms.append(Term(term.text.lower(), term.place))
        return tuple(terms)


class _After:
    """Step numbers between commas, or `none`."""

    def read(self, node: Any, found: Found) -> tuple[int, ...] | None:
        if node.text.strip().lower() == "none":
            return ()
        numbers = []
        for term in _split_terms(node):
            number = Whole(1, MOST_STEPS, "a step's number, or the word none").read(
                Scalar(term.text, term.place), found
            )
            if number is None:
                return None
            numbers.append(number)
        return tuple(numbers)


def _split_terms(node: Scalar) -> list[Term]:
    if "," not in node.text:
        # Most notes are one term, and their values have no spaces round them.
        return [Term(node.text, node.place)] if node.text else []
    terms, at = [], 0
    for part in node.text.split(","):
        text = part.strip()
        if text:
            shift = at + len(part) - len(part.lstrip())
            place = node.place
            column = place.column + shift if place.column else 0
            terms.append(Term(text, Place(place.path, place.line, column)))
        at += len(part) + 1
    return terms


NOTES = (
    Key("time", Parsed(read_minutes, "minutes, such as 6 min"), "minutes of work", example="6 min"),
    Key("wait", Parsed(read_wait, "minutes, such as 20 min aside"), "minutes without hands"),
    Key("class time", Parsed(read_minutes, "minutes, such as 12 min"), "what it takes children"),
    Key("when", Choice(WHEN), "done beforehand by an adult"),
    Key("for", Choice(("class",)), "done once for everyone"),
    Key("holds", Parsed(read_holding, "how much fits at once"), "how much fits at once"),
    Key("skills", _Terms(), "skills of skills.yaml"),
    Key("needs", _Needs(), "equipment, with counts"),
    Key("hands", Whole(1, 30, "how many children work at it"), "children at work"),
    Key("watch", _Terms(), "cautions"),
    Key("adult", Line("what the adult does"), "what the adult does"),
    Key("wash", _Washed(), "what is washed at the end of this step"),
    Key("heat", Parsed(read_temperature, "a temperature, such as 165 °F"), "must be reached"),
    Key("after", _After(), "step numbers, or none"),
    Key("easier", Line("another way in"), "another way in for a child who needs one"),
    Key("home", Line("the step in words for home"), "the step in words for home"),
    Key("done", Line("how to see that it is done"), "how to see that it is done"),
    Key("card", Line("the step in a few words"), "the step in a few words for the table card"),
)
_OF_SAFETY = frozenset(("heat", "wash", "done", "watch", "adult"))
"""Notes that nobody writes but she herself."""
_BY_NAME = {key.name: key for key in NOTES}
_ANY_KEY = rf"(?:{'|'.join(_BY_NAME)})\s*:"
_SUNK_NOTE = re.compile(rf"[-*+] {_ANY_KEY}", re.IGNORECASE)
_RUN_ON_NOTE = re.compile(rf"[-–—•*+]* ?{_ANY_KEY}", re.IGNORECASE)


def split_note(note: Note, found: Found) -> tuple[str, Scalar] | None:
    """Key and value of one note, or None after saying that it has no colon."""
    words, place = note.text, note.place
    is_folded = "\n" in words
    if is_folded:
        for number, line in enumerate(words.split("\n")[1:], place.line + 1):
            if _RUN_ON_NOTE.match(line):
                add(
                    found,
                    "strange-step",
                    Place(place.path, number),
                    "This note is read as more words of the one above it.",
                    f"    - {line.lstrip('-*+ ')}",
                )
                return None
        words = words.replace("\n", " ")
    key, colon, value = words.partition(":")
    if not colon:
        add(
            found,
            "note-without-colon",
            place,
            f"“{shorten(note.text)}” stands under a step, where `key: value` notes go.",
            f"The keys are {quoted_list(_BY_NAME)}. Plain words go into the step itself.",
        )
        return None
    begun = value.lstrip()
    # Of words that were folded from several lines only the line is known.
    column = 0 if is_folded or not place.column else place.column + len(words) - len(begun)
    return " ".join(key.split()), Scalar(begun.rstrip(), Place(place.path, place.line, column))


def step_text(item: Item, found: Found) -> tuple[Inline, ...]:
    """The words of a numbered item; several paragraphs become one."""
    before = len(found)
    text: list[Inline] = []
    for block in item.blocks:
        if isinstance(block, Paragraph):
            if text:
                text.append(Text(" ", item.place))
            text.extend(block.children)
        else:
            add(
                found,
                "strange-step",
                item.place,
                "A step holds words and, under them, a list of notes; nothing else.",
                "Begin the notes with a hyphen, four spaces in.",
            )
    for child in text:
        if not isinstance(child, Text) or len(found) > before:
            continue
        # A step may begin with a note's word: “Wait: it must be cold.”
        sunk = _SUNK_NOTE if child.place.line == item.place.line else _RUN_ON_NOTE
        if sunk.match(child.text):
            add(
                found,
                "strange-step",
                child.place,
                "This note is read as words of the step: it has no plain hyphen, or stands too far "
                "to the right.",
                f"    - {child.text.lstrip('-–—•*+ ').strip()}",
                _raised(child),
            )
    if not text and len(found) == before:
        add(found, "empty-step", item.place, "This step has no words.", "Say what is done.")
    return tuple(text)


def _raised(sunk: Text) -> tuple[Edit, ...]:
    """A note that is read as words of the step, with its hyphen where it belongs."""
    name, _, value = sunk.text.lstrip("-–—•*+ ").strip().partition(":")
    if sunk.place.column <= 1 or name.lower() in _OF_SAFETY:
        return ()
    line = Place(sunk.place.path, sunk.place.line, 1)
    old = " " * (sunk.place.column - 1) + sunk.text.rstrip()
    return (Edit(line, old, f"    - {name}:{value}", True),)


def read_steps(section: Section, found: Found) -> tuple[Step, ...]:
    """Every step of the section, numbered on over its groups."""
    for place in section.loose:
        add(
            found,
            "strange-step",
            place,
            "This stands between the steps but isn't one: it has no number.",
            "Give it a number, or move it above the heading Steps.",
        )
    # Without any number they are the steps, and that is said once.
    for place in section.bullets if section.numbered else ():
        add(
            found,
            "strange-step",
            place,
            "This list stands beside the steps, not under one, so its notes belong to none.",
            "Begin each note with a hyphen, four spaces in.",
        )
    if len(section.numbered) > MOST_STEPS:
        add(
            found,
            "list-too-long",
            section.numbered[MOST_STEPS][1].place,
            f"Here begins step {MOST_STEPS + 1}, and no more than {MOST_STEPS} are read.",
            "Was something pasted in many times?",
        )
        del section.numbered[MOST_STEPS:]
    _check_numbers(section, found)
    return tuple(
        _step(number, group, item, found)
        for number, (group, item) in enumerate(section.numbered, 1)
    )


def _check_numbers(section: Section, found: Found) -> None:
    """Where `after` counts steps, the numbers as typed must be the ones that are printed."""
    typed = [item.number for _, item in section.numbered]
    if not any(
        note.text.lower().startswith("after:") and any(map(str.isdecimal, note.text))
        for _, item in section.numbered
        for note in item.notes
    ):
        return
    for right, (number, (_, item)) in enumerate(zip(typed, section.numbered, strict=True), 1):
        # Writing 1. before every step is a Markdown habit; nobody counts by it.
        if number != right and set(typed) != {1}:
            add(
                found,
                "step-number",
                item.place,
                f"This is typed as step {number}, but it is step {right}, and `after` counts the "
                "steps.",
                f"Begin it with {right}., number on from 1 over all headings, and look at every "
                "`after` again.",
            )
            return


def _step(number: int, group: str | None, item: Item, found: Found) -> Step:
    values: dict[str, Any] = {}
    places: dict[str, Place] = {}
    for note in item.notes:
        pair = split_note(note, found)
        if pair is None:
            continue
        name, node = pair
        key = _BY_NAME.get(name.lower())
        if key is None:
            close = nearest(name, _BY_NAME)
            add(
                found,
                "unknown-note",
                note.place,
                f"`{shorten(name)}` isn't a note of a step.",
                f"Did you mean `{close}`?" if close else f"The keys are {quoted_list(_BY_NAME)}.",
                spelling(note.place, name, close, close not in _OF_SAFETY),
            )
        elif key.name in places:
            add(
                found,
                "key-twice",
                note.place,
                f"`{key.name}` is already given on line {places[key.name].line}.",
                "Keep one of them; a list stands in one note, with commas between.",
            )
        elif not node.text:
            add(
                found,
                "nothing-given",
                note.place,
                f"Nothing is given for `{key.name}`.",
                f"Write {key.about}, or remove the note.",
            )
        else:
            places[key.name] = note.place
            values[key.name] = (key.shape.read(node, found), node.place)
    return _built(number, group, item, values, places, found)


def _built(
    number: int,
    group: str | None,
    item: Item,
    values: dict[str, Any],
    places: dict[str, Place],
    found: Found,
) -> Step:
    def value(name: str, default: Any = None) -> Any:
        got = values.get(name, (None, None))[0]
        return default if got is None else got

    wait: tuple[Fraction | None, bool] = value("wait", (None, False))
    adult = values.get("adult")
    return Step(
        number=number,
        text=step_text(item, found),
        place=item.place,
        group=group,
        time=value("time"),
        wait=wait[0],
        wait_aside=wait[1],
        class_time=value("class time"),
        when=value("when"),
        for_class=value("for") == "class",
        holds=value("holds"),
        skills=value("skills", ()),
        needs=value("needs", ()),
        hands=value("hands"),
        watch=value("watch", ()),
        adult=(Term(adult[0], adult[1]),) if adult and adult[0] else (),
        wash=value("wash", ()),
        heat=value("heat"),
        after=value("after"),
        easier=value("easier"),
        home=value("home"),
        done=value("done"),
        card=value("card"),
        notes=places,
    )


def free_notes(notes: Sequence[Note], found: Found) -> dict[str, tuple[Term, ...]]:
    """A translated step's notes: only those that may hold free words."""
    terms: dict[str, tuple[Term, ...]] = {}
    for note in notes:
        pair = split_note(note, found)
        if pair is None:
            continue
        name, node = pair
        if name.lower() not in FREE_NOTES:
            add(
                found,
                "note-not-translated",
                note.place,
                f"`{shorten(name)}` comes from the original; a translation gives only "
                f"{quoted_list(FREE_NOTES)}.",
                "Remove this note.",
            )
        elif node.text:
            shape = _BY_NAME[name.lower()].shape
            got = shape.read(node, found)
            terms[name.lower()] = got if isinstance(got, tuple) else (Term(got, node.place),)
    return terms
