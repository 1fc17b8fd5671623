"""Which of the class's own things stands for what the words of a step name or imply."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from spoonfold.kitchen.actions import Action, Tidy, ToolUse
from spoonfold.knowledge.equipment import DANGERS, Kind, Tool, all_tools, tool_named
from spoonfold.model.classroom import Setting
from spoonfold.model.recipe import Need
from spoonfold.problem import Place

_ALIKE = (
    *(Kind.OVEN, Kind.GRIDDLE, Kind.STOVE, Kind.HEATED_POT, Kind.BIG_POT, Kind.PAN, Kind.POT),
    *(Kind.BOARD, Kind.MOVING_BLADE, Kind.KNIFE, Kind.OPENER, Kind.BOWL, Kind.COLD_PLACE),
    *(Kind.THERMOMETER, Kind.SINK, Kind.TURNER, Kind.STIRRER),
)
"""Kinds of which one thing may stand for another, the most telling first."""
_IN_VESSEL = frozenset({"mix", "eat", "serve", "cover"})
"""What is done to food where it is."""
_ON_HEAT = frozenset({Kind.PAN, Kind.POT, Kind.BIG_POT})
_HEAT = {"stove": Kind.STOVE, "oven": Kind.OVEN, "griddle": Kind.GRIDDLE}
_TOOLS = {tool.name: tool for tool in all_tools()}
POT, BIG_POT = "pot", "big pot"


class Kit:
    """What there is in the sessions that cook a dish; anything, where nobody says."""

    def __init__(self, settings: Sequence[Setting]) -> None:
        self._tools: dict[str, Tool] = {}
        for setting in settings:
            for name in setting.equipment:
                tool = setting.tool(name)
                if tool is not None:
                    self._tools.setdefault(name, tool)
        self._is_known = bool(settings)

    def need(self, name: str, place: Place) -> Need:
        """As a note of a step would list it."""
        return Need(name, 1, place, self._tools.get(name))

    def of_kind(self, kind: Kind) -> str | None:
        """The first thing of a kind."""
        return next((name for name, tool in self._tools.items() if kind in tool.kinds), None)

    def has_all(self, names: Collection[str], *kinds: Kind) -> bool:
        """Whether there is one of each kind among some things."""
        return all(
            any(name in self._tools and kind in self._tools[name].kinds for name in names)
            for kind in kinds
        )

    def called(self, name: str) -> str | None:
        """The class's own name for a thing of the list of equipment, or for what does the same
        there. None: there is nothing like it, and nobody is hurt by it."""
        wanted = _TOOLS.get(name) or tool_named(name)
        if wanted is None:
            return None
        same = (own for own, tool in self._tools.items() if tool.name == wanted.name)
        found = next(same, None)
        if found is None:
            found = next(self._alike(wanted), None)
        if found is None and (not self._is_known or wanted.dangers & DANGERS or wanted.is_sharp):
            return name
        return found

    def _alike(self, wanted: Tool) -> Iterator[str]:
        for kind in _ALIKE:
            # What has no heat of its own doesn't stand for what has.
            if kind in wanted.kinds and not (kind in _ON_HEAT and Kind.HEAT_SOURCE in wanted.kinds):
                name = self.of_kind(kind)
                if name is not None:
                    yield name

    def heat(self, source: str, is_said: bool) -> str:
        """What is heated with: `stove`, `oven`, `griddle`, or an appliance by its name. What only
        goes with the verb is done where there is anything hot."""
        kind = _HEAT.get(source)
        found = self.of_kind(kind) if kind else self.called(source)
        if found is None and not is_said:
            found = self.of_kind(Kind.HEAT_SOURCE)
        names = {Kind.STOVE: "burner", Kind.OVEN: "oven", Kind.GRIDDLE: "griddle"}
        return found or (names[kind] if kind else source)

    def used(self, action: Action, source: str, pot: str) -> Iterator[tuple[str, bool]]:
        """What one action needs, each with whether the words name it. `source`: what it heats
        with; `pot`: the one that is meant by “the pot”."""
        if source:
            yield self.heat(source, action.heat_said), action.heat_said
        # What is only washed is washed at the end of the step, and its own note says so.
        for each in () if action.washed else _tools_of(action, source, pot):
            name = self.called(each.name)
            if name is not None:
                yield name, not each.implied
        if action.where == "cold" and action.kind != "serve":
            name = self.called("refrigerator")
            if name is not None:
                yield name, bool(action.spot)


def _tools_of(action: Action, source: str, pot: str) -> Iterator[ToolUse]:
    vessel = _meant(action.vessel, action, source, pot)
    held = False
    for each in action.tools:
        kinds = _kinds(each.name)
        if each.implied and _is_left_out(kinds, action, source):
            continue
        if not source and Kind.HEAT_SOURCE in kinds and Kind.VESSEL not in kinds:
            # On the stove for the night: nobody says that it is lit.
            continue
        name = each.name if each.implied else _meant(each.name, action, source, pot)
        # Food is in one pot at a time: the one that is named.
        held = held or name == vessel or (Kind.POT in kinds and Kind.POT in _kinds(vessel))
        yield replace(each, name=name)
    # A pot stays hot when it is off the heat, and what is mixed is mixed in something.
    kinds = _kinds(vessel)
    stays = action.kind in _IN_VESSEL and not kinds.isdisjoint((Kind.POT, Kind.PAN, Kind.BOWL))
    if vessel and not held and (source or stays):
        yield ToolUse(vessel, Tidy.UNKNOWN, True)


def _kinds(name: str) -> frozenset[Kind]:
    return _TOOLS[name].kinds if name in _TOOLS else frozenset()


def _meant(vessel: str, action: Action, source: str, pot: str) -> str:
    """“The pan” is a skillet on the stove alone, and “the pot” the one that was named before."""
    if vessel == "skillet" and source != "stove" and "skillet" not in action.words:
        # What is mixed in it, with no word for it, is mixed where it was fried.
        return vessel if action.kind == "mix" and "pan" not in action.words else "baking pan"
    return pot if vessel == POT else vessel


def _is_left_out(kinds: frozenset[Kind], action: Action, source: str) -> bool:
    """What goes with a verb and is never counted: what wipes, tastes, or turns what isn't hot."""
    if Kind.TURNER in kinds and not source:
        return True
    return Kind.TOWEL in kinds or (Kind.STIRRER in kinds and action.kind == "eat")
