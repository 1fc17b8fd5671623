"""Every ingredient is used up exactly: what the sums of `plan` found."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from spoonfold.check.rule import Facts, Rule
from spoonfold.problem import Problem

_WHY = {
    "never-used": "Something is bought, carried and measured, and then nobody is told what to do with it; "
    "or a step lost its words. Only an ingredient that a step names gets onto that step's "
    "list of amounts.",
    "used-over": "The steps together use more than the list says, so the children would run out in the "
    "middle. Amounts for the class and for every household are worked out from these shares.",
    "used-in-part": "The steps together use less than the list says, so something is left on the table and "
    "the dish comes out different from the one that was meant. The last use is usually “the "
    "rest”.",
    "nothing-left": "“The rest” means what earlier steps have left. Here they have left nothing, so the step "
    "would show an amount of zero.",
    "unreadable-share": "The words in quotes behind a link say how much of the ingredient goes in: a share of the "
    "listed amount, an amount, “rest”, or a piece such as “zest”. What can't be read can't be "
    "multiplied.",
    "share-of-nothing": "An ingredient without an amount (“to taste”) is never measured, so half of it is no "
    "amount either.",
    "unknown-link": "A link that begins with # says which ingredient a step uses. When no ingredient has that "
    "address, the amount is missing from the step.",
    "ambiguous-link": "The same ingredient stands in two parts of the list, and the link could mean either. The "
    "wrong one would put the marinade's soy sauce into the dip.",
    "two-could-be-meant": "A word such as “oil” or “onions” fits two ingredients of the list. Spoonfold doesn't "
    "guess which of them goes in here, because a guess may be an allergen.",
    "share-in-words": "Words such as “half the oil” are for the reader. The sums take the whole amount at the "
    "first plain mention, so the sheet would tell the children to measure all of it. A link "
    "says the share in a way that is multiplied too.",
    "amount-in-words": "The amounts in the list are worked out anew for every household and every class, and "
    "stand beside the step that uses them. An amount inside the words of a step stays what it "
    "was for four people, so the two would say different things.",
}


def _passed_on(code: str) -> Callable[[Facts], Iterator[Problem]]:
    """A rule that passes on what the sums found under one code."""

    def run(facts: Facts) -> Iterator[Problem]:
        for uses in facts.uses.values():
            yield from (each for each in uses.problems if each.code == code)

    return run


RULES = tuple(Rule(code, _passed_on(code), why) for code, why in _WHY.items())
