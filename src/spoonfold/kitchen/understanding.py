"""Reads the steps of a recipe as actions.

A verb takes what is named behind it; what nobody names is what was worked on last. “In”, “with”
and “over” say what a food comes together with; a list goes on behind a comma; a leading “in a
bowl” belongs to the command behind it. What stays open joins the last step: no food is left
behind.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from spoonfold.kitchen.actions import (
    Action,
    Called,
    Portion,
    ReadStep,
    ReadSteps,
    Tidy,
    ToolUse,
    Unread,
)
from spoonfold.kitchen.circumstances import (
    OVEN_FROM,
    circumstances_of,
    implied_by,
    is_another,
    is_pan,
    is_vessel,
    may_be_heated,
    temperatures_of,
)
from spoonfold.kitchen.drafts import Draft, Drafts
from spoonfold.kitchen.lexicon import Implied, Verb, english
from spoonfold.kitchen.mentions import Degrees, Foods, Mention, Speaking, degrees_in
from spoonfold.kitchen.nouns import Sort, waste
from spoonfold.kitchen.reading import Sentence
from spoonfold.kitchen.scene import Portions, Scene
from spoonfold.kitchen.wordings import longest_said

_TAKES_UNSAID = frozenset({"mix", "grind", "wet", "cook", "warm", "soak", "rest", "cold", "thaw",
                           "serve", "cover", "eat", "shape", "move", "cut"})  # fmt: skip
_OBJECTS = frozenset({Sort.TOOL, Sort.WARM, Sort.PLACE, Sort.COLD, Sort.HOT})
"""Nouns that a verb may be done to in place of a food."""
_HEATING = frozenset({"wet", "cook", "warm"})
_LONG = 30
"""Minutes that are worth saying of a food that lies there."""


def read_steps(
    order: Sequence[int],
    before: Mapping[int, Sequence[int]],
    sentences: Mapping[int, Sequence[Sentence]],
    foods: Foods,
) -> ReadSteps:
    """Every step of a recipe, read in an order in which each comes after those that it waits for;
    `before` names these."""
    reader = _Reader(foods)
    scenes: dict[int, Scene] = {}
    found: dict[int, ReadStep] = {}
    for number in order:
        scene = Scene.after([scenes[n] for n in sorted(before[number]) if n in scenes])
        found[number] = reader.step(number, sentences[number], scene)
        scenes[number] = scene
    return found


class _Reader:
    def __init__(self, foods: Foods) -> None:
        self._foods = foods
        self._drafts = Drafts(foods)
        self._portions: dict[str, list[Portion]] = {}
        """By key, those that were met so far."""

    def step(self, number: int, sentences: Sequence[Sentence], scene: Scene) -> ReadStep:
        """Reads one step and leaves the scene as it is after it."""
        if not sentences:
            return ReadStep(number, (), ())
        speaking = Speaking(self._foods, sentences[0].run, number)
        scene.source = scene.source_vessel = ""
        self._takes = {each.key: each for each in self._foods.taken.get(number, ())}
        actions: list[Action] = []
        unread: list[Unread] = []
        for sentence in sentences:
            drafts = list(self._drafts.of(sentence, speaking, unread))
            actions.extend(self._act(number, draft, scene) for draft in drafts)
            if not drafts:
                lies = self._lying(sentence, speaking)
                if lies is not None:
                    actions.append(self._act(number, lies, scene))
                else:
                    if actions:
                        at = max((n for n, each in enumerate(actions) if each.heat), default=-1)
                        actions[at] = _said_of(actions[at], sentence)
                    self._spoken_of(number, sentence, speaking, scene)
        return ReadStep(number, tuple(actions), tuple(unread))

    def _spoken_of(self, number: int, sentence: Sentence, speaking: Speaking, scene: Scene) -> None:
        """“Forgot the beef? It ...”: what nothing is done to yet is what “it” means."""
        if scene.last:
            return
        for clause in sentence.clauses:
            for mention in speaking.mentions(clause.words, clause.offsets, -1)[0]:
                if mention.keys:
                    scene.last = self._named(number, mention, scene)

    def _lying(self, sentence: Sentence, speaking: Speaking) -> Draft | None:
        """A sentence that tells nobody anything, but where or how long a food is: “It'll be in
        the pot till tomorrow”."""
        minutes = sentence.minutes
        clauses = sentence.clauses
        if not clauses or clauses[0].verb is not None or clauses[0].unread is not None:
            return None
        mentions = [
            mention
            for clause in clauses
            for mention in speaking.mentions(clause.words, clause.offsets, -1)[0]
        ]
        heating = self._heating(sentence, mentions)
        if heating is not None:
            begun, *rest = clauses
            until = [word for each in clauses for word in each.tail]
            degrees, _ = degrees_in(sentence.run, sentence.begin, sentence.end)
            if heating.name == "bake":
                # An oven that is set so low is no proof of anything inside.
                degrees = [each for each in degrees if not _of_low_oven(each, sentence)]
            return Draft(
                begun, heating, mentions, list(degrees), [], rest, set(sentence.words), until
            )
        begins = 1 if sentence.words[0] in ("a", "an") else 0
        named = bool(mentions) and bool(mentions[0].keys) and mentions[0].at <= begins
        placed = any(
            each.noun is not None
            and each.noun.sort in (Sort.WARM, Sort.COLD)
            and each.before in english().small.placing
            for each in mentions
        )
        done = english().forms.get(sentence.words[-1])
        if done is not None and done.kind == "wash" and sentence.words[-1].endswith("ed"):
            # “Hands and bowl washed.”
            return Draft(
                clauses[0], done, mentions, [], [], [], set(sentence.words), [], len(mentions)
            )
        long = minutes is not None and minutes >= _LONG
        if not long and not placed and not named:
            return None
        # “Prunes in for ten minutes”, “sour cream on top”.
        verb = "stand" if (long or placed) and not named else "add"
        return Draft(
            clauses[0],
            english().commands["stand" if long else verb],
            mentions,
            [],
            [],
            list(clauses[1:]),
            set(sentence.words),
            [],
        )

    def _heating(self, sentence: Sentence, mentions: Sequence[Mention]) -> Verb | None:
        """What “425 °F, 40 minutes”, “ten minutes' simmer” or “half an hour on a low flame” tells
        somebody to do."""
        lexicon = english()
        words = sentence.words
        text = " ".join(words)
        if not lexicon.groups["no heating"].isdisjoint(sentence.clauses[0].words) or any(
            phrase in text for phrase in lexicon.groups["off the heat"]
        ):
            return None
        degrees, _ = degrees_in(sentence.run, sentence.begin, sentence.end)
        if any(
            each.value.fahrenheit >= OVEN_FROM or _of_low_oven(each, sentence) for each in degrees
        ):
            return lexicon.commands["bake"]
        into = (each for each in mentions if each.before in ("in", "into", "onto", "under"))
        if any(each.noun is not None and each.noun.sort is Sort.HOT for each in into):
            return lexicon.commands["cook"]
        if sentence.minutes is None:
            return None
        for word in words:
            verb = lexicon.forms.get(word)
            # “Simmering”, “a simmer”; what “boiled” and “baked” say was done before.
            if verb is not None and verb.kind in _HEATING and not word.endswith("ed"):
                return verb
        sources = [
            each
            for each in mentions
            if each.noun is not None
            and each.noun.sort in (Sort.HOT, Sort.LEVEL)
            and each.before in lexicon.small.placing
        ]
        return lexicon.commands["cook"] if sources else None

    def _act(self, step: int, draft: Draft, scene: Scene) -> Action:
        clause, verb = draft.clause, draft.verb
        words = draft.all_words
        objects, joined, called, thing = self._foods_of(step, draft, scene)
        around = circumstances_of(draft)
        vessel, heat = around.vessel, around.heat
        where, spot = around.where, around.spot
        if vessel and is_another(draft, vessel):
            scene.renew(vessel)
        else:
            vessel = scene.held_in(vessel) or vessel
        implied = implied_by(verb, words, self._names(draft))
        heat_said = bool(heat)
        off = any(phrase in clause.text for phrase in english().groups["off the heat"])
        joined, vessel = self._vessel(draft, scene, implied, objects, joined, called, vessel)
        if off:
            heat, heat_said = "", False
        elif not heat:
            heat = implied.heat
            if heat == "stove" and scene.source not in ("", "stove", "oven"):
                heat, vessel = scene.source, scene.source_vessel
            if not heat and (
                verb.kind in ("mix", "cover", "check") or (verb.kind == "rest" and around.level)
            ):
                heat = scene.heats.get(vessel, "")
        in_oil = any(each.value.fahrenheit > OVEN_FROM for each in draft.degrees) and (
            not english().groups["fats"].isdisjoint(words)
        )
        if in_oil and not heat and verb.kind == "move" and objects:
            # “Slide it into oil at 360 °F.”
            heat, heat_said = "stove", True
        uses = [*around.tools]
        for name in implied.tools:
            if all(each.name != name for each in uses):
                uses.append(ToolUse(name, Tidy.UNKNOWN, True))
        minutes = longest_said(words)
        degrees, appliance = temperatures_of(draft, heat)
        if heat and not where:
            where = "hot"
        if verb.kind == "rest" and not where:
            where, spot = _kept(clause.words[clause.at + 1 :])
        if (
            verb.kind == "cold"
            and not where
            and any(
                name in ("refrigerator", "freezer", "ice bath", "cooler") for name in implied.tools
            )
        ):
            where, spot = "cold", implied.tools[0]
        action = Action(
            step=step,
            verb=verb,
            place=clause.place,
            foods=objects,
            called=called,
            joined=joined,
            thing=thing,
            tools=tuple(uses),
            vessel=vessel,
            where=where,
            spot=spot,
            out_of_cold=around.out_of_cold,
            heat=heat,
            heat_said=heat_said,
            level=around.level,
            minutes=minutes,
            degrees=degrees,
            appliance=appliance,
            until=" ".join(draft.until),
            denied=clause.negated,
            person=clause.person,
            words=frozenset(draft.words),
        )
        if not clause.negated:
            self._change(scene, action, off)
        return action

    def _vessel(
        self,
        draft: Draft,
        scene: Scene,
        implied: Implied,
        objects: Portions,
        joined: Portions,
        called: Called,
        vessel: str,
    ) -> tuple[Portions, str]:
        """Where it happens, and what the foods come together with there."""
        verb, words = draft.verb, draft.clause.words
        heats = verb.kind in _HEATING or bool(implied.heat)
        into = verb.name in english().groups["adds alone"] or (
            verb.name in english().groups["adds"]
            and ({"in", "over", "on", "through"} & {*words[draft.clause.at + 1 :][:1], words[-1]})
        )
        if verb.name in english().groups["fills"] and objects and not joined:
            joined = scene.work - objects
        if into and called is Called.BY_NAME and not joined and not vessel:
            joined = scene.work - objects
            vessel = scene.vessel_of(joined)
        if not vessel:
            vessel = scene.vessel_of(objects | joined)
            if heats and (not vessel or (vessel != implied.vessel and not may_be_heated(vessel))):
                vessel = self._pan_in_use(draft, scene, implied) or implied.vessel
            elif not vessel and verb.kind == "mix" and (objects | joined):
                vessel = implied.vessel
                if vessel and not scene.heats.get(vessel):
                    scene.renew(vessel)
        adds = verb.name in english().groups["adds"]
        if vessel and (heats or adds or verb.kind in ("grind", "rest", "cold", "eat", "serve")):
            joined |= scene.vessels.get(vessel, frozenset()) - objects
        return joined, vessel

    def _pan_in_use(self, draft: Draft, scene: Scene, implied: Implied) -> str:
        """The pan in which the butter was melted is the one in which the onion is cooked; what is
        done meanwhile is done in another."""
        pan = scene.vessel_of(scene.work)
        in_use = draft.verb.kind in ("cook", "warm") and implied.heat == "stove"
        if in_use and scene.heats.get(pan) == "stove" and is_pan(pan):
            return "" if english().groups["meanwhile"] & draft.words else pan
        return ""

    def _names(self, draft: Draft) -> frozenset[str]:
        """Every word of the foods that are named."""
        names = self._foods.names
        return frozenset().union(*(names[key] for each in draft.mentions for key in each.keys))

    def _foods_of(
        self, step: int, draft: Draft, scene: Scene
    ) -> tuple[Portions, Portions, Called, str]:
        """What it is done to, what that comes together with, and how the first was called."""
        objects: set[Portion] = set()
        joined: set[Portion] = set()
        called, thing = Called.UNSAID, ""
        wasted = False
        for mention in (*draft.lead, *draft.mentions):
            portions: Portions = frozenset()
            how = Called.UNSAID
            noun = mention.noun
            if noun is not None and not mention.keys and self._is_waste(noun.name, scene):
                wasted = True
                continue
            if noun is not None and noun.sort in (Sort.MIX, Sort.PIECE):
                is_result = mention.before in ("into", "to", "in", "as") and noun.sort is Sort.PIECE
                if is_result:
                    continue
                if mention.before in ("to", "into") and self._is_new(noun.name, scene):
                    continue
                portions = self._thing(noun.name, noun.sort, mention.keys, scene)
                how = Called.AS_THING
                thing = thing or noun.name
            elif mention.keys:
                portions = self._named(step, mention, scene)
                how = Called.BY_NAME
            elif mention.pronoun:
                portions = self._pronoun(mention.pronoun, scene)
                how = Called.BY_PRONOUN
            if not portions:
                continue
            beside = mention.before in (
                *("in", "into", "with", "over", "on", "onto", "to", "under", "around", "atop"),
                *("by", "beside", "near"),
            )
            if beside:
                joined |= portions
            else:
                objects |= portions
                order = (Called.UNSAID, Called.BY_NAME, Called.AS_THING, Called.BY_PRONOUN)
                called = max(called, how, key=order.index)
        if not objects and draft.verb.kind in _TAKES_UNSAID:
            held = [
                mention.noun.name
                for mention in draft.mentions[: draft.own]
                if not mention.before and mention.noun is not None and mention.noun.sort in _OBJECTS
            ]
            vessel = next((each for name in held if (each := scene.held_in(name))), "")
            if vessel and draft.verb.kind not in ("wash", "cut"):
                objects |= scene.vessels[vessel]
                called, thing = Called.AS_THING, held[0]
            elif any(map(is_vessel, held)) and draft.verb.kind in ("rest", "move", "cold"):
                # Whatever a cook calls it, what stands there is what is worked on.
                objects |= scene.unsaid
                called, thing = Called.AS_THING, held[0]
            elif (not held and not wasted) or draft.verb.kind in _HEATING:
                objects |= scene.whole(scene.unsaid) - joined
                called = Called.UNSAID
        return scene.whole(objects), scene.whole(joined) - scene.whole(objects), called, thing

    def _is_waste(self, name: str, scene: Scene) -> bool:
        return name in waste() and self._is_new(name, scene)

    def _is_new(self, name: str, scene: Scene) -> bool:
        """Whether nothing was called so before: “whisk them to a batter”."""
        return all(name not in thing.names for thing in scene.things)

    def _thing(self, name: str, sort: Sort, keys: frozenset[str], scene: Scene) -> Portions:
        if sort is Sort.MIX:
            if name in ("everything", "contents", "whole thing", "lot"):
                return scene.everything
            return scene.called(name, keys)
        if name in ("rest", "remainder", "remaining", "leftover", "one", "other", "each"):
            return scene.last
        for thing in reversed(scene.things):
            if name in thing.names:
                return scene.whole(thing.holds)
        # “The meat” is the lamb, whatever was worked on since.
        of_kind = {key for key, names in self._foods.also.items() if name in names}
        for thing in reversed(scene.things):
            if not of_kind.isdisjoint(portion.key for portion in thing.holds):
                return scene.whole(thing.holds)
        return scene.cut or scene.last

    def _named(self, step: int, mention: Mention, scene: Scene) -> Portions:
        found: set[Portion] = set()
        for key in mention.keys:
            taken = self._takes.get(key)
            known = self._portions.setdefault(key, [])
            if taken is not None and not any(each.step == step for each in known):
                # What a looser word named before is the same food.
                early = [each for each in known if each.step not in self._steps_of(key)]
                if early:
                    found.update(early)
                    continue
                known.append(Portion(key, step, mention.piece or taken.piece))
            elif not known:
                known.append(Portion(key, step, mention.piece))
            mine = [each for each in known if each.step == step]
            found.update(mine or known)
        return scene.whole(found)

    def _steps_of(self, key: str) -> frozenset[int]:
        return frozenset(
            step for step, each in self._foods.taken.items() for one in each if one.key == key
        )

    def _pronoun(self, word: str, scene: Scene) -> Portions:
        if word in ("all", "everything", "both"):
            return scene.everything
        return scene.whole(scene.last)

    def _change(self, scene: Scene, action: Action, off: bool) -> None:
        """What an action leaves behind."""
        kind, verb = action.kind, action.verb
        if action.heat_said:
            scene.source, scene.source_vessel = action.heat, action.vessel
        foods, both = action.foods, action.foods | action.joined
        if kind in ("measure", "check", "stove") and not foods:
            if off:
                scene.heats.clear()
            return
        names = [action.thing] if action.thing else []
        blends = verb.name in english().groups["blends"] and len(both) > 1 and not action.heat
        if blends:
            both = scene.blend(both)
        if kind == "cut" and foods and verb.name not in ("crack", "separate"):
            scene.cut = foods
        if action.vessel and both:
            scene.put(both, action.vessel)
        if both and (
            kind in ("mix", "grind", "shape", *_HEATING) or verb.name in english().groups["adds"]
        ):
            fills = verb.name in english().groups["fills"]
            made = both if fills or kind != "shape" else foods
            scene.make(made, *names, *_made_names(action))
            scene.work = scene.vessels.get(action.vessel, both)
        if action.heat and action.vessel:
            scene.heats[action.vessel] = action.heat
        elif off or action.where == "cold" or kind == "serve":
            scene.heats.pop(action.vessel, None)
        if foods:
            one = (
                verb.name in english().groups["blends"] | english().groups["fills"]
                or kind in _HEATING
            )
            scene.last = scene.whole(both if one else foods)
            if not scene.work:
                scene.work = scene.last


_LOW_OVEN = 170
"""°F: the lowest mark of a household oven; from memory."""


def _of_low_oven(said: Degrees, sentence: Sentence) -> bool:
    """“200 °F for two hours”: so hot for so long is no middle of a food."""
    groups = english().groups
    return (
        _LOW_OVEN <= said.value.fahrenheit < OVEN_FROM
        and (sentence.minutes or 0) >= _LONG
        and groups["inside"].isdisjoint(sentence.words)
    )


def _kept(words: Sequence[str]) -> tuple[str, str]:
    """How food is kept, by the words behind that verb: where it is then, and the word."""
    groups = english().groups
    for word in words:
        for where in ("cold", "hot"):
            if word in groups[f"kept {where}"]:
                return where, word
    return "", ""


def _said_of(action: Action, sentence: Sentence) -> Action:
    """What a sentence without a command says of the action in front: “the middle must read
    165 °F”."""
    degrees, _ = degrees_in(sentence.run, sentence.begin, sentence.end)
    words = sentence.words
    food = next((each.value for each in degrees if each.value.fahrenheit <= OVEN_FROM), None)
    return replace(
        action,
        degrees=action.degrees or food,
        until=" ".join((*action.until.split(), *words)),
        words=action.words | frozenset(words),
    )


def _made_names(action: Action) -> Iterator[str]:
    """What its words say that comes of it: a batter, balls."""
    for word in action.words:
        base = word.removesuffix("s") if not word.endswith("ss") else word
        if base in english().groups["made"]:
            yield base
