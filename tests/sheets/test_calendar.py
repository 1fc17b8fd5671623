"""The calendar by the rules of RFC 5545, and read back by a parser of others."""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom
from spoonfold.model.folder import ClassFolder
from spoonfold.press.calendar import calendar_bytes
from spoonfold.read.folder import read_folder
from spoonfold.sheets.season.calendar import Calendar, Event, calendar_of
from tiny_class import CLASS, write_class

ROOT = Path(__file__).resolve().parents[2]
PARSER = "icalendar isn't installed: pip install icalendar"
TEN = datetime.datetime(2027, 9, 18, 10)


def read(folder: Path) -> tuple[ClassFolder, Classroom]:
    found = read_folder(folder).folder
    assert found.classroom is not None
    return found, found.classroom


@pytest.fixture(scope="module")
def demo() -> Calendar:
    folder, classroom = read(ROOT)
    return calendar_of(folder, classroom, Texts("en"))


def one(**values: Any) -> Calendar:
    event = Event("session-1@class", TEN, TEN + datetime.timedelta(hours=1), "Soup", "Hall", "")
    return Calendar("Class", "en", datetime.datetime(2027, 9, 18), (replace(event, **values),))


def unfolded(data: bytes) -> list[str]:
    """Content lines (RFC 5545, 3.1): a line that begins with a space goes on."""
    assert data.endswith(b"\r\n")
    return data.decode().replace("\r\n ", "").split("\r\n")[:-1]


def properties(lines: list[str]) -> Mapping[str, str]:
    """Name and value of each line, without its parameters."""
    found = {}
    for line in lines:
        name, _, value = line.partition(":")
        found[name.split(";")[0]] = value
    return found


def parsed(data: bytes) -> Any:
    return pytest.importorskip("icalendar", reason=PARSER).Calendar.from_ical(data)


class TestLines:
    def test_every_line_ends_in_cr_lf_and_is_short(self, demo: Calendar) -> None:
        """No line has more than 75 octets, and none ends any other way (3.1)."""
        data = calendar_bytes(demo)
        assert not re.search(rb"(?<!\r)\n|\r(?!\n)", data)
        assert max(len(line) for line in data.split(b"\r\n")) <= 75

    @given(st.text(alphabet=st.characters(exclude_categories=["Cs"]), max_size=400))
    def test_any_text_folds_without_breaking_a_letter(self, text: str) -> None:
        """Whatever is written: short lines, each of them whole UTF-8."""
        data = calendar_bytes(one(description=text))
        for line in data.split(b"\r\n"):
            assert len(line) <= 75
            line.decode()

    def test_a_line_of_exactly_75_octets_is_not_folded(self) -> None:
        """75 octets fit; one more goes to the next line, behind a space."""
        head = len("LOCATION;LANGUAGE=en:")
        whole = calendar_bytes(one(location="x" * (75 - head)))
        more = calendar_bytes(one(location="x" * (76 - head)))
        assert b"x\r\n x\r\n" in more and b"\r\n x" not in whole


class TestProperties:
    def test_a_calendar_says_what_it_must(self, demo: Calendar) -> None:
        """VERSION and PRODID once (3.6), and as many events as sessions."""
        lines = unfolded(calendar_bytes(demo))
        assert lines[0] == "BEGIN:VCALENDAR" and lines[-1] == "END:VCALENDAR"
        assert lines.count("VERSION:2.0") == 1
        assert sum(line.startswith("PRODID:") for line in lines) == 1
        assert lines.count("BEGIN:VEVENT") == lines.count("END:VEVENT") == 8

    def test_every_event_has_its_own_uid_and_a_utc_stamp(self, demo: Calendar) -> None:
        """UID and DTSTAMP are required (3.6.1); the stamp is in UTC (3.8.7.2)."""
        lines = unfolded(calendar_bytes(demo))
        uids = [line for line in lines if line.startswith("UID:")]
        assert len(set(uids)) == 8
        assert {line for line in lines if line.startswith("DTSTAMP:")} == {
            "DTSTAMP:20270918T000000Z"
        }

    def test_times_are_local_and_float(self) -> None:
        """Ten is ten where the class meets: no zone and no Z (3.3.5, form 1)."""
        found = properties(unfolded(calendar_bytes(one())))
        assert found["DTSTART"] == "20270918T100000" and found["DTEND"] == "20270918T110000"

    def test_a_session_past_midnight_ends_on_the_next_day(self, tmp_path: Path) -> None:
        """The end is the start and the minutes, whatever the date becomes."""
        late = CLASS.replace('"10:00"', '"23:30"')
        folder, classroom = read(write_class(tmp_path, {"class.yaml": late}))
        event = calendar_of(folder, classroom, Texts("en")).events[0]
        assert event.ends == datetime.datetime(2027, 9, 19, 0, 30)

    def test_signs_are_escaped(self) -> None:
        """Backslash, semicolon, comma and line end (3.3.11); nothing that isn't printable."""
        found = properties(unfolded(calendar_bytes(one(summary="a\\b;c,d\r\ne\x00f\x07"))))
        assert found["SUMMARY"] == r"a\\b\;c\,d\nef"

    def test_no_line_can_be_smuggled_in(self) -> None:
        """A title with a line end stays one property."""
        lines = unfolded(calendar_bytes(one(summary="Soup\r\nEND:VEVENT\nX-A:1\rX-B:2")))
        assert lines.count("END:VEVENT") == 1
        assert not any(line.startswith(("X-A", "X-B")) for line in lines)


class TestSameMeeting:
    def test_a_moved_meeting_keeps_its_uid(self, tmp_path: Path) -> None:
        """A new date, time or dish changes the event, not which meeting it is."""
        first = read(write_class(tmp_path / "a"))
        moved = read(
            write_class(
                tmp_path / "b",
                {
                    "class.yaml": CLASS.replace(
                        "{dishes: [rice]}", '{dishes: [rice], date: 2027-09-20, starts: "16:00"}'
                    )
                },
            )
        )
        one, two = (calendar_of(*each, Texts("en")).events[0] for each in (first, moved))
        assert one.uid == two.uid and one.starts != two.starts

    def test_another_class_or_season_has_other_uids(self, tmp_path: Path) -> None:
        """Name, place and first day make a season what it is."""
        uids = set()
        for number, (old, new) in enumerate(
            (("Tiny", "Tiny"), ("Tiny", "Small"), ("Small Hall", "Large Hall"), ("2027", "2028"))
        ):
            folder = write_class(tmp_path / str(number), {"class.yaml": CLASS.replace(old, new)})
            uids.add(calendar_of(*read(folder), Texts("en")).events[0].uid)
        assert len(uids) == 4

    def test_a_name_without_latin_letters_still_gives_a_uid(self, tmp_path: Path) -> None:
        """The part behind the @ falls back to a plain word; all of it is ASCII."""
        folder = write_class(tmp_path, {"class.yaml": CLASS.replace("Tiny Table", "小さな台所")})
        uid = calendar_of(*read(folder), Texts("en")).events[0].uid
        assert uid.isascii() and uid.endswith("@class")


class TestReadBack:
    def test_a_parser_of_others_reads_the_demo(self, demo: Calendar) -> None:
        """Every event comes back with the same words and times."""
        events = parsed(calendar_bytes(demo)).walk("VEVENT")
        assert len(events) == len(demo.events) == 8
        for found, event in zip(events, demo.events, strict=True):
            assert str(found["UID"]) == event.uid
            assert found.decoded("DTSTART") == event.starts
            assert found.decoded("DTSTART").tzinfo is None
            assert found.decoded("DTEND") == event.ends
            assert str(found["SUMMARY"]) == event.summary
            assert str(found["LOCATION"]) == event.location
            assert str(found["DESCRIPTION"]) == event.description
        assert "Tomato rice for a feast, Fruit salad with lime" in str(events[7]["SUMMARY"])
        assert "an apron" in str(events[0]["DESCRIPTION"])

    @given(
        st.text(
            alphabet=st.characters(exclude_categories=["Cc", "Cs", "Cf", "Zl", "Zp"]), max_size=200
        )
    )
    def test_any_words_come_back(self, text: str) -> None:
        """Commas, semicolons, backslashes, every script: what goes in comes out."""
        event = parsed(calendar_bytes(one(summary=text, description=text))).walk("VEVENT")[0]
        assert str(event["SUMMARY"]) == text and str(event["DESCRIPTION"]) == text
