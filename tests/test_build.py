"""The whole pipeline: what comes out, the same every time, and nothing that doesn't belong."""

from __future__ import annotations

import hashlib
import json
import re
import subprocess
import sys
from collections.abc import Callable
from fnmatch import fnmatch
from pathlib import Path

import pypdfium2
import pytest
from weasyprint.urls import FatalURLFetchingError

from spoonfold.build import build
from spoonfold.press.layouts import layouts_for
from spoonfold.press.memo import NAME as MEMO
from spoonfold.press.pdf import printer
from spoonfold.problem import Failure
from spoonfold.sheets import NAMES, SITE, parts
from tiny_class import write_class

ROOT = Path(__file__).resolve().parents[1]


def built(folder: Path, *only: str) -> Path:
    """The output of a build that must succeed without a problem."""
    outcome = build(folder, folder / "build", only)
    assert (
        outcome.problems == () and outcome.write_failure is None and outcome.print_failure is None
    )
    return folder / "build"


def built_from_inside(folder: Path) -> str:
    """The words of the card, built by whoever stands in the class folder."""
    subprocess.run(
        [sys.executable, "-m", "spoonfold", "build", "--only", "card"],
        cwd=folder,
        check=True,
        capture_output=True,
    )
    document = pypdfium2.PdfDocument(folder / "build" / "families" / "card-rice-en-2.pdf")
    return "".join(page.get_textpage().get_text_bounded() for page in document)


def digest(tree: Path) -> dict[str, str]:
    return {
        path.relative_to(tree).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(tree.rglob("*"))
        if path.is_file()
    }


@pytest.fixture
def demo(demo_with: Callable[[str], Path]) -> Path:
    """The demo class's site and booklets."""
    return demo_with(SITE)


@pytest.mark.parametrize("part", NAMES)
def test_all_of_the_demo_is_made(part: str, demo_with: Callable[[str], Path]) -> None:
    """Every part, without a single problem. No day of the demo is changed, so that nothing is
    told of one."""
    owned = {name: row.owns for name, row in parts().items()}
    owned |= {SITE: ("site/*.html",), "changed": ()}
    made = [path.relative_to(demo_with(part)).as_posix() for path in demo_with(part).rglob("*")]
    assert all(any(fnmatch(path, pattern) for path in made) for pattern in owned[part])


class TestTheDemo:
    def test_every_page_and_booklet_is_there(self, demo: Path) -> None:
        names = set(digest(demo))
        recipes = {
            path.stem
            for path in (ROOT / "content" / "recipes").glob("*.md")
            if path.name.count(".") == 1
        }
        assert len(recipes) == 9
        assert {f"site/recipes/{name}.html" for name in recipes} <= names
        assert {"site/index.html", "site/words.html", "site/season.html"} <= names
        for people in (2, 4, 6):
            assert f"families/booklet-en-{people}.pdf" in names
            assert f"site/booklets/booklet-en-{people}.pdf" in names

    def test_links_stay_inside_and_resolve(self, demo: Path) -> None:
        """Every address in the site is relative, or the one under which the class publishes it,
        and what it points at is there."""
        site = demo / "site"
        published = "https://example.org/saturday-table/"
        for page in site.rglob("*.html"):
            for address in re.findall(r'(?:href|src)="([^"]*)"', page.read_text("utf-8")):
                path = address.split("#")[0]
                target = (page.parent / path) if path else page
                if address.startswith(published):
                    target = site / (address.removeprefix(published) or "index.html")
                else:
                    assert not re.match(r"[a-z]+:|/", address), (page.name, address)
                assert target.is_file(), (page.name, address)
                assert target.resolve().is_relative_to(site.resolve())

    def test_pages_run_our_own_script_alone(self, demo: Path) -> None:
        """A strict content security policy, one script that is a file of the site, and nothing
        that the policy would have to stop."""
        for page in (demo / "site").rglob("*.html"):
            text = page.read_text("utf-8")
            assert "default-src 'none'" in text
            # Data isn't run; its hash stands there for whoever checks the policy.
            ((_, also),) = re.findall(r"script-src ('self')( 'sha256-[\w+/=]+')?;", text)
            assert bool(also) == ("ld+json" in text)
            scripts = re.findall(
                r"<script(?! type=\"application/ld\+json\")([^>]*)>(.*?)</script>", text, re.S
            )
            for (attributes, inside), own in zip(scripts, ("site.js", "stove.js"), strict=False):
                (address,) = re.findall(r'src="([^"]*)"', attributes)
                assert (page.parent / address).resolve() == (demo / "site/look" / own).resolve()
                assert inside == ""
            # The steps of a dish have one more.
            assert len(scripts) == 1 + (page.parent.name == "recipes")
            assert not re.search(r"\son[a-z]+=|\sstyle=|javascript:", text)

    def test_linked_data_reads_back(self, demo: Path) -> None:
        for page in (demo / "site" / "recipes").glob("*.html"):
            (data,) = re.findall(
                r'<script type="application/ld\+json">(.*?)</script>', page.read_text("utf-8"), re.S
            )
            assert json.loads(data)["@type"] == "Recipe"

    def test_nothing_private_is_published(self, demo: Path) -> None:
        """The class's needs and budget stay out of what families and the world see."""
        for page in (demo / "site").rglob("*.html"):
            text = page.read_text("utf-8")
            assert "4.50" not in text and "budget" not in text


class TestOnly:
    def test_what_is_not_made_is_carried_over(self, built_class: Path) -> None:
        output = built_class / "build"
        before = digest(output)
        recipe = built_class / "content/recipes/rice.md"
        recipe.write_text(
            recipe.read_text("utf-8").replace("every day", "each day"), encoding="utf-8"
        )
        assert build(built_class, output, ["site"]).made
        after = digest(output)
        assert before.keys() == after.keys()
        changed = {name for name in before if before[name] != after[name]} - {MEMO}
        assert changed and all(name.endswith((".html", "site/worker.js")) for name in changed)

    def test_another_household_gets_its_booklet(self, built_class: Path) -> None:
        """Also where nothing has changed since all was built; the rest stays, the site still
        names the class's own booklets, and the next whole build takes it away again."""
        output = built_class / "build"
        before = digest(output)
        assert build(built_class, output, ["booklet"], households=[5]).made
        after = digest(output)
        assert after.keys() - before.keys() == {
            "families/booklet-en-5.pdf",
            "families/booklet-en-5-to-fold.pdf",
            "site/booklets/booklet-en-5.pdf",
        }
        assert {name for name in before if before[name] != after[name]} == {MEMO}
        assert build(built_class, output, households=[5]).problems == ()
        page = (output / "site/index.html").read_text("utf-8")
        assert "booklet-en-2.pdf" in page and "booklet-en-4.pdf" in page
        assert build(built_class, output).problems == ()
        assert digest(output) == before


def refused(folder: Path) -> list[tuple[str, int, str]]:
    """The errors that keep a class from being built: file, line, code."""
    outcome = build(folder, folder / "build")
    assert not (folder / "build").exists()
    return [(each.place.path, each.place.line, each.code) for each in outcome.problems]


class TestOverriding:
    def test_a_class_may_override_a_single_layout(self, tmp_path: Path) -> None:
        """A file in the class folder's own layouts/ stands for the one that ships, as it is at
        each build of a program that builds again and again."""
        folder = write_class(tmp_path)
        own = folder / "layouts" / "pages" / "words.html"
        own.parent.mkdir(parents=True)
        for title in ("ours", "ours, mended"):
            own.write_text(f"<!doctype html><title>{title}</title>", encoding="utf-8")
            site = built(folder, "site") / "site"
            assert (site / "words.html").read_text("utf-8").endswith(f"<title>{title}</title>")
            assert "Plain rice" in (site / "index.html").read_text("utf-8")

    @pytest.mark.slow
    def test_printed_sheets_too(self, tmp_path: Path) -> None:
        """Built from inside the folder: its stylesheet prints with the fonts that ship, and its
        icon stands in the stylesheet that ships."""
        folder = write_class(tmp_path)
        shipped = ROOT / "layouts" / "look" / "paper.css"
        before = built_from_inside(folder)
        own = folder / "layouts" / "icons" / "adult.svg"
        own.parent.mkdir(parents=True)
        own.write_text(
            '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">'
            '<text y="8" font-size="3">ZIG</text></svg>',
            encoding="utf-8",
        )
        with_icon = built_from_inside(folder)
        style = folder / "layouts" / "look" / "paper.css"
        style.parent.mkdir()
        style.write_text(
            shipped.read_text(encoding="utf-8") + 'h1::after { content: " ZAG" }', encoding="utf-8"
        )
        with_both = built_from_inside(folder)
        assert "ZIG" not in before and "ZIG" in with_icon and "ZIG" in with_both
        assert "ZAG" not in with_icon and "ZAG" in with_both

    def test_a_link_out_of_the_folder_is_not_followed(self, tmp_path: Path) -> None:
        """An icon of the class that is a link to a file elsewhere isn't read."""
        folder = write_class(tmp_path / "class")
        elsewhere = tmp_path / "adult.svg"
        elsewhere.write_text("<svg/>", encoding="utf-8")
        own = folder / "layouts" / "icons" / "adult.svg"
        own.parent.mkdir(parents=True)
        own.symlink_to(elsewhere)
        assert refused(folder) == [("layouts/icons/adult.svg", 0, "link-outside")]

    def test_a_link_to_a_private_file_is_not_followed(self, tmp_path: Path) -> None:
        """A stylesheet, an icon or a folder of the class that is a link isn't printed."""
        folder = write_class(tmp_path / "class", {"private/adult.svg": "<svg/>"})
        (folder / "layouts/look").mkdir(parents=True)
        (folder / "layouts/look/paper.css").symlink_to("../../content/private/adult.svg")
        (folder / "layouts/icons").symlink_to("../content/private")
        assert refused(folder) == [
            ("layouts/icons", 0, "link-to-folder"),
            ("layouts/look/paper.css", 0, "link-to-file"),
        ]

    @pytest.mark.parametrize(
        "address",
        [
            "../../content/private/adult.svg",
            "../%2e%2e/content/private/adult.svg",
            "../icons/../../content/class.yaml",
            "file:///etc/hostname",
            "https://example.org/adult.svg",
            "//example.org/adult.svg",
            "/etc/hostname",
            "\\2e\\2e/\\2e\\2e/content/private/adult.svg",
        ],
    )
    def test_an_address_out_of_the_layouts(self, tmp_path: Path, address: str) -> None:
        """A stylesheet of the class shows no file from elsewhere, and that line is told."""
        folder = write_class(tmp_path, {"private/adult.svg": "<svg/>"})
        style = folder / "layouts/look/paper.css"
        style.parent.mkdir(parents=True)
        style.write_text(
            f"/* url({address}) */\nh1 {{\n  background: url('../icons/pot.svg'), "
            f'url(data:,x), url("{address}") }}\n',
            encoding="utf-8",
        )
        assert refused(folder) == [("layouts/look/paper.css", 3, "layout-outside")]

    def test_the_printer_reads_the_layouts_alone(self, tmp_path: Path) -> None:
        """Whatever a page asks for, no file of content/ is printed."""
        folder = write_class(tmp_path, {"private/adult.svg": "<svg/>"})
        (folder / "layouts").mkdir()
        press = printer(layouts_for(folder))
        if isinstance(press, Failure):
            pytest.skip(press.message)
        page = b"<!doctype html><html lang=en><title>A</title><img alt=A src=%s>"
        private = (folder / "content/private/adult.svg").as_uri().encode()
        with pytest.raises(FatalURLFetchingError, match="outside the layouts"):
            press.print([page % private], ROOT / "layouts/look/paper.css")
