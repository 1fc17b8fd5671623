"""What a list of dishes can be narrowed by: an allergen, a colour, a skill, time, a country."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.language.amounts import minutes_text
from spoonfold.language.calendar import country_text
from spoonfold.language.texts import Texts
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Recipe
from spoonfold.model.teaching import Skill
from spoonfold.plan.clock.at_home import home_time
from spoonfold.plan.safety.avoid import Match, finding_of
from spoonfold.plan.safety.needs import left_with, swaps_of
from spoonfold.read.pantry import ALLERGENS
from spoonfold.sheets.colours import Bar

_SEEN = Fraction(1, 20)
"""Of a dish's weight: less of a colour nobody sees on the plate (common practice)."""

_TIMES = (20, 30, 45, 60, 90, 120)
"""Minutes to choose from."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing to choose."""

    value: str
    label: str


@dataclass(frozen=True, slots=True)
class Traits:
    """What one dish is chosen by."""

    contains: tuple[Choice, ...]
    """Allergens that an ingredient surely brings, optional ones too, and that no swap takes out."""
    swapped: Mapping[Choice, tuple[str, ...]]
    """Allergens that swaps take out of every food that has them, and what the replacements
    themselves may bring."""
    by_label: tuple[Choice, ...]
    """Allergens that only the labels tell of."""
    is_known: bool
    """Whether the pantry knows all that goes into it; if not, it is without nothing."""
    colours: tuple[Choice, ...]
    skills: tuple[Choice, ...]
    countries: tuple[Choice, ...]
    minutes: int
    """At home, one step after the other, with all waiting; 0 where no step says, and where it is
    begun the day before: such a dish is ready in no evening's time."""

    @property
    def data(self) -> Mapping[str, object]:
        """The same for the page's script."""
        return {
            "has": [each.value for each in self.contains],
            "swap": {each.value: brought for each, brought in self.swapped.items()},
            "label": [each.value for each in self.by_label],
            "known": self.is_known,
            "colour": [each.value for each in self.colours],
            "skill": [each.value for each in self.skills],
            "country": [each.value for each in self.countries],
            "minutes": self.minutes,
        }


@dataclass(frozen=True, slots=True)
class Filters:
    """All that there is to choose from; a kind with fewer than two choices is left out."""

    without: tuple[Choice, ...]
    colours: tuple[Choice, ...]
    skills: tuple[Choice, ...]
    times: tuple[Choice, ...]
    countries: tuple[Choice, ...]
    texts: Mapping[str, object]
    """For the page's script: what is said of the dishes that are left, and of one of them."""

    @property
    def is_empty(self) -> bool:
        """Whether nothing would be narrowed."""
        return not (self.without or self.colours or self.skills or self.times or self.countries)


def traits_of(
    recipe: Recipe, pantry: Pantry, skills: Mapping[str, Skill], colours: Bar, texts: Texts
) -> Traits:
    """By the pantry, the steps and the header of one dish."""
    items = [pantry.find(each.name) for each in recipe.ingredients]
    sure = sorted({name for item in items if item for name in item.allergens})
    swapped = {
        name: _brought(recipe, name, pantry)
        for name in sure
        if recipe.swaps and not left_with(recipe, name, pantry)
    }
    # What the author's own pantry.yaml says that a food hasn't, and it usually has, is looked for.
    doubted = {
        name
        for item in items
        if item
        for name in (*item.check_label, *item.taken_away)
        if name in ALLERGENS and name not in sure
    }
    time = home_time(recipe, recipe.serves)
    used = dict.fromkeys(term.text for step in recipe.steps for term in step.skills)
    return Traits(
        contains=tuple(Choice(name, texts.say(name)) for name in sure if name not in swapped),
        swapped={Choice(name, texts.say(name)): brought for name, brought in swapped.items()},
        by_label=tuple(Choice(name, texts.say(name)) for name in sorted(doubted)),
        is_known=None not in items,
        colours=tuple(
            Choice(each.pattern, each.name) for each in colours.segments if each.share >= _SEEN
        ),
        skills=tuple(Choice(key, skills[key].name) for key in used if key in skills),
        countries=tuple(
            Choice(code, name)
            for code in recipe.countries
            if (name := country_text(code, texts.language))
        ),
        minutes=0 if time.starts_before else math.ceil(time.whole),
    )


def _brought(recipe: Recipe, allergen: str, pantry: Pantry) -> tuple[str, ...]:
    """The other allergens that what replaces the foods with this one surely or perhaps has."""
    replacements = (
        pantry.find(swap.use.name)
        for each in recipe.ingredients
        if finding_of(pantry.find(each.name), allergen, pantry) is Match.CERTAIN
        for swap in swaps_of(recipe, each)
        if finding_of(pantry.find(swap.use.name), allergen, pantry) is not Match.CERTAIN
    )
    brought = {
        name for item in replacements if item for name in (*item.allergens, *item.check_label)
    }
    return tuple(sorted(brought - {allergen}))


def filters_of(dishes: Sequence[Traits], texts: Texts) -> Filters:
    """Everything that tells some of the dishes from the others."""
    longest = max((each.minutes for each in dishes), default=0)
    times = [
        minutes
        for minutes in _TIMES
        if any(0 < each.minutes <= minutes for each in dishes) and minutes < longest
    ]
    return Filters(
        # One dish alone is nothing to choose among.
        without=_by_label(
            choice for each in dishes for choice in (*each.contains, *each.swapped, *each.by_label)
        )
        if len(dishes) > 1
        else (),
        colours=_several(dict.fromkeys(choice for each in dishes for choice in each.colours)),
        skills=_several(_by_label(choice for each in dishes for choice in each.skills)),
        times=tuple(
            Choice(
                str(minutes),
                texts.say("up to {minutes}", minutes=minutes_text(Fraction(minutes), texts)),
            )
            for minutes in times
        ),
        countries=_several(_by_label(choice for each in dishes for choice in each.countries)),
        texts={
            "fits": _forms(
                lambda number: texts.count("1 dish fits.", "{number} dishes fit.", number),
                len(dishes),
            ),
            "label": _forms(
                lambda number: texts.count(
                    "1 dish only if the labels agree.",
                    "{number} dishes only if the labels agree.",
                    number,
                ),
                len(dishes),
            ),
            "swap": _forms(
                lambda number: texts.count(
                    "1 dish only with another food in place of one of its own.",
                    "{number} dishes only with another food in place of one of their own.",
                    number,
                ),
                len(dishes),
            ),
            "marks": {
                "label": texts.say("Only if the labels agree."),
                "swap": texts.say(
                    "Only with the swap that its page names, and if the labels agree."
                ),
            },
        },
    )


def _forms(said: Callable[[int], str], most: int) -> Mapping[str, object]:
    """What is said of 0, 1, 2 ... dishes: every form once, `#` for the number, and which form each
    number takes. A thousand sentences would be most of the page."""
    forms: dict[str, int] = {}
    which = [
        forms.setdefault(str(said(number)).replace(str(number), "#"), len(forms))
        for number in range(most + 1)
    ]
    return {"forms": list(forms), "which": which}


def _by_label(choices: Iterable[Choice]) -> tuple[Choice, ...]:
    return tuple(sorted(set(choices), key=lambda each: (each.label.casefold(), each.value)))


def _several(choices: Iterable[Choice]) -> tuple[Choice, ...]:
    found = tuple(choices)
    return found if len(found) > 1 else ()
