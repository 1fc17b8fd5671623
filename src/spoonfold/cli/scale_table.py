"""A scaled recipe as a table for a terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from fractions import Fraction

from spoonfold.language.amounts import amounts_text, off_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import HOME_MEASURING
from spoonfold.model.folder import ClassFolder
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.scale import Scaled, ScaledLine, scaled
from spoonfold.plan.amounts.tools import class_kitchen, kitchen_of
from spoonfold.plan.amounts.uses import Uses
from spoonfold.quantity.show import show_amount, show_number
from spoonfold.sheets.shared.amounts import ingredient_name, line_view

_HEADINGS = ("ingredient", "recipe", "exactly", "measure", "")
_GAP = 2


def scale_table(
    recipe: Recipe, uses: Uses, folder: ClassFolder, portions: Fraction, width: int
) -> str:
    """Every ingredient as listed, multiplied exactly, and as it is measured."""
    classroom = folder.classroom
    kitchen = kitchen_of(HOME_MEASURING) if classroom is None else class_kitchen(classroom.setting)
    size = scaled(recipe, uses, folder.pantry, kitchen, portions)
    texts = Texts("en")
    rows = [_row(line, size, folder, texts) for line in size.lines]
    head = (
        f"{recipe.title}: for {show_number(portions)} instead of {show_number(recipe.serves)}, "
        f"which is × {show_number(size.factor)}"
    )
    parts = [*textwrap.wrap(head, width), "", *_table([_HEADINGS, *rows], width)]
    if size.batches > 1:
        parts += ["", f"More than four times the recipe: cook it in {size.batches} batches."]
    if size.pan is not None:
        pan = size.pan
        parts += [
            "",
            f"The pan: {round(pan.area)} square inches at the same depth, such as "
            f"{pan.count} × {pan.pan.text}.",
        ]
    return "\n".join(parts)


def _row(line: ScaledLine, size: Scaled, folder: ClassFolder, texts: Texts) -> tuple[str, ...]:
    ingredient = line.ingredient
    name = ingredient_name(ingredient, line.amounts, folder.pantry.find(ingredient.name), texts)
    if line.exact is None:
        return (name, "as needed", "", "", "")
    listed = ingredient.amount
    exact = listed.times(size.factor) if listed else line.exact
    view = line_view(line, texts)
    notes = [note for note in view.notes if note != off_text(line.off, texts)]
    off = off_text(line.off, texts)
    return (
        name,
        show_amount(listed) if listed else "",
        show_amount(exact),
        amounts_text(line.amounts, texts),
        "; ".join([off, *notes] if off else notes),
    )


def _table(rows: Sequence[tuple[str, ...]], width: int) -> list[str]:
    """Columns as wide as they need be; the widest give way, and wrap, on a narrow terminal."""
    # A last column with nothing in it is no column.
    count = max(at + 1 for row in rows for at, cell in enumerate(row) if cell)
    rows = [row[:count] for row in rows]
    widths = [max(len(row[at]) for row in rows) for at in range(count)]
    room = width - _GAP * (count - 1)
    while sum(widths) > room:
        widest = max(range(count), key=lambda at: widths[at])
        widths[widest] -= 1
    lines = []
    for number, row in enumerate(rows):
        cells = [
            textwrap.wrap(cell, widths[at]) or [""] if widths[at] else [""]
            for at, cell in enumerate(row)
        ]
        for depth in range(max(map(len, cells))):
            lines.append(
                (" " * _GAP)
                .join(
                    (cell[depth] if depth < len(cell) else "").ljust(widths[at])
                    for at, cell in enumerate(cells)
                )
                .rstrip()
            )
        if number == 0:
            lines.append("-" * min(width, sum(widths) + _GAP * (count - 1)))
    return lines
