"""The work of a session as values: who does what, with what, for how long, behind what."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.model.recipe import Step
from spoonfold.plan.clock.schedule import Activity
from spoonfold.plan.clock.times import Boil

ROVING, LEAD = "adult", "adult class"


@dataclass(frozen=True, slots=True)
class Task:
    """A step at one table, or once for the class; one load of it. Times in whole seconds."""

    dish: str
    """The recipe's key."""
    step: Step
    table: int | None
    """Counted from 1; None: for the class."""
    load: int
    """Counted from 1."""
    loads: int
    work: int
    wash: int
    """How long the queue at the tap is, right after the work."""
    wait: int
    hands: Mapping[int, int]
    """Children at work, by table."""
    adult: str | None
    """The resource that an adult is taken from."""
    activity: Activity


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece of work in time, in seconds since cooking began."""

    task: Task
    start: int
    latest: int
    """When it must have begun, so that the buffer stays whole."""

    @property
    def worked(self) -> int:
        """When its work is done; what waits by itself goes on."""
        return self.start + self.task.work

    @property
    def hands_free(self) -> int:
        """When its children are free again: after the work and the washing of hands."""
        return self.start + self.task.work + self.task.wash

    @property
    def end(self) -> int:
        """When what waits for it may begin."""
        return self.start + self.task.activity.duration


@dataclass(frozen=True, slots=True)
class Beforehand:
    """What an adult does before the class; not in its time."""

    dish: str
    step: Step
    minutes: Fraction


@dataclass(frozen=True, slots=True)
class Shortage:
    """A step that needs more at one moment than there is; it is planned with what there is."""

    dish: str
    step: Step
    name: str
    needs: int
    has: int


@dataclass(frozen=True, slots=True)
class Kept:
    """Equipment that is in use when cooking begins: water kept hot on a burner."""

    name: str
    count: int
    until: str
    """The task that takes it over."""


@dataclass(frozen=True, slots=True)
class Tasks:
    """The work of a session, and what it competes for."""

    tasks: tuple[Task, ...]
    capacities: Mapping[str, int]
    beforehand: tuple[Beforehand, ...]
    shortages: tuple[Shortage, ...]
    unlisted: tuple[str, ...]
    """Equipment that the class doesn't list, so that nobody waits for it here."""
    unclear: tuple[tuple[str, Step], ...]
    """Steps whose `holds` counts something other than portions: taken as one load."""
    boils: tuple[Boil, ...]
    kept: tuple[Kept, ...]


def hands_of(table: int) -> str:
    """The children of a table as a resource."""
    return f"hands {table}"


def tool(name: str) -> str:
    """A piece of equipment as a resource."""
    return f"tool {name}"


def equipment_of(step: Step) -> Counter[str]:
    """How much of each thing the step needs at once."""
    needed: Counter[str] = Counter()
    for need in step.needs:
        needed[need.name] += need.count
    return needed
