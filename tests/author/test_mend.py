"""`mend` writes what is certain, and no other byte.

CommonMark's examples and the YAML test suite (`tests/read/SOURCES.md` names where they are from)
stand for whatever may be in a file."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

from in_full import sampled
from spoonfold.author.mend import mend, with_edits, write_mended
from spoonfold.author.written import Refused
from spoonfold.check import examine
from spoonfold.cli import main
from spoonfold.problem import Edit, Place
from tiny_class import CLASS, RICE, write_class

TESTS = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TESTS / "mistakes"))

from written_mistakes import all_mistakes, files_of  # noqa: E402 (its folder is no package)

WRONG = RICE.replace("serves: 4", "servs: 4").replace("1 cup rice, rinsed", "1 cup rice (rinsed)")
RECIPE = "content/recipes/rice.md"


def run(*words: object, answer: str | None = None) -> Result:
    return CliRunner().invoke(main, list(map(str, words)), input=answer)


def suite(name: str) -> list[dict[str, Any]]:
    cases: list[dict[str, Any]] = json.loads((TESTS / "read" / name).read_text("utf-8"))
    return cases[:: max(1, len(cases) // sampled(60, len(cases)))]


def holds(folder: Path) -> int:
    """That each line outside an edit stays, that of a line with one the rest does, and that
    mending what was mended changes nothing. How many files were mended."""
    by_path: dict[str, list[Edit]] = {}
    for problem in examine(folder).problems:
        edit = problem.certain_edit
        if edit is not None:
            by_path.setdefault(problem.place.path, []).append(edit)
    for path, edits in by_path.items():
        before = (folder / path).read_bytes().decode()
        after, _ = with_edits(before, edits)
        lines = {edit.place.line for edit in edits}
        old, new = before.splitlines(keepends=True), after.splitlines(keepends=True)
        kept = [line for number, line in enumerate(old, 1) if number not in lines]
        for line in kept:
            assert line in new
            new.remove(line)
        assert len(new) >= len(lines & set(range(len(old) + 1))) - 1
    mended, _ = mend(folder)
    assert write_mended(folder, mended) == mended
    assert mend(folder)[0] == ()
    return len(mended)


class TestSuites:
    """Any text at all round what is mended."""

    def test_commonmark(self, tmp_path: Path) -> None:
        """In the sections of a recipe whose header has a slip."""
        cases = suite("commonmark-examples.json")
        files = {
            f"recipes/e{each['number']}.md": f"{WRONG}\n## Culture\n\n{each['markdown']}"
            for each in cases
        }
        write_class(tmp_path, files)
        assert holds(tmp_path) >= len(cases) * 0.9

    def test_yaml(self, tmp_path: Path) -> None:
        """As the header of a recipe, with whatever slips it has."""
        files = {
            f"recipes/y{number}.md": f"---\n{each['yaml']}\n---\n\n## Steps\n\n1. Boil it.\n"
            for number, each in enumerate(suite("yaml-suite.json"))
        }
        write_class(tmp_path, {**files, "recipes/rice.md": WRONG})
        assert holds(tmp_path) >= 1


def test_what_was_written_wrong(tmp_path: Path) -> None:
    """In every written mistake, what was certain is mended and nothing certain is left."""
    cases = list(all_mistakes())
    for number, case in enumerate(cases[:: max(1, len(cases) // sampled(70, len(cases)))]):
        folder = write_class(tmp_path / str(number), files_of(case))
        certain = {
            (each.code, each.message) for each in examine(folder).problems if each.is_mendable
        }
        mended, left = mend(folder)
        assert not [each for each in left if each.is_mendable], case.title
        assert not certain & {(each.code, each.message) for each in left}, case.title
        assert bool(mended) == bool(certain), case.title


TEXTS = st.lists(st.text("ab é\t-#:\u200b😀", max_size=8), min_size=1, max_size=8)


@given(TEXTS, st.data())
@settings(max_examples=sampled(200, 2000), deadline=None)
def test_other_bytes_stay(lines: list[str], data: st.DataObject) -> None:
    """Whatever stands in a file, with any line ends, an edit replaces its old text alone."""
    mark = data.draw(st.sampled_from(["", "\ufeff"]))
    stop = data.draw(st.sampled_from(["\n", "\r\n", "\r"]))
    text = mark + stop.join(lines)
    number = data.draw(st.integers(1, len(lines)))
    line = lines[number - 1]
    start = data.draw(st.integers(0, len(line)))
    end = data.draw(st.integers(start, len(line)))
    edit = Edit(Place("x", number, start + 1), line[start:end], "NEW")
    changed = [*lines[: number - 1], f"{line[:start]}NEW{line[end:]}", *lines[number:]]
    assert with_edits(text, [edit]) == (mark + stop.join(changed), 1)
    missing = Edit(edit.place, "not there", "NEW")
    assert with_edits(text, [missing]) == (text, 0)


class TestCommand:
    """What is shown, asked and written."""

    def test_nothing_is_written_unasked(self, tmp_path: Path) -> None:
        """Where nobody can answer, what would change is shown, and how to have it written."""
        write_class(tmp_path, {"recipes/rice.md": WRONG})
        result = run("mend", "--folder", tmp_path)
        assert (result.exit_code, result.output) == (
            0,
            f"""\
--- {RECIPE}
+++ {RECIPE}
@@ -4,5 +4,5 @@
 country: PE
-servs: 4
+serves: 4
 ingredients:
-  - 1 cup rice (rinsed)
+  - 1 cup rice, rinsed
   - 2 cups water

Nothing was written. This writes it:

  spoonfold mend --yes
""",
        )
        assert (tmp_path / RECIPE).read_text("utf-8") == WRONG

    def test_every_other_byte_stays(self, tmp_path: Path) -> None:
        """A byte order mark, line ends, spaces at the end of lines, comments, permissions."""
        wrong = "\ufeff" + WRONG.replace("serves", "servs").replace("PE\n", "PE  # where?  \n")
        write_class(tmp_path, {"recipes/rice.md": wrong.replace("\n", "\r\n").encode()})
        (tmp_path / RECIPE).chmod(0o640)
        result = run("mend", "--yes", "--folder", tmp_path)
        assert result.exit_code == 0
        assert "Mended 2 problems in content/recipes/rice.md. What is left: no" in result.output
        right = wrong.replace("servs", "serves").replace(" (rinsed)", ", rinsed")
        assert (tmp_path / RECIPE).read_bytes() == right.replace("\n", "\r\n").encode()
        assert (tmp_path / RECIPE).stat().st_mode & 0o777 == 0o640
        assert "Nothing can be mended without you" in run("mend", "--folder", tmp_path).output

    def test_one_recipe(self, tmp_path: Path) -> None:
        """The others, and the class, stay as they are."""
        wrong = CLASS.replace("10:00", "3:30 pm")
        write_class(
            tmp_path, {"class.yaml": wrong, "recipes/rice.md": WRONG, "recipes/soup.md": WRONG}
        )
        assert run("mend", "soup", "--yes", "--folder", tmp_path).exit_code == 0
        assert (tmp_path / RECIPE).read_text("utf-8") == WRONG
        assert (tmp_path / "content/class.yaml").read_text("utf-8") == wrong
        assert "serves: 4" in (tmp_path / "content/recipes/soup.md").read_text("utf-8")
        assert run("mend", "sop", "--folder", tmp_path).exit_code == 2
        assert run("mend", "--yes", "--folder", tmp_path).exit_code == 0
        assert 'starts: "15:30"' in (tmp_path / "content/class.yaml").read_text("utf-8")

    def test_check_says_how_many(self, tmp_path: Path) -> None:
        """Below its count."""
        write_class(tmp_path, {"recipes/rice.md": WRONG})
        last = run("check", "--folder", tmp_path).output.splitlines()[-1]
        assert last == "2 of them can be mended for you: spoonfold mend"

    def test_safety_is_never_written(self, tmp_path: Path) -> None:
        """Not a note, a key or a word that a child's safety hangs on, however plain the slip."""
        recipe = RICE.replace("watch:", "heaat: 165 °F\n    - wassh: hands\n    - wattch:")
        recipe = recipe.replace("---\n\nRice", "accceptt: []\n---\n\nRice")
        pantry = "millet:\n  alergens: [milkk]\n  allergens: [wheatt]\n  taggs: [plantt]\n"
        needs = CLASS + "needs:\n  - {table: 1, avoidd: [milk]}\n"
        write_class(
            tmp_path, {"recipes/rice.md": recipe, "pantry.yaml": pantry, "class.yaml": needs}
        )
        assert len(examine(tmp_path).problems) >= 8
        assert mend(tmp_path)[0] == ()

    def test_a_link_is_not_followed(self, tmp_path: Path) -> None:
        """What it leads to is never written."""
        outside = tmp_path / "outside.md"
        outside.write_text(WRONG, encoding="utf-8")
        folder = write_class(tmp_path / "class")
        try:
            (folder / "content/recipes/soup.md").symlink_to(outside)
        except OSError:
            pytest.skip("no links here")
        assert mend(folder)[0] == ()
        assert outside.read_text("utf-8") == WRONG

    def test_a_file_that_changes_meanwhile_stays(self, tmp_path: Path) -> None:
        """Her own last words are never overwritten."""
        write_class(tmp_path, {"recipes/rice.md": WRONG})
        mended, _ = mend(tmp_path)
        (tmp_path / RECIPE).write_text(WRONG + "More.\n", encoding="utf-8")
        assert isinstance(write_mended(tmp_path, mended), Refused)
        assert (tmp_path / RECIPE).read_text("utf-8") == WRONG + "More.\n"


def test_a_note_is_named_by_its_day(tmp_path: Path) -> None:
    """The whole file goes where it belongs, byte for byte, and nothing that is there is lost."""
    text = "---\r\nsession: 1\r\ncame: 3\r\n---\r\n\r\nIt went well.  \r\n"
    write_class(tmp_path, {"after/01.md": text.encode()})
    mended, left = mend(tmp_path)
    assert [(each.path, each.move) for each in mended] == [
        ("content/after/01.md", "content/after/2027-09-18.md")
    ]
    assert not left
    assert not isinstance(write_mended(tmp_path, mended), Refused)
    notes = tmp_path / "content" / "after"
    assert {each.name: each.read_bytes() for each in notes.iterdir()} == {
        "2027-09-18.md": text.encode()
    }
    (notes / "01.md").write_bytes(b"---\nsession: 1\n---\n")
    refused = write_mended(tmp_path, mended)
    assert isinstance(refused, Refused)
    assert (notes / "2027-09-18.md").read_bytes() == text.encode()


@pytest.mark.parametrize("number", [1, 2, 3])
def test_a_line_that_stands_apart(number: int, tmp_path: Path) -> None:
    """Of a list the odd line is moved, and not all below it."""
    folder = write_class(tmp_path)
    recipe = folder / "content/recipes/rice.md"
    lines = ["  - 1 cup rice", "  - 2 cups water", "  - 1 tsp salt", "  - 1 tbsp oil"]
    whole = recipe.read_text("utf-8").replace("  - 1 cup rice, rinsed\n", "").split("\n")
    at = whole.index("ingredients:") + 1
    rest = [each for each in whole[at:] if not each.startswith("  - ")]
    right = "\n".join([*whole[:at], *lines, *rest])
    lines[number] = lines[number][1:]
    recipe.write_text("\n".join([*whole[:at], *lines, *rest]), encoding="utf-8")
    (found,) = [each for each in examine(folder).problems if each.code == "unreadable-yaml"]
    assert found.place.line == at + number + 1
    mended, made = with_edits(recipe.read_text("utf-8"), found.edits)
    assert (mended, made) == (right, 1)


def test_a_key_that_stands_apart(tmp_path: Path) -> None:
    """A space slipped in before it."""
    folder = write_class(tmp_path, {"class.yaml": CLASS.replace("\nminutes:", "\n minutes:")})
    (found,) = [each for each in examine(folder).problems if each.code == "unreadable-yaml"]
    text = (folder / "content/class.yaml").read_text("utf-8")
    assert with_edits(text, found.edits) == (text.replace("\n minutes:", "\nminutes:"), 1)
