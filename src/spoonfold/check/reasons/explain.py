"""One code explained: what is looked for, why, by which source, and how to satisfy it."""

from __future__ import annotations

import difflib
from dataclasses import dataclass

from spoonfold.check.all import RULES
from spoonfold.check.reasons import REASONS
from spoonfold.check.reasons.amounts import AMOUNTS
from spoonfold.check.reasons.files import FILES
from spoonfold.check.reasons.output import OUTPUT
from spoonfold.check.reasons.pages import PAGES
from spoonfold.check.reasons.values import VALUES

_SHOWN = "`spoonfold check` shows each line that it found, with what to write instead."
_PRINTED = "`spoonfold build` names the sheet and what is longest on it."
_READING = (
    (FILES, "Whether a file can be read at all, and stands where it belongs."),
    (PAGES, "How a recipe, its steps, a lesson or an accepted warning is written."),
    (VALUES, "What may stand behind a key of a header or of a YAML file."),
    (AMOUNTS, "How an amount, a time or a temperature is written."),
    (OUTPUT, "Whether a sheet fits on its paper, once it is printed."),
)
_SUMS = "Whether the amounts that the steps take make up the amounts of the list."
_HOUSE = "common practice, or how Spoonfold works"


@dataclass(frozen=True, slots=True)
class Explanation:
    """What `spoonfold why` says of a code."""

    code: str
    looks_for: str
    why: str
    source: str
    mend: str


def explain(code: str) -> Explanation | None:
    """The explanation of a code; None where no problem has that code."""
    reason = REASONS.get(code)
    if reason is None:
        return None
    rule = next((rule for rule in RULES if rule.code == code), None)
    if rule is None:
        looks_for = next(text for table, text in _READING if code in table)
        mend = ""
    else:
        # The rules of the sums share one function, which only passes on what they found.
        said = _SUMS if rule.run.__name__ == "run" else (rule.run.__doc__ or "")
        looks_for, mend = " ".join(said.split("\n\n", 1)[0].split()), rule.mend
    return Explanation(
        code,
        looks_for,
        reason.why,
        reason.source or _HOUSE,
        f"{mend} {_PRINTED if code in OUTPUT else _SHOWN}".strip(),
    )


def near_codes(code: str, count: int = 3) -> tuple[str, ...]:
    """The codes that are spelt most like it, best first."""
    return tuple(difflib.get_close_matches(code.casefold(), REASONS, n=count, cutoff=0.55))
