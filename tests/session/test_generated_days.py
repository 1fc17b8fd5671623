"""Days at random: one to four changes give the page values of a class that has them written in.

What each line does to `class.yaml` is done here a second time, by hand on its keys: the class that
is read from that is the reference.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

import pytest

from in_full import sampled
from spoonfold.check import Examined, examine
from spoonfold.check.rule import facts_of
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Session
from spoonfold.problem import Level
from spoonfold.sheets import parts
from spoonfold.sheets.sheet import BuildContext, Edition, File, Sheet
from tiny_class import CLASS, RICE, write_class

DAYS = 500
BASE = CLASS.replace("[4]", "[4, 3, 2]").replace("helpers: 1", "helpers: 3")
BASE = BASE.replace("{burner: 1, pot: 1,", "{burner: 3, pot: 4,").replace(
    "minutes: 60", "minutes: 90"
)
RICE_OR_BULGUR = RICE.replace(
    "serves: 4\n",
    'serves: 4\nswaps:\n  - {instead of: "rice", use: "1 cup bulgur", because: shop}\n',
)
PAGES = ("shopping", "prep", "jobs", "table-cards", "home-labels")
"""Whose values are compared: what to buy, to pack, who does what, what each table cooks."""


@dataclass
class Day:
    """The lines, and the keys of the session that say the same in class.yaml."""

    lines: list[str] = field(default_factory=list)
    tables: list[int] = field(default_factory=lambda: [4, 3, 2])
    helpers: int = 3
    guests: int = 0
    minutes: int = 90
    starts: str = "10:00"
    date: str = "2027-09-18"
    equipment: dict[str, int] = field(
        default_factory=lambda: {"burner": 3, "pot": 4, "knife": 4, "board": 4}
    )
    needs: list[str] = field(default_factory=list)

    @property
    def session(self) -> str:
        """The session's line in class.yaml."""
        tools = ", ".join(f"{name}: {count}" for name, count in self.equipment.items())
        return (
            f"  - {{dishes: [rice], tables: {self.tables}, helpers: {self.helpers}, guests: "
            f'{self.guests}, minutes: {self.minutes}, starts: "{self.starts}", date: {self.date}, '
            f"equipment: {{{tools}}}, needs: [{', '.join(self.needs)}]}}\n"
        )


def _day(seed: int) -> Day:
    chance, day = random.Random(seed), Day()
    for kind in chance.sample(range(9), chance.randint(1, 4)):
        number = chance.randint(1, 3)
        match kind:
            case 0:
                table = chance.randrange(3)
                day.tables[table] = chance.randint(1, 6)
                day.lines.append(f"table {table + 1}: {day.tables[table]} children")
            case 1:
                day.tables[0] += number
                day.lines.append(f"Table 1: {number} more children")
            case 2:
                day.guests = number
                day.lines.append(f"{number} guests")
            case 3:
                day.helpers -= min(number, 2)
                day.lines.append(f"{min(number, 2)} helpers less")
            case 4:
                day.minutes += 10 * number
                day.lines.append(f"{10 * number} minutes more")
            case 5:
                day.equipment["pot"] += number
                day.lines.append(f"{number} pots borrowed")
            case 6:
                day.equipment["burner"] -= 1
                day.lines.append("1 burner broken  # it sparked")
            case 7:
                day.starts = "10:30"
                day.lines.append("starts at 10:30")
            case 8:
                day.date = "2027-09-19"
                day.lines.append("moved to 2027-09-19")
    subjects = [line.casefold()[:7] for line in day.lines if line.casefold().startswith("table 1")]
    # Two lines of one table contradict each other: that is held elsewhere.
    return day if len(subjects) < 2 else _day(seed + DAYS)


def _read(folder: Path, day: Day | None, text: str = "") -> Examined:
    instead = {"content/changes/2027-09-18.txt": text} if text else {}
    if day is not None:
        line = "  - {dishes: [rice]}\n"
        instead["content/class.yaml"] = BASE.replace(line, day.session)
    return examine(folder, instead=instead)


def _session(examined: Examined) -> Session:
    classroom = examined.read.folder.classroom
    assert classroom is not None
    return classroom.sessions[0]


def _without_traces(session: Session) -> Session:
    """Without where its values stand: that differs."""
    setting = replace(session.setting, places={}, needs=())
    return replace(session, changed=None, setting=setting, place=session.place._replace(line=0))


def _values(examined: Examined) -> Iterator[Mapping[str, object]]:
    folder = examined.read.folder
    assert folder.classroom is not None
    sessions = tuple(replace(each, changed=None) for each in folder.classroom.sessions)
    classroom = replace(folder.classroom, sessions=sessions)
    facts = facts_of(replace(folder, classroom=classroom), (), None, folder.recipes)
    edition = Edition(facts.folder, facts.uses, Texts("en"))
    context = BuildContext(
        replace(examined, facts=facts), classroom, (edition,), edition, classroom.households
    )
    for name in PAGES:
        for each in parts()[name].made(context):
            if isinstance(each, Sheet):
                yield each.values
            elif isinstance(each, File):
                yield {"rows": each.content}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class of three tables."""
    where = tmp_path_factory.mktemp("days")
    return write_class(where, {"class.yaml": BASE, "recipes/rice.md": RICE_OR_BULGUR})


def test_the_day_is_what_class_yaml_would_say(folder: Path) -> None:
    """The setting, the date and the errors; nobody is left alone at the heat."""
    for seed in range(sampled(60, DAYS)):
        day = _day(seed)
        changed = _read(folder, None, "\n".join(day.lines))
        written = _read(folder, day)
        assert _without_traces(_session(changed)) == _without_traces(_session(written)), day.lines
        assert min((*_session(changed).setting.tables, *day.equipment.values())) >= 0
        alone = sum(map(bool, day.tables)) > day.helpers + 1
        errors = {each.code for each in changed.problems if each.level is Level.ERROR}
        assert ("few-helpers" in errors) == alone, day.lines


def test_its_pages_are_those_of_a_class_with_the_changes_written_in(folder: Path) -> None:
    """Every value of what is bought, packed, done and cooked; no amount below zero."""
    for seed in range(sampled(8, DAYS)):
        day = _day(seed)
        changed = list(_values(_read(folder, None, "\n".join(day.lines))))
        assert changed and changed == list(_values(_read(folder, day))), day.lines
        assert not re.search(r"(?<![\w-])[-−]\d", str([each.get("rows") for each in changed]))


def test_lines_at_random_never_raise(folder: Path) -> None:
    """Whatever words come together: a located problem, or a change."""
    words = "table 1: 2 99 no a children helper less more minutes broken pot oven borrowed rice "
    words += "avoids egg , : - on 2027-09-31 starts 25:99 in called off as of # everyone guests"
    for seed in range(sampled(40, DAYS)):
        chance = random.Random(seed)
        lines = [" ".join(chance.choices(words.split(), k=chance.randint(1, 6))) for _ in range(4)]
        for each in _read(folder, None, "\n".join(lines)).problems:
            assert each.message and each.place.path
