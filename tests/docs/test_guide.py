"""The guide tells of everything that there is, and of nothing else."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fnmatch import fnmatch
from typing import Any

import pytest
from authored import accepts_as_steps, values_in
from jsonschema import Draft202012Validator
from written import COMMANDS, GUIDE, chapter, codes, fences, file_chapters, listed, options

from spoonfold.author.guide import chapters, chapters_about, sections
from spoonfold.author.schema import schema_of
from spoonfold.knowledge.cautions import ADULT, CAUTIONS
from spoonfold.knowledge.equipment import about_kinds
from spoonfold.read.folder import read_folder
from spoonfold.read.recipe import SECTIONS, STEPS
from spoonfold.read.shape import Choice
from spoonfold.read.steps import NOTES, WASHED
from spoonfold.sheets import NAMES, SITE, parts
from tiny_class import CLASS

KINDS = tuple(file_chapters())
NOTES_TITLE = "Notes under a step"
# A chapter that is about no file of its own shows lines of this one.
OTHERWISE = "class"


def keys(schema: Any) -> Iterator[str]:
    """The name of every key that a schema knows, at any depth."""
    if isinstance(schema, dict):
        yield from schema.get("properties", {})
    for each in schema.values() if isinstance(schema, dict) else schema:
        if isinstance(each, (dict, list)):
            yield from keys(each)


def choices(schema: Any) -> Iterator[str]:
    """Every word that may be chosen, but for yes and no."""
    if isinstance(schema, dict):
        yield from (word for word in schema.get("enum", ()) if word not in ("yes", "no"))
    for each in schema.values() if isinstance(schema, dict) else schema:
        if isinstance(each, (dict, list)):
            yield from choices(each)


def section(title: str) -> str:
    (found,) = (part.text for each in chapters() for part in sections(each) if part.title == title)
    return found


def documented(kind: str) -> set[str]:
    text = file_chapters()[kind][1].text
    return set(listed(text.replace(section(NOTES_TITLE), "")))


@pytest.mark.parametrize("kind", KINDS)
def test_every_key_of_a_file_is_told_in_its_chapter(kind: str) -> None:
    """Each stands at the beginning of an item, and no item tells of a key that isn't there."""
    assert documented(kind) == set(keys(schema_of(file_chapters()[kind][0])))


def test_every_note_under_a_step_is_told() -> None:
    """And no other."""
    assert set(listed(section(NOTES_TITLE))) == {key.name for key in NOTES}


@pytest.mark.parametrize("kind", KINDS)
def test_every_word_to_choose_is_told(kind: str) -> None:
    """Wherever only some words are understood, the guide gives all of them."""
    told = set(codes(GUIDE)) | set(documented(kind))
    assert set(choices(schema_of(file_chapters()[kind][0]))) <= told


def test_every_word_to_choose_under_a_step_is_told() -> None:
    """When a step is done, for whom, and what is washed."""
    words = {word for key in NOTES if isinstance(key.shape, Choice) for word in key.shape.words}
    assert words | set(WASHED) <= set(codes(section(NOTES_TITLE)))


def test_every_needed_key_is_said_to_be_needed() -> None:
    """In the sentence that lists them, or in the item of the key."""
    for kind in KINDS:
        described, told = file_chapters()[kind]
        schema = schema_of(described)
        needed = set(schema.get("required", ()))
        needed |= (
            set(schema.get("additionalProperties", {}).get("required", ()))
            if isinstance(schema.get("additionalProperties"), dict)
            else set()
        )
        sentences = re.findall(r"Needed are (.*?)\.\n", told.text)
        items = re.findall(r"^- `([^`]+)`.*\b[Nn]eeded\.$", told.text, re.MULTILINE)
        assert set(codes(" ".join(sentences))) | set(items) == needed, kind


def test_every_caution_is_told() -> None:
    """Those that a step may call by name, and no other."""
    watch, adult = (
        set(codes(line))
        for line in section("Cautions by name").split("\n")
        if line.startswith("For `")
    )
    assert watch - {"watch"} == set(CAUTIONS)
    assert adult - {"adult"} == set(ADULT)


def test_every_kind_of_tool_is_told() -> None:
    """With what it means, as the list of equipment has it."""
    (told,) = re.findall(r"- `kind`: one or more of (.*)\.\n", section("Tools of your own"))
    said = ", ".join(f"`{kind}` ({about})" for kind, about in about_kinds().items())
    assert told == said


def test_a_session_is_moved_as_the_guide_says(make_class: Any) -> None:
    """A day under `not on` moves all that follow; a date besides keeps the others."""
    class_text = CLASS.replace("  - {dishes: [rice]}\n", "  - {dishes: [rice]}\n" * 3)
    off = class_text.replace("first day:", "not on: [2027-09-25]\nfirst day:")
    head, _, tail = off.rpartition("  - {dishes: [rice]}\n  - {")
    alone = f"{head}  - {{dishes: [rice], date: 2027-09-26}}\n  - {{{tail}"
    days = []
    for text in (off, alone):
        classroom = read_folder(make_class({"class.yaml": text})).folder.classroom
        assert classroom is not None
        days.append([f"{session.date:%m-%d}" for session in classroom.sessions])
    assert days == [["09-18", "10-02", "10-09"], ["09-18", "09-26", "10-02"]]


def test_every_section_of_a_recipe_is_told() -> None:
    """By the heading as it is written."""
    told = {
        code.removeprefix("## ").casefold()
        for code in codes(chapter("recipes/NAME.md").text)
        if code.startswith("## ")
    }
    assert told == {STEPS, *SECTIONS}


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_and_option_is_told(name: str) -> None:
    """Under the command's own heading, and no option that it hasn't."""
    expected = options(COMMANDS[name]) - {"--help"}
    assert set(listed(section(f"spoonfold {name}"))) == expected


def test_no_heading_tells_of_a_command_that_is_not_there() -> None:
    """Each heading in the chapter of commands is one."""
    titles = [each.title for each in sections(chapter("The commands"))]
    assert sorted(titles) == sorted(f"spoonfold {name}" for name in COMMANDS)


def sheets() -> dict[str, str]:
    """The line of each sheet, by its part."""
    return {
        each[1]: each[0]
        for each in re.finditer(
            r"^- \*\*[^*]+\*\* \(`([\w-]+)`\).*$", chapter("What is made").text, re.MULTILINE
        )
    }


def test_every_part_of_a_build_is_told() -> None:
    """By the name that `--only` takes."""
    assert set(sheets()) == set(NAMES)


@pytest.mark.parametrize("name", [name for name in NAMES if name != SITE])
def test_the_files_of_a_part_are_its_own(name: str) -> None:
    """What the guide says a part makes is what it owns in the output."""
    told = [code for code in codes(sheets()[name]) if "/" in code]
    assert told
    for path in told:
        assert any(fnmatch(path, pattern) for pattern in parts()[name].owns), path


def examples() -> list[Any]:
    by_title = {told.title: name for name, (_, told) in file_chapters().items()}
    return [
        pytest.param(by_title.get(each.title, OTHERWISE), fence.text, id=f"{each.title} {n}")
        for each in chapters()
        for n, fence in enumerate(fences(each.text))
        if fence.kind == "yaml"
    ]


@pytest.mark.parametrize(("kind", "text"), examples())
def test_every_example_is_understood(kind: str, text: str) -> None:
    """It has no key or value that would be refused; keys that are needed may be left out."""
    schema = schema_of(file_chapters()[kind][0])
    errors = [
        each.message
        for each in Draft202012Validator(schema).iter_errors(values_in(text))
        if not (each.validator == "required" and not each.path)
    ]
    assert errors == []


@pytest.mark.parametrize(
    "text",
    [each.text for each in fences(chapter("recipes/NAME.md").text) if each.kind == "markdown"],
)
def test_every_step_that_is_shown_is_understood(text: str) -> None:
    """A recipe that has it is read without a problem."""
    assert accepts_as_steps(text) == []


def test_it_is_found_by_a_word() -> None:
    """A heading that begins with the words goes before others; parts come after chapters."""
    assert [each.title for each in chapters_about("pantry")] == [
        "Foods and prices: content/pantry.yaml"
    ]
    assert [each.title for each in chapters_about("A  recipe")] == [
        "A recipe: content/recipes/NAME.md"
    ]
    assert chapters_about("recipe") == chapters_about("a recipe")
    assert [each.title for each in chapters_about("steps")] == ["The steps"]
    assert [each.title for each in chapters_about("spoonfold build")] == ["spoonfold build"]
    assert len(chapters_about("content")) > 1
    assert chapters_about("no such heading") == ()
