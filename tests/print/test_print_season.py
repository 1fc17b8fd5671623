"""The adults' sheets on paper: job chart, prep and packing, the season."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pypdfium2
import pytest
from printed_sheets import Press, Printed, printed, squeezed

from demo_class import demo_facts
from small_class import write_small_class
from spoonfold.build import build
from spoonfold.model.prose import plain
from spoonfold.plan.people.jobs import jobs_of
from spoonfold.sheets import jobs, prep

STRICT = "page-validation isn't installed: pip install 'spoonfold[test]'"
SESSIONS = range(1, 9)


def built(demo: Path, name: str) -> Printed:
    """A sheet of the demo class."""
    return printed((demo / name).read_bytes())


@pytest.fixture(scope="session")
def charts(
    demo: Press, demo_with: Callable[[str], Path]
) -> tuple[tuple[jobs.JobChart, Printed], ...]:
    rounds = jobs_of(demo.classroom, demo.read.recipes, demo_facts().clocks)
    return tuple(
        (
            jobs.job_chart(demo.read, demo.classroom, session, demo.uses, rounds, demo.texts),
            built(demo_with("jobs"), f"class/session-{session.number:02}/jobs-en.pdf"),
        )
        for session in demo.classroom.sessions
    )


@pytest.fixture(scope="session")
def preps(demo: Press, demo_with: Callable[[str], Path]) -> tuple[tuple[prep.Prep, Printed], ...]:
    return tuple(
        (
            prep.prep_of(demo.read, demo.classroom, session, demo.uses, demo.texts),
            built(demo_with("prep"), f"class/session-{session.number:02}/prep-en.pdf"),
        )
        for session in demo.classroom.sessions
    )


@pytest.fixture(scope="session")
def seasons(demo_with: Callable[[str], Path]) -> tuple[Printed, Printed]:
    return (
        built(demo_with("season"), "class/season-en.pdf"),
        built(demo_with("season"), "families/our-season-en.pdf"),
    )


def test_a_chart_is_one_page_with_every_job(
    charts: tuple[tuple[jobs.JobChart, Printed], ...],
) -> None:
    """Every session's chart is one page, and no seat's job is missing from it."""
    for chart, made in charts:
        (page,) = made.pages
        for table in chart.tables:
            assert squeezed(table.label) in page
            for each in (
                *(job for row in table.rows for job in (*row.standing, *row.steps)),
                *table.everyone,
            ):
                assert squeezed((each.step + each.words) or each.kind) in page


def test_a_list_is_one_sheet_with_every_step_and_thing(
    preps: tuple[tuple[prep.Prep, Printed], ...],
) -> None:
    """What is done beforehand stands in front, with its cautions; what is packed, behind."""
    for made, paper in preps:
        front, back = paper.pages
        for step in (*made.day_before, *made.on_site):
            assert squeezed(plain(step.text)) in front
            for caution in step.cautions:
                assert squeezed(caution.title + caution.text) in front
            for each in step.taken:
                assert squeezed(each.amount.text + each.name) in front
        for row in (
            *made.packing.sharp,
            *(row for each in made.packing.lists for row in each.rows),
        ):
            assert squeezed(row.name[1:]) in back
        assert squeezed(made.packing.tasting) in back
        assert squeezed("Out") in back and squeezed("Back") in back


def test_steps_keep_the_numbers_of_their_recipe(
    preps: tuple[tuple[prep.Prep, Printed], ...],
) -> None:
    """A step that is third in its recipe is third on the list too."""
    for made, paper in preps:
        text = pypdfium2.PdfDocument(paper.pdf)[0].get_textpage().get_text_range()
        # Plates float beside their steps, so they are drawn first, each on a line of its own.
        plates = [int(line) for line in text.splitlines() if line.strip().isdigit()]
        wanted = [step.number for step in (*made.day_before, *made.on_site)]
        assert plates[: len(wanted)] == wanted


def test_the_season_is_one_page(seasons: tuple[Printed, Printed]) -> None:
    """Before it, with the map on its back, and after it."""
    assert [len(each.pages) for each in seasons] == [2, 1]
    assert all(squeezed(f"{number} ·") in seasons[0].pages[0] for number in SESSIONS)
    assert "Kumasi,Ghana" in squeezed(seasons[0].pages[1])


def test_all_of_them_pass_the_strict_checker(
    charts: tuple[tuple[jobs.JobChart, Printed], ...],
    preps: tuple[tuple[prep.Prep, Printed], ...],
    seasons: tuple[Printed, Printed],
) -> None:
    """Each is PDF/UA-1 by an independent checker."""
    page = pytest.importorskip("page", reason=STRICT)
    for made in (charts[0][1], charts[7][1], preps[3][1], preps[7][1], *seasons):
        report = page.validate_pdf_bytes(made.pdf, profile=page.ValidationProfile.PDF_UA_1)
        assert [f"{each.rule_id}: {each.message}" for each in report.failures] == []


def test_a_child_whose_table_is_full_is_sent_to_another(tmp_path: Path) -> None:
    """The seat keeps its letter, and the chart says where it comes from."""
    folder = write_small_class(tmp_path)
    path = folder / "content" / "class.yaml"
    path.write_text(
        path.read_text("utf-8")
        .replace("tables: [4]", "tables: [2, 2]")
        .replace("helpers: 1", "helpers: 2")
        .replace("{dishes: [rice]}", "{dishes: [rice], tables: [3, 1]}"),
        encoding="utf-8",
    )
    press = Press(folder)
    rounds = jobs_of(press.classroom, press.read.recipes)
    chart = jobs.job_chart(
        press.read, press.classroom, press.classroom.sessions[0], press.uses, rounds, press.texts
    )
    assert [[(row.letter, row.usual) for row in table.rows] for table in chart.tables] == [
        [("A", ""), ("B", ""), ("D", "from table 2")],
        [("C", "")],
    ]


def test_a_name_that_no_font_can_draw_is_found_in_its_own_file(tmp_path: Path) -> None:
    """The letter's place is the list of children, and nothing is made."""
    folder = write_small_class(tmp_path)
    private = folder / "content" / "private"
    private.mkdir()
    (private / "children.yaml").write_text("[Aldo, 炒]\n", encoding="utf-8")
    outcome = build(folder, folder / "build", ["jobs"])
    (problem,) = [each for each in outcome.problems if each.code == "missing-glyph"]
    assert problem.place.path == "content/private/children.yaml"
    assert (problem.place.line, problem.place.column) == (1, 8)
    assert outcome.made == 0
