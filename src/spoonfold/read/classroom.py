"""`class.yaml`: the class and its sessions; `setting` reads what may differ between these."""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping as Map
from typing import Any

from spoonfold.model.classroom import (
    CARRIED,
    LETTER,
    PACKED,
    PAPERS,
    Classroom,
    DietNeed,
    Session,
    Setting,
)
from spoonfold.problem import Place
from spoonfold.quantity.grammar import Refusal
from spoonfold.read.accept import ACCEPT
from spoonfold.read.files import Source
from spoonfold.read.nodes import Mapping, Node, node_from_yaml
from spoonfold.read.record import Key, ListOf, MapOf, Record, entries_of
from spoonfold.read.setting import MOST_NEEDS, SETTING_KEYS, NeedLine, OwnTool, setting_of
from spoonfold.read.shape import Choice, Day, Found, Line, Named, Parsed, Shape, Whole, add

_LANGUAGE = re.compile(r"[a-z]{2,3}(-[A-Z][a-z]{3})?(-[A-Z]{2})?")
MOST_SESSIONS = 200


def _language(text: str) -> str | Refusal:
    if _LANGUAGE.fullmatch(text):
        return text
    return Refusal(
        "not-a-language", f"“{text}” isn't a language code such as en, es or vi.", 0, "en"
    )


def _currency(text: str) -> str | Refusal:
    if re.fullmatch(r"[A-Z]{3}", text):
        return text
    return Refusal(
        "not-a-currency",
        f"“{text}” isn't a currency by its three letters, such as USD, GBP or EUR.",
        0,
        "USD",
    )


def _site(text: str) -> str | Refusal:
    if re.fullmatch(r"https?://[^\s<>\"]+", text):
        return text
    return Refusal(
        "not-an-address", f"“{text}” isn't a web address.", 0, "https://example.org/our-class/"
    )


_SETTING_NAMES = frozenset(key.name for key in SETTING_KEYS)

SESSION_KEYS = (
    Key(
        "dishes",
        ListOf(Named("a recipe"), or_one=True, least=1),
        "what is cooked",
        True,
        "[red-lentil-soup]",
    ),
    Key("lesson", Named("a lesson"), "the lesson"),
    Key("note", Line("a note"), "a note for the adults"),
    Key("date", Day(), "where it isn't in the rhythm"),
    Key(
        "needs dropped",
        ListOf(NeedLine(), or_one=True, least=1, most=MOST_NEEDS),
        "needs of the class that don't hold on this day",
    ),
)


class _SessionEntry:
    """One session with whatever it overrides; settings stay unmerged here."""

    @property
    def written(self) -> tuple[Shape, ...]:
        return (_SESSION,)

    def read(self, node: Node, found: Found) -> tuple[dict[str, Any], Mapping] | None:
        mapping = entries_of(node, found)
        values = None if mapping is None else _SESSION.read(mapping, found)
        if mapping is None or values is None or not values.get("dishes"):
            return None
        return values, mapping


def _optional(key: Key) -> Key:
    return Key(key.name, key.shape, key.about, False, key.example)


_SESSION = Record((*SESSION_KEYS, *map(_optional, SETTING_KEYS)), "a session")

CLASS = Record(
    (
        Key("name", Line("the class's name"), "the class's name", True, "Saturday Table"),
        Key("place", Line("where it meets"), "where it meets", True, "Gullwing Street Library"),
        Key("site", Parsed(_site, "a web address"), "where the site will be published"),
        Key("first day", Day(), "the first meeting", True, "2027-09-18"),
        Key("as of", Day(), "the day that the words are from", example="2027-09-05"),
        Key("every", Choice(("week", "two weeks", "day")), "the rhythm"),
        Key("not on", ListOf(Day(), or_one=True), "dates without a meeting"),
        Key(
            "households",
            ListOf(Whole(1, 12, "a household's size"), or_one=True, least=1),
            "household sizes",
            True,
            "[2, 4, 6]",
        ),
        Key(
            "languages",
            ListOf(Parsed(_language, "a language"), or_one=True, least=1),
            "languages, the recipes' own first",
            True,
            "[en]",
        ),
        Key(
            "table cards",
            ListOf(Parsed(_language, "a language"), or_one=True, least=1),
            "languages of the table cards besides the first",
        ),
        Key("paper", Choice(tuple(PAPERS)), "the paper"),
        Key(
            "sheets",
            ListOf(Choice(PACKED), or_one=True),
            "what the print pack of a session has",
            example="[lesson-card, table-cards, shopping]",
        ),
        Key("currency", Parsed(_currency, "a currency"), "what prices are in"),
        *SETTING_KEYS,
        Key("tools", MapOf(OwnTool()), "what a piece of equipment is that isn't known"),
        Key(
            "sessions",
            ListOf(_SessionEntry(), most=MOST_SESSIONS),
            "the meetings",
            True,
            "[{dishes: [red-lentil-soup]}]",
        ),
        ACCEPT,
    ),
    "class.yaml",
)

_RHYTHM = {"day": 1, "week": 7, "two weeks": 14}


def read_classroom(source: Source, found: Found) -> Classroom | None:
    """The class, or None where something that everything needs is missing."""
    node = node_from_yaml(source.text, source.path, found)
    if node is None:
        if not any(each.place.path == source.path for each in found):
            add(
                found,
                "empty-file",
                Place(source.path),
                "This file is empty.",
                "name: Saturday Table",
            )
        return None
    values = CLASS.read(node, found)
    if values is None or not isinstance(node, Mapping):
        return None
    if not {key.name for key in CLASS.keys if key.required} <= values.keys():
        return None
    setting = setting_of(values, node.keys)
    if setting is None:
        return None
    return Classroom(
        name=values["name"],
        location=values["place"],
        site=values.get("site"),
        first_day=values["first day"],
        as_of=values.get("as of"),
        households=tuple(sorted(set(values["households"]))),
        languages=tuple(dict.fromkeys(values["languages"])),
        sheets=values.get("sheets", CARRIED),
        table_cards=tuple(
            dict.fromkeys((*values["languages"][:1], *values.get("table cards", ())))
        ),
        paper=PAPERS.get(values.get("paper", ""), LETTER),
        setting=setting,
        sessions=_sessions(values, setting, found),
        place=Place(source.path, 1),
        accept=values.get("accept", ()),
        currency=values.get("currency", ""),
    )


def _sessions(values: Map[str, Any], setting: Setting, found: Found) -> tuple[Session, ...]:
    """Every session with its date; a day off moves the following ones on."""
    off = frozenset(values.get("not on", ()))
    rhythm = datetime.timedelta(days=_RHYTHM[values.get("every", "week")])
    day = values["first day"]
    base = {name: values[name] for name in (*_SETTING_NAMES, "tools") if name in values}
    sessions = []
    for number, (own, mapping) in enumerate(values["sessions"], 1):
        while day in off:
            day += rhythm
        overrides = {name: own[name] for name in own if name in _SETTING_NAMES}
        if "needs" in own or "needs dropped" in own:
            overrides["needs"] = _needs_of(own, setting.needs, mapping, found)
        merged = (
            setting_of({**base, **overrides}, {**setting.places, **mapping.keys})
            if overrides
            else setting
        )
        sessions.append(
            Session(
                number=number,
                date=own.get("date", day),
                dishes=own["dishes"],
                lesson=own.get("lesson"),
                note=own.get("note"),
                setting=merged or setting,
                place=mapping.place,
            )
        )
        if "date" not in own:
            day += rhythm
    return tuple(sessions)


def _needs_of(
    own: Map[str, Any], usual: tuple[DietNeed, ...], session: Mapping, found: Found
) -> tuple[DietNeed, ...]:
    """The class's needs without those that a session drops, and its own."""
    dropped: set[object] = set()
    for need in own.get("needs dropped", ()):
        if _same(need) in map(_same, usual):
            dropped.add(_same(need))
        else:
            add(
                found,
                "no-such-need",
                need.place,
                "The class has no need of just these words at this table, so none is dropped.",
                _drop_line(usual),
            )
    if "needs" in own and not own["needs"] and usual:
        add(
            found,
            "needs-emptied",
            session.keys["needs"],
            "A session adds to the needs of the class; an empty list takes none away.",
            "Leave it out; or, where these children don't come that day, write:\n"
            + _drop_line(usual),
        )
    kept = {_same(need): need for need in usual if _same(need) not in dropped}
    for need in own.get("needs", ()):
        kept.setdefault(_same(need), need)
    return tuple(kept.values())


def _same(need: DietNeed) -> object:
    return frozenset(term.text for term in need.avoid), need.table, need.keep_out


def _drop_line(needs: tuple[DietNeed, ...]) -> str:
    """The line of a session that drops needs of the class."""
    if not needs:
        return "Leave `needs dropped` out."
    written = []
    for need in needs:
        avoid = f"avoid: [{', '.join(term.text for term in need.avoid)}]"
        table = "" if need.table is None else f"table: {need.table}, "
        keep = ", keep out of the room: yes" if need.keep_out else ""
        written.append(f"{{{table}{avoid}{keep}}}")
    return f"needs dropped: [{', '.join(written)}]"


def read_children(source: Source, found: Found) -> tuple[str, ...]:
    """First names or initials for the job chart; private."""
    node = node_from_yaml(source.text, source.path, found)
    if node is None:
        return ()
    return ListOf(Line("a first name or initials"), or_one=True).read(node, found) or ()
