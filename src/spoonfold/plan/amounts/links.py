"""What a link in a step points at, and how much of it the link says is used.

Written `[half the oil](#oil "1/2")`: a share, an amount, the rest, a piece; without a title, all.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction

from spoonfold.knowledge.names import fold, is_slip
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Emphasis, Inline, Link, plain
from spoonfold.model.recipe import Ingredient, slug
from spoonfold.plan.amounts.convert import converted
from spoonfold.plan.amounts.mentions import Names, mentions_in, plain_runs, share_said
from spoonfold.problem import Edit, Level, Place, Problem
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.grammar import Refusal, read_amount, read_share
from spoonfold.quantity.show import show_amount
from spoonfold.quantity.unit import PIECE

REST = "rest"


@dataclass(frozen=True, slots=True)
class Said:
    """How much of an ingredient a link says is used."""

    share: Fraction | None
    """Of the listed amount; None for one that is taken as needed."""
    piece: str | None = None
    """`zest`, `yolk` ...: only that part of it."""


class LinkReader:
    """Reads the links of one recipe, and keeps what can't be made out."""

    def __init__(self, ingredients: Sequence[Ingredient], pantry: Pantry, names: Names) -> None:
        self._ingredients = ingredients
        self._pantry = pantry
        self._names = names
        self._keys = _addresses(ingredients)
        self.problems: list[Problem] = []
        self.doubted: set[int] = set()
        """Ingredients with a link that couldn't be made out: their sums mean nothing."""

    def add(
        self,
        code: str,
        place: Place,
        message: str,
        hint: str,
        level: Level = Level.ERROR,
        edits: tuple[Edit, ...] = (),
    ) -> None:
        """Keeps one problem."""
        self.problems.append(Problem(code, level, place, message, hint, edits=edits))

    def target(self, link: Link) -> int | None:
        """The position in the list of what a link points at; None after saying why not."""
        address = link.address[1:]
        indexes = self._keys.get(address, ())
        if len(indexes) == 1:
            return indexes[0]
        if len(indexes) > 1:
            readings = [_written(link, self._ingredients[each].key) for each in indexes]
            self.doubted.update(indexes)
            self.add(
                "ambiguous-link",
                link.place,
                f"`{link.address}` stands in more than one part of the list.",
                " or ".join(readings),
                edits=self._readdressed(link, indexes),
            )
            return None
        close = get_close_matches(address.casefold(), self._keys, 1, 0.6)
        near = self._keys[close[0]] if close else ()
        self.doubted.update(near or self._meant_by(link))
        known = ", ".join(f"`#{each.key}`" for each in self._ingredients)
        self.add(
            "unknown-link",
            link.place,
            f"`{link.address}` isn't an ingredient of this recipe.",
            _written(link, self._ingredients[near[0]].key)
            if len(near) == 1
            else f"The ingredients are {known}.",
            edits=self._readdressed(link, near),
        )
        return None

    def _readdressed(self, link: Link, near: Sequence[int]) -> tuple[Edit, ...]:
        """The link with an address of one of the list; certain where a letter or so is wrong."""
        keys = [self._ingredients[each].key for each in near]
        said, alone = fold(link.address.removeprefix("#")), len(keys) == 1
        return tuple(
            Edit(link.place, link.address, f"#{key}", alone and is_slip(said, fold(key)))
            for key in keys
        )

    def said(self, index: int, link: Link, left: Fraction) -> Said | None:
        """What a link says of the ingredient that it points at, of which so much is left; None
        after saying why that can't be made out."""
        ingredient = self._ingredients[index]
        title = " ".join(link.title.split()).lower()
        if ingredient.amount is None:
            if title and title != REST:
                self.add(
                    "share-of-nothing",
                    link.place,
                    f"“{ingredient.name}” has no amount in the list, so there is no share of it.",
                    _written(link, ingredient.key, ""),
                )
            return Said(None)
        said = self._share(index, ingredient, title, link, left)
        if said is None:
            self.doubted.add(index)
        return said

    def _share(
        self, index: int, ingredient: Ingredient, title: str, link: Link, left: Fraction
    ) -> Said | None:
        item = self._pantry.find(ingredient.name)
        if not title:
            self._check_words(index, ingredient, link)
            return Said(Fraction(1))
        if item is not None and title in item.pieces:
            return Said(Fraction(1), title)
        if title == REST:
            if left <= 0:
                self.add(
                    "nothing-left",
                    link.place,
                    f"Nothing is left of {ingredient.name} here: the steps before have used "
                    "all of it.",
                    'Give an earlier step a share, such as "1/2".',
                )
                return None
            return Said(left)
        share = read_share(title)
        if isinstance(share, Fraction) and share < 1:
            return Said(share)
        amount = read_amount(title)
        if isinstance(amount, Refusal):
            pieces = "".join(f', "{each}"' for each in (item.pieces if item else ()))
            better = share.instead if isinstance(share, Refusal) else None
            self.add(
                "unreadable-share",
                link.place,
                f"“{title}” is neither a share, an amount, nor a piece of {ingredient.name}.",
                _written(link, ingredient.key, better)
                if better
                else f'Write "1/2", "2 tbsp", "rest"{pieces}, or nothing for all of it.',
            )
            return None
        same = self._amount_share(ingredient, amount, title, link)
        return None if same is None else Said(same)

    def _amount_share(
        self, ingredient: Ingredient, amount: Amount, title: str, link: Link
    ) -> Fraction | None:
        listed = ingredient.amount
        assert listed is not None
        if listed.high is None and amount.high is None:
            item = self._pantry.find(ingredient.name)
            same = converted(amount, listed.unit, item, ingredient.preparation)
            if same is not None:
                return same.low / listed.low
        bare = amount.unit == PIECE
        self.add(
            "unreadable-share",
            link.place,
            f"“{title}” is read as a share of the {ingredient.name}, and no share is more than 1."
            if bare
            else f"“{title}” can't be compared with the {show_amount(listed)} in the list.",
            'Write a share such as "1/2", or the amount in the unit of the list.',
        )
        return None

    def _check_words(self, index: int, ingredient: Ingredient, link: Link) -> None:
        """Words of a link that say less than all, where it gives no share."""
        for run in plain_runs(link.children):
            for mention in mentions_in(run, 0, self._names):
                part = share_said(mention)
                if part is not None and index in mention.meant:
                    self.add(
                        "share-in-words",
                        link.place,
                        f"“{part} {mention.words}” says that not all of it is meant, but the "
                        "link gives no share, so this step takes all of it.",
                        "Link it with its share, and link the rest where it goes:\n"
                        + _written(link, ingredient.key, "1/2"),
                        Level.WARNING,
                    )

    def _meant_by(self, link: Link) -> set[int]:
        """The ingredients that the words of a link name."""
        return {
            index
            for run in plain_runs(link.children)
            for mention in mentions_in(run, 0, self._names)
            for index in mention.meant
        }


def _written(link: Link, key: str, title: str | None = None) -> str:
    """The link as it should be written."""
    title = link.title if title is None else title
    return f"[{plain(link.children)}](#{key}" + (f' "{title}")' if title else ")")


def _addresses(ingredients: Sequence[Ingredient]) -> Mapping[str, tuple[int, ...]]:
    """Every address that a link may use, and what it points at."""
    addresses: dict[str, list[int]] = defaultdict(list)
    for index, ingredient in enumerate(ingredients):
        name = slug(ingredient.name)
        for address in dict.fromkeys(
            (ingredient.key, name, f"{slug(ingredient.part)}-{name}" if ingredient.part else name)
        ):
            addresses[address].append(index)
    return {address: tuple(indexes) for address, indexes in addresses.items()}


def links_in(children: Sequence[Inline]) -> Iterator[Link]:
    """Every link of a step, to whatever it leads."""
    for child in children:
        if isinstance(child, Link):
            yield child
        elif isinstance(child, Emphasis):
            yield from links_in(child.children)
