"""The front of a helper's brief: what one adult needs in the pocket, and nothing else.

It holds so many words in one size of type. Where there is more to say, what also stands on the
back is told there alone: never a swap, a label, a time or a danger of the gravest three kinds.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from spoonfold.language.amounts import temperature_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Setting
from spoonfold.model.recipe import Recipe
from spoonfold.plan.clock.class_work import Timed
from spoonfold.plan.people.packing import packing_of
from spoonfold.sheets.booklet.plate import PlateView
from spoonfold.sheets.brief.chart import ChartView
from spoonfold.sheets.brief.posts import Post, Turn, Where, joined, last_turn, tables_text, turns_of
from spoonfold.sheets.lesson_card.clock import CLEAN_UP, Names, day_time, moment
from spoonfold.sheets.shared.cautions import cautions_of, with_all
from spoonfold.sheets.shared.numbers import step_name
from spoonfold.sheets.shared.swaps import TableSwapView

WORDS = 295
"""On a front, with the chart's and the headings' left aside."""
ROOM, LESS_ROOM = 772.0, 715.0
"""Points that a front may seem to be high: as a rule, and where that was more than it held."""
_LINE = 16.0
_HEADING = 23.0
_WIDE, _BESIDE_TIME, _BESIDE_PLATE, _TITLE = 80, 74, 66, 30
"""Letters of a line: across the page, beside a time or the plate, in the title. A little fewer
than were seen."""
_COLUMN = (80, 80, 40, 27)
"""The same in one of so many columns."""
_TIMES = 5
_MOST = 3
"""Skills, and kinds of danger."""
_QUESTIONS = 2


@dataclass(frozen=True, slots=True)
class AtStep:
    """A step at which the helper stands by."""

    key: tuple[str, int]
    """Its dish and its number."""
    title: str
    """`Step 7: Open the white beans`, with its own time where others stand before it."""
    told: tuple[str, ...]
    """What is kept for an adult."""
    sign: str
    """When it is done, and how hot; mostly empty."""


@dataclass(frozen=True, slots=True)
class DayTime:
    """One of the times of the day."""

    time: str
    steps: tuple[AtStep, ...]
    text: str
    """What isn't a step."""


@dataclass(frozen=True, slots=True)
class Cooked:
    """What is made at a table."""

    where: str
    """`Table 3`; empty where the sheet is about one table alone."""
    title: str
    who: str
    """`I, J, K, L`."""
    portion: str


@dataclass(frozen=True, slots=True)
class ToCoach:
    """A skill in a few words."""

    name: str
    short: str
    is_new: bool


@dataclass(frozen=True, slots=True)
class ToFear:
    """Dangers of one kind."""

    icon: str
    title: str
    text: str
    brief: str


@dataclass(frozen=True, slots=True)
class Front:
    """What stands on the front."""

    title: str
    place: str
    """What a helper without a table of their own does; mostly empty."""
    cooked: tuple[Cooked, ...]
    plate: PlateView | None
    day: tuple[DayTime, ...]
    chart: ChartView | None
    """None where nobody knows when what is done."""
    swaps: tuple[TableSwapView, ...]
    labels: tuple[tuple[str, str], ...]
    """A food and what some brands of it contain."""
    apart: tuple[str, ...]
    skills: tuple[ToCoach, ...]
    dangers: tuple[ToFear, ...]
    questions: tuple[str, ...]
    is_all: bool = True
    """Whether what an adult does at each step is told in full."""


def words_on(front: Front) -> int:
    """How many words a front has, the headings' and the chart's left aside."""
    return sum(len(text.split()) for text in _texts(front))


def _texts(front: Front) -> Iterator[str]:
    yield from (front.title, front.place)
    for each in front.cooked:
        yield from (each.where, each.title, each.who, each.portion)
    for row in front.day:
        yield from (row.time, row.text)
        for step in row.steps:
            yield from (step.title, *step.told, step.sign)
    for swap in front.swaps:
        yield from (swap.where, swap.amount.text, swap.name, swap.instead_of, *swap.duties)
    for label in front.labels:
        yield from label
    yield from front.apart
    for skill in front.skills:
        yield from (skill.name, skill.short)
    for danger in front.dangers:
        yield from (danger.title, danger.text)
    yield from front.questions


def _lines(text: str, letters: int) -> int:
    return -(-len(text) // letters) if text else 0


def points_of(front: Front) -> float:
    """How high a front is, in points, by the letters of its lines."""
    cooked = [f"{each.where}{each.who}: {each.title}. {each.portion}." for each in front.cooked]
    beside = [*cooked, front.place]
    head = 27 * _lines(front.title, _TITLE) + _LINE
    head += _LINE * sum(_lines(text, _BESIDE_PLATE) for text in beside)
    points = 24 + max(head, 92) + _HEADING
    for row in front.day:
        told = [text for step in row.steps for text in (step.title + ".", *step.told, step.sign)]
        said = " ".join(text for text in (*told, row.text) if text)
        points += max(1, _lines(said, _BESIDE_TIME)) * _LINE + 5
    if front.chart is not None:
        points += front.chart.high * 1.25 + 24
    if front.swaps or front.labels or front.apart:
        labels = ", ".join(f"{food} ({what})" for food, what in front.labels)
        texts = [labels and f"{'.' * 45}{labels}", " ".join(front.apart)]
        for swap in front.swaps:
            words = (swap.amount.text, swap.name, swap.instead_of, *swap.duties)
            texts.append(" ".join(words) + "." * 15)
        points += 14 + _HEADING + sum(_lines(text, _WIDE) * _LINE + 2 for text in texts if text)
    columns = (
        [f"{each.name} (new): {each.short}" for each in front.skills],
        [f"{each.title}: {each.text}" for each in front.dangers],
        front.questions,
    )
    letters = _COLUMN[sum(map(bool, columns))]
    return (
        points
        + _HEADING
        + max(sum(_lines(text, letters) * _LINE + 3 for text in column) for column in columns)
    )


def fitted(front: Front, room: float) -> Front:
    """The same with no more than the front holds, in words and in points: what goes stands on the
    back anyway."""
    chosen = replace(
        front,
        skills=front.skills[:_MOST],
        dangers=front.dangers[:_MOST],
        questions=front.questions[:_QUESTIONS],
    )
    for shorter in _SHORTER:
        if words_on(chosen) <= WORDS and points_of(chosen) <= room:
            break
        chosen = shorter(chosen)
    return chosen


def _one_rule(front: Front) -> Front:
    return replace(front, dangers=tuple(replace(each, text=each.brief) for each in front.dangers))


def _first_part(front: Front) -> Front:
    """Of each step the first thing that an adult does."""
    return _with_told(front, lambda told: told[:1])


def _no_part(front: Front) -> Front:
    return _with_told(front, lambda told: ())


def _with_told(front: Front, chosen: Callable[[tuple[str, ...]], tuple[str, ...]]) -> Front:
    day = tuple(
        replace(row, steps=tuple(replace(step, told=chosen(step.told)) for step in row.steps))
        for row in front.day
    )
    return replace(front, day=day, is_all=front.is_all and day == front.day)


_SHORTER: Sequence[Callable[[Front], Front]] = (
    _one_rule,
    lambda front: replace(front, skills=front.skills[:2]),
    _first_part,
    lambda front: replace(front, skills=front.skills[:1]),
    lambda front: replace(front, questions=front.questions[:1]),
    _no_part,
    lambda front: replace(front, skills=()),
)
"""In this order, each only where the one before wasn't enough."""


def day_times(
    each: Timed,
    post: Post,
    dishes: Sequence[Recipe],
    names: Names,
    setup: Sequence[str],
    count: str,
) -> tuple[DayTime, ...]:
    """The set-up, the steps with an adult at this place, and how it ends: five rows at most.

    `dishes` are what is cooked there; `setup` are sentences, `count` the blades to count.
    """
    texts, setting = names.texts, each.session.setting
    turns = list(turns_of(each, post))
    last = last_turn(each, post)
    if last is not None:
        turns = [turn for turn in turns if (turn.dish, turn.step.number) != _key(last)]
        own = [turn for turn in turns_of(each, post) if (turn.dish, turn.step.number) == _key(last)]
        last = own[0] if own else last
    rows = [DayTime(texts.say("Before"), (), " ".join(setup))]
    for group in joined(turns, _TIMES - 2):
        rows.append(
            DayTime(
                moment(setting, group[0].start, texts),
                tuple(
                    _at_step(turn, setting, post, dishes, names, bool(index))
                    for index, turn in enumerate(group)
                ),
                "",
            )
        )
    ends = _ending(each, texts, count)
    if last is not None:
        step = _at_step(last, setting, post, dishes, names, False)
        rows.append(DayTime(moment(setting, last.start, texts), (step,), ends))
    elif ends:
        rows.append(DayTime("", (), ends))
    return tuple(rows)


def _key(turn: Turn) -> tuple[str, int]:
    return turn.dish, turn.step.number


def _at_step(
    turn: Turn, setting: Setting, post: Post, dishes: Sequence[Recipe], names: Names, timed: bool
) -> AtStep:
    texts = names.texts
    # A table's own words, where it cooks something else; of several tables all of them.
    steps = [
        step
        for recipe in dishes
        if recipe.key == turn.dish
        for step in recipe.steps
        if step.number == turn.step.number
    ] or [turn.step]
    step = with_all(steps)
    label = names.step(turn.dish, step.number)
    if post.where is not Where.TABLE and turn.tables:
        label = f"{label} ({tables_text(turn.tables, texts)})"
    said = dict.fromkeys(step_name(names.words(turn.dish, one), texts) for one in steps)
    title = f"{label}: {' / '.join(said)}"
    if timed:
        title = f"{moment(setting, turn.start, texts)} {title}"
    sign = ""
    if step.heat is not None:
        sign = texts.say(
            "At {time}: {heat} in the middle, by thermometer.",
            time=moment(setting, turn.end, texts),
            heat=temperature_text(step.heat, texts),
        )
    told = tuple(
        f"{view.title} {view.text}".strip()
        for view in cautions_of(step, texts)
        if view.icon == "adult"
    )
    return AtStep(_key(turn), title, told, sign)


def _ending(each: Timed, texts: Texts, count: str) -> str:
    starts = {part.name: part.start for part in each.clock.parts}
    setting = each.session.setting
    said = []
    if "eat" in starts:
        said.append(texts.say("{time}: eat.", time=day_time(setting, starts["eat"], texts)))
    if CLEAN_UP in starts:
        time = day_time(setting, starts[CLEAN_UP], texts)
        said.append(
            texts.say("{time}: clean up; count again: {things}.", time=time, things=count)
            if count
            else texts.say("{time}: clean up.", time=time)
        )
    return " ".join(said)


def blades_and_boards(
    dishes: Sequence[Recipe], setting: Setting, tables: Sequence[int], texts: Texts
) -> tuple[str, int]:
    """The blades that lie at these tables, `3 × knife, grater`, and how many boards."""
    sizes = tuple(setting.tables[table - 1] for table in tables)
    # What is done once for all has tools of its own, somewhere else.
    own = [
        replace(
            recipe,
            steps=tuple(replace(step, needs=()) if step.shared else step for step in recipe.steps),
        )
        for recipe in dishes
    ]
    packing = packing_of(own, replace(setting, tables=sizes))
    things = [one for kept in packing.by_keeper.values() for one in kept]
    said = ", ".join(
        f"{one.count}\u00a0×\u00a0{texts.say(one.name)}" for one in things if one.is_sharp
    )
    return said, sum(one.count for one in things if one.is_board)


def setup_text(blades: str, boards: int, is_parted: bool, texts: Texts) -> tuple[str, ...]:
    """What to do before the children sit down."""
    said = [texts.say("Wash your hands.")]
    if boards:
        said.append(
            texts.count(
                "Lay a damp towel under the board.",
                "Lay a damp towel under each of the {number} boards.",
                boards,
            )
        )
    if is_parted:
        said.append(texts.say("Part “raw” and “ready”."))
    if blades:
        said.append(texts.say("Count: {things}.", things=blades))
    return tuple(said)
