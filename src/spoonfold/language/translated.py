"""The class folder in another language: the same dishes, amounts, links and notes, other words.

Only words are replaced. Names that the pantry and the rules go by stay as they were written, so
that no allergen, weight or caution can get lost on the way. What isn't translated stays in its
own language, and says so.

Taught words and skills in another language, with what nobody has translated marked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from spoonfold.knowledge.cautions import ADULT, CAUTIONS
from spoonfold.knowledge.names import fold
from spoonfold.language.texts import SOURCE_LANGUAGE
from spoonfold.model.folder import ClassFolder
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Emphasis, Inline, Link, Text, plain
from spoonfold.model.recipe import Ingredient, Recipe, Step, Swap, SwapStep, Term, Wording
from spoonfold.model.teaching import Skill, Word
from spoonfold.model.translation import Foreign, TranslatedIngredient, TranslatedStep, Translation
from spoonfold.plan.amounts.uses import Uses
from spoonfold.problem import Place


def word_in(word: Word, original: str, language: str) -> Word:
    """A taught word and its explanation in another language."""
    other = word.translations.get(language)
    if other is None:
        return replace(
            word,
            term=Foreign(word.term, original),
            meaning=Foreign(word.meaning, original),
            origin=_own(word.origin, original),
        )
    if other.term is None:
        return replace(
            word,
            term=Foreign(word.term, original),
            meaning=other.meaning or Foreign(word.meaning, original),
            origin=other.origin or _own(word.origin, original),
        )
    # Another word sounds otherwise and comes from elsewhere.
    return replace(
        word,
        term=other.term,
        meaning=other.meaning or Foreign(word.meaning, original),
        say=other.say,
        origin=other.origin,
        forms=other.forms,
    )


def skill_in(skill: Skill, original: str, language: str) -> Skill:
    """A skill and how it is done in another language."""
    other = skill.translations.get(language)
    return replace(
        skill,
        name=(other.name if other else None) or Foreign(skill.name, original),
        how=(other.how if other else None) or Foreign(skill.how, original),
        caution=(other.caution if other else None) or _own(skill.caution, original),
        short=(other.short if other else None) or _own(skill.short, original),
    )


def _own(text: str | None, original: str) -> str | None:
    return Foreign(text, original) if text else None


def folder_in(folder: ClassFolder, language: str) -> ClassFolder:
    """The folder as a reader of that language needs it; itself in the class's first language."""
    original = folder.classroom.languages[0] if folder.classroom else SOURCE_LANGUAGE
    if language == original:
        return folder
    return replace(
        folder,
        recipes={
            key: recipe_in(
                recipe, folder.translations.get((key, language)), folder.pantry, original, language
            )
            for key, recipe in folder.recipes.items()
        },
        words={key: word_in(word, original, language) for key, word in folder.words.items()},
        skills={key: skill_in(each, original, language) for key, each in folder.skills.items()},
        # Lessons are talks of the adults: families see their titles alone.
        lessons={
            key: replace(each, title=Foreign(each.title, original))
            for key, each in folder.lessons.items()
        },
    )


def uses_in(uses: Mapping[str, Uses], recipes: Mapping[str, Recipe]) -> Mapping[str, Uses]:
    """The same uses, of the ingredients as these recipes word them."""
    return {key: _uses(found, recipes[key]) for key, found in uses.items() if key in recipes}


def _uses(uses: Uses, recipe: Recipe) -> Uses:
    worded = {each.key: each for each in recipe.ingredients}
    return Uses(
        {
            number: tuple(replace(use, ingredient=worded[use.ingredient.key]) for use in found)
            for number, found in uses.by_step.items()
        },
        uses.problems,
    )


def recipe_in(
    recipe: Recipe, translation: Translation | None, pantry: Pantry, original: str, language: str
) -> Recipe:
    """A recipe in another language; where it has no translation, its foods alone are named in
    it, as far as the pantry knows them."""
    if translation is None:
        return _untranslated(recipe, pantry, original, language)
    sections = dict(zip(recipe.sections, (prose for _, prose in translation.sections), strict=True))
    return replace(
        recipe,
        title=translation.title,
        origin=translation.origin or recipe.origin,
        portion=translation.portion or recipe.portion,
        ingredients=tuple(
            _worded(each, other, original, language)
            for each, other in zip(recipe.ingredients, translation.ingredients, strict=True)
        ),
        swaps=_swaps(recipe, translation, pantry, original, language),
        headnote=translation.headnote,
        steps=tuple(
            _step(step, other, original)
            for step, other in zip(recipe.steps, translation.steps, strict=True)
        ),
        sections=sections,
        language=language,
        is_draft=translation.is_draft,
    )


def _worded(
    ingredient: Ingredient, other: TranslatedIngredient, original: str, language: str
) -> Ingredient:
    preparation = other.preparation or _foreign(ingredient.said_preparation, original)
    return replace(
        ingredient,
        wording=Wording(other.name, preparation, language),
        part=other.part or _foreign(ingredient.part or "", original) or None,
    )


def _foreign(text: str, original: str, is_marked: bool = True) -> str:
    return Foreign(text, original, is_marked) if text else ""


def _swaps(
    recipe: Recipe, translation: Translation, pantry: Pantry, original: str, language: str
) -> tuple[Swap, ...]:
    names = {
        each.name: each.said
        for each in (
            _worded(*pair, original, language)
            for pair in zip(recipe.ingredients, translation.ingredients, strict=True)
        )
    }
    uses: list[Ingredient]
    if translation.swaps:
        uses = [
            _worded(swap.use, other, original, language)
            for swap, other in zip(recipe.swaps, translation.swaps, strict=True)
        ]
        steps = [
            _swap_steps(swap, other, original)
            for swap, other in zip(recipe.swaps, translation.swaps, strict=True)
        ]
    else:
        uses = [_by_pantry(swap.use, pantry, original, language, True) for swap in recipe.swaps]
        steps = [_swap_steps(swap, None, original) for swap in recipe.swaps]
    return tuple(
        replace(
            swap, use=use, shown=names.get(swap.instead_of.text, swap.instead_of.text), steps=own
        )
        for swap, use, own in zip(recipe.swaps, uses, steps, strict=True)
    )


def _swap_steps(
    swap: Swap, other: TranslatedIngredient | None, original: str
) -> tuple[SwapStep, ...]:
    """A swap's own words for steps; where they aren't translated, those of the original: its
    food's name in the recipe's words would leave out what is done to it."""
    worded = {} if other is None else {each.number: each.text for each in other.steps}
    return tuple(
        replace(
            each,
            wording=worded.get(
                each.number, (Text(_foreign(plain(each.text), original), each.place),)
            ),
        )
        for each in swap.steps
    )


def _by_pantry(
    ingredient: Ingredient, pantry: Pantry, original: str, language: str, is_marked: bool
) -> Ingredient:
    """Named by the pantry where the list calls it as the pantry does: for a red onion, “onion”
    in another language would be another food."""
    item = pantry.find(ingredient.name)
    name: str | None = None
    if item is not None and fold(ingredient.name) in (fold(item.name), fold(item.plural)):
        many = fold(ingredient.name) != fold(item.name)
        name = item.called(language, many)
    return replace(
        ingredient,
        wording=Wording(
            name or Foreign(ingredient.said, original, is_marked),
            _foreign(ingredient.said_preparation, original, is_marked),
            language if name else original,
        ),
        part=_foreign(ingredient.part or "", original, is_marked) or None,
    )


def _untranslated(recipe: Recipe, pantry: Pantry, original: str, language: str) -> Recipe:
    ingredients = tuple(
        _by_pantry(each, pantry, original, language, False) for each in recipe.ingredients
    )
    names = {each.name: each.said for each in ingredients}
    return replace(
        recipe,
        ingredients=ingredients,
        swaps=tuple(
            replace(
                swap,
                use=_by_pantry(swap.use, pantry, original, language, False),
                shown=names.get(swap.instead_of.text, swap.instead_of.text),
            )
            for swap in recipe.swaps
        ),
        steps=tuple(
            replace(
                step,
                watch=_terms(step.watch, CAUTIONS, (), original, False),
                adult=_terms(step.adult, ADULT, (), original, False),
                easier=_foreign(step.easier or "", original, False) or None,
                done=_foreign(step.done or "", original, False) or None,
            )
            for step in recipe.steps
        ),
        language=original,
    )


def _step(step: Step, other: TranslatedStep, original: str) -> Step:
    return replace(
        step,
        wording=_placed(other.text, step.text),
        group=other.group,
        watch=_terms(step.watch, CAUTIONS, other.notes.get("watch", ()), original),
        adult=_terms(step.adult, ADULT, other.notes.get("adult", ()), original),
        easier=_note(step.easier, other, "easier", original),
        # Without it the words of the translation itself are nearer to its reader.
        home=_note(step.home, other, "home", "") if other.notes.get("home") else None,
        done=_note(step.done, other, "done", original),
        card=_note(step.card, other, "card", "") if other.notes.get("card") else None,
    )


def _note(said: str | None, other: TranslatedStep, name: str, original: str) -> str | None:
    """A free note as the translation has it, or else as the original."""
    given = other.notes.get(name, ())
    if not said:
        return None
    return given[0].text if given else _foreign(said, original)


def _terms(
    terms: Sequence[Term],
    named: Mapping[str, object],
    free: Sequence[Term],
    original: str,
    is_marked: bool = True,
) -> tuple[Term, ...]:
    """Named notes as they are; free ones by their translations, in order."""
    translations = iter(free)
    return tuple(
        term
        if term.text.casefold() in named
        else Term(_next(translations) or _foreign(term.text, original, is_marked), term.place)
        for term in terms
    )


def _next(terms: Iterator[Term]) -> str | None:
    found = next(terms, None)
    return found.text if found else None


def _placed(text: tuple[Inline, ...], original: tuple[Inline, ...]) -> tuple[Inline, ...]:
    """Links to ingredients bear the places of the original's: amounts are found by them."""
    places: dict[tuple[str, str], list[Place]] = {}
    for link in _links(original):
        places.setdefault(_target(link), []).append(link.place)
    return _with_places(text, places)


def _target(link: Link) -> tuple[str, str]:
    return link.address, " ".join(link.title.split()).casefold()


def _links(children: Sequence[Inline]) -> Iterator[Link]:
    for child in children:
        if isinstance(child, Link) and child.address.startswith("#"):
            yield child
        elif isinstance(child, Emphasis):
            yield from _links(child.children)


def _with_places(
    children: tuple[Inline, ...], places: Mapping[tuple[str, str], list[Place]]
) -> tuple[Inline, ...]:
    placed: list[Inline] = []
    for child in children:
        if isinstance(child, Link) and places.get(_target(child)):
            placed.append(replace(child, place=places[_target(child)].pop(0)))
        elif isinstance(child, Emphasis):
            placed.append(replace(child, children=_with_places(child.children, places)))
        else:
            placed.append(child)
    return tuple(placed)
