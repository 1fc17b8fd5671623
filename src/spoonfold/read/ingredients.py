"""The ingredient list of a recipe's header, and its swaps."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from spoonfold.knowledge.names import fold, singulars
from spoonfold.model.prose import Text
from spoonfold.model.recipe import Ingredient, Swap, SwapStep, slug
from spoonfold.problem import Level, Place, Problem
from spoonfold.quantity.grammar import Refusal, read_line
from spoonfold.quantity.plain import read_lines
from spoonfold.read.nodes import Mapping, Node, Scalar, describe, shorten
from spoonfold.read.nodes import Sequence as NodeList
from spoonfold.read.pantry import shipped_names
from spoonfold.read.record import Key, ListOf, MapOf, Record, entries_of, is_too_long
from spoonfold.read.shape import Found, Line, Named, Shape, add, is_refused, nearest, refused

MOST_INGREDIENTS = 300


@dataclass(frozen=True, slots=True)
class IngredientLine:
    """One line of the list, by the grammar of amounts."""

    @property
    def written(self) -> tuple[Shape, ...]:
        return (Line("an ingredient line"),)

    def read(self, node: Node, found: Found) -> Ingredient | None:
        """The one ingredient that a line names."""
        read = self.read_all(node, found)
        if len(read) > 1:
            add(
                found,
                "two-ingredients",
                node.place,
                "Two ingredients are two lines, and here goes one.",
                f"{read[0].name}, {read[0].as_needed}",
            )
            return None
        return read[0] if read else None

    def read_all(self, node: Node, found: Found) -> tuple[Ingredient, ...]:
        """Every ingredient that a line names; none where it can't be read."""
        if isinstance(node, Mapping):
            _mapping_in_list(node, found)
            return ()
        text = Line("an ingredient line").read(node, found)
        if text is None:
            return ()
        if isinstance(node, Scalar) and node.last_line > node.place.line:
            add(
                found,
                "line-broken",
                node.place,
                f"“{shorten(text)}” runs over more than one line of the file: two ingredients, "
                "with a hyphen missing between them?",
                "Begin each ingredient with a hyphen, and keep each on one line.",
            )
            return ()
        lines = read_lines(text)
        if isinstance(lines, Refusal):
            assert isinstance(node, Scalar)  # Otherwise it would be no line.
            refused(_named_in_bracket(lines, text), node, found, is_meant=True)
            return ()
        return tuple(
            Ingredient(
                name=line.name,
                amount=line.amount,
                preparation=line.preparation,
                place=node.place,
                second=line.second,
                optional=line.optional,
                as_needed=line.as_needed,
            )
            for line in lines
        )


_IN_BRACKET = re.compile(r"^(?P<before>[^()]*?)\s*\((?P<kind>[^()]*)\)(?P<behind>[^()]*)$")


def _named_in_bracket(refusal: Refusal, text: str) -> Refusal:
    """The refusal of “1 cup stock (chicken)” with the food that is meant: chicken stock, which
    behind a comma nobody would buy. Any other is left as it is."""
    found = _IN_BRACKET.match(text)
    if refusal.code != "bracket-after-name" or found is None:
        return refusal
    plain = read_line(f"{found['before']}{found['behind']}")
    if isinstance(plain, Refusal):
        return refusal
    named = f"{found['kind']} {plain.name}"
    if not any(form in shipped_names() for form in singulars(fold(named))):
        return refusal
    instead = f"{text[: plain.name_at]}{named}{found['behind']}"
    return replace(refusal, instead=" ".join(instead.split()))


def _mapping_in_list(node: Mapping, found: Found) -> None:
    key, value = next(iter(node.entries.items()), ("", None))
    text = value.text if isinstance(value, Scalar) else ""
    add(
        found,
        "colon-in-line",
        node.place,
        f"A colon with a space after “{key}” makes a key of it; only `part` may stand here.",
        _without_colon(key, text),
    )


def _without_colon(key: str, text: str) -> str:
    """What may have been meant by `To finish:`, `parts: To finish` or `water: 2 cups`."""
    if not text:
        return f"- part: {key}"
    if nearest(key, ("part",)):
        return f"- part: {text}"
    for line, shown in ((f"{text} {key}", f"{text} {key}"), (f"{key}: {text}", f'"{key}: {text}"')):
        if not isinstance(read_line(line), Refusal):
            return f"- {shown}"
    return "Write the amount first, then the ingredient, without a colon."


PART = Record(
    (Key("part", Line("a heading"), "a heading inside the list", True, "To finish"),),
    "a heading in the list",
)


@dataclass(frozen=True, slots=True)
class _ListEntry:
    """What may stand in the list; headings are taken out before it is read."""

    @property
    def written(self) -> tuple[Shape, ...]:
        return (IngredientLine(), PART)

    def read(self, node: Node, found: Found) -> tuple[Ingredient, ...]:
        return IngredientLine().read_all(node, found)


class IngredientList:
    """Ingredient lines with `part:` headings between them."""

    @property
    def written(self) -> tuple[Shape, ...]:
        return (ListOf(_ListEntry(), least=1),)

    def read(self, node: Node, found: Found) -> tuple[Ingredient, ...] | None:
        if is_refused(node):
            return None
        if not isinstance(node, NodeList):
            add(
                found,
                "not-a-list",
                node.place,
                f"Here goes the list of ingredients, not {describe(node)}.",
                "Write each on a line of its own behind a plain hyphen: `- 1 cup rice, rinsed`.",
            )
            return None
        if not node.items:
            add(found, "empty-list", node.place, "No ingredient is listed.", "- 1 cup rice, rinsed")
        if is_too_long(node.items, MOST_INGREDIENTS, node, found):
            return None
        part: str | None = None
        heading: Node | None = None
        unread = 0
        ingredients: list[Ingredient] = []
        for item in node.items:
            if isinstance(item, Mapping) and tuple(item.entries) == ("part",):
                _check_part(heading, found)
                part = Line("a heading").read(item.entries["part"], found)
                heading = item
                continue
            heading = None
            read = _ListEntry().read(item, found)
            ingredients.extend(
                read if part is None else [replace(each, part=part) for each in read]
            )
            unread += not read
        _check_part(heading, found)
        keyed = _with_keys(ingredients, found)
        # With a line unread, every sum below would be wrong.
        return None if unread else keyed


def _check_part(heading: Node | None, found: Found) -> None:
    """A heading that another one, or the end, follows at once."""
    if heading is not None:
        found.append(
            Problem(
                "empty-part",
                Level.WARNING,
                heading.place,
                "No ingredient stands under this heading, so it is left out.",
                "Remove it, or list what belongs there.",
            )
        )


def _with_keys(ingredients: Sequence[Ingredient], found: Found) -> tuple[Ingredient, ...]:
    """Each with the address that links use; the same name twice in one part is a problem."""
    names = Counter(slug(each.name) for each in ingredients)
    seen: dict[tuple[str | None, str], Place] = {}
    keyed = []
    for each in ingredients:
        name = slug(each.name)
        first = seen.setdefault((each.part, name), each.place)
        if first is not each.place:
            add(
                found,
                "ingredient-twice",
                each.place,
                f"“{each.name}” stands already on line {first.line}, in the same part.",
                "Add the two amounts up in one line, or put a `- part: …` heading between them.",
            )
            continue
        key = f"{slug(each.part)}-{name}" if names[name] > 1 and each.part else name
        keyed.append(replace(each, key=key))
    return tuple(keyed)


@dataclass(frozen=True, slots=True)
class SwapEntry:
    """What to use instead."""

    @property
    def written(self) -> tuple[Shape, ...]:
        return (_SWAP,)

    def read(self, node: Node, found: Found) -> Swap | None:
        values = _SWAP.read(node, found)
        if values is None or not {"instead of", "use", "because"} <= values.keys():
            return None
        return Swap(
            values["instead of"],
            values["use"],
            values["because"],
            node.place,
            steps=values.get("steps", ()),
        )


@dataclass(frozen=True, slots=True)
class StepWords:
    """Words for single steps, by their numbers."""

    @property
    def written(self) -> tuple[Shape, ...]:
        return (MapOf(_STEP_WORDS),)

    def read(self, node: Node, found: Found) -> tuple[SwapStep, ...] | None:
        mapping = entries_of(node, found)
        if mapping is None:
            return None
        steps = []
        for key, value in mapping.entries.items():
            if not (key.isascii() and key.isdigit()):
                add(
                    found,
                    "swap-step-number",
                    value.place,
                    f"“{key}” isn't the number of a step.",
                    "Write the step's number, a colon, and what the step says with the swap:\n"
                    "4: Stir in the oil instead.",
                )
                continue
            words = _STEP_WORDS.read(value, found)
            if words is not None:
                text = (Text(words, value.place),)
                steps.append(SwapStep(int(key), text, value.place))
        return tuple(steps)


_STEP_WORDS = Line("what the step says with the swap")

_SWAP = Record(
    (
        Key("instead of", Named("a listed ingredient"), "the ingredient as listed", True, "butter"),
        Key("use", IngredientLine(), "the line that replaces it", True, "2 tbsp sunflower oil"),
        Key(
            "because",
            Named("a reason"),
            "an allergen, a pattern, `price`, or `shop` where it has none",
            True,
            "milk",
        ),
        Key(
            "steps",
            StepWords(),
            "what single steps say with it, where another name alone won't do",
            example="{4: Warm the oil.}",
        ),
    ),
    "a swap",
)
