"""A recipe of one step for each sentence, and its actions as one line.

`NOT person verb of foods + joined | tools | vessel | heat | where | minutes | degrees | until`:
each part only where there is one. A tool in brackets only goes with the verb; `~` behind the foods
says that a pronoun meant them, `?` that nobody named them.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from spoonfold.kitchen.actions import Action, Called, Portion, ReadStep, Tidy
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Text
from spoonfold.model.recipe import Ingredient, Recipe, Step, slug
from spoonfold.plan.amounts.uses import uses_of
from spoonfold.plan.safety.flow import Flow
from spoonfold.problem import Place
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.grammar import read_amount
from spoonfold.read.pantry import read_pantry

LISTED = (
    *("onion", "carrots", "garlic", "potatoes", "tomatoes", "cucumber", "red bell pepper"),
    *("apples", "oranges", "bananas", "lemon", "parsley", "lettuce", "spinach"),
    *("boneless skinless chicken breasts", "ground beef", "salmon", "shrimp", "eggs", "bacon"),
    *("milk", "butter", "cheddar cheese", "plain yogurt", "all-purpose flour", "sugar", "salt"),
    *("black pepper", "baking powder", "active dry yeast", "olive oil", "rice", "spaghetti"),
    *("canned black beans", "chicken broth", "water", "corn tortillas", "honey", "walnuts"),
)
"""What every one of the sentences may speak of."""
_HERE = Place("recipes/one.md", 1, 1)


@cache
def _pantry() -> Pantry:
    return read_pantry(None, [])


def flow_of(*steps: str, listed: tuple[str, ...] = LISTED) -> Flow:
    """A recipe that cooks the listed foods in these steps."""
    amount = read_amount("1 cup")
    assert isinstance(amount, Amount)
    lines = tuple(
        Ingredient(name, amount, None, Place("recipes/one.md", 100 + n, 1), key=slug(name))
        for n, name in enumerate(listed)
    )
    made = tuple(
        Step(number, (Text(words, Place("recipes/one.md", number, 4)),),
             Place("recipes/one.md", number, 4))
        for number, words in enumerate(steps, 1)
    )  # fmt: skip
    recipe = Recipe(
        *("one", "One", "Lima", ("PE",), Fraction(4), None, lines, (), (), None, None),
        (), made, {}, _HERE,
    )  # fmt: skip
    return Flow(recipe, uses_of(recipe, _pantry()), _pantry())


def shown(words: str) -> str:
    """The actions of a step, and what in it wasn't understood."""
    return "; ".join(shown_steps(flow_of(words).actions[1]))


def shown_steps(step: ReadStep) -> list[str]:
    """Each action as a line, then each unread word."""
    lines = [_line(action) for action in step.actions]
    return [*lines, *(f"? {each.word} ({each.sort})" for each in step.unread)]


_CALLED = {Called.BY_PRONOUN: "~", Called.UNSAID: "?"}


def _line(action: Action) -> str:
    who = ("NOT " if action.denied else "") + (f"{action.person} " if action.person else "")
    foods = f" {_foods(action.foods)}{_CALLED.get(action.called, '')}" if action.foods else ""
    joined = f" + {_foods(action.joined)}" if action.joined else ""
    tools = ", ".join(
        (f"({each.name})" if each.implied else each.name)
        + (f" {each.tidy}" if each.tidy in (Tidy.SAME, Tidy.CLEAN) else "")
        for each in action.tools
    )
    where = "" if action.where in ("", "hot") and action.spot == "" else (
        f"@{action.where} {action.spot}" if action.where != "hot" else ""
    )  # fmt: skip
    parts = (
        who + action.verb.name + foods + joined,
        tools,
        f"in {action.vessel}" if action.vessel else "",
        f"on {action.heat}" if action.heat else "",
        action.level,
        where,
        "out of the cold" if action.out_of_cold else "",
        f"{action.minutes} min" if action.minutes is not None else "",
        f"{action.degrees.whole_fahrenheit} °F" if action.degrees else "",
        f"set to {action.appliance.whole_fahrenheit} °F" if action.appliance else "",
        action.until,
    )
    return " | ".join(part for part in parts if part)


_SHORT = {slug(name): name.split()[-1] if name != "red bell pepper" else name for name in LISTED}
_SHORT[slug("black pepper")] = "black pepper"


def _foods(portions: frozenset[Portion]) -> str:
    return ", ".join(
        sorted(
            _SHORT.get(each.key, each.key) + (f".{each.piece}" if each.piece else "")
            for each in portions
        )
    )
