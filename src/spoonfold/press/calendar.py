"""A calendar as bytes, by RFC 5545 (iCalendar).

Times are local and float (3.3.5, form 1): ten o'clock is ten o'clock where the class meets.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from spoonfold.sheets.sheet import Calendar, Event

_LINE = 75
"""Octets of a line without its end (3.1)."""


def calendar_bytes(calendar: Calendar) -> bytes:
    """The whole file: UTF-8, folded lines that end in CR LF."""
    return b"".join(_folded(line) for line in _lines(calendar))


def _lines(calendar: Calendar) -> Iterator[str]:
    yield "BEGIN:VCALENDAR"
    yield "VERSION:2.0"
    yield "PRODID:-//Spoonfold//Season//EN"
    yield "CALSCALE:GREGORIAN"
    # What most calendars call it by; a name that begins with X- is left alone by the others.
    yield f"X-WR-CALNAME:{_escaped(calendar.name)}"
    for event in calendar.events:
        yield from _event(event, calendar)
    yield "END:VCALENDAR"


def _event(event: Event, calendar: Calendar) -> Iterator[str]:
    said = f";LANGUAGE={calendar.language}"
    yield "BEGIN:VEVENT"
    yield f"UID:{event.uid}"
    yield f"DTSTAMP:{_time(calendar.stamp)}Z"
    yield f"DTSTART:{_time(event.starts)}"
    yield f"DTEND:{_time(event.ends)}"
    if event.is_called_off:
        yield "STATUS:CANCELLED"
    yield f"SUMMARY{said}:{_escaped(event.summary)}"
    yield f"LOCATION{said}:{_escaped(event.location)}"
    yield f"DESCRIPTION{said}:{_escaped(event.description)}"
    yield "END:VEVENT"


def _time(moment: datetime.datetime) -> str:
    # Not strftime: it writes a year before 1000 without its zeros on some systems.
    return (
        f"{moment.year:04}{moment.month:02}{moment.day:02}"
        f"T{moment.hour:02}{moment.minute:02}{moment.second:02}"
    )


def _escaped(text: str) -> str:
    """A TEXT value (3.3.11): control characters go, except line ends and tabs."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    text = "".join(each for each in text if each in "\n\t" or (each >= " " and each != "\x7f"))
    for sign in "\\;,":
        text = text.replace(sign, f"\\{sign}")
    return text.replace("\n", "\\n")


def _folded(line: str) -> bytes:
    """A content line in pieces of at most 75 octets, never parted inside a character (3.1)."""
    pieces, piece = [], b""
    for letter in line:
        octets = letter.encode()
        # Every piece but the first begins with the space that says it goes on.
        if len(piece) + len(octets) > _LINE:
            pieces.append(piece)
            piece = b" "
        piece += octets
    return b"\r\n".join((*pieces, piece)) + b"\r\n"
