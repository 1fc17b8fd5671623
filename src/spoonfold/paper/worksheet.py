"""A worksheet of a session, from its dishes' own numbers, and its key with worked steps.

Both belong into `class/`: the key is for the adults alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Session, Setting
from spoonfold.model.folder import ClassFolder
from spoonfold.model.pantry import Item
from spoonfold.model.recipe import Ingredient, Recipe
from spoonfold.paper.worksheet_figures import Figure, figure_of
from spoonfold.paper.worksheet_words import Asked, Names, asked_of
from spoonfold.paper.worksheet_work import work_of
from spoonfold.plan.amounts.eaters import eaters_at_tables
from spoonfold.plan.amounts.measure import PARTS
from spoonfold.plan.safety.limits import COLD_BY_CODE, HANDWASH_SECONDS
from spoonfold.quantity.unit import PIECE
from spoonfold.sheets.head import Head, head_of
from spoonfold.teach.fractions.numbers import GRADES, Dish, Food, Heat, Numbers, Room, StepTime
from spoonfold.teach.fractions.sheet import questions_of

AGE_LESS_GRADE = 5
"""A child of ten is mostly in grade 5 by the end of the school year (common practice in the
United States)."""

_UNIT_PARTS: Mapping[str, frozenset[int]] = {
    # Sixths are made with a half and a third, eighths with two tablespoons.
    "cup": frozenset({1, 2, 3, 4, 6, 8}),
    "tbsp": frozenset({1, 2, 3}),
    "tsp": frozenset({1, 2, 4, 8}),
    "oz": frozenset({1, 2}),
    "lb": frozenset({1, 2, 4}),
    "can": frozenset({1, 2}),
    "clove": frozenset({1}),
    "leaf": frozenset({1}),
    "slice": frozenset({1}),
}
"""Units of the questions, and into how many parts a kitchen measures them (common practice)."""


@dataclass(frozen=True, slots=True)
class QuestionView:
    """One question as it stands on the sheet and in the key."""

    number: int
    standard: str
    asked: Asked
    figure: Figure | None
    work: tuple[str, ...]
    """Worked steps, line by line."""


@dataclass(frozen=True, slots=True)
class Worksheet:
    """The questions of one session."""

    head: Head
    grade: int
    seed: int
    is_long: bool
    questions: tuple[QuestionView, ...]


def worksheet_name(language: str, grade: int) -> str:
    """The file of the children's sheet, in the session's folder."""
    return f"worksheet-grade-{grade}-{language}.pdf"


def worksheet_key_name(language: str, grade: int) -> str:
    """The file of its key, for the adults."""
    return f"worksheet-grade-{grade}-key-{language}.pdf"


def grade_for(setting: Setting) -> int:
    """The grade of a child of the middle age, within those that there are sheets for."""
    middle = sum(setting.ages) // 2
    return min(max(middle - AGE_LESS_GRADE, GRADES[0]), GRADES[-1])


def worksheet_of(
    folder: ClassFolder,
    classroom: Classroom,
    session: Session,
    grade: int,
    seed: int,
    is_long: bool,
    texts: Texts,
) -> Worksheet | None:
    """The sheet of a session; None where its dishes have no numbers to ask about.

    Grades 3 to 6. The same seed gives the same sheet.
    """
    if not has_numbers(folder, session):
        return None
    numbers = numbers_of(folder, session, classroom.households)
    names = _names_of(folder, session, texts)
    questions = tuple(
        QuestionView(
            number,
            question.standard,
            asked_of(question, names),
            figure_of(question, names),
            work_of(question, names),
        )
        for number, question in enumerate(questions_of(numbers, grade, seed, is_long), start=1)
    )
    return Worksheet(head_of(folder, classroom, session, texts), grade, seed, is_long, questions)


def has_numbers(folder: ClassFolder, session: Session) -> bool:
    """Whether there is anything in a session's dishes to ask about."""
    return any(_dish(recipe, folder).foods for recipe in _asked_of(folder, session))


def numbers_of(folder: ClassFolder, session: Session, households: tuple[int, ...]) -> Numbers:
    """The numbers of a session's dishes, as the recipes list them, and of who comes."""
    setting = session.setting
    eaters = eaters_at_tables(setting)
    children = sum(setting.tables)
    # Where each only tastes, people aren't portions: then the families' sizes alone are used.
    here = (children, sum(eaters), *eaters) if setting.portion == 1 else ()
    room = Room(
        children=children,
        cooks_for=tuple(sorted({number for number in (*here, *households) if number > 1})),
        cups=tuple(sorted(setting.measuring.cups, reverse=True)),
        starts=setting.starts.hour * 60 + setting.starts.minute,
        minutes=setting.minutes,
        wash_seconds=HANDWASH_SECONDS,
    )
    dishes = tuple(_dish(recipe, folder) for recipe in _asked_of(folder, session))
    return Numbers(dishes, room)


def _asked_of(folder: ClassFolder, session: Session) -> Iterator[Recipe]:
    """The dishes that serve a whole number."""
    for dish in session.dishes:
        recipe = folder.recipes.get(dish.text)
        if recipe is not None and recipe.serves.denominator == 1:
            yield recipe


def _dish(recipe: Recipe, folder: ClassFolder) -> Dish:
    serves = int(recipe.serves)
    foods = []
    for ingredient in recipe.ingredients:
        amount = ingredient.amount
        parts = _parts(ingredient, folder.pantry.find(ingredient.name))
        if amount is not None and amount.high is None and not ingredient.optional and parts:
            foods.append(
                Food(recipe.key, ingredient.key, amount.low, amount.unit.name, serves, parts)
            )
    steps = []
    for step in recipe.steps:
        minutes = (step.class_time or step.time or Fraction(0)) + (step.wait or 0)
        if step.when is None and minutes.denominator == 1 and not step.wait_aside:
            steps.append(StepTime(step.number, int(minutes)))
    heats = [
        Heat(step.heat.whole_fahrenheit, step.number, "food")
        for step in recipe.steps
        if step.heat is not None and step.when is None
    ]
    if recipe.oven is not None:
        heats.append(Heat(recipe.oven.whole_fahrenheit, None, "oven"))
    cold = Heat(COLD_BY_CODE.whole_fahrenheit, None, "cold")
    return Dish(recipe.key, serves, tuple(foods), tuple(steps), tuple(heats) or (cold,))


def _parts(ingredient: Ingredient, item: Item | None) -> frozenset[int]:
    """Into how many parts it is measured or cut; none where it makes no question."""
    amount = ingredient.amount
    if amount is None:
        return frozenset()
    if amount.unit == PIECE:
        return frozenset(PARTS[item.divides] if item is not None and item.divides else (1,))
    return _UNIT_PARTS.get(amount.unit.name, frozenset())


def _names_of(folder: ClassFolder, session: Session, texts: Texts) -> Names:
    recipes = [folder.recipes[dish.text] for dish in session.dishes if dish.text in folder.recipes]
    return Names(
        texts=texts,
        titles={recipe.key: recipe.title for recipe in recipes},
        ingredients={
            (recipe.key, ingredient.key): ingredient
            for recipe in recipes
            for ingredient in recipe.ingredients
        },
        pantry=folder.pantry,
    )
