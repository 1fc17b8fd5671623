"""Sheet against sheet: every value of a session that stands in two places, side by side."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from string import ascii_uppercase

from printed_truth import AMOUNT, SHEETS, STEP, Card, SessionSheets, added, flat, minute_of, sum_of

from spoonfold.knowledge.cautions import CAUTIONS
from spoonfold.knowledge.equipment import all_tools


@dataclass(frozen=True, slots=True)
class Comparison:
    """One value in two places."""

    what: str
    one: object
    other: object

    @property
    def agrees(self) -> bool:
        return self.one == self.other

    def __str__(self) -> str:
        return f"{self.what}: {self.one} / {self.other}"


Compared = Iterator[Comparison]

_IN_NUMBER = "\\d/¼½¾⅓⅔⅛⅜⅝⅞.×"


def _shopped(needed: str) -> Mapping[str, object]:
    """What the list says is needed, all dishes and tables together; a spare isn't used."""
    needed = re.sub(rf" \+ {AMOUNT} spare", "", needed)
    sums = [sum_of(each) for each in re.findall(AMOUNT, re.sub(r"\([^)]*\)", _hidden, needed))]
    return added(sums)


def _hidden(match: re.Match[str]) -> str:
    """What stands in brackets, but for the size of a can."""
    return match[0] if match[0].endswith("each)") or "oz" in match[0] else ""


def _forms(name: str) -> tuple[str, ...]:
    """A food by its name on the list, and in the singular."""
    forms = [name]
    for plural, singular in (("ies", "y"), ("oes", "o"), ("ves", "f"), ("es", "e"), ("s", "")):
        if name.endswith(plural):
            forms.append(name.removesuffix(plural) + singular)
    return tuple(forms)


def _taken(text: str, names: tuple[str, ...], others: tuple[str, ...]) -> list[str]:
    """The amounts that stand right before a name, where no longer name begins there."""
    either = "|".join(map(re.escape, sorted(names, key=len, reverse=True)))
    # Of beaten eggs a part is measured; whole ones are bought.
    text = re.sub(rf"(?<![{_IN_NUMBER}]){AMOUNT} (\S+) \(beat (\d+) and", r"\2 \1 (", f" {text}")
    found = re.finditer(rf"(?<![{_IN_NUMBER}])({AMOUNT}) ({either})\b", text)
    longer = [each for each in others if any(each.startswith(f"{name} ") for name in names)]
    return [
        match[1]
        for match in found
        if not any(text.startswith(each, match.start(2)) for each in longer)
        and not text.startswith((" (only if", " instead of"), match.end())
        and not re.search(r"(each (cuts|takes)|of you) $", text[: match.start()])
    ]


def amounts(sheets: SessionSheets) -> Compared:
    """Cards, pot and what is prepared before take together what is on the shopping list."""
    rows = [row for row in sheets.shopping if re.search(r"\d|[¼½¾⅓⅔⅛⅜⅝⅞]", row["needed"])]
    needs: dict[str, list[object]] = defaultdict(list)
    for row in rows:
        if "Only if" not in row["notes"]:
            needs[row["item"]].append(_shopped(row["needed"]))
    names = tuple(form for name in needs for form in _forms(name))
    texts = [card.steps for card in sheets.cards] + [sheets.prep[0].text]
    for name, sums in needs.items():
        own = [each for text in texts for each in _taken(text, _forms(name), names)]
        yield Comparison(
            f"{sheets}: {name} at tables, pot and before; bought",
            _said(added([sum_of(each) for each in own])),
            _said(added(sums)),  # type: ignore[arg-type]
        )


def _said(sums: Mapping[str, Fraction]) -> str:
    return ", ".join(f"{size} {unit}" for unit, size in sorted(sums.items()))


def allergens(sheets: SessionSheets) -> Compared:
    """A table's card and each of its labels say the same of the same dish; so does the brief of a
    table that cooks what is listed."""
    for card in sheets.cards:
        if not card.where.startswith("Table"):
            continue
        own = [
            each for each in sheets.labels if (each.table, each.title) == (card.where, card.title)
        ]
        seats = len(card.seats)
        own_list = card.allergens.partition(" Usual,")[0]
        yield Comparison(f"{sheets}: {card.where} {card.title}: labels", len(own) > seats, True)
        for label in own:
            yield Comparison(
                f"{sheets}: {card.where} {card.title}: card / label", own_list, label.allergens
            )
        told = rf"Allergens {re.escape(own_list)} (?:Brands|Usual,)"
        yield Comparison(
            f"{sheets}: {card.where} {card.title}: on the brief",
            re.search(told, sheets.brief) is not None,
            True,
        )


def _briefs_at(sheets: SessionSheets, table: str) -> list[str]:
    """Of the helpers who stand at a table or go round them all."""
    own = re.split(r"(?=Helper \d+, you )", sheets.brief)
    return [each for each in own if re.search(rf"you (?:are at table {table}\b|go round)", each)]


_SWAP = rf"At table (\d+): ({AMOUNT}) ([^.]+?) instead of ([^.]+)\."
_SWAP_AT_STEP = rf"(?<![{_IN_NUMBER}]){AMOUNT} ([^(),.{_IN_NUMBER}]+?) \(instead of ([^)]+)\)"


def swaps(sheets: SessionSheets) -> Compared:
    """What is laid out before class for a table that cooks with something else is what all others
    are told of it, and what the table's own steps take."""
    prep = " ".join(page.text for page in sheets.prep)
    laid_out = set(re.findall(_SWAP, prep))
    for number, amount, name, original in sorted(laid_out):
        what = f"{sheets}: table {number}: {name}"
        told = f"{amount} {name}, instead of {original}"
        at_table = f"At table {number}: {told}"
        own = [
            (at_table if "you go round" in each else told) in each
            for each in _briefs_at(sheets, number)
        ]
        yield Comparison(f"{what}: brief", at_table in sheets.brief or any(own), True)
        told = f"At table {number}: {name} instead of {original}"
        yield Comparison(f"{what}: lesson card", told in sheets.lesson, True)
        steps = " ".join(card.steps for card in sheets.cards if card.where == f"Table {number}")
        if f"{name} (only if" in steps:
            continue
        # Two dishes may take the same.
        laid = [one for where, one, other, _ in laid_out if (where, other) == (number, name)]
        yield Comparison(
            f"{what}: before class / steps",
            _said(added([sum_of(each) for each in laid])),
            _said(added([sum_of(each) for each in _taken(steps, (name,), ())])),
        )
    for card in sheets.cards:
        for name, original in re.findall(_SWAP_AT_STEP, card.steps):
            before = {(where, other, instead) for where, _, other, instead in laid_out}
            at_step = (card.where.removeprefix("Table "), name, original)
            yield Comparison(
                f"{sheets}: {card.where}: {name}: laid out before class", at_step in before, True
            )


def people(sheets: SessionSheets) -> Compared:
    """Who sits where and does what: the chart and the cards; which helper stands where: the lesson
    card and the briefs."""
    text = "\n".join("\n".join(page.lines) for page in sheets.jobs)
    text = re.sub(r"(?m)^Jobs \d+\s*$", "", text)
    # What kinds of job mean stands below the tables, and what holds for all seats behind them.
    text = re.split(r"Read aloud:|Raw-to-ready watch:|A seat keeps its", text)[0]
    tables = re.split(r"(?m)^\s*(Table \d+)\b.*$", text)
    charts = dict(zip(tables[1::2], tables[2::2], strict=True))
    cards = [card for card in sheets.cards if card.where.startswith("Table")]
    yield Comparison(f"{sheets}: tables", {card.where for card in cards}, set(charts))
    for where, chart in charts.items():
        rows = _rows(chart)
        for card in cards:
            if card.where == where:
                yield Comparison(f"{sheets}: {where}: seats", set(card.seats), set(rows))
                yield from _at_steps(f"{sheets}: {where}", card, cards, rows)
        if " goes round " not in sheets.lesson:
            at_table = rf"Helper (\d+), you are at {where.casefold()}\b"
            yield Comparison(
                f"{sheets}: {where}: helpers who stand there, lesson card / briefs",
                set(re.findall(rf"Helper (\d+): {where}\b", sheets.lesson)),
                set(re.findall(at_table, sheets.brief)),
            )


def _rows(chart: str) -> dict[str, str]:
    """By a seat's letter, what the chart says beside it; what all do is said beside each."""
    rows: dict[str, str] = {}
    letter = ""
    for line in chart.split("\n"):
        match = re.match(r"\s*(All|[A-Z]{1,2})(?:\s|$)", line)
        if match:
            letter = match[1]
            rows[letter] = ""
            line = line[match.end() :]
        if letter:
            rows[letter] += f" {line}"
    common = rows.pop("All", "")
    return {each: flat(f"{said} {common}") for each, said in rows.items()}


def _is_of(card: Card, dish: str, named: Collection[str], cards: Sequence[Card]) -> bool:
    """Whether it's the card of a dish of which other sheets give the first words. A table that
    cooks with something else may have another title: then it's what no other card there is."""
    if not dish or any(card.title.startswith(name) for name in named if name):
        return card.title.startswith(dish)
    return not any(
        other.title.startswith(dish) for other in cards if other.where == card.where != "For all"
    )


def _at_steps(what: str, card: Card, cards: Sequence[Card], rows: Mapping[str, str]) -> Compared:
    """The seats of each step, on the chart and on the card. What a step says isn't compared: a
    card may have fewer words."""
    titles = (one.title.split() for one in cards)
    dishes = {" ".join(title[:n]) for title in titles for n in range(1, 9)}
    either = "|".join(map(re.escape, sorted(dishes, key=len, reverse=True)))
    steps = rf"(?:({either}), s|S)teps? (\d+)(?: to (\d+))? "
    told = [(letter, *each) for letter, said in rows.items() for each in re.findall(steps, said)]
    named = {dish for _, dish, _, _ in told}
    found: dict[str, set[str]] = defaultdict(set)
    for letter, dish, first, last in told:
        if _is_of(card, dish, named, cards):
            for number in range(int(first), int(last or first) + 1):
                found[str(number)].add(letter)
    for mark in sorted(found.keys() | card.who.keys(), key=int):
        yield Comparison(
            f"{what}: {card.title}: step {mark}: chart / card",
            found.get(mark, set()),
            set(card.who.get(mark, ())),
        )


def eaters(sheets: SessionSheets) -> Compared:
    """How many eat, on each sheet: the seats of the cards, the pot and what each table takes of
    it, the plates, the guests' seats, the list. How many helpers and guests eat at a table is on
    no card."""
    cards = {card.where: card for card in sheets.cards if card.where.startswith("Table")}
    bought = re.search(
        r"(\d+) child(?:ren)?(?: and (\d+) helpers?)?(?:, and (\d+) guests?)?(?=[.,:;·]| )",
        sheets.shopping_text,
    )
    assert bought is not None
    children, helpers, guests = (int(each or 0) for each in bought.groups())
    everyone = children + helpers + guests
    seats = sum(len(card.seats) for card in cards.values())
    yield Comparison(f"{sheets}: children on cards / list", seats, children)
    seated = re.search(r"for (?:each of (\d+) guests|the guest) \(([^)]*)\)", sheets.lesson)
    told = int(seated[1] or 1) if seated else 0
    yield Comparison(f"{sheets}: guests seated / list", told, guests)
    if seated:
        at_tables = map(int, re.findall(r"table \d+: (\d+)", seated[2]))
        yield Comparison(f"{sheets}: guests by table / list", sum(at_tables), guests)
    for card in sheets.cards:
        if card.where == "For all":
            people = re.search(r"For (\d+) p", card.head)
            assert people is not None
            yield Comparison(f"{sheets}: at the pot", int(people[1]), everyone)
    for title in dict.fromkeys(card.title for card in sheets.cards):
        shares = [
            (int(own), int(whole))
            for card in sheets.cards
            if card.title == title
            for own, whole in re.findall(r"takes (\d+) of (\d+) portions", card.steps)
        ]
        cooks = {card.where for card in sheets.cards if card.title == title}
        if shares and cooks >= cards.keys():
            yield Comparison(
                f"{sheets}: {title}: taken by tables", sum(own for own, _ in shares), everyone
            )
            yield Comparison(
                f"{sheets}: {title}: portions", {whole for _, whole in shares}, {everyone}
            )
    packing = " ".join(page.text for page in sheets.prep)
    plates = re.search(r"Plate or bowl, fork, cup (\d+)", packing)
    spoons = re.search(r"Tasting spoon (\d+)", packing)
    said = re.search(r"For tasting: (\d+) clean", packing)
    assert plates and spoons and said
    yield Comparison(f"{sheets}: a plate for all", int(plates[1]) > everyone, True)
    yield Comparison(f"{sheets}: spoons listed / said", int(spoons[1]), int(said[1]))
    yield Comparison(f"{sheets}: spoons / plates", int(spoons[1]), 2 * (int(plates[1]) - guests))


_DEGREES = r"\d+ °F \(\d+ °C\)"


def heats(sheets: SessionSheets) -> Compared:
    """A temperature to which a card has something cooked is that of the lesson card and of the
    brief."""
    for card in sheets.cards:
        # What the strip of dangers says, `or colder` and `once, to`, isn't measured at a step.
        found = re.findall(rf"(?<!to )({_DEGREES})(?! or colder)", card.steps)
        for degrees in sorted(set(found)):
            what = f"{sheets}: {card.where}: {degrees}"
            yield Comparison(
                f"{what}: lesson card", f"{degrees} in the middle" in sheets.lesson, True
            )
            # At the one pot stands the lead cook.
            if card.where != "For all":
                number = card.where.removeprefix("Table ")
                told = f"{degrees} in the middle, by thermometer"
                own = [told in one for one in _briefs_at(sheets, number)]
                yield Comparison(f"{what}: brief", any(own), True)


_NAMES = "|".join(CAUTIONS)
_STRIP = re.compile(rf"(?i:{_NAMES})(?:, (?:{_NAMES}))*: ")
"""Before what to do about it, at the foot of a card."""


def dangers(sheets: SessionSheets) -> Compared:
    """What a card's step and its strip warn of is on the lesson card at that step, also where the
    others cook something else, and no table does such a step without an adult."""
    rows = re.split(rf"(?:before|\d+:\d\d) · ((?:{_MARK}, )*{_MARK}) ", _watched(sheets))
    said: dict[str, str] = defaultdict(str)
    for marks, text in zip(rows[1::2], rows[2::2], strict=True):
        for mark in marks.split(", "):
            said[mark] += text
    several = _dishes_by_letter(sheets)
    alone = re.search(rf"Alone it does only: steps? ((?:{_MARK}, )*{_MARK})\.", sheets.lesson)
    harmless = set(alone[1].split(", ")) if alone else set()
    for card in sheets.cards:
        parts = STEP.split(_STRIP.sub("", card.steps))
        for number, text in zip(parts[1::4], parts[4::4], strict=True):
            marks = [mark for mark in said if mark.lstrip(ascii_uppercase) == number]
            own = [
                mark
                for mark in marks
                if _is_of(card, several.get(mark[0], ""), several.values(), sheets.cards)
            ]
            for name in CAUTIONS:
                in_strip = any(name in match[0].lower() for match in _STRIP.finditer(card.steps))
                if not in_strip or not re.search(rf"\b{name}\b", text):
                    continue
                told = any(f"{name.capitalize()}." in said[mark] for mark in own)
                what = f"{sheets}: {card.where} {card.title}: step {number}: {name}"
                yield Comparison(f"{what}: lesson card", told, True)
                yield Comparison(f"{what}: without an adult", harmless & set(own), set())


_PROMISED: Mapping[str, Sequence[str]] = {
    "lesson-card": (
        "The hour on the wall",
        "Set up, in this order",
        "Who is where",
        "Safety, as it comes up",
        "late?",
    ),
    "table-cards": ("On the table:", "Read every label.", "leads the cleaning up"),
    "brief": ("Your day", "Dangers", "Allergens", "Brands differ", "One more is here?", "by step"),
    "home-labels": ("Cut along", "We used something else"),
    "jobs": ("For the table", "At these steps"),
    "prep": ("Packing list", "Blades first", "On site, before the children come"),
    "shopping": ("Shopping for", "Price"),
}
"""What the guide's “What is made” says of each sheet."""


def promised(sheets: SessionSheets) -> Compared:
    """Every sheet that the guide names is there, with what it says of it."""
    for name, parts in _PROMISED.items():
        text = " ".join(page.text for page in sheets.pages(name))
        for part in parts:
            yield Comparison(f"{sheets}: {name}: {part}", part in text, True)


def tools(sheets: SessionSheets) -> Compared:
    """What a card has lie on the table, and what the words of its steps take in the hand, is on
    the packing list."""
    packed = flat(" ".join(page.text for page in sheets.prep[1:])).casefold()
    for card in sheets.cards:
        laid = re.search(r"On the table: ([^A-Z]*(?:(?:RAW|READY) [^A-Z]*)*)", card.head)
        for name in laid[1].split(", ") if laid else ():
            name = re.sub(r"\d+ × |RAW |READY ", "", name).strip()
            yield Comparison(f"{sheets}: {card.where}: {name} laid, packed", name in packed, True)
        words = card.steps.casefold()
        for tool in all_tools():
            name = tool.name.casefold()
            if name in _NOT_PACKED or not re.search(rf"\b(a|an|the|clean|with) {name}\b", words):
                continue
            yield Comparison(f"{sheets}: {card.where}: {name} packed", name in packed, True)


_NOT_PACKED = frozenset(
    {"oven", "table", "sink", "bowl", "plate", "fork", "spoon", "cup", "pan", "knife", "oven shelf"}
    | {"refrigerator", "fridge", "tap", "bin", "stove", "dry cloth", "cloth", "rack", "tray"}
    | {"towel", "pot", "burner", "scoop", "lid", "board"}
)


_MARK = r"[A-Z]?\d+"
"""A step of the lesson card, `5` or, of several dishes, `B5`."""


def _watched(sheets: SessionSheets) -> str:
    """What the lesson card says to watch, step by step."""
    told = sheets.lesson.partition("Safety, as it comes up")[2]
    return re.split("Washing up meanwhile|Free hands|Talk:", told)[0]


def times(sheets: SessionSheets) -> Compared:
    """Who is where and the safety list give a step the same time; the wall and
    the briefs the minute of the card; boxes are cold no earlier than the class ends, or say what
    to do in class; the date is the same."""
    watched = {
        number: time
        for time, numbers in re.findall(rf"(\d+:\d\d) · ((?:{_MARK}, )*{_MARK}) ", _watched(sheets))
        for number in numbers.split(", ")
    }
    behind = sheets.lesson.partition("Who is where")[2]
    roles = re.split("Safety, as it comes up|A helper is missing", behind)[0]
    at_roles: dict[str, list[str]] = defaultdict(list)
    for time, number in re.findall(rf"(\d+:\d\d) step ({_MARK})", roles):
        at_roles[number].append(time)
    for number, found in at_roles.items():
        if number in watched:
            yield Comparison(
                f"{sheets}: step {number}: first adult / safety",
                min(found, key=minute_of),
                watched[number],
            )
    yield from _on_the_wall(sheets)
    yield from _on_briefs(sheets)
    for page in (sheets.lesson, sheets.jobs[0].text, sheets.prep[0].text):
        date = re.search(r"\w+, \w+ \d+, \d{4}", page)
        yield Comparison(f"{sheets}: date", date and date[0] in sheets.brief, True)
    end = re.search(r"Clean up, until (\d+):(\d\d)", flat(sheets.wall))
    assert end is not None
    for label in sheets.labels:
        if "On ice by" in label.text:
            time = label.cold_by.partition(" ")[0]
            yield Comparison(
                f"{sheets}: {label.table} {label.title}: on ice by {time} on the wall",
                f"Boxes on ice: {label.title}" in flat(sheets.wall)
                or re.search(rf"(?m)^{time}\b", sheets.wall) is not None,
                True,
            )
        if label.cold_by:
            hour, minute = map(int, re.findall(r"\d+", label.cold_by))
            # The wall says no morning and no afternoon; a class is shorter than half a day.
            before = (int(end[1]) * 60 + int(end[2]) - hour * 60 - minute) % _HALF_DAY
            yield Comparison(
                f"{sheets}: {label.table} {label.title}: thrown away at {label.cold_by} of a class "
                f"that ends at {end[1]}:{end[2]}",
                0 < before < _HALF_DAY // 2 and "throw it away" in label.text,
                False,
            )


_HALF_DAY = 12 * 60


def _dishes_by_letter(sheets: SessionSheets) -> Mapping[str, str]:
    """The first two words of each; empty where there is one dish."""
    return dict(re.findall(r"\b([A-Z]): (\S+ \S+).*?(?=\. )", flat(sheets.wall)))


def _starts(sheets: SessionSheets, mark: str, tables: Sequence[str]) -> list[int]:
    """When the cards of these tables, or else that of all, have a step begin."""
    names = _dishes_by_letter(sheets)
    dish = names.get(mark[0], "")
    number = mark.lstrip(ascii_uppercase)
    own = [
        card
        for card in sheets.cards
        if number in card.starts and _is_of(card, dish, names.values(), sheets.cards)
    ]
    at_tables = [card for card in own if card.where.removeprefix("Table ") in tables]
    pots = [card for card in own if card.where == "For all"]
    return [card.starts[number] for card in at_tables or pots]


_ROW = re.compile(
    r"(?m)^(?:to )?(?:\d+:\d\d )?(\d+:\d\d) (?=all |\d|–)|(?<!,\n)(?<!to\n)^\d+:\d\d (?=[A-Z])"
)
_ON_HEAT = re.compile(rf"(?:all|Table \d+): {_MARK},(?: to(?: \d+:\d\d)?)?")
_LOOSE_TIME = re.compile(r"(?<!, )(?<!, to )\b\d+:\d\d\b")
"""Of a cell over many rows, whose lines are read among those of other cells."""
_BEGUN = re.compile(
    rf"(?<!\S)(all|\d+(?:, \d+)*) ({_MARK} [A-Z][^:·]*?(?: · {_MARK} [A-Z][^:·]*?)*)"
    rf"(?:, (to )?(\d+:\d\d))?(?= (?:all|\d+(?:, \d+)*) {_MARK} [A-Z]| [A-Z–]| free|$)"
)


def _on_the_wall(sheets: SessionSheets) -> Compared:
    """A step that begins at a table first does so in the minutes that the wall gives."""
    tables = sorted(
        {card.where.removeprefix("Table ") for card in sheets.cards if card.where != "For all"}
    )
    told: set[tuple[str, str]] = set()
    rows = _ROW.split(sheets.wall)[1:]
    for row, said in zip(rows[::2], rows[1::2], strict=True):
        if row is None:
            continue
        begun = flat(_LOOSE_TIME.sub("", _ON_HEAT.sub("", flat(said))))
        for who, steps, until, time in _BEGUN.findall(begun):
            own = tables if who == "all" else who.split(", ")
            for mark in re.findall(rf"(?:^| · )({_MARK}) ", steps):
                fresh = [each for each in own if (mark, each) not in told]
                told.update((mark, each) for each in fresh)
                starts = _starts(sheets, mark, fresh) if fresh else []
                if not starts:
                    continue
                first, last = minute_of(row if until or not time else time), minute_of(time or row)
                yield Comparison(
                    f"{sheets}: step {mark}, {who}: wall at {row} {until}{time} / cards {starts}",
                    all(first <= each <= last for each in starts),
                    True,
                )
    timed = {number for card in sheets.cards for number in card.starts}
    yield Comparison(
        f"{sheets}: steps with a time, cards / wall",
        timed,
        {mark.lstrip(ascii_uppercase) for mark, _ in told} & timed,
    )


def _on_briefs(sheets: SessionSheets) -> Compared:
    """A helper is told to be at a step when the first of the helper's tables begins it."""
    for page in sheets.pages("brief"):
        here = re.search(r"Helper \d+, you are at table (\d+)\b(?!: in full)", page.text)
        day = page.text.partition("Your day")[2].partition("Numbers are steps")[0]
        for time, mark, at in re.findall(
            rf"(\d+:\d\d) Step ({_MARK})(?: \(tables? ([\d, ]+)\))?: ", day
        ):
            tables = at.split(", ") if at else [here[1]] if here else []
            starts = _starts(sheets, mark, tables)
            if starts:
                yield Comparison(
                    f"{sheets}: step {mark}: brief at {time} / cards", minute_of(time), min(starts)
                )


_IMPOSSIBLE = (
    re.compile(r"\b\d+/\d{2,}\b(?! ?x)"),
    re.compile(r"\b\d*/?(?:5|7|9|11|12|13)\b(?= (?:cup|tbsp|tsp)s?\b)(?<=/\d)"),
    re.compile(
        rf"(?<![\d:./–-])\b0 (?:{'|'.join(('cups?', 'tbsp', 'tsp', 'g', 'ml', 'cans?'))})\b"
    ),
    re.compile(
        r"(?<![\d:./–¼½¾⅓⅔⅛⅜⅝⅞-])\b1 (?:carrots|onions|eggs|cups|cans|children|helpers|people|"
        r"portions|minutes|cloves|leaves|tables|limes|lemons|oranges|bananas)\b"
    ),
    re.compile(r"\b0 (?:children|people|portions|helpers)\b"),
    re.compile(r"[⅕⅖⅗⅘⅙⅚] (?:cup|tbsp|tsp)"),
)


def numbers(sheets: SessionSheets) -> Compared:
    """No number that nobody can measure or say, on any sheet."""
    for part in SHEETS:
        for at, page in enumerate(sheets.pages(part), 1):
            found = [match[0] for each in _IMPOSSIBLE for match in each.finditer(page.text)]
            yield Comparison(f"{sheets}: {part} page {at}", found, [])


KINDS: Mapping[str, Callable[[SessionSheets], Compared]] = {
    "amounts": amounts,
    "allergens": allergens,
    "swaps": swaps,
    "people": people,
    "eaters": eaters,
    "heats": heats,
    "dangers": dangers,
    "promised": promised,
    "tools": tools,
    "times": times,
    "numbers": numbers,
}
