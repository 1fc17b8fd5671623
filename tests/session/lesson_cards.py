"""Lesson cards of a class folder, as values and printed."""

from __future__ import annotations

from pathlib import Path

from session_sheets import Office, Printed

from spoonfold.check import examine
from spoonfold.plan.clock.class_work import Timed
from spoonfold.sheets.lesson_card import LAYOUT, LessonCard, lesson_card_of
from spoonfold.sheets.lesson_card.clock import names_of
from spoonfold.sheets.lesson_card.day import DayRow, day_of


class Lessons:
    """Makes the lesson cards of one class folder."""

    def __init__(self, folder: Path) -> None:
        self.office = Office(folder)
        self.examined = examine(folder)
        self._cards: dict[int, LessonCard] = {}
        self.clocks = {each.session.number: each for each in self.examined.facts.clocks}

    def timed(self, number: int) -> Timed:
        return self.clocks[number]

    def card(self, number: int) -> LessonCard:
        """Made once: to advise what to do when it gets late takes many schedules."""
        if number not in self._cards:
            office = self.office
            self._cards[number] = lesson_card_of(
                office.read,
                office.classroom,
                self.timed(number),
                office.uses,
                self.examined.accepted,
                office.texts,
            )
        return self._cards[number]

    def day(self, number: int) -> tuple[DayRow, ...]:
        """The day as the terminal tells it."""
        each = self.timed(number)
        return day_of(each, names_of(each, self.office.texts), "")

    def printed(self, number: int) -> Printed:
        return self.office.printed(
            "lesson-card.html", LAYOUT.sizes, LAYOUT.sides, card=self.card(number)
        )
