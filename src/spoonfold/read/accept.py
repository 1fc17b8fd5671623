"""`accept:` in a header or in class.yaml: warnings that the author has weighed."""

from __future__ import annotations

from dataclasses import dataclass

from spoonfold.model.recipe import Acceptance
from spoonfold.read.nodes import Node
from spoonfold.read.record import Key, ListOf, Record
from spoonfold.read.shape import Found, Line, Named, Shape


@dataclass(frozen=True, slots=True)
class _Entry:
    """A warning's name and the reason for living with it."""

    @property
    def written(self) -> tuple[Shape, ...]:
        return (_ENTRY,)

    def read(self, node: Node, found: Found) -> Acceptance | None:
        values = _ENTRY.read(node, found)
        if values is None or not {"warning", "because"} <= values.keys():
            return None
        return Acceptance(values["warning"], values["because"], node.place, values.get("food"))


_ENTRY = Record(
    (
        Key("warning", Named("a warning's name"), "the warning's name", True, "no-time"),
        Key("food", Named("a food"), "the one food that it is about, as the line has it"),
        Key(
            "because",
            Line("your reason"),
            "why you live with it",
            True,
            "we stop when it smells right",
        ),
    ),
    "an accepted warning",
)

ACCEPT = Key("accept", ListOf(_Entry(), or_one=True), "warnings that you live with, and why")
