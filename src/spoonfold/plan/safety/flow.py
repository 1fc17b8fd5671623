"""The way of a raw food through the steps: where it goes in, who touches it, where it is cooked.

Steps are followed along `after`. A food that lies aside while another thing is done isn't
touched: a step that doesn't speak of it is passed over where another one at the heat does.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property, lru_cache
from itertools import dropwhile

from spoonfold.kitchen.actions import Action, Called, ReadSteps
from spoonfold.kitchen.lexicon import english
from spoonfold.kitchen.mentions import Foods, Taken
from spoonfold.kitchen.nouns import derived
from spoonfold.kitchen.reading import Sentence, sentences_of
from spoonfold.kitchen.understanding import read_steps
from spoonfold.knowledge.dangers import keeps_warm, spoils_open
from spoonfold.knowledge.names import singulars
from spoonfold.knowledge.step_words import step_words
from spoonfold.model.pantry import Item, Pantry
from spoonfold.model.recipe import Ingredient, Recipe, Step, words_in
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.clock.step_order import Order
from spoonfold.plan.safety.ledger import Ledger, Nature, Noted, heats_food
from spoonfold.plan.safety.limits import FROZEN_VEGETABLES, RAW_NEEDS, REHEATED
from spoonfold.plan.safety.needs import replaced
from spoonfold.plan.safety.words import (
    boils,
    done_shellfish,
    firm_egg,
    flaky_fish,
    heats_of,
    is_chilled,
    on_heat,
    speaks_of_it,
    speaks_of_mix,
    tokens_of,
)
from spoonfold.problem import Place
from spoonfold.quantity.temperature import Temperature

_NAME_WORD = re.compile(r"[^\W\d_]+")
FROZEN, LEFTOVER = "frozen", "leftover"
"""Not raw hazards of the pantry, but foods that need their heat like one."""
READY = "ready to eat"
"""In a preparation: the label says so."""

MEATS = frozenset(
    {"poultry", "ground poultry", "ground meat", "whole meat", "pork", "fish", "shellfish"}
)


@dataclass(frozen=True, slots=True)
class Hazard:
    """A food that must be cooked, at one of the steps where it goes in."""

    name: str
    kind: str
    """The pantry's word for the raw hazard, or `frozen` or `leftover`."""
    ingredient: Ingredient
    """The listed line whose steps it takes."""
    start: int
    least: Temperature | None
    place: Place
    """Its own line: the list's, or the swap's."""
    swap: bool = False


@dataclass(frozen=True, slots=True)
class Journey:
    """Where a hazard is until it is cooked."""

    hazard: Hazard
    touched: tuple[int, ...]
    """Every step in which it is there, in order, up to its heat."""
    cooked: int | None
    """The step that reaches what it needs; None: none does."""
    tried: int | None
    """The step that says a temperature and falls short of it."""
    at_heat: int | None
    """The first step at anything hot."""
    last_at_heat: int | None
    """The last of them: what isn't browned but done is done there."""

    @property
    def handled(self) -> tuple[int, ...]:
        """Where hands and tools meet it: until it first comes to the heat."""
        handled = []
        for number in self.touched:
            handled.append(number)
            if number == self.at_heat:
                break
        return tuple(handled)


@dataclass(frozen=True)
class Flow:
    """All of this about one recipe."""

    recipe: Recipe
    uses: Uses
    pantry: Pantry

    @cached_property
    def steps(self) -> Mapping[int, Step]:
        """By number."""
        return {step.number: step for step in self.recipe.steps}

    @cached_property
    def order(self) -> Order:
        """By `after`."""
        return Order(self.recipe.steps)

    @cached_property
    def calls(self) -> Mapping[str, frozenset[str]]:
        """Every word that may mean an ingredient, by its key."""
        return {
            each.key: _calls(each.name, self.pantry.find(each.name))
            for each in self.recipe.ingredients
        }

    @cached_property
    def named(self) -> Mapping[int, frozenset[str]]:
        """Which ingredients the words of a step may mean, by their keys.

        Looser than the sums, which must not guess: “the chicken” is the chicken breast, though
        it takes nothing of it.
        """
        calls = self.calls
        said = {step.number: tokens_of(step.word_set) for step in self.recipe.steps}
        return {
            number: frozenset(key for key, names in calls.items() if names & words)
            for number, words in said.items()
        }

    @cached_property
    def sentences(self) -> Mapping[int, tuple[Sentence, ...]]:
        """What the words of each step say, by number."""
        return {number: sentences_of(step) for number, step in self.steps.items()}

    @cached_property
    def actions(self) -> ReadSteps:
        """What happens in each step, in English, by number."""
        taken = {
            number: tuple(Taken(use.ingredient.key, use.place, use.piece or "") for use in uses)
            for number, uses in self.uses.by_step.items()
        }
        lines = self.recipe.ingredients
        foods = Foods(
            listed={each.key: _singular_words(each.name) for each in lines},
            also={
                each.key: (self.calls[each.key] - _KINDS) | _families(self.item_of(each))
                for each in lines
            },
            taken=taken,
            known=self.pantry.words,
            shared=step_words("many foods") | _STATES,
        )
        return read_steps(self.order.sorted, self.order.direct, self.sentences, foods)

    @cached_property
    def heated(self) -> frozenset[str]:
        """The keys of all foods that the words put to the heat."""
        return frozenset(
            portion.key
            for read in self.actions.values()
            for each, source in heats_of(read.actions)
            if source
            for portion in each.foods | each.joined
        )

    @property
    def is_ordered(self) -> bool:
        """Whether any step says what it waits for."""
        return any(step.after is not None for step in self.steps.values())

    @cached_property
    def ledger(self) -> Ledger:
        """Where each food is along the steps, by the words in English."""
        natures = {each.key: _nature(each, self.pantry) for each in self.recipe.ingredients}
        notes = {
            number: Noted(is_chilled(step), on_heat(step)) for number, step in self.steps.items()
        }
        return Ledger(self.order.sorted, self.actions, natures, notes)

    @cached_property
    def raw(self) -> tuple[Journey, ...]:
        """Every raw food and every swap for one, at each step where it goes in."""
        return tuple(self.journey(each) for each in self._hazards(_raw_kind))

    @cached_property
    def frozen(self) -> tuple[Journey, ...]:
        """Frozen vegetables that no label calls ready to eat."""
        return tuple(self.journey(each) for each in self._hazards(_frozen_kind))

    @cached_property
    def leftovers(self) -> tuple[Journey, ...]:
        """What was cooked the day before and needs control of time and temperature."""
        return tuple(
            self.journey(
                Hazard(ingredient.name, LEFTOVER, ingredient, last, REHEATED, ingredient.place)
            )
            for ingredient, last in self.cooked_before
        )

    @cached_property
    def cooked_before(self) -> tuple[tuple[Ingredient, int], ...]:
        """Each such food with the last step of the day before that it is in."""
        found = []
        for number in self.order.sorted:
            step = self.steps[number]
            for use in self.uses.by_step.get(number, ()):
                item = self.pantry.find(use.ingredient.name)
                if step.when != "day before" or item is None or not _controlled(item):
                    continue
                chain = [
                    number,
                    *(
                        n
                        for n in self.order.sorted
                        if n in self.order.following[number] and self.steps[n].when == "day before"
                    ),
                ]
                if any(on_heat(self.steps[n]) for n in chain):
                    found.append((use.ingredient, chain[-1]))
        return tuple(found)

    def with_notes(self, recipe: Recipe) -> Flow:
        """The same dish with other notes under its steps. What its words say isn't read again;
        and where nothing but cautions, washing and adults came to them, the food goes its way as
        before."""
        other = Flow(recipe, self.uses, self.pantry)
        steps = other.steps.values()
        kept = set(_OF_WORDS)
        if all(
            one.after == step.after for one, step in zip(steps, self.steps.values(), strict=True)
        ):
            kept |= {"order", "actions"}
        if all(map(_goes_alike, steps, self.steps.values())):
            kept |= _OF_THE_WAY
        vars(other).update({name: found for name, found in vars(self).items() if name in kept})
        return other

    def in_other_words(self, recipe: Recipe) -> Flow:
        """The same dish where some steps say other words. What the others say isn't read again."""
        other = Flow(recipe, self.uses, self.pantry)
        vars(other)["sentences"] = {
            number: self.sentences[number] if step is self.steps[number] else sentences_of(step)
            for number, step in other.steps.items()
        }
        return other

    def item_of(self, ingredient: Ingredient) -> Item | None:
        """What the pantry knows of it."""
        return self.pantry.find(ingredient.name)

    def _hazards(self, kind_of: Callable[[Ingredient, Item], str | None]) -> list[Hazard]:
        pairs = [(each, each, False) for each in self.recipe.ingredients]
        pairs += [
            (old, swap.use, True)
            for swap in self.recipe.swaps
            for old in replaced(self.recipe, swap)
        ]
        hazards = []
        for listed, used, is_swap in pairs:
            item = _raw_like(used.name, self.pantry)
            kind = None if item is None else kind_of(used, item)
            if kind is None:
                continue
            least = RAW_NEEDS[kind].least if kind in RAW_NEEDS else FROZEN_VEGETABLES
            # What no step names goes in somewhere: nobody knows that it is cooked.
            starts = [use.step for use in self.uses.of(listed)] or self.order.sorted[:1]
            for start in dict.fromkeys(starts):
                hazards.append(Hazard(used.name, kind, listed, start, least, used.place, is_swap))
        return hazards

    def journey(self, hazard: Hazard) -> Journey:
        """Along the steps until the heat that it needs."""
        present, touched = {hazard.start}, [hazard.start]
        # What is left over had its first heat before; only the second one counts.
        again = hazard.kind == LEFTOVER
        cooked = hazard.start if not again and self.cooks(hazard, hazard.start) else None
        stopped = {cooked} - {None}
        for number in self.order.sorted:
            if number not in self.order.following[hazard.start]:
                continue
            if not any(n in present and n not in stopped for n in self.order.direct[number]):
                continue
            present.add(number)
            before = [n for n in touched if n in self.order.before[number]]
            if self._lies_aside(hazard, number, before):
                continue
            touched.append(number)
            if self.cooks(hazard, number):
                cooked = cooked or number
                stopped.add(number)
        tested = touched[1:] if again else touched
        tried = next(
            (
                n
                for n in tested
                if self.steps[n].heat is not None and not self._measures_another(hazard, n)
            ),
            None,
        )
        hot = [n for n in tested if on_heat(self.steps[n])]
        at_heat = next(iter(hot), None)
        end = cooked or tried or at_heat
        if end is not None:
            touched = [n for n in touched if n not in self.order.following[end]]
        # Where the words heat this food, not what is fried beside it afterwards.
        key = hazard.ingredient.key
        named = [
            n
            for n in hot
            if any(key in {p.key for p in each.foods} for each in self._heating(hazard, n))
        ]
        last = next(reversed(named or hot), None)
        return Journey(hazard, tuple(touched), cooked, None if cooked else tried, at_heat, last)

    def _lies_aside(self, hazard: Hazard, number: int, before: Sequence[int]) -> bool:
        step = self.steps[number]
        key = hazard.ingredient.key
        if key in self.named[number] or speaks_of_mix(step):
            return False
        own = any(use.ingredient.key != key for use in self.uses.by_step.get(number, ()))
        if speaks_of_it(step) and not own:
            return False
        # What was measured once and isn't named again may be on a plate: a later heat isn't its.
        if own and hazard.kind != LEFTOVER and any(self.steps[n].heat is not None for n in before):
            return True
        return any(
            n in self._before_heat and key in self.named[n]
            for n in self.order.following[hazard.start]
            if n != number and n not in self.order.before[number]
        )

    @cached_property
    def _before_heat(self) -> frozenset[int]:
        """The steps at anything hot, and all before them."""
        hot = {n for n, step in self.steps.items() if on_heat(step) or step.heat is not None}
        return frozenset(
            n for n in self.steps if n in hot or not hot.isdisjoint(self.order.following[n])
        )

    def cooks(self, hazard: Hazard, number: int) -> bool:
        """Whether a step gives it the heat that is published for it."""
        step = self.steps[number]
        if self._measures_another(hazard, number):
            return False
        if hazard.least is not None and step.heat is not None:
            return step.heat.fahrenheit >= hazard.least.fahrenheit
        if not on_heat(step):
            from_heat = any(on_heat(self.steps[n]) for n in self.order.direct[number])
            if hazard.kind == "egg" and from_heat and firm_egg(step):
                return True
            return hazard.least is None and step.heat is not None
        match hazard.kind:
            case "flour" | "sprouts":
                return True
            case "egg":
                return firm_egg(step) or any(
                    _firms_egg(each, self._floury, step.word_set)
                    for each in self._heating(hazard, number)
                )
            case "fish":
                return flaky_fish(step)
            case "shellfish":
                return done_shellfish(step)
            case "frozen":
                return boils(step) or any(map(_steams_through, self._heating(hazard, number)))
        return False

    def _measures_another(self, hazard: Hazard, number: int) -> bool:
        """Whether the words of a step tell the temperature of another food that they name, and
        this one is only put to it."""
        if "heat" in self.steps[number].notes:
            return False
        key = hazard.ingredient.key
        actions = self.actions[number].actions
        measured = [each for each in actions if each.degrees is not None and heats_food(each)]
        with_it = [each for each in actions if any(key == p.key for p in each.foods | each.joined)]
        return (
            bool(measured)
            and all(each.called is Called.BY_NAME and each not in with_it for each in measured)
            and any(with_it)
            and not any(map(heats_food, with_it))
        )

    @cached_property
    def _floury(self) -> frozenset[str]:
        """The keys of what makes a batter or dough: flours and what is sold made of them."""
        return frozenset(
            each.key
            for each in self.recipe.ingredients
            if "flour" in each.name.casefold()
            or ((item := self.item_of(each)) is not None and item.name in _DOUGHS)
        )

    def _heating(self, hazard: Hazard, number: int) -> list[Action]:
        """What a step does to a food at the heat, by its words."""
        key = hazard.ingredient.key
        mine = [
            each
            for each in self.actions[number].actions
            if any(portion.key == key for portion in each.foods | each.joined)
        ]
        # What is stirred or pushed about in the pan is still on the heat.
        return list(dropwhile(lambda each: not heats_food(each), mine))


_OF_WORDS = frozenset({"calls", "named", "sentences"})
_OF_THE_WAY = frozenset({"raw", "frozen", "leftovers", "cooked_before", "_before_heat"})
"""What is kept of a flow whose steps got other notes."""


_BOILED_HARD = Fraction(9)
"""Minutes in boiling water until yolk and white are firm; from memory."""
_IN_WATER = frozenset({"boil", "simmer", "poach"})
_DOUGH_BOILED = Fraction(2)
"""Minutes in boiling water, at 212 °F, until thin dough with egg is past the 158 °F at which the
Food Code (2017, 3-401.11) asks for less than a second; from memory."""
_DOUGHS = frozenset({"pastry", "puff pastry", "phyllo dough", "pie crust", "pizza dough"})
"""What is bought as dough, by its name in the pantry."""
_DRIED = Fraction(60)
"""Minutes in an oven until egg white is dry and crisp: FDA and FSIS on dry meringue."""
_THROUGH = Fraction(3)
"""Minutes until frozen vegetables steam; packets say so, from memory."""


def _firms_egg(action: Action, floury: frozenset[str], step: frozenset[str]) -> bool:
    """Whether egg is firm after it: by the words, by minutes in boiling water, or baked or boiled
    in a batter or dough until that is done; `step` holds all words of the step."""
    said = action.words | frozenset(action.until.split())
    groups = english().groups
    whole = {"yolk", "yolks"} & said and {"white", "whites"} & said
    still = not groups["stirs still"].isdisjoint(said) and {"no", "nothing", "neither"} & said
    if whole and still:
        return True
    if not groups["softly"].isdisjoint(said):
        return False
    if not groups["firm"].isdisjoint(said):
        return True
    has_flour = any(portion.key in floury for portion in action.foods | action.joined)
    if has_flour and _is_boiled(action):
        floats = not groups["floats"].isdisjoint(step) or {"come", "up"} <= step
        return floats or (action.minutes or 0) >= _DOUGH_BOILED
    if action.verb.name == "boil":
        return (action.minutes or 0) >= _BOILED_HARD
    dried = action.kind == "cook" and (action.minutes or 0) >= _DRIED
    if dried and not groups["crisp through"].isdisjoint(said):
        return True
    return has_flour and action.kind == "cook" and not groups["baked"].isdisjoint(said)


def _is_boiled(action: Action) -> bool:
    return action.verb.name in _IN_WATER or not action.words.isdisjoint(("boiling", "simmering"))


def _steams_through(action: Action) -> bool:
    said = action.words | frozenset(action.until.split())
    return (action.minutes or 0) >= _THROUGH or not said.isdisjoint(("steaming", "steams", "steam"))


def _goes_alike(one: Step, other: Step) -> bool:
    """Whether food goes its way through both."""
    return (one.needs, one.heat, one.when, one.after) == (
        other.needs,
        other.heat,
        other.when,
        other.after,
    )


@lru_cache(maxsize=1 << 11)
def _calls(name: str, item: Item | None) -> frozenset[str]:
    """Every word that may mean an ingredient of that name, in the singular."""
    texts = [name]
    if item is not None:
        texts += [item.name, *item.also, *(("fish",) if item.raw == "fish" else ())]
    found = tokens_of(word for text in texts for word in words_in(text.casefold()))
    # A word that many foods share says of none that it is meant.
    return (found - step_words("many foods")) or found


def _nature(line: Ingredient, pantry: Pantry) -> Nature:
    """What the pantry tells of it: Food Code 1-201.10, and a can once it is open."""
    item = _item_like(line.name, pantry)
    said = words_in(f"{line.name} {line.preparation or ''}".casefold())
    ready = not said.isdisjoint(_COOKED)
    if item is None:
        # What nobody knows may spoil where somebody cooked it.
        return Nature(line.name, spoils=ready)
    keeps = item.name in keeps_warm() or "cook frozen" in item.tags
    opened = item.section == "cans and jars" and bool(
        item.tags & {"animal", "cooked tcs"} or item.name in spoils_open()
    )
    cooked = "cooked tcs" in item.tags or item.section == "vegetables"
    return Nature(
        line.name,
        "" if ready else item.raw or "",
        not keeps
        and ("perishable" in item.tags or item.raw in MEATS or opened or (cooked and ready)),
        not keeps and cooked,
        "cut tcs" in item.tags,
    )


def _item_like(name: str, pantry: Pantry) -> Item | None:
    """What the pantry knows of a food, or of the same without a word that says how it comes."""
    found = pantry.find(name)
    words = name.split(" ")
    for begin in range(len(words)) if found is None else ():
        for end in range(len(words), begin, -1):
            found = pantry.find(" ".join(words[begin:end]))
            if found is not None:
                return found
    return found


def _raw_like(name: str, pantry: Pantry) -> Item | None:
    """The same, where nothing else in the name says that it was cooked, or is only made of the
    food."""
    found = pantry.find(name)
    if found is not None:
        return found
    found = _item_like(name, pantry)
    if found is None:
        return None
    others = words_in(name.casefold()) - words_in(" ".join((found.name, *found.also)).casefold())
    return found if others.isdisjoint(_COOKED | derived()) else None


_COOKED = frozenset({"cooked", "boiled", "leftover", "roasted", "canned", "smoked", "instant"})
_SECTIONS = {"fruit": "fruit", "vegetables": "vegetable", "herbs": "herb", "spices": "spice"}
_STATES = frozenset({"warm", "lukewarm", "boiling", "tepid", "tap", "iced"})
_KINDS = frozenset({*_SECTIONS.values(), "meat"})
"""Words for many foods, in the names of single ones: several vegetables are no vegetable oil."""


def _families(item: Item | None) -> frozenset[str]:
    """What a cook calls all foods of its kind."""
    if item is None:
        return frozenset()
    found = {_SECTIONS[item.section]} if item.section in _SECTIONS else set()
    return frozenset(found | ({"meat"} if item.raw in MEATS - {"fish", "shellfish"} else set()))


@lru_cache(maxsize=1 << 11)
def _singular_words(name: str) -> tuple[str, ...]:
    """The words of a name in order, each in the singular that it may be the plural of."""
    return tuple([*singulars(word)][-1] for word in _NAME_WORD.findall(name.casefold()))


def _raw_kind(ingredient: Ingredient, item: Item) -> str | None:
    return item.raw


def _frozen_kind(ingredient: Ingredient, item: Item) -> str | None:
    prepared = (ingredient.preparation or "").casefold()
    said = FROZEN in words_in(f"{ingredient.name.casefold()} {prepared}")
    if ingredient.amount is not None and ingredient.amount.unit.name in ("can", "jar"):
        return None
    frozen = "cook frozen" in item.tags or (said and "cooked tcs" in item.tags)
    return FROZEN if frozen and READY not in prepared else None


def _controlled(item: Item) -> bool:
    """Cooked, it needs control of time and temperature: Food Code 1-201.10."""
    return (
        "cooked tcs" in item.tags
        or ("animal" in item.tags and "perishable" in item.tags)
        or item.raw in MEATS
    )
