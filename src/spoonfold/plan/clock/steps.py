"""From the dishes of a session to pieces of work that hold hands, adults and equipment.

At a table its own children work; for the class, children of the table that has least to do,
load by load. An adult note holds an adult for the work, not for the wait: one adult can keep an
eye on several pots. Each table has a helper while there are enough, and those who are left over
stand by the lead cook; with fewer helpers than tables they go round.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from math import ceil

from spoonfold.knowledge.equipment import Kind
from spoonfold.knowledge.times import known_time
from spoonfold.model.classroom import Setting
from spoonfold.model.recipe import Step
from spoonfold.plan.amounts.eaters import portions_at_tables
from spoonfold.plan.clock.schedule import Activity, Hold
from spoonfold.plan.clock.tasks import (
    LEAD,
    ROVING,
    Beforehand,
    Kept,
    Shortage,
    Task,
    Tasks,
    equipment_of,
    hands_of,
    tool,
)
from spoonfold.plan.clock.times import Boil, ClassWork, Dish, boil_of, loads_of, work_seconds

WASH_SECONDS = int(known_time("wash hands"))
"""One person at the tap."""

MOST_LOADS = 40
"""More loads than this are planned as one long one: nobody cooks so, and each would be placed by
itself."""

PROBE_SECONDS = int(known_time("probe a food"))


def tasks_of(work: ClassWork) -> Tasks:
    """Every piece of work of a session, tables in order, each step with what it waits for."""
    return _Gathering(work).result()


def capacities_of(setting: Setting) -> dict[str, int]:
    """How much there is of everything that work competes for."""
    tables = len(setting.tables)
    held = {hands_of(table): count for table, count in enumerate(setting.tables, 1)}
    if setting.helpers >= tables:
        held |= {f"{ROVING} {table}": 1 for table in range(1, tables + 1)}
        held[LEAD] = 1 + setting.helpers - tables
    else:
        held |= {ROVING: setting.helpers, LEAD: 1}
    return held | {tool(name): count for name, count in setting.equipment.items()}


@dataclass(slots=True)
class _Gathering:
    work: ClassWork
    tasks: list[Task] = field(default_factory=list)
    beforehand: list[Beforehand] = field(default_factory=list)
    shortages: list[Shortage] = field(default_factory=list)
    unlisted: dict[str, None] = field(default_factory=dict)
    missing: dict[str, int] = field(default_factory=dict)
    """What work waits for and the class hasn't, or doesn't list, with how many a step takes: it is
    planned as if so many were brought, since without any nothing would be cooked, and with as many
    as anyone likes a class that has none would seem the faster."""
    unclear: dict[tuple[str, int], Step] = field(default_factory=dict)
    boils: list[Boil] = field(default_factory=list)
    busy: Counter[int] = field(default_factory=Counter)
    """Seconds of hands that each table has to do."""

    def result(self) -> Tasks:
        portions = portions_at_tables(self.work.setting)
        everyone = sum(portions, Fraction(0))
        for dish in self.work.dishes:
            for step in dish.recipe.steps:
                if step.when is not None:
                    minutes = (
                        (step.time or 0) + (step.wait or 0) + self.boiled(dish, step, everyone)
                    )
                    self.beforehand.append(Beforehand(dish.recipe.key, step, Fraction(minutes)))
                    continue
                if (dish.recipe.key, step.number) in self.work.dropped:
                    continue
                self.look(dish, step)
                for table, count in enumerate(portions, 1):
                    own = dish.at(table).step(step.number)
                    if not own.for_class and count:
                        if own != step:
                            self.look(dish.at(table), own)
                        self.add(dish.at(table), own, table, count)
        # The tables' own work comes first, so that it is known who has time for the class's.
        for dish in self.work.dishes:
            for step in dish.recipe.steps:
                key = dish.recipe.key, step.number
                if step.when is None and step.for_class and key not in self.work.dropped:
                    apart = sum((portions[table - 1] for table in dish.apart(step)), Fraction(0))
                    if everyone > apart or not everyone:
                        self.add(dish, step, None, everyone - apart)
        linked = self.linked()
        return Tasks(
            linked,
            capacities_of(self.work.setting)
            | {tool(name): count for name, count in self.missing.items()},
            tuple(self.beforehand),
            tuple(self.shortages),
            tuple(self.unlisted),
            tuple((dish, step) for (dish, _), step in self.unclear.items()),
            tuple(self.boils),
            tuple(self.kept(linked)),
        )

    def look(self, dish: Dish, step: Step) -> None:
        """What the step needs and isn't there."""
        for name, count in equipment_of(step).items():
            has = self.work.setting.equipment.get(name)
            if has is None:
                self.unlisted[name] = None
            if not has and name in step.named(Kind.HOT, Kind.VESSEL):
                self.missing[name] = max(count, self.missing.get(name, 0))
            if count > (has or 0) and (has is not None or name in step.named(Kind.HOT)):
                has = has or 0
                short = Shortage(dish.recipe.key, step, name, count, has)
                if all(each.step.number != step.number for each in self.shortages):
                    self.shortages.append(short)

    def add(self, dish: Dish, step: Step, table: int | None, portions: Fraction) -> None:
        more = self.boiled(dish, step, portions)
        loads = loads_of(dish.recipe, step, portions)
        if loads is None:
            self.unclear[dish.recipe.key, step.number] = step
            loads = 1
        lasting = loads if loads > MOST_LOADS else 1
        loads //= lasting
        # The same children stay for all its loads.
        hands = self.hands(dish, step, table)
        for load in range(1, loads + 1):
            work = work_seconds(self.work, dish, step, portions, sum(hands.values()))
            wait = ceil(((step.wait or 0) + more) * 60)
            times = (work * lasting, wait * lasting)
            self.tasks.append(self.task(dish, step, table, (load, loads), hands, times))

    def hands(self, dish: Dish, step: Step, table: int | None) -> Mapping[int, int]:
        """Children at work. A step for the class takes those of the table with least to do."""
        wanted = step.hands if step.hands is not None else int(not (step.adult or step.for_class))
        if not wanted or (dish.recipe.key, step.number) in self.work.helped:
            return {}
        tables = self.work.setting.tables
        if table is not None:
            return {table: min(wanted, tables[table - 1])}
        chosen: dict[int, int] = {}
        # Whose table cooks its own beside it stays away from what the others have.
        apart = dish.apart(step)
        for each in sorted(
            (each for each in range(1, len(tables) + 1) if each not in apart),
            key=lambda t: (Fraction(self.busy[t], max(1, tables[t - 1])), t),
        ):
            chosen[each] = min(wanted - sum(chosen.values()), tables[each - 1])
        return {each: count for each, count in chosen.items() if count}

    def boiled(self, dish: Dish, step: Step, portions: Fraction) -> Fraction:
        """Minutes to add because there is more water than at home."""
        boil = boil_of(self.work, dish, step, portions)
        if boil is None:
            return Fraction(0)
        self.boils.append(boil)
        return boil.more

    def task(
        self,
        dish: Dish,
        step: Step,
        table: int | None,
        load: tuple[int, int],
        hands: Mapping[int, int],
        times: tuple[int, int],
    ) -> Task:
        setting, (work, wait) = self.work.setting, times
        count = sum(hands.values()) or 1 if any(each.text == "hands" for each in step.wash) else 0
        sink = setting.sink
        taps = max(1, setting.equipment.get(sink, 0))
        wash = -(-count // taps) * WASH_SECONDS
        held = [Hold(hands_of(each), n, 0, work + wash) for each, n in hands.items()]
        adult = None
        if step.adult or not hands:
            adult = self.adult(table)
            # Without children it is the adult who washes.
            held.append(Hold(adult, 1, 0, work if hands else work + wash))
        until = work if step.wait_aside else work + wait
        # What is only needed at the end of a step, however long that waits.
        probes, cold = step.named(Kind.THERMOMETER), step.named(Kind.COLD_PLACE)
        for name, needed in equipment_of(step).items():
            has = setting.equipment.get(name, 0) or self.missing.get(name, 0)
            begin, end = 0, until
            if name in cold:
                # It takes whatever is put there, and nobody waits for it.
                continue
            if name in probes:
                begin, end = max(0, work + wait - PROBE_SECONDS), work + wait
            elif name == sink:
                # What drains or soaks there leaves the tap to others.
                end = work
            held.append(Hold(tool(name), min(needed, has), begin, end))
        if wash and sink in setting.equipment:
            at_once = min(count, setting.equipment[sink])
            held.append(Hold(tool(sink), at_once, work, work + wash))
        for each, n in hands.items():
            self.busy[each] += n * (work + wash)
        id = f"{dish.recipe.key} {step.number} {table or 'class'} {load[0]}"
        return Task(
            dish.recipe.key,
            step,
            table,
            *load,
            work,
            wash,
            wait,
            hands,
            adult,
            Activity(id, work + max(wash, wait), tuple(held)),
        )

    def adult(self, table: int | None) -> str:
        helpers = self.work.setting.helpers
        if table is None or not helpers:
            return LEAD
        return ROVING if helpers < len(self.work.setting.tables) else f"{ROVING} {table}"

    def linked(self) -> tuple[Task, ...]:
        """Tasks in the order of dishes and steps, each behind what it waits for."""
        by_step: dict[tuple[str, int], list[Task]] = {}
        for task in self.tasks:
            by_step.setdefault((task.dish, task.step.number), []).append(task)
        linked = []
        for dish in self.work.dishes:
            for step in dish.recipe.steps:
                tasks = by_step.get((dish.recipe.key, step.number), ())
                for task in tasks:
                    after = [
                        other.activity.id
                        for number in self.awaited(dish, step)
                        for other in by_step.get((dish.recipe.key, number), ())
                        if self.goes_on_with(dish, task, other)
                    ]
                    after += [each.activity.id for each in self.cleaner(dish, task, tasks)]
                    if task.load > 1 and not any(
                        hold.amount and hold.resource == tool(need.name)
                        for hold in task.activity.holds
                        for need in step.needs
                    ):
                        after.append(_load_before(task))
                    linked.append(
                        replace(task, activity=replace(task.activity, after=tuple(after)))
                    )
        return tuple(linked)

    def goes_on_with(self, dish: Dish, task: Task, other: Task) -> bool:
        """Whether what another piece of work made is needed: a table's own, and what was made for
        it in the one pot; for everyone, what every table made of it."""
        apart = dish.apart(dish.step(other.step.number))
        if task.table is None:
            return other.table not in apart
        return other.table == task.table or (other.table is None and task.table not in apart)

    def cleaner(self, dish: Dish, task: Task, tasks: Sequence[Task]) -> Iterator[Task]:
        """The same step at tables that cook without a food, where pots or pans go from table to
        table: they are the first to have them."""
        if task.table in self.swapping(dish):
            return
        for other in tasks:
            if other.table in self.swapping(dish):
                shared = task.step.named(Kind.VESSEL) & other.step.named(Kind.VESSEL)
                if any(self.is_short(name, tasks) for name in shared):
                    yield other

    def swapping(self, dish: Dish) -> frozenset[int]:
        """The tables that cook with something else than the rest."""
        listed = dish.recipe.ingredients
        return frozenset(
            table
            for table, own in enumerate(dish.at_tables, start=1)
            if own.recipe.ingredients != listed
        )

    def is_short(self, name: str, tasks: Sequence[Task]) -> bool:
        """Whether there are fewer of a thing than a step takes at all places together."""
        wanted = sum(equipment_of(each.step)[name] for each in tasks if each.load == 1)
        return wanted > self.work.setting.equipment.get(name, wanted)

    def awaited(self, dish: Dish, step: Step) -> tuple[int, ...]:
        """What the step waits for; where that is left out, what that would have waited for."""
        steps = {each.number: each for each in dish.recipe.steps}
        found: dict[int, None] = {}
        todo, seen = [*step.follows], set[int]()
        while todo:
            number = todo.pop(0)
            if (dish.recipe.key, number) not in self.work.dropped:
                found[number] = None
            elif number not in seen and number in steps:
                seen.add(number)
                todo.extend(steps[number].follows)
        return tuple(found)

    def kept(self, tasks: tuple[Task, ...]) -> Iterator[Kept]:
        """What a step before class keeps for the first one in class that waits for it."""
        for each in self.beforehand:
            if each.step.when != "before class" or each.step.wait_aside:
                continue
            until = next(
                (
                    task
                    for task in tasks
                    if task.dish == each.dish and each.step.number in task.step.follows
                ),
                None,
            )
            stays = each.step.named(Kind.VESSEL, Kind.HOT)
            for name, count in equipment_of(each.step).items():
                has = self.work.setting.equipment.get(name, 0)
                if until is not None and has and name in stays and name in equipment_of(until.step):
                    yield Kept(name, min(count, has), until.activity.id)


def _load_before(task: Task) -> str:
    return f"{task.activity.id.rpartition(' ')[0]} {task.load - 1}"
