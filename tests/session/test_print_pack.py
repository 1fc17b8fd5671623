"""The print pack: every sheet of the day, in its number of copies, each on a fresh sheet."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pikepdf
import pypdfium2
import pytest
from session_sheets import Office, Printed, failures, squeezed

from spoonfold.build import build
from spoonfold.model.classroom import CARRIED, PACKED
from spoonfold.press.fold import Part, joined, page_count
from spoonfold.sheets import parts
from spoonfold.sheets.print_pack import LAYOUT, entries_for, slip_of
from spoonfold.sheets.sheet import Part as SheetPart
from tiny_class import CLASS, write_class

IN_PACK = (
    "notice",
    *("brief", "lesson-card", "shopping", "prep", "jobs", "table-cards", "home-labels"),
    *("worksheet", "safety", "card", "print-pack"),
)
"""Parts of which a pack of the tiny class has sheets, and the pack."""


@pytest.fixture(scope="module")
def sheets(built: Callable[[int, str], Printed]) -> Printed:
    """A sheet of whole fronts and backs, with a figure and tables."""
    return built(6, "helper-brief-en.pdf")


@pytest.fixture(scope="module")
def single(built: Callable[[int, str], Printed]) -> Printed:
    """A sheet of one page."""
    return built(2, "word-cards-en.pdf")


@pytest.fixture(scope="module")
def pack(sheets: Printed, single: Printed) -> bytes:
    return joined(
        [
            Part("Words", single.pdf),
            Part("Briefs", sheets.pdf, 3),
            Part("Words again", single.pdf, 2),
        ]
    )


@pytest.fixture(scope="module")
def tiny_pack(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The tiny class with two tables, and all that is in its pack."""
    folder = tmp_path_factory.mktemp("tiny")
    text = CLASS.replace("tables: [4]", "tables: [4, 3]").replace("helpers: 1", "helpers: 2")
    text = text.replace("burner: 1, pot: 1", "burner: 2, pot: 2")
    text += f"sheets: [{', '.join(PACKED)}]\n"
    outcome = build(write_class(folder, {"class.yaml": text}), folder / "build", IN_PACK)
    if outcome.print_failure is not None:
        pytest.skip(outcome.print_failure.message)
    assert outcome.made, outcome.problems
    return folder / "build"


def texts(pdf: bytes) -> list[str]:
    """The text of each page, squeezed."""
    return [squeezed(page.get_textpage().get_text_range()) for page in pypdfium2.PdfDocument(pdf)]


def elements(node: Any) -> Iterator[Any]:
    """Every structure element below one, in reading order."""
    kids = node.get("/K")
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            yield kid
            yield from elements(kid)


def misplaced(pdf: bytes) -> list[str]:
    """Content whose element isn't read, or is of another page; elements whose content isn't."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        numbers = list(opened.Root.StructTreeRoot.ParentTree.Nums)
        parents = dict(zip(map(int, numbers[::2]), numbers[1::2], strict=True))
        own = {
            page.obj.objgen: int(page.obj.StructParents)
            for page in opened.pages
            if "/StructParents" in page.obj
        }
        read = {each.objgen: each for each in elements(opened.Root.StructTreeRoot)}
        wrong = []
        for page, number in own.items():
            for element in parents[number]:
                if isinstance(element, pikepdf.Dictionary) and (
                    element.objgen not in read or element.Pg.objgen != page
                ):
                    wrong.append(f"page {page}: {element.objgen}")
        pieces = 0
        for each in read.values():
            kids = each.get("/K")
            for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
                if isinstance(kid, int):
                    pieces += 1
                    if parents[own[each.Pg.objgen]][kid].objgen != each.objgen:
                        wrong.append(f"element {each.objgen}: {kid}")
        assert pieces > 100
        return wrong


class TestJoining:
    """Finished PDFs in one."""

    def test_each_copy_begins_on_a_front(
        self, pack: bytes, sheets: Printed, single: Printed
    ) -> None:
        """A sheet of one page is followed by a blank back, one of two pages by none."""
        assert len(single.pages) == 1 and len(sheets.pages) % 2 == 0
        assert texts(pack) == [single.pages[0], "", *sheets.pages * 3, *(single.pages[0], "") * 2]

    def test_it_is_as_accessible_as_its_parts(self, pack: bytes) -> None:
        """The joined file, blanks and copies included, is PDF/UA-1."""
        assert failures(pack) == []

    def test_content_finds_its_place(self, pack: bytes) -> None:
        """What stands on a page belongs to elements of that very page, in every copy; a checker
        doesn't ask whether the way back from the content is the right one."""
        assert misplaced(pack) == []

    def test_pages_alone_would_not_do(self, sheets: Printed) -> None:
        """Pages put behind each other without their trees have content that nobody reads."""
        with (
            pikepdf.open(io.BytesIO(sheets.pdf)) as opened,
            pikepdf.open(io.BytesIO(sheets.pdf)) as second,
        ):
            opened.pages.append(second.pages[0])
            naive = io.BytesIO()
            opened.save(naive)
        assert misplaced(naive.getvalue())

    def test_the_same_parts_give_the_same_bytes(
        self, pack: bytes, sheets: Printed, single: Printed
    ) -> None:
        """Nothing of the moment goes in."""
        assert pack == joined(
            [
                Part("Words", single.pdf),
                Part("Briefs", sheets.pdf, 3),
                Part("Words again", single.pdf, 2),
            ]
        )

    def test_copies_weigh_little(self, sheets: Printed) -> None:
        """Twelve copies share what is drawn: they take less than four single files."""
        assert len(joined([Part("Briefs", sheets.pdf, 12)])) < 4 * len(sheets.pdf)

    def test_the_outline_names_each_part_once(self, pack: bytes) -> None:
        """A reader of the file finds each sheet by its name."""
        with pikepdf.open(io.BytesIO(pack)) as opened, opened.open_outline() as outline:
            assert [each.title for each in outline.root] == ["Words", "Briefs", "Words again"]


class TestWanted:
    """How many of what."""

    def test_a_copy_for_whom_it_is(self, office: Office) -> None:
        """The helpers' briefs in one file, a card to take home a child, one of each list."""
        session = office.session(8)
        wanted = entries_for(office.context, session)
        copies = {each.path.rpartition("/")[2]: each.copies for each in wanted}
        assert copies == {
            "helper-brief-en.pdf": 1,
            "shopping-en.pdf": 1,
            "prep-en.pdf": 1,
            "lesson-card-en.pdf": 1,
            "jobs-en.pdf": 1,
            "table-cards-en.pdf": 1,
            "story-card-en.pdf": 1,
            "word-cards-en.pdf": 1,
            "worksheet-grade-5-en.pdf": 12,
            "worksheet-grade-5-key-en.pdf": 1,
            "packet-en.pdf": 12,
            "packet-key-en.pdf": 1,
            "home-labels-en.pdf": 1,
            "safety-sheet-en.pdf": 1,
            "allergen-notice-en.pdf": 1,
            "card-tomato-rice-en-4.pdf": 12,
            "card-fruit-salad-en-4.pdf": 12,
        }

    def test_keys_lie_with_the_lead_cook(self, office: Office) -> None:
        """Between the lesson card and what is handed out, never behind the children's sheets."""
        wanted = entries_for(office.context, office.session(8))
        names = [each.path.rpartition("/")[2] for each in wanted]
        lead = names.index("lesson-card-en.pdf")
        assert names[lead + 1 : lead + 3] == ["worksheet-grade-5-key-en.pdf", "packet-key-en.pdf"]
        assert lead + 3 < names.index("table-cards-en.pdf") < names.index("packet-en.pdf")

    def test_what_a_day_lacks_is_not_asked_for(self, office: Office) -> None:
        """No packet where no dish has a packaged cousin, nothing to tell of an unknown dish."""
        wanted = entries_for(office.context, office.session(1))
        assert not any("packet" in each.path for each in wanted)
        nothing = replace(office.session(8), dishes=())
        paths = [each.path for each in entries_for(office.context, nothing)]
        assert not any("worksheet" in path or "story" in path for path in paths)

    @pytest.mark.parametrize("is_made", [True, False])
    def test_the_slip_is_one_side(self, office: Office, is_made: bool) -> None:
        """Also for the day with the most sheets, and where half of them are missing."""
        session = office.session(8)
        wanted = entries_for(office.context, session)
        found = wanted if is_made else wanted[::2]
        slip = slip_of(
            office.read,
            office.classroom,
            session,
            wanted,
            {each.path: 2 for each in found},
            office.texts,
        )
        [page] = office.printed("print-pack.html", LAYOUT.sizes, LAYOUT.sides, slip=slip).pages
        assert squeezed("the job chart may name children") in page
        assert all(squeezed(each.title) in page for each in wanted)

    def test_it_follows_the_day(self, office: Office) -> None:
        """Another number of children, and no helpers: no brief is printed for nobody."""
        session = office.session(2)
        session = replace(session, setting=replace(session.setting, tables=(3, 2), helpers=0))
        wanted = entries_for(office.context, session)
        assert [each.copies for each in wanted if "families/card" in each.path] == [5]
        assert not any("brief" in each.path for each in wanted)

    def test_what_is_carried_unless_more_is_asked_for(self, office: Office) -> None:
        """The seven sheets of every day and the notice; and the notice whatever is chosen."""
        session = office.session(8)

        def names(sheets: tuple[str, ...]) -> set[str]:
            classroom = replace(office.classroom, sheets=sheets)
            wanted = entries_for(replace(office.context, classroom=classroom), session)
            return {each.path.rpartition("/")[2].removesuffix("-en.pdf") for each in wanted}

        notice = "allergen-notice"
        days = {"helper-brief", "shopping", "prep", "lesson-card", "table-cards", "home-labels"}
        assert names(CARRIED) == {*days, "safety-sheet", notice}
        assert names(()) == {notice} and names(("jobs",)) == {"jobs", notice}

    def test_every_sheet_that_can_be_packed_can_be_named(self) -> None:
        """And no other."""
        default = SheetPart(lambda context: (), ()).in_pack
        packed = {name for name, part in parts().items() if part.in_pack is not default}
        assert packed == set(PACKED)

    def test_the_slip_adds_up(self, office: Office) -> None:
        """Paper is counted by sheets of two sides, and what is missing is named."""
        session = office.session(2)
        wanted = entries_for(office.context, session)
        slip = slip_of(
            office.read,
            office.classroom,
            session,
            wanted,
            {each.path: 3 for each in wanted if "jobs" not in each.path},
            office.texts,
        )
        assert slip.missing == ("Jobs",)
        assert all(row.sheets == row.copies * 2 for row in slip.rows)
        assert slip.sheets == 1 + 2 * sum(row.copies for row in slip.rows)


class TestBuilt:
    """As a build makes it."""

    def test_the_pack_holds_every_sheet(self, tiny_pack: Path) -> None:
        """The pages are those of the sheets beside it, in their number, and the slip is first."""
        own = tiny_pack / "class/session-01"
        pack = texts((own / "print-pack-en.pdf").read_bytes())
        assert squeezed("Print it once, on both sides") in pack[0]
        for path, copies in (
            (own / "helper-brief-en.pdf", 1),
            (own / "lesson-card-en.pdf", 1),
            (own / "shopping-en.pdf", 1),
            (own / "prep-en.pdf", 1),
            (own / "jobs-en.pdf", 1),
            (own / "table-cards-en.pdf", 1),
            (own / "home-labels-en.pdf", 1),
            (own / "worksheet-grade-5-en.pdf", 7),
            (own / "worksheet-grade-5-key-en.pdf", 1),
            (tiny_pack / "class/safety-sheet-en.pdf", 1),
            (tiny_pack / "families/allergen-notice-en.pdf", 1),
            (tiny_pack / "families/card-rice-en-2.pdf", 7),
        ):
            for page in texts(path.read_bytes()):
                assert not page or pack.count(page) == copies, path.name

    def test_the_slip_counts_the_paper(self, tiny_pack: Path) -> None:
        """The sum on the slip is the paper that the file takes, printed on both sides."""
        pdf = (tiny_pack / "class/session-01/print-pack-en.pdf").read_bytes()
        assert page_count(pdf) % 2 == 0
        words = pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_range().split()
        assert int(words[words.index("All") + 1]) == page_count(pdf) // 2

    def test_it_is_accessible(self, tiny_pack: Path) -> None:
        """The strict checker has no finding in the real file."""
        assert failures((tiny_pack / "class/session-01/print-pack-en.pdf").read_bytes()) == []

    def test_one_part_by_itself(self, tiny_pack: Path) -> None:
        """`--only print-pack` joins what was made before, and gives the same file."""
        path = tiny_pack / "class/session-01/print-pack-en.pdf"
        before = path.read_bytes()
        path.unlink()
        assert build(tiny_pack.parent, tiny_pack, ["print-pack"]).files
        assert path.read_bytes() == before
