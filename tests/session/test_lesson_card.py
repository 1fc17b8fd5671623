"""The lesson card: one sheet to teach from, true to the clock, to its dish and to past notes."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pypdfium2
import pytest
from lesson_cards import Lessons
from session_sheets import ROOT, Printed, failures, squeezed

from drawn_letters import letters
from spoonfold.knowledge.cautions import CAUTIONS
from spoonfold.plan.clock.class_work import cooking_begins
from spoonfold.sheets.lesson_card import LAYOUT, LessonCard
from spoonfold.sheets.lesson_card.clock import clock_text, day_time
from spoonfold.sheets.shared.cautions import sentence, with_all
from tiny_class import CLASS, RICE, write_class

SESSIONS = range(1, 9)
QUARTER_INCH = 18.0
AFTER = """\
---
date: 2026-09-18
came: 3
minutes:
  rice: 24 min
keep:
  - The small bowls.
change:
  - Rinse the rice twice.
---

It went well.
"""


@pytest.fixture(scope="module")
def lessons() -> Lessons:
    return Lessons(ROOT)


@pytest.fixture(scope="module")
def printed(built: Callable[[int, str], Printed]) -> dict[int, Printed]:
    return {number: built(number, "lesson-card-en.pdf") for number in (5, 6, 8)}


def tiny(folder: Path, *pairs: tuple[str, str], **files: str) -> LessonCard:
    """The first card of the tiny class with texts of class.yaml replaced."""
    text = CLASS
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new)
    changes = {"class.yaml": text, "recipes/rice.md": files.get("rice", RICE)}
    if "after" in files:
        changes["after/2026-09-18.md"] = files["after"]
    return Lessons(write_class(folder, changes)).card(1)


class TestSheet:
    """As it is printed."""

    @pytest.mark.parametrize("number", [5, 6, 8])
    def test_two_sides_and_readable_by_everyone(
        self, number: int, printed: dict[int, Printed]
    ) -> None:
        """The longest sessions take the wall's side and its back, which are PDF/UA-1."""
        assert len(printed[number].pages) == LAYOUT.sides
        assert failures(printed[number].pdf) == []

    @pytest.mark.parametrize("number", [5, 6, 8])
    def test_everything_stands_on_it(
        self, number: int, lessons: Lessons, printed: dict[int, Printed]
    ) -> None:
        """Aims, times, set-up, words and questions are all there to read."""
        card, text = lessons.card(number), "".join(printed[number].pages)
        assert card.lesson is not None
        for words in (
            *card.lesson.aims,
            *card.set_up,
            *card.late.leave_out,
            *card.late.easier,
            *card.late.adult,
            *card.washing,
            *card.free_hands,
            *(sentence(word.meaning) for word in card.words.new),
        ):
            assert squeezed(words.rstrip(".")) in text

    @pytest.mark.parametrize("number", [5, 6, 8])
    def test_it_can_be_read_and_copied(self, number: int, printed: dict[int, Printed]) -> None:
        """No type under 8.5 points, 12 on the wall, and nothing within a quarter inch of an edge,
        where most printers can't print (common practice)."""
        pages = list(pypdfium2.PdfDocument(printed[number].pdf))
        for page, smallest in zip(pages, (12.0, 8.5), strict=True):
            width, height = page.get_size()
            for letter, size, _, (left, low, right, top) in letters([page]):
                assert size >= smallest - 0.01, letter
                assert left >= QUARTER_INCH and right <= width - QUARTER_INCH
                assert low >= QUARTER_INCH and top <= height - QUARTER_INCH


class TestWall:
    """The hour on the wall."""

    @pytest.mark.parametrize("number", range(1, 9))
    def test_every_start_and_every_end_of_a_wait_is_there(
        self, number: int, lessons: Lessons
    ) -> None:
        """Each step at each table, and to the minute what is done."""
        each, wall = lessons.timed(number), lessons.card(number).wall
        said = " ".join(f"{line.who} {line.text}" for row in wall.rows for line in row.tables)
        for one in each.clock.placed:
            assert re.search(rf"(?<!\d)[A-Z]?{one.task.step.number} ", said)
        begin = cooking_begins(each.session.setting)
        done = {
            day_time(each.session.setting, begin + one.end // 60, lessons.office.texts)
            for one in each.clock.placed
            if one.task.wait
        }
        assert {row.time for row in wall.rows if row.is_alarm} == done

    @pytest.mark.parametrize("number", range(1, 9))
    def test_its_columns_are_whole(self, number: int, lessons: Lessons) -> None:
        """Every cell reaches down as far as the next begins, in every column of heat."""
        wall = lessons.card(number).wall
        for column in range(len(wall.columns)):
            cells = [row.heat[column] for row in wall.rows]
            at = 0
            while at < len(cells):
                cell = cells[at]
                assert cell is not None and cell.span >= 1 and cell.texts
                assert all(each is None for each in cells[at + 1 : at + cell.span])
                at += cell.span
            assert at == len(cells)

    def test_a_table_reads_its_own_step(self, lessons: Lessons) -> None:
        """Table 3 opens beans where the others have turkey; nobody is told to probe its pan."""
        rows = lessons.card(6).wall.rows
        lines = [line for row in rows for line in row.tables]
        assert any(line.who == "3" and "7 Open the white beans" in line.text for line in lines)
        assert any("Table 1, step 9: 165" in text for row in rows for text in row.you)
        assert not any("Table 3, step 9: 165" in text for row in rows for text in row.you)


class TestDay:
    """Times that people read."""

    @pytest.mark.parametrize("number", SESSIONS)
    def test_times_to_watch_are_fives(self, number: int, lessons: Lessons) -> None:
        """Anchors are full fives, in order, and never after everyone must have begun."""
        rows = lessons.day(number)
        anchors = [row for row in rows if not row.is_part]
        assert anchors and all(int(row.time[-2:]) % 5 == 0 for row in anchors)
        assert all(_minutes(row.time) <= _minutes(row.latest) for row in anchors)
        times = [_minutes(row.time) for row in rows]
        assert all(one <= other for one, other in pairwise(times))

    @pytest.mark.parametrize("number", SESSIONS)
    def test_one_step_has_one_time(self, number: int, lessons: Lessons) -> None:
        """The safety rows give a step the same time as the day does."""
        card, each = lessons.card(number), lessons.timed(number)
        stands = {step: row.time for row in card.safety for step in row.step.split(", ")}
        letters = {title: letter for letter, title in card.letters}
        for anchor in each.clock.anchors:
            dish = next(one.recipe for one in each.work.dishes if one.recipe.key == anchor.dish)
            name = f"{letters.get(dish.title, '')}{anchor.step}"
            if name in stands:
                assert stands[name] == clock_text(anchor.at, lessons.office.texts)

    def test_ten_minutes_add_up(self, lessons: Lessons) -> None:
        """What every way saves and what comes off the meal are ten minutes, or more."""
        for number in SESSIONS:
            late = lessons.card(number).late
            saved = sum(
                int(line.rpartition("saves ")[2].removeprefix("about ").split()[0])
                for line in (*late.leave_out, *late.easier, *late.adult)
            )
            assert saved + late.rest >= 10
            assert late.rest == max(0, 10 - saved)
            assert late.is_any is bool(saved)


class TestWashingUp:
    """What the free hands do at the sink."""

    def test_the_day_sends_somebody(self, lessons: Lessons) -> None:
        """A row of the day says which tables, and what cooks meanwhile."""
        rows = [row for row in lessons.day(2) if row.what == "Wash up"]
        assert any(row.words.endswith("while step 8 cooks") for row in rows)

    def test_every_table_has_its_line(self, lessons: Lessons) -> None:
        """With times on full fives, and what is left is told."""
        card = lessons.card(2)
        assert [line.partition(":")[0] for line in card.washing] == [
            "Table 1",
            "Table 2",
            "Table 3",
        ]
        assert "2\u00a0×\u00a0knife" in card.washing[0] and "–10:45 " in card.washing[0]
        assert card.left_to_wash.startswith("For the clean-up: ")
        assert "ladle" in card.left_to_wash

    def test_too_much_for_the_clean_up_is_said(self, lessons: Lessons) -> None:
        """With the minutes that it takes and those that there are."""
        assert "minutes, and there are 10" in lessons.card(3).left_to_wash
        assert "and there are" not in lessons.card(2).left_to_wash


class TestSafety:
    """Cautions in the order in which they come up."""

    @pytest.mark.parametrize("number", SESSIONS)
    def test_every_caution_is_said_in_full_once(self, number: int, lessons: Lessons) -> None:
        """The first step with it says all of it, a later one its name."""
        card, each = lessons.card(number), lessons.timed(number)
        named = {
            term.text
            for dish in each.work.dishes
            for step in dish.recipe.steps
            for term in step.watch
            if step.when != "day before"
        }
        for name in named & CAUTIONS.keys():
            full = [
                view
                for row in card.safety
                for view in row.cautions
                if view.text == CAUTIONS[name].text
            ]
            assert len(full) == 1, name
        seen: set[str] = set()
        for row in card.safety:
            for view in row.cautions:
                if view.title and view.icon != "adult":
                    assert bool(view.text) is (view.title not in seen), view
                    seen.add(view.title)

    def test_every_temperature_and_every_wash(self, lessons: Lessons) -> None:
        """Each step with a temperature or a wash has its row."""
        each, rows = lessons.timed(6), {row.step: row for row in lessons.card(6).safety}
        for step in each.work.dishes[0].recipe.steps:
            if step.heat is not None:
                assert rows[str(step.number)].heat.startswith("165 °F (74 °C)")
            if step.wash:
                assert rows[str(step.number)].wash

    def test_no_version_of_a_step_is_left_out(self, lessons: Lessons) -> None:
        """Turkey at two tables and beans at the third: whichever begins first, each is warned."""
        rows = {row.step: {view.title for view in row.cautions} for row in lessons.card(6).safety}
        assert {"Raw poultry.", "Can lid edge."} <= rows["7"]
        assert "Raw poultry." in rows["8"]
        placed = lessons.timed(6).clock.placed
        steps = [one.task.step for one in placed if one.task.step.number == 9]
        heats = {step.heat for step in steps if step.heat is not None}
        assert len(heats) == 1 and any(step.heat is None for step in steps)
        for first in steps:
            assert with_all([first, *steps]).heat in heats

    def test_before_class_comes_first(self, lessons: Lessons) -> None:
        """What is hot before the children come is said before all else."""
        assert lessons.card(6).safety[0].time == "before"


class TestSetUp:
    """The room before anyone comes."""

    @pytest.mark.parametrize("number", [3, 6])
    def test_a_damp_towel_under_every_board(self, number: int, lessons: Lessons) -> None:
        """It is among the first things, and no step that begins with a blade is before it."""
        assert any("damp towel under every board (" in line for line in lessons.card(number).set_up)

    def test_swaps_lie_at_their_table(self, lessons: Lessons) -> None:
        """Each table that cooks with something else is named with the food, never a child."""
        lines = " ".join(lessons.card(6).set_up)
        assert "At table 2: coconut yogurt instead of plain yogurt" in lines
        assert "At table 3: white beans instead of ground turkey" in lines

    def test_what_heats_up_is_begun_in_time(self, lessons: Lessons) -> None:
        """A step before class has the time by which to begin: 4.4 litres take 24 minutes, and the
        water must boil when cooking begins at 10:20."""
        [line] = [line for line in lessons.card(2).set_up if "Step 1." in line]
        assert line.startswith("By 9:40: ")
        assert "4.4 litres boil in about 24 min" in line

    def test_circuits(self, lessons: Lessons) -> None:
        """Two burners that run together have a line, none where nothing is cooked."""
        assert any("2 different circuits" in line for line in lessons.card(2).set_up)
        assert not any("circuits" in line for line in lessons.card(1).set_up)


class TestAdults:
    """Who stands where."""

    def test_each_adult_has_a_place(self, lessons: Lessons) -> None:
        """The lead cook and a helper at each table, with the steps that need them."""
        roles = lessons.card(6).roles
        assert [role.who for role in roles] == ["Lead cook", "Helper 1", "Helper 2", "Helper 3"]
        assert [role.where for role in roles[1:]] == ["Table 1", "Table 2", "Table 3"]
        assert all("step 9" in role.steps for role in roles[1:])

    def test_a_missing_helper(self, lessons: Lessons) -> None:
        """Says whether it still fits, and what a table without an adult may do."""
        missing = lessons.card(8).missing
        assert "minutes more than there are" in missing[0] or missing[0] == "It still fits."
        assert any("waits with blades and heat" in line for line in missing)
        assert missing[-1] == "Alone it does only: step B6."

    def test_nobody_to_miss(self, tmp_path: Path) -> None:
        """Without helpers nothing is said of one who is missing."""
        assert tiny(tmp_path, ("helpers: 1", "helpers: 0")).missing == ()


class TestFit:
    """Whether it fits."""

    def test_it_does(self, tmp_path: Path) -> None:
        """The spare time is said."""
        fit = tiny(tmp_path).fit
        assert (fit.is_good, fit.verdict) == (True, "Fits, with 17 minutes to spare")

    def test_it_does_not(self, tmp_path: Path) -> None:
        """By how much, and what would help most, first."""
        fit = tiny(
            tmp_path,
            ("tables: [4]", "tables: [4, 4, 4]"),
            ("helpers: 1", "helpers: 3"),
            ("pot: 1", "pot: 3"),
        ).fit
        assert (fit.is_good, fit.verdict) == (False, "Does not fit: 19 minutes too long")
        assert fit.savings[0].startswith("One burner for the whole class at step 1 saves")
        assert "One more burner saves 18 minutes." in fit.savings

    def test_what_nobody_misses_is_left_out(self, tmp_path: Path) -> None:
        """An optional herb goes first; without one the card says that every step is needed."""
        herb = RICE.replace(
            "  - salt, to taste\n", "  - salt, to taste\n  - 1 tbsp chives, sliced (optional)\n"
        ).replace(
            "1. Boil the rice",
            "1. Snip the chives.\n    - time: 9 min\n    - hands: 1\n2. Boil the rice",
        )
        # Chives keep no pot waiting: only a recipe that says so is longer for them.
        herb = herb.replace("time: 3 min", "time: 3 min\n    - after: 1")
        late = tiny(tmp_path / "herb", rice=herb).late
        assert late.leave_out == ("Step 1: Snip the chives (saves 18 minutes)",)
        assert (late.easier, late.adult, late.rest) == ((), (), 0)
        assert tiny(tmp_path / "plain").late.leave_out == ()

    def test_it_stands_on_the_face(self, tmp_path: Path) -> None:
        """Whoever picks up the printed card reads it, and the sheet still is made."""
        folder = write_class(tmp_path, {"class.yaml": CLASS.replace("minutes: 60", "minutes: 41")})
        first = Lessons(folder).printed(1).pages[0]
        assert squeezed("Does not fit: 2 minutes too long") in first

    def test_too_little_equipment(self, tmp_path: Path) -> None:
        """Time enough isn't enough where a step needs two of one pot."""
        rice = RICE.replace("needs: burner, pot", "needs: burner, pot x2")
        fit = tiny(tmp_path, rice=rice).fit
        assert not fit.is_good and "too little equipment" in fit.verdict
        assert fit.lacking == ("Step 1 needs 2 × pot at once, and there is 1.",)


class TestLastTime:
    """What was noted of this dish."""

    def test_an_earlier_note_is_reprinted(self, tmp_path: Path) -> None:
        """What to keep and to change, how long it took and how many came."""
        notes = tiny(tmp_path, after=AFTER).notes
        assert notes is not None
        assert (notes.when, notes.came) == ("September 18, 2026", "3 children came")
        assert (notes.keep, notes.change) == (("The small bowls.",), ("Rinse the rice twice.",))
        assert notes.minutes == ("Plain rice took 24 min",)

    def test_a_note_of_the_day_itself_is_not(self, tmp_path: Path) -> None:
        """The card of a session that is over isn't about itself."""
        assert tiny(tmp_path, after=AFTER.replace("2026", "2028")).notes is None

    def test_another_dish_is_left_out(self, tmp_path: Path) -> None:
        """A note of soup says nothing about rice."""
        assert tiny(tmp_path, after=AFTER.replace("rice: 24", "soup: 24")).notes is None


class TestAccepted:
    """Warnings that the author lives with."""

    def test_the_reason_is_printed(self, tmp_path: Path) -> None:
        """The warning and why it was accepted stand on the card."""
        [accepted] = tiny(
            tmp_path,
            ("minutes: 60", "minutes: 41"),
            ("sessions:", "accept: {warning: does-not-fit, because: we eat later}\nsessions:"),
        ).accepted
        assert "takes 18 minutes" in accepted.message
        assert accepted.because == "We eat later."

    def test_another_session_is_not_bothered(self, lessons: Lessons) -> None:
        """What was accepted of session 7 isn't on the card of session 6."""
        said = {
            number: [one.message for one in lessons.card(number).accepted] for number in SESSIONS
        }
        assert all(
            f"In session {number} " in message
            for number, messages in said.items()
            for message in messages
        )
        assert said[7] and not said[6]


def _minutes(time: str) -> int:
    hours, minutes = time.split(":")
    return int(hours) * 60 + int(minutes)
