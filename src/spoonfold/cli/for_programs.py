"""Problems for programs: as a list of objects with fixed keys, and as notes beside a change.

Problems for programs: a list of objects with fixed keys, told by a JSON Schema.

Problems as notes beside the lines of a change, for a service that checks every change.

SARIF, the Static Analysis Results Interchange Format, version 2.1.0 (an OASIS standard with
Errata 01): https://docs.oasis-open.org/sarif/sarif/v2.1.0/sarif-v2.1.0.html"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from pathlib import Path, PurePath
from typing import Any
from urllib.parse import quote

from spoonfold import __version__
from spoonfold.cli.report import LineOf
from spoonfold.knowledge.reasons import Reason, reasons
from spoonfold.problem import Edit, Level, Problem, by_file, has_errors


def as_json(problems: Sequence[Problem], line_of: LineOf) -> str:
    """The problems: files with errors first, and in each errors first."""
    return json.dumps(
        [
            {
                "code": each.code,
                "level": each.level.value,
                "path": each.place.path,
                "line": each.place.line,
                "column": each.place.column,
                "message": each.message,
                "hint": each.hint,
                "edits": [
                    {
                        "line": edit.place.line,
                        "column": start,
                        "endColumn": end,
                        "text": edit.new,
                        "certain": edit.certain,
                    }
                    for edit, start, end in _located(each, line_of)
                ],
                "move": each.move,
            }
            for file in by_file(problems)
            for each in file.problems
        ],
        ensure_ascii=False,
        indent=2,
    )


def _located(problem: Problem, line_of: LineOf) -> Iterator[tuple[Edit, int, int]]:
    """Each edit of a problem with the columns of what it replaces."""
    for edit in problem.edits:
        line = line_of(edit.place)
        columns = None if line is None else edit.columns(line)
        if columns is not None:
            yield edit, *columns


def schema_text() -> str:
    """The JSON Schema (draft 2020-12) of what `as_json` gives."""
    return Path(__file__).with_name("problems.schema.json").read_text("utf-8")


_SCHEMA = (
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
)
_LEVELS = {Level.ERROR: "error", Level.WARNING: "warning", Level.HINT: "note"}
"""Section 3.27.10."""
_ROOT = "%SRCROOT%"
"""Where paths begin, by the name that services know (section 3.4.4)."""


def as_sarif(problems: Sequence[Problem], line_of: LineOf, folder: PurePath) -> str:
    """One run with a result for each problem, in the same order. Paths are
    said from where the command was called, if `folder` lies below that."""
    told = [each for file in by_file(problems) for each in file.problems]
    rules = {code: n for n, code in enumerate(dict.fromkeys(each.code for each in told))}
    return json.dumps(
        {
            "$schema": _SCHEMA,
            "version": "2.1.0",
            "runs": [
                {
                    "tool": {
                        "driver": {
                            "name": "Spoonfold",
                            "version": __version__,
                            "rules": [_rule(code) for code in rules],
                        }
                    },
                    "columnKind": "unicodeCodePoints",
                    "invocations": [
                        {
                            # The check itself went well, whatever it found (section 3.20).
                            "executionSuccessful": True,
                            "exitCode": int(has_errors(told)),
                        }
                    ],
                    "results": [_result(each, rules[each.code], line_of, folder) for each in told],
                }
            ],
        },
        ensure_ascii=False,
        indent=2,
    )


def _rule(code: str) -> dict[str, Any]:
    """A reporting descriptor (section 3.49)."""
    said = reasons().get(code) or Reason(code, code, "", "", "")
    return {
        "id": code,
        "shortDescription": {"text": said.looks_for},
        "fullDescription": {"text": f"{said.why} Source: {said.source}."},
        "help": {"text": said.mend},
    }


def _fix(edit: Edit, start: int, end: int, folder: PurePath) -> dict[str, Any]:
    """One way to mend it (sections 3.55 to 3.57)."""
    region = {"startLine": edit.place.line, "startColumn": start, "endColumn": end}
    replacement = {"deletedRegion": region, "insertedContent": {"text": edit.new}}
    location = {"uri": _uri(edit.place.path, folder), "uriBaseId": _ROOT}
    return {
        "description": {"text": f"Write: {edit.new}"},
        "artifactChanges": [{"artifactLocation": location, "replacements": [replacement]}],
    }


def _result(problem: Problem, rule: int, line_of: LineOf, folder: PurePath) -> dict[str, Any]:
    """One result (section 3.27) at its place (section 3.29)."""
    line = line_of(problem.place)
    fixes = [_fix(*each, folder) for each in _located(problem, line_of)]
    where: dict[str, Any] = {
        "artifactLocation": {"uri": _uri(problem.place.path, folder), "uriBaseId": _ROOT}
    }
    if problem.place.line:
        whole: dict[str, Any] = {"startLine": problem.place.line}
        if line is not None:
            whole["snippet"] = {"text": line}
        if problem.place.column > 1:
            where["region"] = {"startLine": problem.place.line, "startColumn": problem.place.column}
            if line is not None:
                where["contextRegion"] = whole
        else:
            # A context must be larger than its region (section 3.29.5).
            where["region"] = whole
    text = f"{problem.message}\n{problem.hint}" if problem.hint else problem.message
    return {
        "ruleId": problem.code,
        "ruleIndex": rule,
        "level": _LEVELS[problem.level],
        "message": {"text": text},
        "locations": [{"physicalLocation": where}],
        **({"fixes": fixes} if fixes else {}),
    }


def _uri(path: str, folder: PurePath) -> str:
    outside = folder.is_absolute() or ".." in folder.parts
    return quote(path if outside else (folder / path).as_posix())
