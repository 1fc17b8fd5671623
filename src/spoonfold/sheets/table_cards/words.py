"""What a table card says above its steps: for whom, what is in it, what lies ready, who has which
job."""

from __future__ import annotations

from collections.abc import Sequence

from spoonfold.knowledge.equipment import Kind as Tool
from spoonfold.language.amounts import number_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Setting
from spoonfold.model.recipe import Recipe
from spoonfold.plan.people.jobs import Kind
from spoonfold.sheets.shared.labels import Labels
from spoonfold.sheets.table_cards.steps import CardPlace


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


def people_text(seats: Sequence[str], helpers: int, guests: int, texts: Texts) -> str:
    """The seats of a table by letter, and the helpers and guests who eat there."""
    cooks = (
        texts.count(
            "For {seats} and your helper",
            "For {seats} and {number} helpers",
            helpers,
            seats=", ".join(seats),
        )
        if helpers
        else texts.say("For {seats}", seats=", ".join(seats))
    )
    if not guests:
        return cooks
    return texts.count(
        "{cooks}, with a guest", "{cooks}, with {number} guests", guests, cooks=cooks
    )


def head_lines(
    people: str, labels: Labels, tools: str, draft: str, swaps: bool, texts: Texts
) -> tuple[str, ...]:
    """What stands below a card's title, line by line, about as long as it is there."""
    lines = [labels_line(labels, texts)]
    if people:
        lines.append(f"nn {people}")
    if tools:
        lines.append(f"nn {texts.say('On the table:')} {tools}")
    if draft:
        lines.append(f"nn {draft}")
    if swaps:
        lines.append(f"nn {apart_line(texts)}")
    return tuple(lines)


def labels_line(labels: Labels, texts: Texts) -> str:
    """About as long as what the card says of its allergens."""
    say = texts.say
    groups = (
        (say("Contains:"), labels.contains),
        (say("Check the label:"), labels.check),
        (say("Usual, and by our own list not in ours:"), labels.left_out),
    )
    said = ["nn"]
    for title, group in groups:
        if group:
            named = (f"{each.allergen} ({', '.join(each.ingredients)})" for each in group)
            said += [title, ", ".join(named)]
    if labels.unknown:
        said += [*labels.unknown, say("unknown: read its label")]
    elif not labels.contains:
        said.append(say("No listed ingredient is itself one of the allergens that we look for."))
    return " ".join((*said, say("Read every label.")))


def apart_line(texts: Texts) -> str:
    """What keeps a table's own food apart, as its children read it."""
    return texts.say(
        "Allergen swap: own bowl, pan, spoon, cloth. Nothing moves to or from us. If it did: "
        "tell an adult."
    )


_NOT_ON_TABLE = (
    Tool.HEAT_SOURCE,
    Tool.STOVE,
    Tool.OVEN,
    Tool.GRIDDLE,
    Tool.COLD_PLACE,
    Tool.COOLER,
    Tool.SINK,
    Tool.TOWEL,
)


def tools_text(place: CardPlace, texts: Texts) -> str:
    """What lies ready at this place, in the order of the steps; a board for each kind of food."""
    found: dict[str, None] = {}
    for step in place.dish.recipe.steps:
        if step.number not in place.own:
            continue
        for need in step.needs:
            kinds = need.tool.kinds if need.tool else frozenset()
            is_board = Tool.BOARD in kinds
            if not kinds.isdisjoint(_NOT_ON_TABLE) or (Tool.SURFACE in kinds and not is_board):
                continue
            board = place.boards.get(step.number) if is_board else None
            said = texts.say(need.name) if board is None else board_text(board.value, texts)
            found[said] = None
    return ", ".join(found)


def board_text(board: str, texts: Texts) -> str:
    """The mark on one of the two boards."""
    return texts.say("RAW board") if board == "raw" else texts.say("READY board")


def standing_text(kind: Kind, has_raw: bool, texts: Texts) -> str:
    """A job for the whole session, as what somebody does at a table with raw food or without."""
    match kind:
        case Kind.READ:
            return texts.say("reads each step aloud")
        case Kind.WATCH:
            # The other tables have raw food: nothing of theirs comes here.
            return texts.say("keeps raw apart") if has_raw else texts.say("watches our spoon")
        case Kind.SET:
            return texts.say("sets the table")
        case _:
            return texts.say("leads the cleaning up")
