"""What stands at the head of a table card: who sits here, what each eats, who has which job."""

from __future__ import annotations

from collections.abc import Sequence

from spoonfold.language.amounts import number_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Setting
from spoonfold.model.recipe import Recipe
from spoonfold.plan.people.jobs import Kind


def portion_text(recipe: Recipe, setting: Setting, texts: Texts) -> str:
    """What one portion is, and how much of it each eats where that isn't all."""
    said = (
        []
        if recipe.portion is None
        else [texts.say("One portion: {portion}", portion=recipe.portion)]
    )
    if setting.portion != 1:
        said.append(
            texts.say("{part} of a portion for each", part=number_text(setting.portion, texts))
        )
    return ". ".join(said)


def people_text(seats: Sequence[str], helpers: int, texts: Texts) -> str:
    """The seats of a table by letter, and the helpers who eat there."""
    if not helpers:
        return texts.say("For {seats}", seats=", ".join(seats))
    return texts.count(
        "For {seats} and your helper",
        "For {seats} and {number} helpers",
        helpers,
        seats=", ".join(seats),
    )


def standing_text(kind: Kind, texts: Texts) -> str:
    """A job for the whole session, as what somebody does."""
    match kind:
        case Kind.READ:
            return texts.say("reads each step aloud")
        case Kind.WATCH:
            return texts.say("watches raw and ready")
        case Kind.SET:
            return texts.say("sets the table")
        case _:
            return texts.say("leads the cleaning up")
