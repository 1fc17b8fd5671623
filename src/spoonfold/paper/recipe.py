"""A recipe as a sheet: the same value serves the site's page, the booklet and the card."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain

from spoonfold.language.amounts import (
    amounts_text,
    minutes_text,
    number_text,
    off_text,
    oven_text,
    size_comes_first,
)
from spoonfold.language.calendar import country_text
from spoonfold.language.marks import draft_mark, language_mark
from spoonfold.language.texts import Texts, direction_of
from spoonfold.model.classroom import HOME_MEASURING, Setting
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Inline, Paragraph, Picture, Prose, inlines, plain, plain_prose
from spoonfold.model.recipe import Ingredient, Recipe
from spoonfold.model.teaching import Word
from spoonfold.paper.amounts import AmountView, in_metric_too, ingredient_name, line_view
from spoonfold.paper.labels import Labels, food_label, label_words, labels_of
from spoonfold.paper.steps import Fact, StepView, steps_view
from spoonfold.paper.words import (
    WordView,
    explained_in,
    explained_in_prose,
    is_from_memory,
    word_view,
)
from spoonfold.plan.eaters import eaters_at_tables
from spoonfold.plan.measure import kitchen_of, measure
from spoonfold.plan.metric import MetricLine, metric_alone, metric_lines
from spoonfold.plan.pans import PanNeed
from spoonfold.plan.scale import ClassScale, Scaled, ScaledLine, scaled, scaled_for_class
from spoonfold.plan.uses import Uses
from spoonfold.teach.words import Marker, marks_in

_TOLD = ("culture", "talk", "at home", "science")
"""The sections, in the order in which words are looked for in them."""


@dataclass(frozen=True, slots=True)
class Column:
    """One size of the recipe."""

    key: str
    label: str
    factor: str
    """The conversion factor as a fraction: `× 1½`."""


@dataclass(frozen=True, slots=True)
class LineView:
    """An ingredient with its amount in every column."""

    key: str
    name: str
    names: tuple[str, ...]
    """The name for each size: `onion` and `onions`."""
    preparation: str
    sizes: tuple[AmountView, ...]
    for_class: tuple[AmountView, ...]
    part: str | None


@dataclass(frozen=True, slots=True)
class SwapView:
    """What to use instead, for every size."""

    instead_of: str
    names: tuple[str, ...]
    sizes: tuple[AmountView, ...]
    preparation: str
    because: str
    label: str
    """What the replacement contains and what its label must be read for."""


@dataclass(frozen=True, slots=True)
class RecipeSheet:
    """Everything that a recipe shows."""

    key: str
    title: str
    language: str
    """Of the title and all prose."""
    direction: str
    mark: str
    """`in English`, where that isn't the reader's language; mostly empty."""
    draft: str
    """That no fluent speaker has read the translation; mostly empty."""
    origin: str
    countries: tuple[str, ...]
    facts: tuple[Fact, ...]
    lede: Prose
    """The first paragraph of the headnote."""
    headnote: Prose
    """The rest of it."""
    labels: Labels
    columns: tuple[Column, ...]
    class_columns: tuple[Column, ...]
    lines: tuple[LineView, ...]
    size_notes: tuple[tuple[str, ...], ...]
    """What to know about each size: pans, batches."""
    steps: tuple[StepView, ...]
    swaps: tuple[SwapView, ...]
    sections: Mapping[str, Prose]
    words: tuple[WordView, ...]
    """What the dish teaches."""
    explained: tuple[WordView, ...]
    """Every word that is marked on the page, taught here or not."""
    description: str
    sources: tuple[str, ...]
    """Where its culture and science were looked up."""

    def explained_in(self, text: tuple[Inline, ...]) -> tuple[WordView, ...]:
        """The words that are marked in a text of this sheet."""
        return explained_in(text, self.explained)

    def explained_in_prose(self, prose: Prose) -> tuple[WordView, ...]:
        """The words that are marked in a prose of this sheet."""
        return explained_in_prose(prose, self.explained)

    @property
    def notes(self) -> tuple[str, ...]:
        """What to know about all sizes, in their order."""
        return tuple(chain.from_iterable(self.size_notes))

    @property
    def unsaid(self) -> tuple[WordView, ...]:
        """Words that the dish teaches and that are marked nowhere on its page."""
        return tuple(word for word in self.words if word not in self.explained)

    def is_told_from_memory(self, section: str) -> bool:
        """Whether anything in a section was told from memory."""
        return is_from_memory(self.sections.get(section, ()))

    def is_from_memory(self, *sections: str) -> bool:
        """Whether anything in these sections, in the headnote or in an explanation was told
        from memory."""
        prose = (self.sections[each] for each in sections if each in self.sections)
        return (is_from_memory(self.lede, self.headnote, *prose)
                or any(word.is_from_memory for word in (*self.words, *self.explained)))


def recipe_sheet(
    recipe: Recipe,
    uses: Uses,
    pantry: Pantry,
    words: Mapping[str, Word],
    households: Sequence[int],
    setting: Setting | None,
    texts: Texts,
) -> RecipeSheet:
    """The sheet for some household sizes, and for the class where a setting is given."""
    home = kitchen_of(HOME_MEASURING)
    sizes = [scaled(recipe, uses, pantry, home, Fraction(n)) for n in households]
    metric = [metric_lines(size, pantry) for size in sizes]
    whole = None if setting is None else scaled_for_class(recipe, uses, pantry, setting)
    lede, rest = opening(recipe.headnote)
    # In this order, so that a word is explained where it is done, and on paper, which leaves out
    # the rest of the headnote and the science, as well as on the site.
    marker = Marker(words)
    lede = marker.prose(lede)
    instructions = [marker.inlines(step.said) for step in recipe.steps]
    sections = {key: marker.prose(recipe.sections[key]) for key in _TOLD if key in recipe.sections}
    rest = marker.prose(rest)
    met = {*marks_in(inlines((*lede, *rest))), *marks_in(chain(*instructions)),
           *marks_in(chain.from_iterable(inlines(prose) for prose in sections.values()))}
    class_columns = () if whole is None or setting is None else _class_columns(
        whole, setting, texts)
    return RecipeSheet(
        key=recipe.key,
        title=recipe.title,
        language=recipe.language or texts.language,
        direction=direction_of(recipe.language or texts.language),
        mark=language_mark(recipe.language, texts),
        draft=draft_mark(recipe.is_draft, texts),
        origin=recipe.origin,
        countries=tuple(
            name for code in recipe.countries if (name := country_text(code, texts.language))),
        facts=_facts(recipe, texts),
        lede=lede,
        headnote=rest,
        labels=labels_of(recipe, pantry, texts),
        columns=tuple(
            Column(str(n), texts.count("1 person", "{number} people", n),
                   _factor(size.factor, texts))
            for n, size in zip(households, sizes, strict=True)
        ),
        class_columns=class_columns,
        lines=_lines(recipe, sizes, metric, whole, pantry, texts),
        size_notes=tuple(_notes(size, people, texts)
                         for size, people in zip(sizes, households, strict=True)),
        steps=steps_view(recipe, instructions, sizes, metric, pantry, setting is None, texts),
        swaps=_swaps(recipe, sizes, pantry, texts),
        sections=sections,
        words=tuple(
            word_view(term.text, words[term.text]) for term in recipe.words if term.text in words),
        explained=tuple(word_view(key, word) for key, word in words.items() if key in met),
        description=plain_prose(lede),
        sources=recipe.sources,
    )


def opening(headnote: Prose) -> tuple[Prose, Prose]:
    """The first paragraph that has words of its own, and everything else."""
    for index, block in enumerate(headnote):
        if isinstance(block, Paragraph) and not all(
                isinstance(each, Picture) or not plain((each,)).strip()
                for each in block.children):
            return (block,), (*headnote[:index], *headnote[index + 1:])
    return (), headnote


def _factor(factor: Fraction, texts: Texts) -> str:
    return f"× {number_text(factor, texts)}"


def _facts(recipe: Recipe, texts: Texts) -> tuple[Fact, ...]:
    facts = []
    if recipe.portion:
        facts.append(Fact("people", texts.say("One portion: {portion}", portion=recipe.portion)))
    total = total_minutes(recipe)
    if total:
        facts.append(Fact("clock", texts.say(
            "About {minutes} at home", minutes=minutes_text(total, texts))))
    if recipe.oven is not None:
        facts.append(Fact("oven", texts.say(
            "Oven {heat}", heat=oven_text(recipe.oven, texts))))
    return tuple(facts)


def total_minutes(recipe: Recipe) -> Fraction:
    """Minutes at home, one step after the other; what is done the day before doesn't count."""
    return sum(
        ((step.time or Fraction(0)) + (step.wait or Fraction(0))
         for step in recipe.steps if step.when != "day before"), Fraction(0))


def _class_columns(whole: ClassScale, setting: Setting, texts: Texts) -> tuple[Column, ...]:
    """One column for tables that are alike, then the whole class."""
    columns = []
    for index, (_, table) in enumerate(_distinct_tables(whole)):
        eaters = eaters_at_tables(setting)[index]
        label = texts.count("A table of 1", "A table of {number}", eaters)
        columns.append(Column(f"table-{index + 1}", label, _factor(table.factor, texts)))
    everyone = sum(eaters_at_tables(setting))
    factor = whole.portions / whole.tables[0].recipe.serves
    columns.append(Column(
        "class", texts.count("The class, 1", "The class, {number}", everyone),
        _factor(factor, texts)))
    return tuple(columns)


def _distinct_tables(whole: ClassScale) -> list[tuple[Fraction, Scaled]]:
    seen: dict[Fraction, Scaled] = {}
    for table in whole.tables:
        seen.setdefault(table.portions, table)
    return list(seen.items())


def _lines(
    recipe: Recipe,
    sizes: Sequence[Scaled],
    metric: Sequence[Mapping[str, MetricLine]],
    whole: ClassScale | None,
    pantry: Pantry,
    texts: Texts,
) -> tuple[LineView, ...]:
    home = [_by_key(size.lines) for size in sizes]
    parts: list[Mapping[str, ScaledLine]] = []
    if whole is not None:
        parts = [*(_by_key(table.lines) for _, table in _distinct_tables(whole)),
                 _by_key(whole.totals)]
    views = []
    for ingredient in recipe.ingredients:
        at_home = [lines.get(ingredient.key) for lines in home]
        in_class = [lines.get(ingredient.key) for lines in parts]
        item = pantry.find(ingredient.name)
        shown = [line.amounts if line else () for line in at_home]
        views.append(LineView(
            key=ingredient.key,
            name=ingredient.said,
            names=tuple(ingredient_name(ingredient, amounts, item, texts) for amounts in shown),
            preparation=_preparation(ingredient, texts),
            sizes=tuple(
                _home_cell(line, known.get(ingredient.key), texts)
                for line, known in zip(at_home, metric, strict=True)),
            for_class=tuple(_cell(line, texts) for line in in_class),
            part=ingredient.part,
        ))
    return tuple(views)


def _by_key(lines: Sequence[ScaledLine]) -> Mapping[str, ScaledLine]:
    return {line.ingredient.key: line for line in lines}


def _cell(line: ScaledLine | None, texts: Texts) -> AmountView:
    return AmountView("") if line is None or not line.amounts else line_view(line, texts)


def _home_cell(
    line: ScaledLine | None, metric: MetricLine | None, texts: Texts
) -> AmountView:
    view = _cell(line, texts)
    return in_metric_too(view, metric.amount if metric else None, texts)


def _preparation(ingredient: Ingredient, texts: Texts) -> str:
    said = ingredient.said_preparation
    if not ingredient.optional:
        return said
    optional = texts.say("optional")
    return f"{said}, {optional}" if said else optional


def _notes(size: Scaled, people: int, texts: Texts) -> tuple[str, ...]:
    notes = []
    label = texts.count("For 1 person", "For {number} people", people)
    if size.batches > 1:
        notes.append(texts.say(
            "{label}: cook it in {batches} batches.", label=label, batches=size.batches))
    if size.pan is not None and size.factor != 1:
        notes.append(f"{label}: {_pan(size.pan, texts)}")
    return tuple(notes)


def _pan(need: PanNeed, texts: Texts) -> str:
    off = off_text(need.off, texts)
    pan = need.pan.text if need.count == 1 else f"{need.count} × {need.pan.text}"
    text = texts.say("the pan needs {area} square inches, such as {pan}",
                     area=round(need.area), pan=pan)
    return f"{text} ({off})." if off else f"{text}."


def _swaps(
    recipe: Recipe, sizes: Sequence[Scaled], pantry: Pantry, texts: Texts
) -> tuple[SwapView, ...]:
    home = kitchen_of(HOME_MEASURING)
    views = []
    for swap in recipe.swaps:
        use = swap.use
        item = pantry.find(use.name)
        cells, names = [], []
        for size in sizes:
            if use.amount is None:
                cells.append(AmountView(""))
                names.append(use.said)
                continue
            measured = measure(use.amount.times(size.factor), item, use.preparation, home)
            text = amounts_text(measured.shown, texts, sized=size_comes_first(texts))
            cells.append(in_metric_too(
                AmountView(text), metric_alone(measured, item, use.preparation), texts))
            names.append(ingredient_name(use, measured.shown, item, texts))
        views.append(SwapView(swap.said_instead_of, tuple(names), tuple(cells),
                              _preparation(use, texts), texts.say(swap.because.text),
                              label_words(food_label(use, pantry, texts, recipe.is_draft), texts)))
    return tuple(views)
