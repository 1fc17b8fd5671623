"""A translation says what the original says, line by line and step by step.

What only a build can tell of a language: whether its letters and fixed texts are there."""

from __future__ import annotations

from collections.abc import Container, Iterator
from itertools import pairwise

from spoonfold.check.known import did_you_mean
from spoonfold.check.rule import Facts, Rule, advice, error, warning
from spoonfold.knowledge.cautions import ADULT, CAUTIONS
from spoonfold.model.prose import Inline, Link, leaves
from spoonfold.model.recipe import Recipe, Step, Term
from spoonfold.model.translation import TranslatedStep, Translation
from spoonfold.problem import Place, Problem
from spoonfold.read.folder import CLASS_FILE


def without_font(language: str, name: str) -> Problem:
    """No font has the letters of this language, whose own name is given."""
    return error(
        "language-without-font",
        Place(CLASS_FILE),
        f"The fonts here have no letters for “{language}” ({name}).",
        "Put a font of that script into layouts/fonts/ and name it in layouts/look/, or leave the "
        "language out of `languages`.",
    )


def without_texts(language: str) -> Problem:
    """The fixed texts aren't translated into this language."""
    return advice(
        "fixed-texts-untranslated",
        Place(CLASS_FILE),
        f"What every sheet says alike isn't translated into “{language}”: headings, cautions and "
        "the names of allergens are in English there.",
        "Give such a sheet together with the English one, and read it aloud with someone who "
        "speaks both.",
    )


def _pairs(facts: Facts) -> Iterator[tuple[Recipe, Translation]]:
    """Originals with their translations, where both were read whole."""
    for (name, _), translation in facts.folder.translations.items():
        recipe = facts.folder.recipes.get(name)
        path = translation.place.path
        if recipe is not None and not facts.troubled & {path, recipe.place.path}:
            yield recipe, translation


def _step_pairs(facts: Facts) -> Iterator[tuple[Recipe, Step, TranslatedStep]]:
    """Steps with their translations, where there are as many."""
    for recipe, translation in _pairs(facts):
        if len(recipe.steps) == len(translation.steps):
            for step, other in zip(recipe.steps, translation.steps, strict=True):
                yield recipe, step, other


def ingredients_missing(facts: Facts) -> Iterator[Problem]:
    """Another number of ingredient lines."""
    for recipe, translation in _pairs(facts):
        wanted, got = len(recipe.ingredients), len(translation.ingredients)
        if wanted != got:
            first = translation.ingredients[0].place if got else translation.place
            yield error(
                "translation-ingredients",
                Place(first.path, first.line),
                f"The original lists {wanted} ingredients and this lists {got}, so the amounts "
                "would stand beside the wrong names.",
                "In the original's order: " + "; ".join(each.name for each in recipe.ingredients),
            )


def steps_missing(facts: Facts) -> Iterator[Problem]:
    """Another number of steps."""
    for recipe, translation in _pairs(facts):
        wanted, got = len(recipe.steps), len(translation.steps)
        if wanted != got:
            place = translation.steps[-1].place if got else translation.place
            yield error(
                "translation-steps",
                place,
                f"The original has {wanted} steps and this has {got}, so times and cautions would "
                "stand at the wrong ones.",
                "Give each step of the original one step here.",
            )


def groups_differ(facts: Facts) -> Iterator[Problem]:
    """A `###` heading that stands elsewhere."""
    for recipe, translation in _pairs(facts):
        if len(recipe.steps) != len(translation.steps):
            continue
        wanted = _starts([step.group for step in recipe.steps])
        got = _starts([step.group for step in translation.steps])
        if wanted != got:
            at = min(wanted ^ got)
            there = at in wanted
            yield error(
                "translation-groups",
                translation.steps[at].place,
                f"Before step {at + 1} the original has {'a' if there else 'no'} heading with ###"
                f", and this has {'none' if there else 'one'}.",
                "### …" if there else "Remove the heading.",
            )


def _starts(groups: list[str | None]) -> set[int]:
    """Where another group begins."""
    return {at + 1 for at, (one, two) in enumerate(pairwise(groups)) if one != two} | (
        {0} if groups and groups[0] is not None else set()
    )


def _links(text: tuple[Inline, ...]) -> list[Link]:
    return [
        leaf for leaf in leaves(text) if isinstance(leaf, Link) and leaf.address.startswith("#")
    ]


def link_unknown(facts: Facts) -> Iterator[Problem]:
    """A link to no ingredient of the original."""
    for recipe, translation in _pairs(facts):
        keys = [f"#{each.key}" for each in recipe.ingredients]
        for step in translation.steps:
            for link in _links(step.text):
                if link.address not in keys:
                    yield error(
                        "translation-link",
                        link.place,
                        f"`{link.address}` isn't an ingredient of {recipe.key}.md. Addresses stay "
                        "in the original's language.",
                        did_you_mean(
                            link.address,
                            keys,
                            "The ingredients are " + ", ".join(f"`{key}`" for key in keys) + ".",
                        ),
                    )


def link_differs(facts: Facts) -> Iterator[Problem]:
    """A link with a share that the original's step doesn't have."""
    for recipe, step, other in _step_pairs(facts):
        shares = [(link.address, link.title) for link in _links(step.text)]
        known = {f"#{each.key}" for each in recipe.ingredients}
        if not known.issuperset(address for address, _ in shares):
            continue  # The original's own link is broken; what it means isn't known yet.
        for link in _links(other.text):
            if link.address in known and (link.address, link.title) not in shares:
                same = [title for address, title in shares if address == link.address]
                hint = f'{link.address} "{same[0]}"' if same else "Write the words without a link."
                yield error(
                    "translation-share",
                    link.place,
                    f"Step {step.number} of the original doesn't use "
                    + (f"“{link.title}” of " if link.title else "all of ")
                    + f"`{link.address}`; two languages would give two amounts.",
                    hint,
                )


def note_untranslated(facts: Facts) -> Iterator[Problem]:
    """Free words of a note that only the original has."""
    for _, step, other in _step_pairs(facts):
        for name, free in (
            ("watch", _free(step.watch, CAUTIONS)),
            ("adult", _free(step.adult, ADULT)),
            *((name, (said,) if said else ()) for name, said in _single(step)),
        ):
            if len(other.notes.get(name, ())) < len(free):
                yield warning(
                    "note-untranslated",
                    other.place,
                    f"Step {step.number} has no translation of its note `{name}`: “{free[0]}”.",
                    f"    - {name}: …",
                )


def _single(step: Step) -> tuple[tuple[str, str | None], ...]:
    return (("easier", step.easier), ("home", step.home), ("done", step.done), ("card", step.card))


def _free(terms: tuple[Term, ...], named: Container[str]) -> tuple[str, ...]:
    return tuple(term.text for term in terms if term.text.casefold() not in named)


RULES = (
    Rule("translation-ingredients", ingredients_missing),
    Rule("translation-steps", steps_missing),
    Rule("translation-groups", groups_differ),
    Rule("translation-link", link_unknown),
    Rule("translation-share", link_differs),
    Rule("note-untranslated", note_untranslated),
)
