"""`content/changes/DATE.txt`: what is different on one day, one plain line a change.

The lines are merged over the class where it is read, so that every rule and every sheet sees the
one session as it will be. No line names a person: a need goes by its table.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from spoonfold.knowledge.equipment import Kind as Sort
from spoonfold.knowledge.equipment import Tool, nearest_tools, tool_named
from spoonfold.knowledge.names import fold, singulars
from spoonfold.model.changes import Change, DayChanges, Kind
from spoonfold.model.classroom import Classroom, DietNeed, Session, Setting
from spoonfold.model.recipe import Term
from spoonfold.problem import Place
from spoonfold.read.files import Source
from spoonfold.read.nodes import shorten
from spoonfold.read.setting import MOST_CHILDREN, MOST_GUESTS, meant
from spoonfold.read.shape import Found, add, nearest

MOST_LINES = 60
"""In one file: a day with more changes is another day."""
MOST_HELPERS = 60
MOST_MINUTES = 600

_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_NUMBERS = {**{word: value for value, word in enumerate(_WORDS)}, "a": 1, "an": 1}
_N = rf"(?P<number>[0-9]{{1,3}}|{'|'.join(_NUMBERS)})"
_BY = r"(?: (?P<by>more|less|fewer))?"
_BY_LAST = r"(?: (?P<by_last>more|less|fewer))?"
"""Before what is counted or behind it: two more guests, 1 child fewer."""

EXAMPLES = (
    "table 2: 3 children",
    "table 2: 1 child fewer",
    "2 guests",
    "table 1 avoids egg",
    "no cilantro",
    "oven broken",
    "2 skillets borrowed",
    "1 helper less",
    "20 minutes less",
    "starts 10:30",
    "on 2027-11-06",
    "in the reading room",
    "called off",
    "as of Friday evening",
)
"""A line of each kind."""


def _pattern(text: str) -> re.Pattern[str]:
    return re.compile(text, re.IGNORECASE)


_LINES: tuple[tuple[Kind, re.Pattern[str]], ...] = (
    (Kind.CALLED_OFF, _pattern(r"(?:called off|cancelled|canceled)")),
    (Kind.AS_OF, _pattern(r"as of:?\s+(?P<words>.+)")),
    (
        Kind.CHILDREN,
        _pattern(rf"table (?P<table>[0-9]{{1,2}})[:,]? {_N}{_BY} child(?:ren)?{_BY_LAST}"),
    ),
    (
        Kind.NEED,
        _pattern(
            r"(?:table (?P<table>[0-9]{1,2})|(?P<all>everyone|the class))[:,]? avoids? "
            r"(?P<words>.+?)(?P<out>, (?:kept |not )(?:even )?(?:out of|in) the room)?"
        ),
    ),
    (Kind.GUESTS, _pattern(rf"{_N}{_BY} guests?{_BY_LAST}")),
    (Kind.HELPERS, _pattern(rf"{_N}{_BY} helpers?{_BY_LAST}")),
    (Kind.MINUTES, _pattern(rf"{_N} (?:minutes?|min) (?P<by>more|less|fewer)")),
    (Kind.STARTS, _pattern(r"starts?(?: at)? (?P<time>[0-9]{1,2}:[0-9]{2})")),
    (Kind.DATE, _pattern(r"(?:on|moved to) (?P<date>[0-9]{4}-[0-9]{2}-[0-9]{2})")),
    (Kind.ROOM, _pattern(r"in (?P<words>.+)")),
    (Kind.BROKEN, _pattern(rf"(?:{_N} |the )?(?P<words>.+?) (?:is |are )?broken")),
    (Kind.BORROWED, _pattern(rf"(?:{_N} )?(?P<words>.+?) (?:is |are )?borrowed")),
    (Kind.MISSING, _pattern(r"(?:no|without) (?P<words>.+)")),
)
_AND = re.compile(r"\s*(?:,|\band\b|\bor\b|&)\s*")


def read_changes(source: Source, date: datetime.date, found: Found) -> DayChanges:
    """The lines of a file; those that can't be read are told and left out."""
    lines: list[Change] = []
    for number, raw in enumerate(source.text.split("\n"), start=1):
        text = raw.partition("#")[0].strip()
        place = Place(source.path, number, len(raw) - len(raw.lstrip()) + 1)
        change = _change(text.removeprefix("- ").strip(), place, found) if text else None
        if change is None:
            continue
        other = next((each for each in lines if each.subject == change.subject), None)
        if other is not None:
            add(
                found,
                "second-change",
                place,
                f"Line {other.place.line} says “{shorten(other.text)}” of the same, so nobody "
                "knows which of the two holds.",
                "Keep the one that holds.",
            )
        elif len(lines) < MOST_LINES:
            lines.append(change)
        else:
            add(
                found,
                "not-a-change",
                place,
                f"This file has more than {MOST_LINES} changes of one day.",
                "Write what holds for every session into class.yaml.",
            )
            break
    return DayChanges(date, tuple(lines), Place(source.path))


def _change(text: str, place: Place, found: Found) -> Change | None:
    text = " ".join(text.split()).rstrip(".")
    for kind, pattern in _LINES:
        match = pattern.fullmatch(text)
        if match is not None:
            return _of_match(kind, match, place, found)
    close = nearest(text, EXAMPLES)
    add(
        found,
        "not-a-change",
        place,
        f"“{shorten(text)}” says nothing that Spoonfold knows how to change on a day.",
        f"For example:\n{close or EXAMPLES[0]}",
    )
    return None


def _of_match(kind: Kind, match: re.Match[str], place: Place, found: Found) -> Change | None:
    parts = match.groupdict()
    by = next((parts[name] for name in ("by", "by_last") if parts.get(name)), None)
    number = parts.get("number")
    count = 0 if number is None else _NUMBERS.get(number.casefold(), -1)
    count = int(number) if number is not None and count < 0 else count
    date = starts = None
    try:
        if parts.get("date"):
            date = datetime.date.fromisoformat(parts["date"])
        if parts.get("time"):
            starts = datetime.time.fromisoformat(parts["time"].zfill(5))
    except ValueError:
        said = parts.get("date") or parts.get("time")
        add(
            found,
            "not-a-date" if kind is Kind.DATE else "not-a-time",
            place,
            f"“{said}” isn't {'a date of the calendar' if kind is Kind.DATE else 'a time of day'}.",
            "on 2027-11-06" if kind is Kind.DATE else "starts 10:30",
        )
        return None
    words = parts.get("words") or ""
    several = kind in (Kind.NEED, Kind.MISSING)
    names = [each for each in _AND.split(words) if each] if several else [words] if words else []
    return Change(
        kind=kind,
        place=place,
        text=match[0],
        number=-count if by and by.casefold() != "more" else count,
        is_by=by is not None,
        table=int(parts["table"]) if parts.get("table") else None,
        words=tuple(Term(name, place) for name in names),
        date=date,
        starts=starts,
        keep_out=bool(parts.get("out")),
    )


def with_changes(classroom: Classroom, days: Iterable[DayChanges], found: Found) -> Classroom:
    """The class with every day as it will be. A session that is called off is none of its
    sessions any more; the others keep their numbers."""
    by_day = {session.date: session for session in classroom.sessions}
    sessions = {session.number: session for session in classroom.sessions}
    off = []
    for day in days:
        session = by_day.get(day.date)
        if session is None:
            near = min(by_day, key=lambda each: (abs(each - day.date), each), default=None)
            add(
                found,
                "change-of-no-session",
                day.place,
                f"There is no session on {day.date}, so these changes would change nothing.",
                f"Name the file by the day that was planned: content/changes/{near}.txt."
                if near
                else "class.yaml lists no sessions.",
            )
            continue
        changed = session = replace(session, changed=day)
        for line in sorted(day.lines, key=lambda each: each.kind is Kind.NEED):
            if line.kind is Kind.CALLED_OFF:
                off.append(session)
                sessions.pop(session.number, None)
            else:
                changed = _Merge(changed, line, found).session()
        if session.number in sessions:
            sessions[session.number] = changed
    return replace(classroom, sessions=tuple(sessions.values()), called_off=tuple(off))


@dataclass(frozen=True, slots=True)
class _Merge:
    """One line over one session."""

    was: Session
    line: Change
    found: Found

    def session(self) -> Session:
        """The session with it; as it was, after adding why, where that can't be."""
        line, was = self.line, self.was
        if line.kind is Kind.AS_OF:
            return was
        if line.kind is Kind.DATE and line.date is not None:
            return replace(was, date=line.date)
        if line.kind is Kind.ROOM:
            return replace(was, room=line.words[0].text)
        setting = _OVER[line.kind](self)
        return was if setting is None else replace(was, setting=setting)

    def cannot(self, why: str, instead: str) -> None:
        add(self.found, "impossible-change", self.line.place, why, instead)

    def over(self, key: str, **values: object) -> Setting:
        """The setting with other values, which stand where this line does."""
        setting = self.was.setting
        places = {**setting.places, key: self.line.place}
        return replace(setting, places=places, **values)  # type: ignore[arg-type]  # by key

    def counted(self, there: int, most: int, what: str, write: str) -> int | None:
        line = self.line
        count = there + line.number if line.is_by else line.number
        if 0 <= count <= most:
            return count
        self.cannot(
            f"“{line.text}” would make {count} {what}, and there "
            f"{'is' if there == 1 else 'are'} {there or 'none'}.",
            write,
        )
        return None

    def children(self) -> Setting | None:
        tables = list(self.was.setting.tables)
        table = self.line.table or 0
        if not 1 <= table <= len(tables):
            self.cannot(
                f"There is no table {table}: this session has {len(tables)}.",
                f"table {len(tables)}: {tables[-1]} children",
            )
            return None
        there = tables[table - 1]
        count = self.counted(there, MOST_CHILDREN, "children there", f"table {table}: 0 children")
        if count is None:
            return None
        tables[table - 1] = count
        if not any(tables):
            self.cannot("With this no child sits at any table.", "called off")
            return None
        return self.over("tables", tables=tuple(tables))

    def guests(self) -> Setting | None:
        count = self.counted(self.was.setting.guests, MOST_GUESTS, "guests", "no guests")
        return None if count is None else self.over("guests", guests=count)

    def helpers(self) -> Setting | None:
        count = self.counted(self.was.setting.helpers, MOST_HELPERS, "helpers", "no helpers")
        return None if count is None else self.over("helpers", helpers=count)

    def minutes(self) -> Setting | None:
        setting = self.was.setting
        left, fixed = setting.minutes + self.line.number, sum(setting.fixed.values())
        if fixed < left <= MOST_MINUTES:
            return self.over("minutes", minutes=left)
        self.cannot(
            f"“{self.line.text}” leaves {max(left, 0)} minutes, and arriving, talking, eating and "
            f"cleaning up take {fixed}: none is left for cooking."
            if left <= fixed
            else f"“{self.line.text}” makes {left} minutes of it, more than a session may have.",
            "called off" if left <= fixed else "20 minutes more",
        )
        return None

    def starts(self) -> Setting | None:
        assert self.line.starts is not None
        return self.over("starts", starts=self.line.starts)

    def need(self) -> Setting | None:
        line, setting = self.line, self.was.setting
        if line.table is not None and not 1 <= line.table <= len(setting.tables):
            self.cannot(
                f"There is no table {line.table}: this session has {len(setting.tables)}.",
                f"table {len(setting.tables)} avoids {line.words[0].text}",
            )
            return None
        avoid = tuple(each for term in line.words for each in meant(term))
        need = DietNeed(avoid, line.table, line.keep_out, line.place)
        return self.over("needs", needs=(*setting.needs, need))

    def missing(self) -> Setting | None:
        line, setting = self.line, self.was.setting
        tools = [term for term in line.words if equipment_meant(setting, term.text)]
        if tools and len(tools) == len(line.words):
            gone = {name: 0 for term in tools for name in equipment_meant(setting, term.text)}
            return self.over("equipment", equipment={**setting.equipment, **gone})
        if tools:
            self.cannot(
                f"“{tools[0].text}” is a tool, and the others of this line are foods.",
                "\n".join(f"no {term.text}" for term in line.words),
            )
            return None
        # What isn't there harms nobody: it is swapped as what is only not liked.
        need = DietNeed(line.words, None, False, line.place, is_taste=True, is_missing=True)
        return self.over("needs", needs=(*setting.needs, need))

    def broken(self) -> Setting | None:
        line, setting = self.line, self.was.setting
        said = line.words[0].text
        names = equipment_meant(setting, said)
        if not names:
            self.cannot(
                f"`equipment` of class.yaml doesn't list “{shorten(said)}”, so nothing changes "
                "when it is broken.",
                f"{nearest(fold(said), setting.equipment) or next(iter(setting.equipment), 'pot')} "
                "broken",
            )
            return None
        there = sum(setting.equipment[name] for name in names)
        is_said = _is_listed(setting, said)
        if not line.number and there > 1 and is_said:
            self.cannot(
                f"There are {there} of “{names[0]}”, and this doesn't say how many are broken.",
                f"1 {names[0]} broken",
            )
            return None
        if line.number > there:
            self.cannot(
                f"{line.number} of “{names[0]}” can't be broken: there "
                f"{'is' if there == 1 else 'are'} {there or 'none'}.",
                f"no {names[0]}",
            )
            return None
        left = dict(setting.equipment)
        gone = line.number or there
        for name in names:
            less = min(gone, left[name])
            left[name] -= less
            gone -= less
        return self.over("equipment", equipment=left)

    def borrowed(self) -> Setting | None:
        line, setting = self.line, self.was.setting
        said = line.words[0].text
        listed = [name for name in equipment_meant(setting, said) if _is_listed(setting, said)]
        tool = setting.tool(said)
        if not listed and tool is None:
            close = nearest_tools(said)
            self.cannot(
                f"Nothing is known of “{shorten(said)}”, so nobody knows what it can be used for.",
                f"1 {close[0] if close else 'skillet'} borrowed",
            )
            return None
        name = listed[0] if listed else tool.name if tool is not None else said
        there = setting.equipment.get(name, 0)
        equipment = {**setting.equipment, name: there + (line.number or 1)}
        return self.over("equipment", equipment=equipment)


_OVER: dict[Kind, Callable[[_Merge], Setting | None]] = {
    Kind.CHILDREN: _Merge.children,
    Kind.GUESTS: _Merge.guests,
    Kind.NEED: _Merge.need,
    Kind.MISSING: _Merge.missing,
    Kind.BROKEN: _Merge.broken,
    Kind.BORROWED: _Merge.borrowed,
    Kind.HELPERS: _Merge.helpers,
    Kind.MINUTES: _Merge.minutes,
    Kind.STARTS: _Merge.starts,
}

_COOKERS = (Sort.OVEN, Sort.STOVE, Sort.GRIDDLE, Sort.COLD_PLACE, Sort.SINK)
"""What a part of it is listed for: an oven by its shelves, a stove by its burners."""


def _is_listed(setting: Setting, said: str) -> bool:
    forms = set(singulars(fold(said)))
    return any(not forms.isdisjoint(singulars(fold(name))) for name in setting.equipment)


def equipment_meant(setting: Setting, said: str) -> tuple[str, ...]:
    """The entries of the equipment that an everyday name means: its own, those of the same tool,
    or what the class lists of an appliance (an oven by its shelves)."""
    forms = set(singulars(fold(said)))
    own = [name for name in setting.equipment if not forms.isdisjoint(singulars(fold(name)))]
    if own:
        return tuple(own[:1])
    tool = tool_named(said)
    if tool is None:
        return ()
    known = {name: setting.tool(name) for name in setting.equipment}
    same = [name for name, each in known.items() if each is not None and each.name == tool.name]
    return tuple(same) or tuple(
        name for name, each in known.items() if each is not None and _is_part(each, tool)
    )


def _is_part(listed: Tool, said: Tool) -> bool:
    return any(kind in listed.kinds and kind in said.kinds for kind in _COOKERS)
