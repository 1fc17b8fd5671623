"""Every rule, in the order in which they run."""

from __future__ import annotations

from spoonfold.check import (
    amounts,
    class_names,
    equipment,
    order,
    parts,
    pictures,
    recipe_names,
    swaps,
    translation,
    uses,
)
from spoonfold.check.rule import Facts, Rule
from spoonfold.problem import Problem, in_order

RULES: tuple[Rule, ...] = (
    *uses.RULES,
    *order.RULES,
    *parts.RULES,
    *swaps.RULES,
    *pictures.RULES,
    *recipe_names.RULES,
    *class_names.RULES,
    *equipment.RULES,
    *amounts.RULES,
    *translation.RULES,
)


def check_folder(facts: Facts) -> tuple[Problem, ...]:
    """Everything that the rules find, by file and line."""
    return in_order(problem for rule in RULES for problem in rule.run(facts))
