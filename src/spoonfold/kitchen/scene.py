"""What lies on the table between two actions: what “it”, “the dough” and “the pot” mean."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Self

from spoonfold.kitchen.actions import Portion

Portions = frozenset[Portion]
_NONE: Portions = frozenset()
_ALIKE = {"skillet": "skillet", "pan": "skillet"}
"""What a cook calls a thing once it stands there."""


@dataclass(frozen=True, slots=True)
class Thing:
    """Something that was made on the way."""

    holds: Portions
    names: frozenset[str]
    """What it was called so far."""


@dataclass(slots=True)
class Scene:
    """The state after an action; each step goes on from those that it waits for."""

    last: Portions = _NONE
    """What the last action was done to: it, them."""
    work: Portions = _NONE
    """What is being worked on: what was mixed last, or is in the pot; the unsaid object."""
    cut: Portions = _NONE
    things: list[Thing] = field(default_factory=list)
    """The latest last."""
    vessels: dict[str, Portions] = field(default_factory=dict)
    """What is in each."""
    heats: dict[str, str] = field(default_factory=dict)
    """What heats a vessel, as long as it is on the heat."""
    source: str = ""
    """What heat the step named last, and what stood on it."""
    source_vessel: str = ""
    blended: dict[Portion, Portions] = field(default_factory=dict)
    """All that a portion can't be parted from any more."""

    def copy(self) -> Self:
        """One that may change alone."""
        return replace(
            self,
            things=list(self.things),
            vessels=dict(self.vessels),
            heats=dict(self.heats),
            blended=dict(self.blended),
        )

    @classmethod
    def after(cls, scenes: Sequence[Self]) -> Self:
        """Several strands come together; the last of them is what was worked on."""
        if not scenes:
            return cls()
        whole = scenes[-1].copy()
        for scene in scenes[:-1]:
            whole.things = [*scene.things, *whole.things]
            whole.vessels = {**scene.vessels, **whole.vessels}
            whole.heats = {**scene.heats, **whole.heats}
            for portion, others in scene.blended.items():
                whole.blended[portion] = whole.blended.get(portion, _NONE) | others
        return whole

    def whole(self, portions: Iterable[Portion]) -> Portions:
        """Portions with all that they can't be parted from."""
        found: set[Portion] = set()
        for portion in portions:
            found |= self.blended.get(portion, frozenset((portion,)))
        return frozenset(found)

    def blend(self, portions: Portions) -> Portions:
        """Makes one thing of them."""
        whole = self.whole(portions)
        for portion in whole:
            self.blended[portion] = whole
        return whole

    def make(self, holds: Portions, *names: str) -> None:
        """Something new lies on the table, or what lay there has another name."""
        for at, thing in enumerate(self.things):
            if thing.holds == holds:
                self.things[at] = Thing(holds, thing.names | frozenset(names))
                self.things.append(self.things.pop(at))
                return
        self.things.append(Thing(holds, frozenset(names)))

    def called(self, name: str, keys: frozenset[str] = frozenset()) -> Portions:
        """What a name means: the last thing so called, else the last one that holds the foods in
        front of the name, else what is being worked on."""
        if keys:
            for thing in reversed(self.things):
                if keys <= {portion.key for portion in thing.holds}:
                    return self.whole(thing.holds)
        for thing in reversed(self.things):
            if name in thing.names:
                return self.whole(thing.holds)
        if len(self.work) < 2:
            # “Melt the butter and pour in the batter”: a batter is made of several foods.
            for thing in reversed(self.things):
                if len(thing.holds) > 1:
                    return self.whole(thing.holds)
        return self.work or self.last

    @property
    def unsaid(self) -> Portions:
        """What a verb is done to that names nothing: what is being worked on, with what came to
        it last; or what was in hand last."""
        return self.work if self.last <= self.work else self.last

    @property
    def everything(self) -> Portions:
        """All that lies open."""
        every = set(self.last | self.work)
        for thing in self.things:
            every |= thing.holds
        for held in self.vessels.values():
            every |= held
        return frozenset(every)

    def put(self, portions: Portions, vessel: str) -> None:
        """They leave where they were for a vessel."""
        for name, held in self.vessels.items():
            if name != vessel and not held.isdisjoint(portions):
                self.vessels[name] = held - portions
        self.vessels[vessel] = self.vessels.get(vessel, _NONE) | portions

    def held_in(self, name: str) -> str:
        """The vessel that a name means: the pot is the big pot where no other one is full; empty:
        nothing is in such a thing."""
        if self.vessels.get(name):
            return name
        last = name.split(" ")[-1]
        for vessel, held in reversed(self.vessels.items()):
            if held and last and vessel.split(" before ")[0].endswith(_ALIKE.get(last, last)):
                return vessel.split(" before ")[0] if " before " not in vessel else ""
        return ""

    def renew(self, vessel: str) -> None:
        """From now on its name means another one, which is empty."""
        held = self.vessels.pop(vessel, _NONE)
        if held:
            self.vessels[f"{vessel} before {len(self.vessels)}"] = held
        self.heats.pop(vessel, None)

    def vessel_of(self, portions: Portions) -> str:
        """The vessel that holds most of them; empty: none."""
        best = max(
            self.vessels.items(), key=lambda each: len(each[1] & portions), default=("", _NONE)
        )
        return best[0].split(" before ")[0] if best[1] & portions else ""
