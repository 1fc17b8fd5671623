"""Cautions as they stand beside their step, in whole sentences."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from spoonfold.knowledge.cautions import ADULT, CAUTIONS
from spoonfold.language.texts import Texts
from spoonfold.model.recipe import Step, Term
from spoonfold.model.translation import Foreign

_ENDS = ".!?…。！？؟۔।†"
"""What ends a sentence, in any script that we print."""


@dataclass(frozen=True, slots=True)
class CautionView:
    """A caution beside its step."""

    icon: str
    title: str
    """What stands out: `Sharp edge.`, or the beginning of the sentence: `An adult`."""
    text: str


def cautions_of(step: Step, texts: Texts) -> tuple[CautionView, ...]:
    """Every caution of a step in full, then every adult's job."""
    return (
        *(_caution(term, texts) for term in step.watch),
        *(_adult(term, texts) for term in step.adult),
    )


def with_all(steps: Sequence[Step]) -> Step:
    """A step in the versions of several tables with what is to be watched in any: who is told of
    one version is warned of none else. Of two temperatures it has the higher."""

    def together(terms: Iterable[Term]) -> tuple[Term, ...]:
        found: dict[str, Term] = {}
        for term in terms:
            found.setdefault(term.text.casefold(), term)
        return tuple(found.values())

    heats = [step.heat for step in steps if step.heat is not None]
    return replace(
        steps[0],
        watch=together(term for step in steps for term in step.watch),
        adult=together(term for step in steps for term in step.adult),
        wash=together(term for step in steps for term in step.wash),
        heat=max(heats, key=lambda heat: heat.fahrenheit, default=None),
    )


def _caution(term: Term, texts: Texts) -> CautionView:
    known = CAUTIONS.get(term.text.casefold())
    title = sentence(texts.say(term.text))
    if known is None:
        return CautionView("caution", "", title)
    return CautionView(known.icon, title, texts.say(known.text))


def _adult(term: Term, texts: Texts) -> CautionView:
    """A named job in its own words, a free one after the word that says whose it is."""
    known = ADULT.get(term.text.casefold())
    who = texts.say("An adult")
    job = sentence(texts.say(known.text) if known else texts.say("An adult {job}", job=term.text))
    if job.startswith(f"{who} "):
        return CautionView("adult", who, job.removeprefix(f"{who} "))
    return CautionView("adult", "", job)


def sentence(note: str) -> str:
    """A note as a sentence: a capital first, a full stop last."""
    text = note.strip()
    if not text:
        return ""
    said = text[0].upper() + text[1:] + ("" if text[-1] in _ENDS else ".")
    return note.changed(said) if isinstance(note, Foreign) else said
