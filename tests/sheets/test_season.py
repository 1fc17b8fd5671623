"""The season's pages: what they say, and what they never say."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pypdfium2
import pytest

from demo_class import demo_folder
from made_once import handed_out
from spoonfold.build import build
from spoonfold.language.texts import Texts
from spoonfold.model.prose import plain_prose
from spoonfold.read.folder import read_folder
from spoonfold.sheets.season import season_sheet
from spoonfold.sheets.season.ours import OurSeason, our_season
from tiny_class import CLASS, write_class

ROOT = Path(__file__).resolve().parents[2]
EN = Texts("en")

# Names that no other text of the class says, and that are words too, so that a class with them
# is built, with a warning.
NAMES = ("Wren", "Amber", "Sterling", "Coral")
CHILDREN = f"[{', '.join(NAMES)}]"

NOTE = """\
---
came: 4
keep:
  - Everybody stirred.
  - AMBER's way of counting scoops.
change:
  - Sterling is to have the first turn.
---

The pot was too small.

## For families

The rice was **good**.

*Wren* sang.

- Nobody burnt a finger.
- Coral washed up.

> Wren's table: “More.”
"""

AS_HE_IS = {"private/children.yaml": CHILDREN, "after/2027-09-18.md": NOTE}


def ours(folder: Path) -> OurSeason | None:
    read = read_folder(folder).folder
    assert read.classroom is not None
    return our_season(read, read.classroom, EN)


class TestOurSeason:
    def test_whatever_says_a_name_is_left_out(self, tmp_path: Path) -> None:
        """A paragraph, a line, an item or a quotation with a name goes, whole; the rest stays."""
        page = ours(write_class(tmp_path, AS_HE_IS))
        assert page is not None
        (done,) = page.sessions
        assert plain_prose(done.story) == "The rice was good. Nobody burnt a finger."

    def test_what_is_to_change_stays_with_the_cook(self) -> None:
        """Families read what was written for them, and nothing else of the cook's notes."""
        page = ours(ROOT)
        assert page is not None
        note = demo_folder().after[0]
        assert note.change and note.keep and note.body
        shown = plain_prose(page.sessions[0].story)
        assert not any(each in shown for each in (*note.change, *note.keep, plain_prose(note.body)))

    def test_without_notes_there_is_no_page(self, tmp_path: Path) -> None:
        """Nothing is claimed of a season that nobody has written about."""
        assert ours(write_class(tmp_path)) is None

    def test_notes_of_no_session_are_left_out(self, tmp_path: Path) -> None:
        """A note after session 9 of a class with one session belongs nowhere."""
        folder = write_class(tmp_path, {"after/09.md": "---\ncame: 1\n---\n\nFine.\n"})
        assert ours(folder) is None

    def test_children_are_summed_only_where_every_note_says_how_many(self, tmp_path: Path) -> None:
        """A sum that lacks a session would be less than the truth."""
        two = CLASS + "  - {dishes: [rice]}\n"
        known = {
            "class.yaml": two,
            "after/2027-09-18.md": "---\ncame: 4\n---\n",
            "after/2027-09-25.md": "---\ncame: 3\n---\n",
        }
        whole = ours(write_class(tmp_path / "a", known))
        lacking = {**known, "after/2027-09-25.md": "It went well.\n"}
        part = ours(write_class(tmp_path / "b", lacking))
        assert whole is not None and "7 places taken at the table" in whole.facts
        assert part is not None and not any("at the table" in each for each in part.facts)


class TestSeasonSheet:
    def test_every_session_has_its_line(self) -> None:
        """Date, dishes, lesson, and what is brought."""
        read = demo_folder()
        assert read.classroom is not None
        sheet = season_sheet(read, read.classroom, EN)
        assert [each.number for each in sheet.meetings] == list(range(1, 9))
        assert sheet.meetings[7].dishes == ("Tomato rice for a feast", "Fruit salad with lime")
        assert sheet.meetings[3].cooks_before and not sheet.meetings[0].cooks_before
        assert sheet.hours == "10:00\u202fAM to 11:40\u202fAM"

    def test_a_skill_is_new_once(self) -> None:
        """Every skill of the season stands at the session that brings it, and nowhere else."""
        read = demo_folder()
        assert read.classroom is not None
        new = [
            skill
            for each in season_sheet(read, read.classroom, EN).meetings
            for skill in each.new_skills
        ]
        asked = {
            term.text
            for session in read.classroom.sessions
            for dish in session.dishes
            for step in read.recipes[dish.text].steps
            for term in step.skills
        }
        assert len(new) == len(set(new)) and set(new) == asked


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = write_class(tmp_path_factory.mktemp("private"), AS_HE_IS)
    outcome = build(folder, folder / "build", (*handed_out(), "jobs", "prep"))
    assert {each.code for each in outcome.problems} == {"name-perhaps"}
    assert outcome.write_failure is None
    if outcome.print_failure is not None:
        pytest.skip(outcome.print_failure.message)
    return folder / "build"


def words(path: Path) -> Iterator[str]:
    """All that a file says: its bytes, and for a PDF its text, title and bookmarks."""
    yield path.read_bytes().decode("utf-8", "replace")
    if path.suffix == ".pdf":
        document = pypdfium2.PdfDocument(path)
        yield from document.get_metadata_dict().values()
        yield from (each.get_title() for each in document.get_toc())
        yield from (page.get_textpage().get_text_range() for page in document)


@pytest.mark.slow
class TestPrivacy:
    def test_no_name_reaches_families_or_the_world(self, made: Path) -> None:
        """Nothing in site/ or families/ says a name of the children's list, in any letters."""
        files = [
            path
            for part in ("site", "families")
            for path in (made / part).rglob("*")
            if path.is_file()
        ]
        assert any(path.name == "our-season-en.pdf" for path in files)
        for path in files:
            said = " ".join(words(path)).casefold()
            assert not any(name.casefold() in said for name in NAMES), path.name

    def test_names_stand_on_the_job_chart(self, made: Path) -> None:
        """The chart has every name, and says that it stays with the adults."""
        chart = " ".join(words(made / "class/session-01/jobs-en.pdf"))
        assert all(name in chart for name in NAMES)
        assert "stays with the adults" in " ".join(chart.split())

    def test_what_leaves_the_room_of_the_adults_sheets_has_no_name(self, made: Path) -> None:
        """The calendar and the season's page go to helpers' phones: no name is in them."""
        for name in ("season.ics", "season-en.pdf", "session-01/prep-en.pdf"):
            said = " ".join(words(made / "class" / name)).casefold()
            assert not any(each.casefold() in said for each in NAMES), name

    def test_the_test_can_see_names(self, made: Path) -> None:
        """The story that was kept is found on the families' page, so a name would be too."""
        said = " ".join(words(made / "families/our-season-en.pdf"))
        assert "Nobody burnt a finger" in said
