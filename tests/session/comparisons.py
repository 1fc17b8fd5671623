"""Sheet against sheet: every value of a session that stands in two places, side by side."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from printed_truth import AMOUNT, NUMBER, SHEETS, Card, SessionSheets, added, flat, sum_of

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
_BY_TABLE = re.compile(rf"({AMOUNT}) \(table ([\d, ]+), instead of ([^)]+)\)")


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
    text = f" {text}"
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
    texts = [(card.steps, card.swaps) for card in sheets.cards] + [(sheets.prep[0].text, "")]
    for name, sums in needs.items():
        own = [
            each
            for steps, head in texts
            for each in _taken(steps, _forms(name), names) or _headed(head, _forms(name))
        ]
        yield Comparison(
            f"{sheets}: {name} at tables, pot and before; bought",
            _said(added([sum_of(each) for each in own])),
            _said(added(sums)),  # type: ignore[arg-type]
        )


def _headed(head: str, names: tuple[str, ...]) -> list[str]:
    """What a table takes instead, where it goes into no step of its own card."""
    either = "|".join(map(re.escape, names))
    found = re.finditer(rf"({AMOUNT}) (?:{either}), instead of (\S+ ?\S*)", head)
    return [match[1] for match in found if f"Only if the label of {match[2]}" not in head]


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
        yield Comparison(f"{sheets}: {card.where} {card.title}: labels", len(own) > seats, True)
        for label in own:
            yield Comparison(
                f"{sheets}: {card.where} {card.title}: card / label",
                card.allergens,
                label.allergens,
            )
        yield Comparison(
            f"{sheets}: {card.where} {card.title}: on the brief",
            f"Allergens {card.allergens} Brands" in sheets.brief,
            True,
        )


_SWAP = (
    rf"({AMOUNT}) ([^,.]+?), instead of (.+?)"
    rf"(?= {NUMBER} |\.| Read| Ask| Only| The others|$)"
)


def swaps(sheets: SessionSheets) -> Compared:
    """A table that cooks with something else reads of it what all others are told."""
    prep = " ".join(page.text for page in sheets.prep)
    lesson = sheets.lesson_text
    for card in sheets.cards:
        number = card.where.removeprefix("Table ")
        for match in re.finditer(_SWAP, card.swaps):
            amount, name, original = match.groups()
            what = f"{sheets}: {card.where} {name}"
            told = f"{amount} {name}, instead of {original}"
            yield Comparison(f"{what}: brief", told in sheets.brief, True)
            told = f"At table {number}: {amount} {name} instead of {original}"
            yield Comparison(f"{what}: before class", told in prep, True)
            yield Comparison(
                f"{what}: lesson card",
                f"At table {number}: {name} instead of {original}" in lesson,
                True,
            )
            at_steps = _taken(card.steps, (name,), ())
            if f"{name} (only if" in card.steps:
                continue
            if at_steps:
                yield Comparison(
                    f"{what}: head / steps",
                    _said(sum_of(amount)),
                    _said(added([sum_of(each) for each in at_steps])),
                )
            yield Comparison(
                f"{what}: said in the steps", name in card.steps or "big pot" in card.text, True
            )


_AT = r"Helper (\d+), you are at"


def people(sheets: SessionSheets) -> Compared:
    """Who sits where and does what: the chart and the cards."""
    text = "\n".join("\n".join(page.lines) for page in sheets.jobs)
    text = re.sub(r"(?m)^Jobs \d+\s*$", "", text)
    # What kinds of job mean stands below the tables, and what holds for all seats behind them.
    text = re.split(r"Read aloud:|Raw-to-ready watch:|A seat keeps its", text)[0]
    tables = re.split(r"(?m)^\s*(Table \d+)\b.*$", text)
    charts = dict(zip(tables[1::2], tables[2::2], strict=True))
    cards = [card for card in sheets.cards if card.where.startswith("Table")]
    yield Comparison(f"{sheets}: tables", {card.where for card in cards}, set(charts))
    lesson = sheets.lesson_text
    for where, chart in charts.items():
        rows = _rows(chart)
        for card in cards:
            if card.where == where:
                yield Comparison(f"{sheets}: {where}: seats", set(card.seats), set(rows))
                titles = [each.title for each in cards]
                pots = [each for each in sheets.cards if each.where == "For all"]
                yield from _at_steps(f"{sheets}: {where}", card, titles, rows, pots)
        helpers = len(re.findall(rf"Helper \d+: {where}\b", lesson))
        if " goes round " not in lesson:
            own = [card.helpers for card in cards if card.where == where]
            if any(card.helpers for card in cards):
                yield Comparison(
                    f"{sheets}: {where}: helpers who stand there, lesson card / briefs",
                    helpers,
                    len(
                        set(
                            re.findall(
                                rf"Helper (\d+), you are at {where.casefold()}\b", sheets.brief
                            )
                        )
                    ),
                )
                yield Comparison(
                    f"{sheets}: {where}: helpers who eat there are as many as stand there or more",
                    min(own) >= helpers,
                    True,
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


def _at_steps(
    what: str, card: Card, titles: Sequence[str], rows: Mapping[str, str], elsewhere: Sequence[Card]
) -> Compared:
    """Each step that the chart names, with its seats, as the card has it."""
    dishes = {" ".join(title[:n]) for one in titles if (title := one.split()) for n in range(1, 9)}
    either = "|".join(map(re.escape, sorted(dishes, key=len, reverse=True)))
    begins = rf"(?:({either}), s|S)teps? (\d+)(?: to \d+)? "
    found: dict[tuple[str, str], set[str]] = defaultdict(set)
    for letter, said in rows.items():
        for match in re.finditer(rf"{begins}(.+?)(?= {begins}|$)", said):
            dish, number, words = match.groups()[:3]
            if not dish or card.title.startswith(dish):
                found[number, words.removesuffix(" …").strip()].add(letter)
    for (number, opening), letters in found.items():
        steps = card.steps
        places = [match.start() for match in re.finditer(re.escape(opening), steps)]
        if not places and any(opening in other.steps for other in elsewhere):
            continue
        before = [
            re.search(r"((?:[A-Z]{1,2} )+|everyone )(?:READY board |RAW board )?$", steps[:place])
            for place in places
        ]
        named = {
            each
            for match in before
            if match is not None
            for each in (set(rows) if match[1] == "everyone " else set(match[1].split()))
        }
        yield Comparison(f"{what}: step {number} {opening}", named & set(rows), letters)


def eaters(sheets: SessionSheets) -> Compared:
    """How many eat, on each sheet: the seats and helpers of the cards, the pot, the plates, the
    brief and the list."""
    cards = {card.where: card for card in sheets.cards if card.where.startswith("Table")}
    children = sum(len(card.seats) for card in cards.values())
    helpers = sum(card.helpers for card in cards.values())
    guests = sum(card.guests for card in cards.values())
    bought = re.search(
        r"(\d+) child(?:ren)?(?: and (\d+) helpers?)?(?:, and (\d+) guests?)?(?=[.,:;·]| )",
        sheets.shopping_text,
    )
    assert bought is not None
    yield Comparison(f"{sheets}: children on cards / list", children, int(bought[1]))
    yield Comparison(f"{sheets}: helpers on cards / list", helpers, int(bought[2] or 0))
    yield Comparison(f"{sheets}: guests on cards / list", guests, int(bought[3] or 0))
    seated = re.search(r"for (?:each of (\d+) guests|the guest) \(", sheets.lesson_text)
    yield Comparison(
        f"{sheets}: guests on cards / seated", guests, int(seated[1] or 1) if seated else 0
    )
    for card in sheets.cards:
        if card.where == "For all":
            people = re.search(r"For (\d+) p", card.text)
            assert people is not None
            yield Comparison(f"{sheets}: at the pot", int(people[1]), children + helpers + guests)
    packing = sheets.prep[1].text
    plates = re.search(r"Plate or bowl, fork, cup (\d+)", packing)
    spoons = re.search(r"Tasting spoon (\d+)", packing)
    said = re.search(r"For tasting: (\d+) clean", packing)
    assert plates and spoons and said
    yield Comparison(
        f"{sheets}: a plate for all", int(plates[1]) > children + helpers + guests, True
    )
    yield Comparison(f"{sheets}: spoons listed / said", int(spoons[1]), int(said[1]))
    yield Comparison(f"{sheets}: spoons / plates", int(spoons[1]), 2 * (int(plates[1]) - guests))


_DEGREES = r"\d+ °F \(\d+ °C\)"


def heats(sheets: SessionSheets) -> Compared:
    """A temperature of a card is that of the lesson card and of the brief."""
    lesson = sheets.lesson_text
    for card in sheets.cards:
        for degrees in sorted(set(re.findall(rf"to ({_DEGREES}), by thermometer", card.text))):
            what = f"{sheets}: {card.where}: {degrees}"
            yield Comparison(f"{what}: lesson card", f"{degrees} in the middle" in lesson, True)
            # At the one pot stands the lead cook.
            if card.where != "For all":
                yield Comparison(f"{what}: brief", degrees in sheets.brief, True)


_PROMISED: Mapping[str, Sequence[str]] = {
    "lesson-card": ("The day", "Who is where", "Safety, as it comes up", "late?"),
    "table-cards": ("Allergens", "One more is here?", "Brands differ"),
    "brief": ("Your day", "Dangers", "Allergens", "What to watch, by step"),
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
    """What the words of a card's steps take in the hand is on the packing list."""
    packed = flat(" ".join(page.text for page in sheets.prep[1:])).casefold()
    for card in sheets.cards:
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


def times(sheets: SessionSheets) -> Compared:
    """The day's list, who is where, and the safety list give a step the same time; boxes are cold
    no earlier than the class ends, or say what to do in class; the date is the same."""
    lesson = [page.text for page in sheets.lesson]
    day, safety = lesson[0], lesson[1]
    rows = {
        number: time
        for time, number in re.findall(r"(\d+:\d\d) Step (\d+):", day.partition("Lesson card")[0])
    }
    watch = safety.partition("Safety, as it comes up")[2].partition("Talk:")[0]
    watched = {
        number: time
        for time, numbers in re.findall(r"(\d+:\d\d) ((?:\d+, )*\d+) (?=[A-Z])", watch)
        for number in numbers.split(", ")
    }
    for number in rows.keys() & watched.keys():
        yield Comparison(f"{sheets}: step {number}: day / safety", rows[number], watched[number])
    roles = day.partition("Who is where")[2].partition("Aims")[0]
    at_roles: dict[str, list[str]] = defaultdict(list)
    for time, number in re.findall(r"(\d+:\d\d) step (\d+)", roles):
        at_roles[number].append(time)
    for number, found in at_roles.items():
        if number in watched:
            yield Comparison(
                f"{sheets}: step {number}: first adult / safety", min(found), watched[number]
            )
    for page in (sheets.lesson[0].text, sheets.jobs[0].text, sheets.prep[0].text):
        date = re.search(r"\w+, \w+ \d+, \d{4}", page)
        yield Comparison(f"{sheets}: date", date and date[0] in sheets.brief, True)
    end = re.search(r"(\d+):(\d\d) End\b", day)
    assert end is not None
    for label in sheets.labels:
        if label.cold_by:
            hour, minute = map(int, re.findall(r"\d+", label.cold_by))
            # The day's list says no morning and no afternoon; a class is shorter than half a day.
            before = (int(end[1]) * 60 + int(end[2]) - hour * 60 - minute) % _HALF_DAY
            yield Comparison(
                f"{sheets}: {label.table} {label.title}: thrown away at {label.cold_by} of a class "
                f"that ends at {end[1]}:{end[2]}",
                0 < before < _HALF_DAY // 2 and "throw it away" in label.text,
                False,
            )


_HALF_DAY = 12 * 60
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
    "promised": promised,
    "tools": tools,
    "times": times,
    "numbers": numbers,
}
