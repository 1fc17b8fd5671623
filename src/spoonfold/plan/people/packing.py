"""What to pack for a session, where from, and how many of each.

Counted for what may be in use at one moment: two steps that wait for each other share a board,
two that may run side by side don't. A swap that is cooked apart has its own pot and spoon.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from spoonfold.knowledge.equipment import Kind, Tool
from spoonfold.model.classroom import Setting
from spoonfold.model.recipe import Recipe
from spoonfold.plan.clock.step_order import StepKey, steps_before
from spoonfold.plan.clock.tasks import equipment_of
from spoonfold.plan.safety.apart import another

SITE, HOME, HELPERS, BOXES = "site", "home", "helpers", "boxes"
KEEPERS = (HOME, BOXES, HELPERS, SITE)
"""In the order in which a car is loaded; what is at the site is only looked for there."""


AtTables = Mapping[str, Sequence[Recipe]]
"""By a recipe's key, what each table cooks of it, in the order of tables."""


@dataclass(frozen=True, slots=True)
class Packed:
    """One thing on the list."""

    name: str
    count: int
    has: int | None
    """How many the class has; None: class.yaml doesn't list it."""
    tool: Tool | None
    """What is known of it."""

    @property
    def is_sharp(self) -> bool:
        """Whether it is counted before anything else."""
        return self.tool is not None and self.tool.is_sharp

    @property
    def is_board(self) -> bool:
        """Whether a towel lies under it."""
        return self.tool is not None and Kind.BOARD in self.tool.kinds


@dataclass(frozen=True, slots=True)
class Packing:
    """What a session needs, by where it is kept."""

    by_keeper: Mapping[str, tuple[Packed, ...]]
    """Only those of KEEPERS that have something; BOXES alone where nobody said where things
    are kept."""
    is_parted: bool
    """Whether class.yaml says where things are kept."""
    towels: int
    """Towels to lay under boards that are on no list."""


def packing_of(
    recipes: Sequence[Recipe],
    setting: Setting,
    apart: Mapping[StepKey, int] | None = None,
    at_tables: AtTables | None = None,
) -> Packing:
    """The packing list of a session that cooks these dishes. `apart` are the portions that a
    shared step makes beside the one for all; who asks for blades and boards alone needs none.
    `at_tables` is what each table cooks, where it isn't the dish as listed."""
    at_tables = at_tables or {}
    counts = _counts(recipes, setting, apart or {}, at_tables)
    cooked = (*recipes, *(each for dishes in at_tables.values() for each in dishes))
    tools = {
        need.name: need.tool for recipe in cooked for step in recipe.steps for need in step.needs
    }
    tools |= {name: setting.tool(name) for name in counts.keys() - tools.keys()}
    boards = sum(
        n for name, n in counts.items() if (known := tools[name]) and Kind.BOARD in known.kinds
    )
    towel = next(iter(setting.listed(Kind.TOWEL)), None)
    if towel is not None:
        counts[towel] = max(counts.get(towel, 0), min(boards, setting.equipment[towel]))
    for name in setting.listed(Kind.COOLER):
        # What is bought must stay cold on its way, whether a step says so or not.
        counts.setdefault(name, 1)
    keepers = {term.text: keeper for keeper, terms in setting.kept.items() for term in terms}
    listed = list(setting.equipment)
    order = sorted(
        counts,
        key=lambda name: (listed.index(name) if name in setting.equipment else len(listed), name),
    )
    by_keeper: dict[str, tuple[Packed, ...]] = {}
    for keeper in KEEPERS:
        own = tuple(
            Packed(
                name,
                counts[name],
                setting.equipment.get(name),
                tools.get(name) or setting.tool(name),
            )
            for name in order
            if counts[name] and keepers.get(name, BOXES) == keeper
        )
        if own:
            by_keeper[keeper] = own
    laid = counts[towel] if towel is not None else 0
    return Packing(by_keeper, bool(setting.kept), max(0, boards - laid))


def _counts(
    recipes: Sequence[Recipe], setting: Setting, apart: Mapping[StepKey, int], at_tables: AtTables
) -> dict[str, int]:
    """How many of each thing may be in use at once, and never more than there are."""
    before = steps_before(recipes)
    wanted: dict[str, dict[StepKey, int]] = defaultdict(lambda: defaultdict(int))
    for name, step, count in _wants(recipes, setting, apart, at_tables):
        wanted[name][step] += count
    return {
        name: min(most_at_once(steps, before), setting.equipment.get(name, _ENOUGH))
        for name, steps in wanted.items()
    }


_ENOUGH = 500
"""More than a class has of anything; the reader allows no larger number."""


def _wants(
    recipes: Sequence[Recipe], setting: Setting, apart: Mapping[StepKey, int], at_tables: AtTables
) -> Iterator[tuple[str, StepKey, int]]:
    """What each step needs at all its tables together, and for what it makes apart."""
    taken = {term.text for term in setting.kept.get(HOME, ())}
    for recipe in recipes:
        dishes = at_tables.get(recipe.key) or (recipe,) * len(setting.tables)
        for index, step in enumerate(recipe.steps):
            # What a table makes apart stands among its own steps, with its own vessel.
            at_tables_own = [
                one
                for dish, children in zip(dishes, setting.tables, strict=True)
                if children and not (one := dish.steps[index]).shared
            ]
            own_steps = [*((step,) if step.shared else ()), *at_tables_own]
            more = apart.get((recipe.key, step.number), 0) - len(at_tables_own)
            # What touches the food in a pot: with the pot, a portion that is cooked apart has its
            # own (FDA on cross-contact, from memory). Knives, boards and burners are washed or
            # free again, for it is made first.
            own = step.named(Kind.VESSEL, Kind.STIRRER)
            wanted = sum((Counter(equipment_of(each)) for each in own_steps), Counter[str]())
            for name, count in wanted.items():
                # What is done at home is done with what is there; only what then travels, such
                # as the cooler, is packed.
                if step.when == "day before" and name not in taken:
                    continue
                key = (recipe.key, step.number)
                yield name, key, min(count, _ENOUGH)
                if more > 0 and name in own:
                    yield another(name, count, setting), key, min(count * more, _ENOUGH)


def most_at_once(
    weights: Mapping[StepKey, int], before: Mapping[StepKey, frozenset[StepKey]]
) -> int:
    """The most that steps of which none waits for another need together.

    Their sum, less what can be handed on from one step to a later one: the heaviest antichain
    of an order is what is left over by the largest flow (R. P. Dilworth, 1950, with weights).
    """
    giving, taking = dict(weights), dict(weights)
    flow: dict[tuple[StepKey, StepKey], int] = {}

    def pushed(giver: StepKey, amount: int, seen: set[StepKey]) -> int:
        """Hands on up to so much from a step, moving what others hand on where it must."""
        for taker in weights:
            if taker in seen or giver not in before.get(taker, frozenset()):
                continue
            seen.add(taker)
            moved = min(amount, taking[taker])
            if moved:
                taking[taker] -= moved
            else:
                for other in weights:
                    had = flow.get((other, taker), 0)
                    moved = pushed(other, min(amount, had), seen) if had else 0
                    if moved:
                        flow[other, taker] -= moved
                        break
            if moved:
                flow[giver, taker] = flow.get((giver, taker), 0) + moved
                return moved
        return 0

    total = sum(weights.values())
    for giver in weights:
        while giving[giver] and (moved := pushed(giver, giving[giver], set())):
            giving[giver] -= moved
            total -= moved
    return total
