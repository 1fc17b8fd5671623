"""The slip that comes with pages to fold: how to print, fold and staple them."""

from __future__ import annotations

from dataclasses import dataclass

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Paper
from spoonfold.plan.folding import LEAF, sheets_to_fold


@dataclass(frozen=True, slots=True)
class FoldStep:
    """One thing to do, with its picture."""

    figure: str
    """Which picture."""
    alt: str
    """The same as words for who doesn't see it."""
    title: str
    text: str


@dataclass(frozen=True, slots=True)
class FoldSlip:
    """How a booklet of some pages is made from sheets of paper."""

    language: str
    direction: str
    class_name: str
    for_whom: str
    paper: Paper
    pages: int
    sheets: int
    counted: str
    """Pages and sheets as a sentence."""
    steps: tuple[FoldStep, ...]
    creep: str
    """What was done about the thickness of the paper."""


def fold_slip(class_name: str, for_whom: str, paper: Paper, pages: int, texts: Texts) -> FoldSlip:
    """The slip of a booklet of so many pages on that paper."""
    say, sheets = texts.say, sheets_to_fold(pages)
    return FoldSlip(
        language=texts.language,
        direction=texts.direction,
        class_name=class_name,
        for_whom=for_whom,
        paper=paper,
        pages=pages,
        sheets=sheets,
        counted=texts.count(
            "{pages} pages on 1 sheet of paper.",
            "{pages} pages on {number} sheets of paper.",
            sheets,
            pages=pages,
        ),
        steps=(
            FoldStep(
                "flip",
                say("A wide sheet turns over its short edge."),
                say("Print it on both sides"),
                say(
                    "Choose two-sided, flip on short edge, and actual size. Try one copy "
                    "first: page 2 must stand behind the cover."
                ),
            ),
            FoldStep(
                "fold",
                say("A pile of sheets, folded in the middle."),
                say("Fold"),
                say(
                    "Lay the sheets on each other as they come, with the cover at the "
                    "bottom, facing down. Fold all of them in the middle and press the fold "
                    "flat."
                ),
            ),
            FoldStep(
                "staple",
                say("Two staples in the fold."),
                say("Staple twice"),
                say(
                    "Put two staples into the fold from outside with a long-arm stapler, or "
                    "sew it through. Press the points flat."
                ),
            ),
        ),
        creep=say(
            "Inner sheets are pushed out by the ones around them. So each sheet is printed "
            "{leaf} mm nearer to the fold than the one around it: the thickness of copier "
            "paper.",
            leaf=f"{float(LEAF):g}",
        ),
    )


def folded_name(booklet: str) -> str:
    """The file of a booklet to fold, by the one of its pages."""
    return f"{booklet.removesuffix('.pdf')}-to-fold.pdf"
