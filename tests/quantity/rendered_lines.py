"""A read line or a refusal as the lines of text that `lines.txt` holds."""

from __future__ import annotations

from spoonfold.quantity.grammar import Line, Refusal
from spoonfold.quantity.show import show_amount


def rendered(text: str, result: Line | Refusal) -> list[str]:
    """What was read, one fact a line; a refusal with its hint, a line of it a line."""
    if isinstance(result, Refusal):
        hints = [] if result.instead is None else result.instead.split("\n")
        where = text[result.offset : result.offset + 12].strip()
        return [
            f"refused: {result.code} at {where}",
            f"why: {result.why}",
            *(f"instead: {hint}" for hint in hints),
        ]
    facts = {
        "amount": result.amount and show_amount(result.amount),
        "second": result.second and show_amount(result.second),
        "name": result.name,
        "prepared": result.preparation,
        "as needed": result.as_needed,
        "optional": "yes" if result.optional else None,
    }
    return [f"{key}: {value}" for key, value in facts.items() if value]
