"""What the words of a step don't tell, beside food that can make a child ill: asked, not guessed.

A word that no list has, a tool or a place that isn't known, a degree without its unit, a word that
may tell of a danger or of nothing: what is done there may be right, and nobody can say so. Other
words answer, or a note; nothing else does.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain

from spoonfold.check.kitchen import heats, read_flows
from spoonfold.check.rule import Facts, Rule, error
from spoonfold.kitchen.actions import Portion, Unread
from spoonfold.kitchen.lexicon import english
from spoonfold.kitchen.reading import Sentence
from spoonfold.kitchen.vocabulary import says_how_much, strange
from spoonfold.kitchen.wordings import longest_said
from spoonfold.knowledge.doubts import Beside, Doubt, doubts
from spoonfold.knowledge.equipment import Kind, tool_named
from spoonfold.model.recipe import words_in
from spoonfold.plan.safety.flow import MEATS, Flow
from spoonfold.plan.safety.ledger import heats_food
from spoonfold.plan.safety.words import cuts
from spoonfold.problem import Place, Problem

_RISKY = MEATS | {"egg"}
_WORK = frozenset({"cut", "grind", "mix", "shape", "wash", "soak", "wet", "cook", "warm", "cold",
                   "measure", "cover", "open"})  # fmt: skip
_SHARP = frozenset({Kind.BLADE, Kind.KNIFE, Kind.MOVING_BLADE})


def _is_blade(word: str) -> bool:
    tool = tool_named(word)
    return word in ("blade", "blades") or (tool is not None and not tool.kinds.isdisjoint(_SHARP))


def not_understood(facts: Facts) -> Iterator[Problem]:
    """Words beside raw, spoiling or hot food that aren't understood."""
    for flow in read_flows(facts):
        own = _own_words(facts, flow)
        for number in flow.order.sorted:
            told: set[Place] = set()
            risks = _Risks(flow, number)
            for problem in chain(
                _unread(flow, number, risks),
                _strange(risks, own),
                _doubted(risks),
                _reheated(flow, number),
            ):
                if problem.place not in told:
                    told.add(problem.place)
                    yield problem


class _Risks:
    """What can make somebody ill, or hurt, in a step: asked for only where a word is doubtful."""

    def __init__(self, flow: Flow, number: int) -> None:
        self.flow, self.number = flow, number
        self.sentences: Sequence[Sentence] = flow.sentences[number]
        self._found: dict[Beside, str] = {}

    def food(self) -> str:
        """A raw food in the step, else one that spoils; empty: neither."""
        flow, number = self.flow, self.number
        for journey in flow.raw:
            if journey.hazard.kind in _RISKY and number in journey.touched:
                return _raw(journey.hazard.name)
        stays = flow.ledger.stays[number]
        for stay in stays:
            if stay.is_raw and stay.nature.raw in _RISKY:
                return _raw(stay.nature.name)
        return next((stay.nature.name for stay in stays if stay.spoils), "")

    def any(self) -> str:
        """Whatever there is; empty: nothing."""
        order = (Beside.MET_RAW, Beside.RAW_INSIDE, Beside.HEAT, Beside.BLADE)
        return self.food() or next((found for each in order if (found := self.of(each))), "")

    def of(self, beside: Beside) -> str:
        """What there is of one kind, as a problem names it; empty: nothing."""
        if beside not in self._found:
            self._found[beside] = self._look(beside)
        return self._found[beside]

    def _look(self, beside: Beside) -> str:
        flow, number = self.flow, self.number
        step = flow.steps[number]
        match beside:
            case Beside.MET_RAW:
                for journey in flow.raw:
                    start = journey.hazard.start
                    if journey.hazard.kind in MEATS and (
                        number == start or number in flow.order.following[start]
                    ):
                        return _raw(journey.hazard.name)
            case Beside.RAW_INSIDE:
                for journey in flow.raw:
                    if journey.hazard.kind != "sprouts" and number in journey.handled:
                        return _raw(journey.hazard.name)
            case Beside.SPOILS:
                before = chain.from_iterable(
                    flow.ledger.stays[n] for n in flow.order.direct[number]
                )
                last = {
                    stay.portion: stay for stay in chain(before, flow.ledger.stays[number])
                }.values()
                own = {stay.portion.key for stay in flow.ledger.stays[number]}
                # Spoken of, though nothing that is understood is done to it.
                spoken = (
                    _raw(each.hazard.name)
                    for each in flow.raw
                    if each.hazard.kind in MEATS
                    and each.hazard.start == number
                    and each.hazard.ingredient.key not in own
                )
                return next((each.nature.name for each in last if each.spoils), next(spoken, ""))
            case Beside.HEAT:
                hot = any(heats(flow, n) for n in (number, *flow.order.direct[number]))
                return "hot food" if hot else ""
            case Beside.BLADE:
                blade = step.has(Kind.BLADE, Kind.KNIFE) or cuts(step)
                return "a blade" if blade or any(map(_is_blade, step.word_set)) else ""
            case Beside.ANYTHING:
                return "food"
        return ""


def _raw(name: str) -> str:
    return f"raw {name.removeprefix('raw ')}"


def _own_words(facts: Facts, flow: Flow) -> frozenset[str]:
    """What foods, the dish and the class call things."""
    recipe, folder = flow.recipe, facts.folder
    lines = (*recipe.ingredients, *(swap.use for swap in recipe.swaps))
    texts = [recipe.title, *(f"{each.name} {each.preparation or ''}" for each in lines)]
    for word in folder.words.values():
        texts += [word.term, *word.forms]
    return words_in("\n".join(texts).casefold().replace("-", " ")) | folder.pantry.words


def _unread(flow: Flow, number: int, risks: _Risks) -> Iterator[Problem]:
    unread = flow.actions[number].unread
    risk = risks.food() if unread else ""
    for each in unread if risk else ():
        if _matters(flow, number, each, risk):
            yield _asked(number, each, risk)


def _matters(flow: Flow, number: int, unread: Unread, risk: str) -> bool:
    match unread.sort:
        case "degrees":
            return not any(_has_degrees(flow, number))
        case "place":
            return not says_how_much(unread.word)
        case "verb":
            return True
        case _:
            return risk.startswith("raw ")


def _has_degrees(flow: Flow, number: int) -> Iterator[bool]:
    yield flow.steps[number].heat is not None
    for action in flow.actions[number].actions:
        yield action.degrees is not None and heats_food(action)


def _strange(risks: _Risks, own: frozenset[str]) -> Iterator[Problem]:
    """Words that no list has: the first one of each sentence."""
    for sentence in risks.sentences:
        at = next(strange(sentence.words, own), None)
        if at is not None and risks.any():
            unread = Unread(sentence.words[at], sentence.places[at], "word")
            yield _asked(risks.number, unread, risks.any())


def _doubted(risks: _Risks) -> Iterator[Problem]:
    """Words that may tell of a danger or of nothing."""
    flow = risks.flow
    for doubt in doubts():
        for sentence in risks.sentences:
            met = _met(doubt, sentence)
            if met is None or not risks.of(doubt.beside):
                continue
            if doubt.idle and not sentence.kinds.isdisjoint(_WORK):
                continue
            if doubt.dish is not None and not _is_of(flow, doubt):
                continue
            place, words = met
            said = doubt.ask.format(words=words, risk=risks.of(doubt.beside))
            yield error(
                "not-understood",
                place,
                f"In step {risks.number} {said}: whether it is safe can't be told.",
                doubt.write,
            )


_REHEATED = frozenset({"cooked", "leftover", "leftovers"})


def _reheated(flow: Flow, number: int) -> Iterator[Problem]:
    """Food that was cooked before and is heated again, where nothing says that it gets hot."""
    if number in {each.tried or each.at_heat for each in flow.leftovers}:
        return
    # “Give it a minute in the microwave”: what “it” is may be read wrong.
    heated = any(map(heats_food, flow.actions[number].actions))
    for stay in flow.ledger.stays[number]:
        name = words_in(stay.nature.name.casefold())
        if not stay.spoils or _REHEATED.isdisjoint(name) or not heated:
            continue
        later = (number, *flow.order.following[number])
        if not any(_gets_hot(flow, n, stay.portion) for n in later):
            yield error(
                "not-understood",
                stay.action.place,
                f"Step {number} heats {stay.nature.name} again, and the words don't say how hot it "
                "gets: whether it is safe can't be told.",
                "Write: “until it steams all through and reaches 165 °F”.",
            )
            return


def _gets_hot(flow: Flow, number: int, portion: Portion) -> bool:
    """Whether a step heats it until it boils, steams or is measured, or for long."""
    step = flow.steps[number]
    if step.heat is not None or not english().groups["gets hot"].isdisjoint(step.word_set):
        return True
    return any(
        heats_food(each)
        and portion in each.foods | each.joined
        and (each.kind == "wet" or (each.minutes or 0) >= _HOT_AFTER)
        for each in flow.actions[number].actions
    )


_HOT_AFTER = 10
"""Minutes in an oven or a pan until a dish steams all through; from memory."""


def _met(doubt: Doubt, sentence: Sentence) -> tuple[Place, str] | None:
    """What is asked about in a sentence, and where it stands."""
    if not doubt.clause:
        met = doubt.met(sentence.words, sentence.introduction)
        return None if met is None else (sentence.places[met[0]], met[1])
    for at, clause in enumerate(sentence.clauses):
        met = doubt.met((*clause.words, *clause.tail))
        # “That evening, drain them”: when it is done, and what went before has its own time.
        leads = (
            at == 0
            and clause.verb is None
            and len(sentence.clauses) > 1
            and longest_said(clause.words) is None
        )
        if met is not None and not leads:
            return sentence.run.place(clause.offsets[met[0]]), met[1]
    return None


def _is_of(flow: Flow, doubt: Doubt) -> bool:
    """Whether the dish is one that a doubt is about."""
    assert doubt.dish is not None
    texts = (flow.recipe.title, *(each.name for each in flow.recipe.ingredients))
    said = chain.from_iterable(flow.sentences.values())
    return any(doubt.dish.at(text.casefold().split()) is not None for text in texts) or any(
        doubt.dish.at(each.words) is not None for each in said
    )


_WHAT = {
    "verb": ("isn't a word for something that is done that Spoonfold knows",
             "Say it with a plainer word (cut, mix, put, fry, bake ...)."),
    "place": ("isn't a vessel or a place that Spoonfold knows",
              "Name it plainly: a bowl, a plate, the table, the refrigerator, the oven."),
    "thing": ("isn't a tool that Spoonfold knows",
              "Name it plainly: a knife, a spoon, tongs, a clean plate."),
    "word": ("isn't a word that Spoonfold knows",
             "Say it in plainer words. If it only names something or says how it looks, explain it "
             "in content/words.yaml."),
    "degrees": ("has no unit, and could be °F or °C", "Write its unit: “165 °F”."),
}  # fmt: skip


def _asked(number: int, unread: Unread, risk: str) -> Problem:
    what, write = _WHAT[unread.sort]
    return error(
        "not-understood",
        unread.place,
        f"Step {number} handles {risk}, and “{unread.word}” {what}: whether it is safe can't be "
        "told.",
        write,
    )


RULES = (Rule("not-understood", not_understood, of_one=True),)
