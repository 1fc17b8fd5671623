"""What follows from the words of a recipe, kept from one run to the next.

To understand a recipe and to run over it the rules that look at one recipe alone takes several
times as long as to read it, and while a class is written nearly every recipe stays as it is. So
the notes that were worked out and the problems that were found are kept, by a digest of all that
they follow from: the program, the class, the pantry, and the file of the recipe itself.

The store is one file a class folder, in the cache of the account, so that a folder that comes from
somebody else never brings one along. It is only believed with its own digest at its head and as
nobody else's work; otherwise it is as if there were none. It is plain JSON, replaced whole, and
where it can't be written, nothing is kept.
"""

from __future__ import annotations

import json
import os
import tempfile
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from fractions import Fraction
from pathlib import Path
from typing import Any

from spoonfold.digest import digest_of, program_digest
from spoonfold.model.classroom import Classroom
from spoonfold.model.recipe import Recipe, Step, Term, WorkedOut
from spoonfold.plan.understood.kit import Kit
from spoonfold.plan.understood.recipe import settings_that_cook
from spoonfold.problem import Edit, Level, Place, Problem
from spoonfold.quantity.temperature import Temperature
from spoonfold.read.folder import CLASS_FILE, PANTRY_FILE, Read

Row = tuple[dict[str, dict[str, Any]], list[list[Any]]]
"""The notes that were worked out, by step, and the problems; nothing that JSON doesn't know."""


def keys_of(read: Read, troubled: frozenset[str]) -> Mapping[str, str]:
    """What all that is kept of each recipe follows from. `troubled`: files with errors."""
    shared = [
        digest_of(source.text) if (source := read.sources.get(path)) else ""
        for path in (CLASS_FILE, PANTRY_FILE)
    ]
    classroom = read.folder.classroom
    days = () if classroom is None else (*classroom.sessions, *classroom.called_off)
    changed: dict[str, list[str]] = {}
    for day in days:
        if day.changed is not None:
            for dish in day.dishes:
                changed.setdefault(dish.text, []).append(day.changed.place.path)
    return {
        name: digest_of(
            program_digest(),
            *shared,
            *(read.sources[path].text for path in changed.get(name, ())),
            "",
            *sorted(troubled & {CLASS_FILE, PANTRY_FILE, recipe.place.path}),
            "",
            recipe.place.path,
            read.sources[recipe.place.path].text,
        )
        for name, recipe in read.folder.recipes.items()
    }


@dataclass(slots=True)
class Kept:
    """All that is kept of one class folder."""

    path: Path | None
    """The store; None: nothing is kept."""
    before: Mapping[str, Row] = field(default_factory=dict)
    """What was there, by key."""
    rows: dict[str, Row] = field(default_factory=dict)
    """What holds for the recipes as they are now."""

    def recipe(self, key: str, recipe: Recipe, classroom: Classroom | None) -> Recipe | None:
        """A recipe as it was read, with all its notes; None: they have to be worked out."""
        row = self.before.get(key)
        if row is None:
            return None
        self.rows[key] = row
        return _with_notes(recipe, row[0], classroom)

    def problems(self, key: str) -> tuple[Problem, ...] | None:
        """What was found in it; None: nobody knows."""
        row = self.rows.get(key)
        return None if row is None else tuple(map(_problem, row[1]))

    def keep(
        self,
        key: str,
        recipe: Recipe,
        understood: Recipe,
        classroom: Classroom | None,
        problems: Iterable[Problem],
    ) -> None:
        """Keeps what was worked out of a recipe, unless it would come back as anything else."""
        row = (_notes(recipe, understood), list(map(_plain_problem, problems)))
        if self.path is not None and _with_notes(recipe, row[0], classroom) == understood:
            self.rows[key] = row

    def write(self) -> None:
        """Puts it in the place of what was there, if it is anything else."""
        if self.path is None or self.rows.keys() == self.before.keys():
            return
        body = json.dumps(self.rows, separators=(",", ":"))
        with suppress(OSError):
            self.path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            # Open to nobody else, and under a name of its own until it is whole.
            with tempfile.NamedTemporaryFile(
                "w", encoding="ascii", dir=self.path.parent, suffix=".tmp", delete=False
            ) as file:
                new = Path(file.name)
                try:
                    file.write(f"{_head(body)}\n{body}")
                    file.close()
                    new.replace(self.path)
                except BaseException:
                    file.close()
                    new.unlink(missing_ok=True)
                    raise


def read_kept(cache: Path | None, folder: Path) -> Kept:
    """What is kept of a class folder in a cache; nothing, where it can't be read or trusted."""
    if cache is None:
        return Kept(None)
    path = cache / f"{digest_of(str(folder.resolve()))[:32]}.json"
    try:
        with path.open(encoding="ascii") as file:
            if not _is_own(os.fstat(file.fileno())):
                return Kept(path)
            head, _, body = file.read().partition("\n")
            if head == _head(body):
                return Kept(path, json.loads(body))
    except (OSError, ValueError):
        pass
    return Kept(path)


def _head(body: str) -> str:
    """What a store begins with that this program wrote, as it wrote it."""
    return digest_of(program_digest(), body)


_OTHERS_MAY_WRITE = 0o022


def _is_own(status: os.stat_result) -> bool:
    """Whether nobody but this account could have written it."""
    # On Windows the folder of an account is closed to others, and its files have no such owner.
    if not hasattr(os, "geteuid"):
        return True
    return status.st_uid == os.geteuid() and not status.st_mode & _OTHERS_MAY_WRITE


def _plain_problem(each: Problem) -> list[Any]:
    edits = [[*edit.place, edit.old, edit.new, edit.certain] for edit in each.edits]
    return [each.code, each.level.value, *each.place, each.message, each.hint, each.food, edits]


def _problem(row: list[Any]) -> Problem:
    code, level, path, line, column, message, hint, food, edits = row
    ways = tuple(Edit(Place(*edit[:3]), *edit[3:]) for edit in edits)
    return Problem(code, Level(level), Place(path, line, column), message, hint, food, ways)


def _plain_terms(terms: Iterable[Term]) -> list[list[Any]]:
    return [[each.text, *each.place] for each in terms]


def _terms(rows: Iterable[list[Any]]) -> tuple[Term, ...]:
    return tuple(Term(text, Place(*place)) for text, *place in rows)


def _plain_worked_out(found: Iterable[WorkedOut]) -> list[list[Any]]:
    return [[each.note, each.value, each.why, each.is_said] for each in found]


def _worked_out(rows: Iterable[list[Any]]) -> tuple[WorkedOut, ...]:
    return tuple(WorkedOut(*row) for row in rows)


def _same(value: Any) -> Any:
    return value


_NOTES: Mapping[str, tuple[Callable[[Any], Any], Callable[[Any], Any]]] = {
    **dict.fromkeys(("time", "wait"), (str, Fraction)),
    "heat": (lambda heat: str(heat.fahrenheit), lambda said: Temperature(Fraction(said))),
    **dict.fromkeys(("wait_aside", "when"), (_same, _same)),
    **dict.fromkeys(("after", "waits_for"), (list, tuple)),
    **dict.fromkeys(("watch", "adult", "wash"), (_plain_terms, _terms)),
    "worked_out": (_plain_worked_out, _worked_out),
}
"""Every note but the equipment: how it is kept, and how it comes back."""


def _notes(read: Recipe, understood: Recipe) -> dict[str, dict[str, Any]]:
    """What came to the steps that were read."""
    found: dict[str, dict[str, Any]] = {}
    for step, full in zip(read.steps, understood.steps, strict=True):
        notes = {
            name: keep(getattr(full, name))
            for name, (keep, _) in _NOTES.items()
            if getattr(full, name) != getattr(step, name)
        }
        if full.needs != step.needs:
            notes["needs"] = [[each.name, *each.place] for each in full.needs[len(step.needs) :]]
        if notes:
            found[str(step.number)] = notes
    return found


def _with_notes(
    recipe: Recipe, notes: Mapping[str, Mapping[str, Any]], classroom: Classroom | None
) -> Recipe:
    kit = Kit(settings_that_cook(recipe.key, classroom))

    def told(step: Step) -> Step:
        own = notes.get(str(step.number))
        if own is None:
            return step
        new: dict[str, Any] = {name: _NOTES[name][1](own[name]) for name in own.keys() - {"needs"}}
        needs = (kit.need(name, Place(*place)) for name, *place in own.get("needs", ()))
        return replace(step, **new, needs=(*step.needs, *needs))

    return replace(recipe, steps=tuple(map(told, recipe.steps))) if notes else recipe
