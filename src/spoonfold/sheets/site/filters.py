"""What a list of dishes can be narrowed by: an allergen, a colour, a skill, time, a country."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.language.amounts import minutes_text
from spoonfold.language.calendar import country_text
from spoonfold.language.texts import Texts
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Recipe
from spoonfold.model.teaching import Skill
from spoonfold.plan.clock.at_home import home_time
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
    """Allergens that an ingredient surely brings, optional ones too."""
    is_known: bool
    """Whether the pantry knows all that goes into it; if not, it is without nothing."""
    colours: tuple[Choice, ...]
    skills: tuple[Choice, ...]
    countries: tuple[Choice, ...]
    minutes: int
    """At home, one step after the other; 0 where no step says."""

    @property
    def data(self) -> Mapping[str, object]:
        """The same for the page's script."""
        return {
            "contains": [each.value for each in self.contains],
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
    counts: tuple[str, ...]
    """What is said of 0, 1, 2 ... dishes that are left."""

    @property
    def is_empty(self) -> bool:
        """Whether nothing would be narrowed."""
        return not (self.without or self.colours or self.skills or self.times or self.countries)


def traits_of(
    recipe: Recipe, pantry: Pantry, skills: Mapping[str, Skill], colours: Bar, texts: Texts
) -> Traits:
    """By the pantry, the steps and the header of one dish."""
    items = [pantry.find(each.name) for each in recipe.ingredients]
    allergens = sorted({name for item in items if item for name in item.allergens})
    used = dict.fromkeys(term.text for step in recipe.steps for term in step.skills)
    return Traits(
        contains=tuple(Choice(name, texts.say(name)) for name in allergens),
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
        minutes=int(home_time(recipe, recipe.serves).whole),
    )


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
        without=_by_label(choice for each in dishes for choice in each.contains)
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
        counts=tuple(
            str(texts.count("1 dish fits.", "{number} dishes fit.", number))
            for number in range(len(dishes) + 1)
        ),
    )


def _by_label(choices: Iterable[Choice]) -> tuple[Choice, ...]:
    return tuple(sorted(set(choices), key=lambda each: (each.label.casefold(), each.value)))


def _several(choices: Iterable[Choice]) -> tuple[Choice, ...]:
    found = tuple(choices)
    return found if len(found) > 1 else ()
