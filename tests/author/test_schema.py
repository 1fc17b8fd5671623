"""JSON Schemas of what an author writes, held against the standard and against the demo."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from authoring import run
from jsonschema import Draft202012Validator

from spoonfold.author.schema import FILES, Described, plain_value, schema_of
from spoonfold.author.start import starter_files
from spoonfold.read import folder
from spoonfold.read.files import Source, read_source
from spoonfold.read.header import split_header
from spoonfold.read.nodes import node_from_yaml

ROOT = Path(__file__).resolve().parents[2]
PATTERNS = {
    "recipe": "content/recipes/*.md",
    "translation": "content/recipes/*.*.md",
    "lesson": "content/lessons/*.md",
    "after": "content/after/*.md",
}
BY_NAME = {each.name: each for each in FILES}
every_schema = pytest.mark.parametrize("described", FILES, ids=lambda each: each.name)


def value_of(described: Described, source: Source) -> Any:
    """What an editor hands to a validator."""
    found: list[Any] = []
    if described.header:
        split = split_header(source, found)
        assert split is not None
        return plain_value(split.header)
    node = node_from_yaml(source.text, source.path, found)
    assert node is not None and not found
    return plain_value(node)


def errors(name: str, text: str) -> list[str]:
    described = BY_NAME[name]
    value = value_of(described, Source("x", text))
    return [each.message for each in Draft202012Validator(schema_of(described)).iter_errors(value)]


def demo_files() -> Iterator[tuple[str, str]]:
    for described in FILES:
        for path in sorted(ROOT.glob(PATTERNS.get(described.name, described.files))):
            if described.name == "recipe" and path.name.count(".") > 1:
                continue
            yield described.name, path.relative_to(ROOT).as_posix()


def parts(schema: Any) -> Iterator[dict[str, Any]]:
    """Every object of a schema that says something of a value."""
    if isinstance(schema, dict):
        yield schema
        for key in ("items", "additionalProperties"):
            if isinstance(schema.get(key), dict):
                yield from parts(schema[key])
        for key in ("properties", "patternProperties"):
            for each in schema.get(key, {}).values():
                yield from parts(each)
        for each in schema.get("anyOf", ()):
            yield from parts(each)


@every_schema
def test_a_schema_is_one_by_the_standard(described: Described) -> None:
    """The meta-schema of draft 2020-12, through an independent validator, finds nothing wrong."""
    Draft202012Validator.check_schema(schema_of(described))


def test_every_yaml_file_has_its_schema() -> None:
    """And every Markdown file with a header: what is read from a folder is what is described."""
    described = {each.files for each in FILES if not each.header}
    assert described == {
        folder.CLASS_FILE,
        folder.PANTRY_FILE,
        folder.WORDS_FILE,
        folder.SKILLS_FILE,
        folder.CHILDREN_FILE,
    }


@every_schema
def test_every_value_is_described(described: Described) -> None:
    """No shape is left out: every part says what may stand there."""
    for part in parts(schema_of(described)):
        assert part.keys() & {"type", "enum", "anyOf"}, part


@every_schema
def test_every_key_says_what_it_is_for_and_its_example_is_right(described: Described) -> None:
    """Each key has a sentence, and an example that its own schema takes."""
    for part in parts(schema_of(described)):
        for name, key in part.get("properties", {}).items():
            assert key["description"], name
            for example in key.get("examples", ()):
                assert Draft202012Validator(key).is_valid(example), (name, example)


@pytest.mark.parametrize(("name", "path"), list(demo_files()))
def test_the_demo_is_right_by_the_schemas(name: str, path: str) -> None:
    """Every file of the invented class, as an editor reads it, has nothing marked."""
    source = read_source(ROOT, path)
    assert isinstance(source, Source)
    value = value_of(BY_NAME[name], source)
    validator = Draft202012Validator(schema_of(BY_NAME[name]))
    assert [each.message for each in validator.iter_errors(value)] == []


def test_the_demo_has_a_file_for_nearly_every_schema() -> None:
    """Only the private list of names isn't in it."""
    assert {name for name, _ in demo_files()} == set(BY_NAME) - {"children"}


@pytest.mark.parametrize(
    ("name", "path"),
    [
        ("class", "content/class.yaml"),
        ("words", "content/words.yaml"),
        ("skills", "content/skills.yaml"),
        ("recipe", "content/recipes/chickpea-salad.md"),
    ],
)
def test_the_first_class_is_right_by_the_schemas(name: str, path: str) -> None:
    """Nor is anything marked in the class that `start` makes."""
    assert errors(name, starter_files()[path]) == []


@pytest.mark.parametrize(
    ("name", "right", "wrong", "what"),
    [
        ("class", "minutes: 100", "minuts: 100", "minuts"),
        ("class", "every: week", "every: month", "month"),
        ("class", "minutes: 100", "minutes: 9", "9 is"),
        ("class", "{table: 2, avoid: [milk, sesame]}", "{tabel: 2, avoid: [milk]}", "tabel"),
        ("class", "first day: 2027-09-18", "first day: 18.9.2027", "18.9.2027"),
        ("class", "name: Saturday Table\n", "", "'name' is a required"),
    ],
)
def test_a_mistake_is_marked(name: str, right: str, wrong: str, what: str) -> None:
    """A key that isn't one, a choice that isn't one, a number out of bounds, a missing key."""
    text = (ROOT / "content" / "class.yaml").read_text("utf-8")
    assert right in text
    assert any(what in each for each in deep_errors(name, text.replace(right, wrong, 1)))


def deep_errors(name: str, text: str) -> Iterator[str]:
    """The messages of every level: of each way that a value might have been meant, too."""
    value = value_of(BY_NAME[name], Source("x", text))
    open_ones = list(Draft202012Validator(schema_of(BY_NAME[name])).iter_errors(value))
    while open_ones:
        error = open_ones.pop()
        yield error.message
        open_ones.extend(error.context or ())


class TestCommand:
    def test_without_a_folder_all_are_printed(self) -> None:
        """One object, each schema under its name."""
        result = run("schema")
        assert result.exit_code == 0
        assert json.loads(result.output) == {each.name: schema_of(each) for each in FILES}

    def test_a_folder_gets_one_file_each(self, tmp_path: Path) -> None:
        """Made twice, the second over the first."""
        for _ in range(2):
            result = run("schema", "--out", tmp_path / "schemas")
            assert result.exit_code == 0
        made = {each.name for each in (tmp_path / "schemas").iterdir()}
        assert made == {f"{each.name}.schema.json" for each in FILES}
        for each in FILES:
            text = (tmp_path / "schemas" / f"{each.name}.schema.json").read_text("utf-8")
            assert json.loads(text) == schema_of(each)
        assert "  recipe.schema.json       content/recipes/NAME.md (its header)\n" in result.output

    @pytest.mark.parametrize("hers", ["{}", "not json", '{"$id": "mine"}', "[" * 100_000])
    def test_a_file_of_hers_is_never_written_over(self, tmp_path: Path, hers: str) -> None:
        """And then none of the others is made either."""
        (tmp_path / "words.schema.json").write_text(hers, encoding="utf-8")
        result = run("schema", "--out", tmp_path)
        assert result.exit_code == 2
        assert [each.name for each in tmp_path.iterdir()] == ["words.schema.json"]
        assert (tmp_path / "words.schema.json").read_text("utf-8") == hers
