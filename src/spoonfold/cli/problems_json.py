"""Problems for programs: a list of objects with fixed keys, told by a JSON Schema."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

from spoonfold.problem import Problem, by_file


def as_json(problems: Sequence[Problem]) -> str:
    """The problems in the order in which they are printed."""
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
            }
            for file in by_file(problems)
            for each in file.problems
        ],
        ensure_ascii=False,
        indent=2,
    )


def schema_text() -> str:
    """The JSON Schema (draft 2020-12) of what `as_json` gives."""
    return Path(__file__).with_name("problems.schema.json").read_text("utf-8")
