"""The dish as one table cooks it: the recipe with that table's swaps carried through.

Title, list, words of the steps, cautions, washing, temperatures and tools are those of what is
really cooked. Everything that is made for a table is made from this value, so that no two sheets
can disagree.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from spoonfold.knowledge.equipment import Kind
from spoonfold.knowledge.lexicons import is_read
from spoonfold.model.classroom import Setting
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Text, plain
from spoonfold.model.recipe import Ingredient, Need, Recipe, Step, SwapStep, Term, slug, words_in
from spoonfold.plan.amounts.eaters import portions_at_tables
from spoonfold.plan.amounts.scale import Scaled, scaled, scaled_for_class
from spoonfold.plan.amounts.tools import Kitchen, class_kitchen
from spoonfold.plan.amounts.uses import Use, Uses
from spoonfold.plan.safety.apart import apart_of, at_the_table
from spoonfold.plan.safety.flow import Flow
from spoonfold.plan.safety.hazards import OF_A_NEED, CautionDue, cautions_due
from spoonfold.plan.safety.renamed import Line, Renamer, in_bold, own_language
from spoonfold.plan.safety.swapped import TableSwap, shares_of, table_swaps
from spoonfold.plan.safety.tools import washes_due
from spoonfold.plan.understood.kit import Kit
from spoonfold.plan.understood.words import with_words
from spoonfold.problem import Place
from spoonfold.quantity.unit import unit_named


@dataclass(frozen=True, slots=True)
class Dish:
    """What one table cooks, and where it differs from the recipe as it is listed."""

    recipe: Recipe
    uses: Uses
    instead_of: Mapping[str, TableSwap]
    """What stands in the list instead of another food, by its key."""
    perhaps: tuple[TableSwap, ...]
    """Swaps that hang on a label: the original is listed, and may be used if its label says so."""
    unsaid: frozenset[int]
    """Steps that take a replacement and whose words couldn't be made to name it."""


@dataclass(frozen=True, slots=True)
class ClassDishes:
    """A dish in all its versions of one session."""

    for_all: Dish
    """What is cooked in one pot for everyone: as listed, but for what every table swaps alike."""
    tables: tuple[Dish, ...]
    """In the order of tables. A step that a table does apart isn't `for_class` in its dish."""


def dishes_at(
    recipe: Recipe, uses: Uses, pantry: Pantry, setting: Setting, language: str
) -> tuple[Dish, ...]:
    """What each table of a session cooks, in the order of tables. `language` is what the recipe
    itself is written in, where it doesn't say."""
    return class_dishes(recipe, uses, pantry, setting, language).tables


def class_dishes(
    recipe: Recipe, uses: Uses, pantry: Pantry, setting: Setting, language: str
) -> ClassDishes:
    """What is cooked for everyone, and what at each table."""
    swaps = table_swaps(recipe, uses, pantry, setting)
    listed = Flow(recipe, uses, pantry)
    if not swaps:
        dish = dish_with(listed, setting, (), language)
        return ClassDishes(dish, (dish,) * len(setting.tables))
    apart = apart_of(recipe, uses, pantry, setting)
    tables = tuple(
        dish_with(
            listed,
            setting,
            [each for each in swaps if each.table == table],
            language,
            apart.steps.get(table, frozenset()),
        )
        for table in range(1, len(setting.tables) + 1)
    )
    for_all = dish_with(listed, setting, apart.for_all, language)
    return ClassDishes(for_all, tables)


def cooked_at(
    recipes: Sequence[Recipe],
    uses: Mapping[str, Uses],
    pantry: Pantry,
    setting: Setting,
    language: str,
) -> Mapping[str, tuple[Recipe, ...]]:
    """By a recipe's key, what each table cooks of it."""
    return {
        recipe.key: tuple(
            each.recipe for each in dishes_at(recipe, uses[recipe.key], pantry, setting, language)
        )
        for recipe in recipes
    }


def dish_with(
    listed: Flow,
    setting: Setting,
    swaps: Sequence[TableSwap],
    language: str,
    apart: frozenset[int] = frozenset(),
) -> Dish:
    """The dish as it is `listed` with these swaps carried through, and these steps done apart."""
    recipe, uses, pantry = listed.recipe, listed.uses, listed.pantry
    sure = [each for each in swaps if not each.if_label]
    perhaps = tuple(each for each in swaps if each.if_label)
    if not sure:
        return Dish(recipe, uses, {}, perhaps, frozenset())
    lines = _lines(recipe, sure)
    own = _uses(uses, lines, pantry)
    renamer = Renamer.of(recipe, lines, pantry, language)
    own_words = {each.number: (each, swap) for swap in sure for each in swap.swap.steps}
    unsaid = set()
    steps = []
    for listed_step in recipe.steps:
        step = _in_own_words(listed_step, own_words.get(listed_step.number))
        changed = _said_anew(step, recipe, renamer, language)
        takes = any(use.ingredient.key in lines for use in uses.by_step.get(step.number, ()))
        if takes and changed.said == listed_step.said:
            unsaid.add(step.number)
        if takes and (step.number in unsaid or _still_names(changed.card, lines)):
            # The whole words are longer and right.
            changed = replace(changed, card=None)
        steps.append(_with_openers(changed, own, lines))
    ingredients = [
        lines[each.key].line if each.key in lines else each for each in recipe.ingredients
    ]
    made = replace(
        recipe,
        title=renamer.title(recipe.title, own_language(recipe, language)),
        ingredients=tuple(ingredients),
        swaps=tuple(each for each in recipe.swaps if all(each != one.swap for one in sure)),
        steps=tuple(steps),
    )
    made = _noted_anew(listed, Flow(made, own, pantry), setting)
    steps = [
        at_the_table(step, setting) if step.number in apart else step
        for step in _in_time(made, own, pantry, setting, own_words, own_language(recipe, language))
    ]
    made = replace(made, steps=tuple(_kept_apart(step, own, lines) for step in steps))
    instead = {each.line.key: each.swap for each in lines.values()}
    return Dish(made, own, instead, perhaps, frozenset(unsaid))


def _lines(recipe: Recipe, swaps: Sequence[TableSwap]) -> dict[str, Line]:
    """By the key of the line that each replaces."""
    keys = {each.key for each in recipe.ingredients}
    found: dict[str, Line] = {}
    for swap in swaps:
        shares = shares_of(swap.originals)
        for original, share in zip(swap.originals, shares, strict=True):
            use = swap.swap.use
            key = slug(use.name)
            while key in keys:
                key += "-instead"
            keys.add(key)
            amount = use.amount
            if amount is not None:
                amount = None if share is None else amount.times(share)
            line = replace(
                use, key=key, part=original.part, optional=original.optional, amount=amount
            )
            found.setdefault(original.key, Line(original, line, swap))
    return found


def _uses(uses: Uses, lines: Mapping[str, Line], pantry: Pantry) -> Uses:
    """Each step takes as much of a replacement as it took of what is replaced; where it took a
    piece that the replacement hasn't, the pieces share it."""
    pieces: dict[str, int] = defaultdict(int)
    for found in uses.by_step.values():
        for use in found:
            pieces[use.ingredient.key] += use.piece is not None
    by_step: dict[int, tuple[Use, ...]] = {}
    for number, found in uses.by_step.items():
        made = []
        for use in found:
            own = lines.get(use.ingredient.key)
            if own is None:
                made.append(use)
                continue
            item = pantry.find(own.line.name)
            keeps = item is not None and use.piece in item.pieces
            share = use.share
            if own.line.amount is None:
                share = None
            elif use.piece is not None and not keeps:
                share = Fraction(1, pieces[use.ingredient.key])
            made.append(
                replace(use, ingredient=own.line, share=share, piece=use.piece if keeps else None)
            )
        by_step[number] = tuple(made)
    return Uses(by_step, uses.problems)


def _in_own_words(step: Step, written: tuple[SwapStep, TableSwap] | None) -> Step:
    """A step with the words that the author wrote for it beside a swap."""
    if written is None:
        return step
    words, swap = written
    use = swap.swap.use
    wording = words.wording or words.text
    return replace(
        step,
        text=in_bold(words.text, use.name),
        wording=None if step.wording is None else in_bold(wording, use.said),
        card=None,
    )


def _in_time(
    recipe: Recipe,
    uses: Uses,
    pantry: Pantry,
    setting: Setting,
    own_words: Mapping[int, tuple[SwapStep, TableSwap]],
    language: str,
) -> Sequence[Step]:
    """The steps; where the author wrote words of their own beside a swap, with the tools, minutes
    and temperature that those say. What they don't say stays as the step's notes have it."""
    translated = any(step.wording is not None for step in recipe.steps)
    if not own_words or not (translated or is_read(language)):
        return recipe.steps
    bare = [
        replace(step, needs=(), notes={}, heat=None) if step.number in own_words else step
        for step in recipe.steps
    ]
    flow = Flow(replace(recipe, steps=tuple(bare)), uses, pantry)
    return [
        _as_said(step, own, flow) if step.number in own_words else step
        for step, own in zip(recipe.steps, with_words(flow, Kit((setting,))), strict=True)
    ]


def _as_said(step: Step, own: Step, flow: Flow) -> Step:
    """`own`: what its words alone say."""
    named = {each.value for each in own.worked_out if each.note == "needs" and each.is_said}
    new = [each for each in own.needs if each.name in named and each.name not in step.tools]
    changed = replace(step, needs=(*step.needs, *new), heat=own.heat or step.heat)
    if not any(each.minutes and not each.denied for each in flow.actions[step.number].actions):
        return changed
    return replace(
        changed, time=own.time, wait=own.wait, wait_aside=own.wait_aside, class_time=None
    )


def _said_anew(step: Step, recipe: Recipe, renamer: Renamer, language: str) -> Step:
    own = own_language(recipe, language)
    if step.card is not None:
        step = replace(step, card=plain(renamer.all((Text(step.card, step.place),), own)))
    if step.wording is None:
        return replace(step, text=renamer.all(step.text, own))
    return replace(
        step, text=renamer.all(step.text, language), wording=renamer.all(step.wording, own)
    )


def _still_names(words: str | None, lines: Mapping[str, Line]) -> bool:
    """Whether a few words call a replaced food by a part of its name that wasn't changed."""
    if words is None:
        return False
    gone = {word for each in lines.values() for word in _long_words(each.original.said)}
    here = {word for each in lines.values() for word in _long_words(each.line.said)}
    return not (gone - here).isdisjoint(_long_words(words))


def _long_words(text: str) -> frozenset[str]:
    return frozenset(word for word in words_in(text.casefold()) if len(word) > 3)


def _with_openers(step: Step, uses: Uses, lines: Mapping[str, Line]) -> Step:
    """A replacement out of a can needs its opener where it first goes in."""
    canned = {each.line.key for each in lines.values() if _is_canned(each.line)}
    opened = any(
        use.ingredient.key in canned and uses.of(use.ingredient)[0].step == step.number
        for use in uses.by_step.get(step.number, ())
    )
    if not opened or step.has(Kind.OPENER):
        return step
    return replace(step, needs=(*step.needs, Need("can opener", 1, step.place)))


def _kept_apart(step: Step, uses: Uses, lines: Mapping[str, Line]) -> Step:
    """What a step takes instead of another food is kept apart from it."""
    keys = {each.line.key for each in lines.values()}
    takes = any(use.ingredient.key in keys for use in uses.by_step.get(step.number, ()))
    if not takes or OF_A_NEED in {term.text.casefold() for term in step.watch}:
        return step
    return replace(step, watch=(*step.watch, Term(OF_A_NEED, step.place)))


def _is_canned(line: Ingredient) -> bool:
    return line.amount is not None and line.amount.unit == unit_named("can")


def _noted_anew(before: Flow, after: Flow, setting: Setting) -> Recipe:
    """The notes as the foods of this dish call for them: what only a replaced food called for
    goes, what a replacement calls for comes; everything else stays as it is written."""
    gone, come = _dues(before, setting), _dues(after, setting)
    heated, heats = _heated(before), _heated(after)
    steps = []
    for step in after.recipe.steps:
        number = step.number
        changed = replace(
            step,
            watch=_terms(step.watch, gone[number][0], come[number][0], step.place),
            wash=_terms(step.wash, gone[number][1], come[number][1], step.place),
        )
        if step.heat is not None and number in heated and number not in heats:
            thermometers = step.named(Kind.THERMOMETER)
            changed = replace(
                changed,
                heat=None,
                needs=tuple(each for each in step.needs if each.name not in thermometers),
            )
        steps.append(changed)
    return replace(after.recipe, steps=tuple(steps))


def _dues(flow: Flow, setting: Setting) -> Mapping[int, tuple[set[str], set[str]]]:
    """Which cautions and which washing the foods of each step call for."""
    found: dict[int, tuple[set[str], set[str]]] = {
        step.number: (set(), set()) for step in flow.recipe.steps
    }
    due: CautionDue
    for due in cautions_due(flow, (setting,)):
        if due.caution != OF_A_NEED:
            found[due.step][0].add(due.caution)
    for each in washes_due(flow):
        found[each.step][1].add(each.thing)
    return found


def _heated(flow: Flow) -> frozenset[int]:
    """The steps whose temperature a food must reach."""
    return frozenset(
        number
        for journey in (*flow.raw, *flow.frozen, *flow.leftovers)
        for number in (journey.cooked, journey.tried)
        if number is not None and not journey.hazard.swap
    )


def _terms(
    written: tuple[Term, ...], gone: set[str], come: set[str], place: Place
) -> tuple[Term, ...]:
    stays = [each for each in written if each.text.casefold() not in gone - come]
    named = {each.text.casefold() for each in stays}
    return (*stays, *(Term(each, place) for each in sorted(come - gone) if each not in named))


@dataclass(frozen=True, slots=True)
class Part:
    """What is cooked at one place, and how much of everything."""

    table: int | None
    """Counted from 1; None: in one pot for everyone."""
    dish: Dish
    scaled: Scaled


def parts_of(
    recipe: Recipe, uses: Uses, pantry: Pantry, setting: Setting, language: str
) -> tuple[Part, ...]:
    """Every place of a session at which the dish is cooked, with its amounts: each table at which
    anybody eats, then the one pot. Cards, shopping and swaps say what stands here."""
    return parts_with(
        class_dishes(recipe, uses, pantry, setting, language), recipe, uses, pantry, setting
    )


def parts_with(
    made: ClassDishes, recipe: Recipe, uses: Uses, pantry: Pantry, setting: Setting
) -> tuple[Part, ...]:
    """The same where it is known what is cooked."""
    scale, kitchen = scaled_for_class(recipe, uses, pantry, setting), class_kitchen(setting)
    eating = [table for table, each in enumerate(portions_at_tables(setting), start=1) if each]
    parts = [
        Part(table, made.tables[table - 1], whole)
        for table, whole in zip(eating, scale.tables, strict=True)
    ]
    if scale.shared is not None:
        parts.append(Part(None, made.for_all, scale.shared))
    return tuple(
        replace(each, scaled=with_replacements(each.scaled, each.dish, pantry, kitchen))
        for each in parts
    )


def with_replacements(whole: Scaled, dish: Dish, pantry: Pantry, kitchen: Kitchen) -> Scaled:
    """The table's part of the dish as listed, `whole`, with what stands in its list instead: of
    all else it takes the share that is dealt out to it."""
    if not dish.instead_of:
        return whole
    own = scaled(
        dish.recipe,
        dish.uses,
        pantry,
        kitchen,
        whole.portions,
        lambda step: step.number in whole.by_step,
    )
    by_step = {
        number: tuple(
            mine if mine.use.ingredient.key in dish.instead_of else listed
            for listed, mine in zip(uses, own.by_step[number], strict=True)
        )
        for number, uses in whole.by_step.items()
    }
    lines = []
    for mine in own.lines:
        listed = whole.line(mine.ingredient)
        # Whether it is tasted hangs on what else is in the bowl.
        lines.append(
            mine
            if listed is None or mine.ingredient.key in dish.instead_of
            else replace(listed, taste_first=mine.taste_first)
        )
    return replace(whole, recipe=dish.recipe, lines=tuple(lines), by_step=by_step)
