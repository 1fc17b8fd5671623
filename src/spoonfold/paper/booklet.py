"""The take-home booklet: every dish of the season at one household size."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from spoonfold.language.calendar import date_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom
from spoonfold.model.folder import ClassFolder
from spoonfold.paper.recipe import RecipeSheet, WordView, recipe_sheet, word_view
from spoonfold.plan.uses import Uses


@dataclass(frozen=True, slots=True)
class Booklet:
    """A booklet for one household size in one language."""

    language: str
    direction: str
    class_name: str
    location: str
    when: str
    people: int
    for_whom: str
    paper: str
    recipes: tuple[RecipeSheet, ...]
    words: tuple[WordView, ...]


def booklet_of(
    folder: ClassFolder,
    classroom: Classroom,
    uses: Mapping[str, Uses],
    people: int,
    texts: Texts,
) -> Booklet:
    """The season's dishes in the order in which they are cooked, then any others."""
    order = dict.fromkeys(
        dish.text for session in classroom.sessions for dish in session.dishes
        if dish.text in folder.recipes)
    order.update(dict.fromkeys(folder.recipes))
    sheets = tuple(
        recipe_sheet(folder.recipes[key], uses[key], folder.pantry, folder.words, (people,),
                     None, texts)
        for key in order)
    taught = {word.anchor for sheet in sheets for word in sheet.words}
    words = sorted(folder.words.values(), key=lambda word: word.term.casefold())
    views = (word_view(word) for word in words)
    dates = [session.date for session in classroom.sessions]
    return Booklet(
        language=texts.language,
        direction=texts.direction,
        class_name=classroom.name,
        location=classroom.location,
        when=texts.say("{first} to {last}", first=date_text(dates[0], texts.language),
                       last=date_text(dates[-1], texts.language)) if dates else "",
        people=people,
        for_whom=texts.count("For 1 person", "For {number} people", people),
        paper=classroom.paper,
        recipes=sheets,
        words=tuple(view for view in views if view.anchor in taught),
    )
