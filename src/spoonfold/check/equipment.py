"""What a step needs is in the kitchen, and enough of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from spoonfold.check.known import did_you_mean, unknown_once
from spoonfold.check.rule import Facts, Rule, error, key_place, settings_of, steps_of, warning
from spoonfold.knowledge.equipment import Kind, nearest_tools
from spoonfold.model.classroom import Classroom, Setting
from spoonfold.model.recipe import Step, Term
from spoonfold.problem import Problem
from spoonfold.read.folder import CLASS_FILE


def _owned(classroom: Classroom) -> frozenset[str]:
    """The name of everything that any session has."""
    settings = (classroom.setting, *(session.setting for session in classroom.sessions))
    return frozenset(name for setting in settings for name in setting.equipment)


def unknown_equipment(facts: Facts) -> Iterator[Problem]:
    """Equipment that class.yaml doesn't list."""
    classroom = facts.folder.classroom
    if classroom is None or CLASS_FILE in facts.troubled:
        return
    owned = _owned(classroom)
    # What is done the day before is done at somebody's home, with what there is.
    # What nobody knows is told by itself.
    needed = (
        Term(need.name, need.place)
        for _, step in steps_of(facts)
        if step.when != "day before"
        for need in step.needs
        if need.tool is not None
    )
    for term, more in unknown_once(needed, owned):
        kin = [each for each in owned if _are_alike(term.text, each, classroom)]
        yield warning(
            "unknown-equipment",
            term.place,
            f"{CLASS_FILE} doesn't list “{term.text}”, so it would be neither packed nor "
            f"counted.{more}",
            did_you_mean(term.text, kin, f"equipment: {{…, {term.text}: 1}}"),
        )


def _are_alike(one: str, other: str, classroom: Classroom) -> bool:
    """Whether the same can hurt at both: a blade is never proposed for a bowl."""
    tools = [classroom.setting.tool(name) for name in (one, other)]
    return None not in tools and len({each.dangers for each in tools if each is not None}) == 1


def undescribed_tool(facts: Facts) -> Iterator[Problem]:
    """A step needs a thing of which nothing is known."""
    classroom = facts.folder.classroom
    if classroom is None or CLASS_FILE in facts.troubled:
        return
    owned = _owned(classroom)
    needed = (
        Term(need.name, need.place)
        for _, step in steps_of(facts)
        for need in step.needs
        if need.tool is None
    )
    for term, more in unknown_once(needed, ()):
        yield error(
            "undescribed-tool",
            term.place,
            f"Nothing is known of “{term.text}”, so no caution for it would be printed: whether "
            f"it cuts, burns or has a cord.{more}",
            _described_by(term.text, _near(term.text, owned)),
        )


def undescribed_equipment(facts: Facts) -> Iterator[Problem]:
    """Equipment of which nothing is known, where no step needs it yet."""
    classroom = facts.folder.classroom
    if classroom is None or CLASS_FILE in facts.troubled:
        return
    told = {need.name for _, step in steps_of(facts) for need in step.needs}
    for setting, place in settings_of(classroom):
        for name in setting.equipment:
            if name not in told and setting.tool(name) is None:
                told.add(name)
                yield warning(
                    "undescribed-equipment",
                    key_place(setting, "equipment", place),
                    f"Nothing is known of “{name}”: whether it cuts, burns or has a cord, and who "
                    "washes it.",
                    _described_by(name, nearest_tools(name)),
                )


def _near(name: str, owned: frozenset[str]) -> tuple[str, ...]:
    """Other names that may be meant: first of what the class has."""
    return (*nearest_tools(name, owned - {name}), *nearest_tools(name))


def _described_by(name: str, near: Sequence[str]) -> str:
    """What to write of a thing, or instead of it."""
    line = f"tools: {{{name}: {{like: knife}}}}"
    if not near:
        return f"Say in {CLASS_FILE} what it is used like:\n{line}"
    return f"Did you mean `{near[0]}`? If not, say in {CLASS_FILE} what it is used like:\n{line}"


def _cooked_in(classroom: Classroom, recipe: str) -> tuple[tuple[str, Setting], ...]:
    """Where a recipe is cooked; the class as a whole where no session has it."""
    sessions = tuple(
        (f" in session {session.number}", session.setting)
        for session in classroom.sessions
        if any(dish.text == recipe for dish in session.dishes)
    )
    return sessions or (("", classroom.setting),)


def _counted(step: Step) -> Counter[str]:
    counted: Counter[str] = Counter()
    for need in step.needs:
        counted[need.name] += need.count
    return counted


def too_little_equipment(facts: Facts) -> Iterator[Problem]:
    """One step needs more of it than there is."""
    classroom = facts.folder.classroom
    if classroom is None or CLASS_FILE in facts.troubled:
        return
    cooked_in = {key: _cooked_in(classroom, key) for key in facts.folder.recipes}
    for recipe, step in steps_of(facts):
        if step.when == "day before":
            continue
        for name, count in _counted(step).items():
            place = next(need.place for need in step.needs if need.name == name)
            for where, setting in cooked_in[recipe.key]:
                if name in step.named(Kind.HOT) and not setting.equipment.get(name):
                    # Nothing to cook on is told for the session.
                    continue
                if name in setting.equipment and count > setting.equipment[name]:
                    yield warning(
                        "too-little-equipment",
                        place,
                        f"Step {step.number} needs {count} of “{name}” at once, and there "
                        f"{'is' if setting.equipment[name] == 1 else 'are'} "
                        f"{setting.equipment[name] or 'none'}{where}.",
                        f"Do it in turns with fewer, or correct the number in {CLASS_FILE}.",
                    )
                    break


RULES = (
    Rule("undescribed-tool", undescribed_tool),
    Rule("undescribed-equipment", undescribed_equipment),
    Rule("unknown-equipment", unknown_equipment),
    Rule("too-little-equipment", too_little_equipment, of_one=True),
)
