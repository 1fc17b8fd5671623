"""The pages of the site: whole, valid, light, and every link leads somewhere."""

from __future__ import annotations

import gzip
import itertools
import json
import re
from pathlib import Path
from urllib.parse import unquote, urlsplit
from xml.etree import ElementTree

import icalendar
import pytest
from site_checkers import broken_links, checked_html, pages
from site_links import read_page

from spoonfold.press.layouts import shipped_layouts


class TestLinks:
    def test_every_link_leads_somewhere(self, all_sites: dict[str, Path]) -> None:
        """Every relative address is a file of the site, and every fragment an id in it."""
        checked = 0
        for site in all_sites.values():
            read = {path.resolve(): read_page(path) for path in pages(site)}
            for path, page in read.items():
                for link in page.links:
                    parts = urlsplit(link)
                    if parts.scheme:
                        assert parts.scheme == "https" and "example.org" in link, link
                        continue
                    assert not link.startswith("/"), link
                    target = (path.parent / unquote(parts.path)).resolve() if parts.path else path
                    assert target.is_relative_to(site.resolve()), link
                    assert target.is_file(), (path.name, link)
                    if parts.fragment:
                        assert unquote(parts.fragment) in read[target].ids, (path.name, link)
                    checked += 1
        assert checked > 200

    def test_an_outside_checker_finds_no_broken_link(self, all_sites: dict[str, Path]) -> None:
        """Ours above knows fragments too; this one is somebody else's eyes."""
        for site in all_sites.values():
            followed, broken = broken_links(site)
            assert followed >= len(pages(site)) and broken == []

    def test_the_outside_checker_speaks(self, tmp_path: Path) -> None:
        (tmp_path / "index.html").write_text('<a href="nowhere.html">x</a>', encoding="utf-8")
        _, broken = broken_links(tmp_path)
        assert len(broken) == 1

    def test_ids_are_unique(self, all_sites: dict[str, Path]) -> None:
        for site in all_sites.values():
            for path in pages(site):
                ids = read_page(path).ids
                assert len(ids) == len(set(ids)), path


@pytest.fixture(scope="module")
def messages(
    all_sites: dict[str, Path], tmp_path_factory: pytest.TempPathFactory
) -> dict[str, list[str]]:
    """What the W3C's checker says of every site, and of a page with a mistake."""
    wrong = tmp_path_factory.mktemp("wrong")
    (wrong / "wrong.html").write_text(
        '<!doctype html><html lang="en"><title>x</title><p id="a"><p id="a">', encoding="utf-8"
    )
    return checked_html({**all_sites, "wrong": wrong})


class TestMarkup:
    def test_the_nu_checker_speaks(self, messages: dict[str, list[str]]) -> None:
        """A page with a mistake gets a message: silence means something."""
        assert any("Duplicate ID" in each for each in messages["wrong"])

    def test_the_nu_checker_says_nothing(self, messages: dict[str, list[str]]) -> None:
        """No error, no warning, no remark from the W3C's checker."""
        assert {name for name, said in messages.items() if said} == {"wrong"}, messages

    def test_headings_go_down_step_by_step(self, all_sites: dict[str, Path]) -> None:
        """One h1 first; no level is left out on the way down."""
        for site in all_sites.values():
            for path in pages(site):
                levels = read_page(path).headings
                assert levels[0] == 1 and levels.count(1) == 1, path
                assert all(b <= a + 1 for a, b in itertools.pairwise(levels)), path

    def test_nothing_for_the_policy_to_block(self, all_sites: dict[str, Path]) -> None:
        """No style attribute and no handler: the content security policy would stop both."""
        for site in all_sites.values():
            for path in pages(site):
                text = path.read_text(encoding="utf-8")
                assert "default-src &#39;none&#39;" in text or "default-src 'none'" in text
                assert "<style" not in text
                for tag, name in read_page(path).attributes:
                    assert name != "style" and not name.startswith("on"), (path, tag, name)

    def test_no_element_is_empty(self, all_sites: dict[str, Path]) -> None:
        """Nothing that a screen reader would announce without a word to say."""
        for site in all_sites.values():
            for path in pages(site):
                assert read_page(path).empty == [], path

    def test_steps_count_on_over_groups(self, odd_sites: dict[str, Path]) -> None:
        """The second group's list begins with the number of its first step."""
        text = (odd_sites["busy"] / "recipes" / "busy.html").read_text(encoding="utf-8")
        assert re.findall(r'<ol class="steps"([^>]*)>', text) == ["", ' start="2"']

    def test_direction_is_the_language_s(self, odd_sites: dict[str, Path]) -> None:
        for path in pages(odd_sites["arabic"]):
            assert '<html lang="ar" dir="rtl"' in path.read_text(encoding="utf-8")


def _sent(path: Path) -> int:
    return len(gzip.compress(path.read_bytes(), 6))


class TestWeight:
    def test_every_page_stays_light(self, all_sites: dict[str, Path]) -> None:
        """Under 150 kB without fonts, stylesheets included, at up to twelve household sizes; and
        under 30 kB as a server sends it (gzip, RFC 1952), with the scripts."""
        for site in all_sites.values():
            look = tuple((site / "look").iterdir())
            sheets = sum(path.stat().st_size for path in look if path.suffix == ".css")
            sent = sum(map(_sent, look))
            for path in pages(site):
                assert path.stat().st_size + sheets < 150_000, (path, path.stat().st_size)
                assert _sent(path) + sent < 30_000, (path, _sent(path))

    def test_stylesheets_carry_no_words_to_who_changes_them(
        self, all_sites: dict[str, Path]
    ) -> None:
        """Comments are gone, and every rule is still there."""
        for site in all_sites.values():
            for path in (site / "look").glob("*.css"):
                made = path.read_text(encoding="utf-8")
                written = (shipped_layouts() / "look" / path.name).read_text(encoding="utf-8")
                bare = re.sub(r"/\*.*?\*/", "", written, flags=re.DOTALL)
                assert made.split() == bare.split() != written.split()


class TestWords:
    def test_first_mention_leads_to_the_meaning(self, odd_sites: dict[str, Path]) -> None:
        """A taught word is a link where it first stands, in whichever form, and only there."""
        text = (odd_sites["busy"] / "recipes" / "busy.html").read_text(encoding="utf-8")
        assert re.findall(r'<a class="word" href="#word-whisk">(\w+)</a>', text) == ["Whisking"]

    def test_temperatures(self, odd_sites: dict[str, Path]) -> None:
        """An oven is set to a mark on its dial; a safe temperature is never rounded down; and no
        line ends between a number and its sign."""
        text = (odd_sites["busy"] / "recipes" / "busy.html").read_text(encoding="utf-8")
        assert "400\u00a0°F (205\u00a0°C)" in text  # 204.4 °C
        assert "165\u00a0°F (74\u00a0°C)" in text  # 73.9 °C


def test_a_page_of_a_dish_speaks_to_a_kitchen_at_home(demo_site: Path) -> None:
    """In the words of `home` where there are any, and never of what is done in class beforehand."""
    text = (demo_site / "recipes" / "turkey-kofta.html").read_text(encoding="utf-8")
    assert "An adult heats the oven" in text and "In class: done" not in text


def test_every_page_says_what_day_its_words_are_from(demo_site: Path) -> None:
    """The day of class.yaml; the build asks no clock."""
    for path in pages(demo_site):
        assert '<time datetime="2027-09-05">' in path.read_text(encoding="utf-8"), path


class TestCalendars:
    def test_a_reader_finds_every_meeting(self, demo_site: Path) -> None:
        """RFC 5545, read by icalendar: the season in one file, and each meeting in its own."""
        season = _events(demo_site / "season.ics")
        alone = [_events(path) for path in sorted((demo_site / "meetings").glob("*.ics"))]
        assert [str(each["DTSTART"].dt) for each in season][:2] == [
            "2027-09-18 10:00:00",
            "2027-09-25 10:00:00",
        ]
        assert all(len(events) == 1 for events in alone)
        assert [events[0] for events in alone] == season
        assert len({str(each["UID"]) for each in season}) == 8

    def test_nothing_private_is_in_them(self, demo_site: Path) -> None:
        """The last session has a note for the helpers; guests are told of, the note isn't."""
        last = _events(demo_site / "season.ics")[-1]
        assert str(last["DESCRIPTION"]).splitlines() == [
            "What to bring: an apron, closed shoes, a tie for long hair.",
            "Guests are invited to eat with us: there are 12 places.",
        ]

    def test_they_are_in_the_language_of_the_page(self, demo_site: Path) -> None:
        assert "delantal" in str(_events(demo_site / "es" / "season.ics")[0]["DESCRIPTION"])


def _events(path: Path) -> list[icalendar.Component]:
    return icalendar.Calendar.from_ical(path.read_bytes()).walk("VEVENT")


class TestFound:
    """By who searches the net, and by who is sent a link."""

    def test_every_page_says_what_it_is_and_where(self, demo_site: Path) -> None:
        """Its own address by RFC 6596 and that of each translation, all absolute; the sitemap has
        just these (sitemaps.org, protocol 0.9)."""
        own = set()
        for path in pages(demo_site):
            text = path.read_text(encoding="utf-8")
            assert re.search(r'<meta name="description" content="[^"]{8,}">', text), path
            (address,) = re.findall(r'<link rel="canonical" href="([^"]+)">', text)
            there = path.relative_to(demo_site).as_posix()
            assert address == f"https://example.org/saturday-table/{there}"
            others = re.findall(r'hreflang="(..)" href="(https://[^"]+)"', text)
            assert [language for language, _ in others] == ["en", "es"] and address in dict(
                others
            ).values()
            own.add(address)
        sitemap = ElementTree.parse(demo_site / "sitemap.xml").getroot()
        space = "{http://www.sitemaps.org/schemas/sitemap/0.9}"
        assert {each.text for each in sitemap.iter(f"{space}loc")} == own

    def test_no_address_is_made_up(self, odd_sites: dict[str, Path]) -> None:
        """Where class.yaml doesn't say where the site will be."""
        text = (odd_sites["bare"] / "index.html").read_text(encoding="utf-8")
        assert "canonical" not in text and not (odd_sites["bare"] / "sitemap.xml").exists()

    def test_allergens_are_words_and_no_diet_is_promised(self, demo_site: Path) -> None:
        """schema.org/suitableForDiet says that a dish suits a diet; nothing here does."""
        for path in (demo_site / "recipes").glob("*.html"):
            (data,) = re.findall(
                r'<script type="application/ld\+json">(.*?)</script>', path.read_text("utf-8"), re.S
            )
            assert "suitableForDiet" not in data
            assert json.loads(data)["author"]["name"] == "Saturday Table"
        kofta = (demo_site / "recipes" / "turkey-kofta.html").read_text("utf-8")
        assert "Contains: gluten, milk. Check the label: wheat." in kofta.partition("</head>")[0]
