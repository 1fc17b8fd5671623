"""What `check` makes of a folder of small recipes, each right or wrong in one known way.

    python tests/kitchen/corpus/judge.py FOLDER [--show NAME]

The README beside this says how a recipe is written down. A danger counts as seen only where a
problem could be about it: `sight.json` says which codes those are for each kind of danger. A
complaint about a missing time or an unknown tool is no sight of raw chicken.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from spoonfold.check import examine
from spoonfold.problem import Level, Problem
from tiny_class import write_class

FORMS = ("plain", "noted")
VERDICTS = ("refused", "asked", "warned", "passed")
DEVELOPMENT = Path(__file__).parent / "development"


class Sight(NamedTuple):
    """By which codes what is seen: `sight.json`."""

    asks: frozenset[str]
    """Spoonfold says that it can't tell, rather than that something is wrong."""
    no_verdict: frozenset[str]
    """No fault of a right recipe here: the class is made up for it, and foods and tools that aren't
    known are another question."""
    kinds: Mapping[str, frozenset[str]]
    """By the kind of danger, the codes that could be about it."""

    def of(self, kind: str) -> frozenset[str]:
        """The codes for a kind of danger; for one that isn't listed, those of all."""
        return self.kinds.get(kind, frozenset().union(*self.kinds.values()))


def _sight() -> Sight:
    table = json.loads((Path(__file__).parent / "sight.json").read_text("utf-8"))
    families = table["families"]
    return Sight(
        frozenset(table["asks"]),
        frozenset(table["no verdict"]),
        {
            kind: frozenset(code for name in names for code in families[name])
            for kind, names in table["kinds"].items()
        },
    )


SIGHT = _sight()


@dataclass(frozen=True, slots=True)
class Recipe:
    """One file of a corpus."""

    name: str
    wrong: str | None
    """What could hurt; None where nothing does."""
    kind: str
    ages: str
    avoid: str | None
    """What a child must not eat, and where."""
    language: str
    """That its words are in."""
    texts: Mapping[str, str]
    """By form."""


@dataclass(frozen=True, slots=True)
class Judged:
    """What was made of one form of one recipe."""

    recipe: Recipe
    form: str
    problems: tuple[Problem, ...]

    @property
    def verdict(self) -> str:
        """“refused”, “asked”, “warned” or “passed”, by what could be about its danger; of a right
        one by whatever is told."""
        codes = {
            level: {each.code for each in self.problems if each.level is level} for level in Level
        }
        if self.recipe.wrong is None:
            errors = codes[Level.ERROR] - SIGHT.no_verdict
            warnings = codes[Level.WARNING] - SIGHT.no_verdict
        else:
            seen = SIGHT.of(self.recipe.kind)
            errors, warnings = codes[Level.ERROR] & seen, codes[Level.WARNING] & seen
        if errors - SIGHT.asks:
            return "refused"
        return "asked" if errors else "warned" if warnings else "passed"

    @property
    def failed(self) -> bool:
        """A danger that isn't seen, or a right recipe that is refused."""
        if self.recipe.wrong is None:
            return self.verdict == "refused"
        return self.verdict == "passed" or (
            self.verdict == "warned" and self.recipe.kind != "label"
        )


def recipes_in(folder: Path) -> Iterator[Recipe]:
    """The recipes of a corpus, by name."""
    for path in sorted(folder.glob("*.txt")):
        head, plain = path.read_text("utf-8").split("\n\n======== plain ========\n")
        plain, noted = plain.split("\n\n======== noted ========\n")
        first, *keys = head.split("\n")
        said = dict(each.split(": ", 1) for each in keys)
        yield Recipe(
            name=path.stem,
            wrong=None if first == "right" else first.removeprefix("wrong: "),
            kind=said["kind"],
            ages=said.get("ages", "9-12"),
            avoid=said.get("avoid"),
            language=said.get("language", "en"),
            texts={"plain": f"{plain}\n", "noted": noted},
        )


_TOOLS = """burner, griddle, oven shelf, refrigerator, sink, table, cooler, big pot, pot, skillet,
baking pan, colander, mixing bowl, jug, knife, board, clean towel, grater, peeler, can opener,
thermometer, wooden spoon, spatula, whisk, tongs, scissors, ladle, blender, mandoline, microwave,
pressure cooker, ricer, rolling pin, sieve, slow cooker, steamer, stick blender, yogurt maker,
charcoal grill, scale"""
_TOOLS_BY_LANGUAGE = {
    "en": _TOOLS,
    "es": """hornilla, plancha, horno, nevera, refrigerador, heladera, fregadero, mesa, olla,
sartén, charola, colador, tazón, jarra, cuchillo, tabla, paño, rallador, pelador, abrelatas,
termómetro, cuchara de madera, cuchara, batidor, tenedor, pinzas, tijeras, cucharón, licuadora,
batidora, batidora de mano, olla de cocción lenta, olla a presión, rodillo, fuente, molde, frasco,
comal, plato, vaso, copa, pincel, cuchillo de mesa, microondas""",
}

_CLASS = """\
name: Tiny Table
place: The Small Hall
first day: 2027-09-18
starts: "08:00"
minutes: 600
fixed: {{arrive: 5, talk: 5, eat: 10, clean up: 5}}
ages: {ages}
tables: [4, 4, 4]
helpers: 3
measuring: {{cups: [1, 1/2, 1/3, 1/4], tablespoon: 1, teaspoons: [1, 1/2, 1/4]}}
equipment: {{{equipment}}}
households: [2, 4]
languages: [{language}]
{needs}sessions:
  - {{dishes: [rice]}}
"""


def class_of(recipe: Recipe) -> str:
    """A class that has every tool, children of the right age and what they avoid."""
    needs = ""
    if recipe.avoid is not None:
        food, _, table = recipe.avoid.partition(" at table ")
        where = f"table: {table}, " if table else ""
        needs = f"needs:\n  - {{{where}avoid: [{food}]}}\n"
    tools = _TOOLS_BY_LANGUAGE[recipe.language].split(",")
    equipment = ", ".join(f"{each.strip()}: 12" for each in tools)
    return _CLASS.format(
        ages=recipe.ages, equipment=equipment, needs=needs, language=recipe.language
    )


def judge(recipe: Recipe) -> Iterator[Judged]:
    """Both forms of a recipe, each in a small class of its own."""
    for form in FORMS:
        with tempfile.TemporaryDirectory() as folder:
            files = {"class.yaml": class_of(recipe), "recipes/rice.md": recipe.texts[form]}
            yield Judged(recipe, form, examine(write_class(Path(folder), files)).problems)


def figures(judged: Sequence[Judged]) -> dict[tuple[bool, str], Counter[str]]:
    """How many were refused, asked, warned and passed, by right or wrong and by form."""
    counted: dict[tuple[bool, str], Counter[str]] = {}
    for each in judged:
        key = (each.recipe.wrong is None, each.form)
        counted.setdefault(key, Counter())[each.verdict] += 1
    return counted


def _told(judged: Sequence[Judged]) -> Iterator[str]:
    for (right, form), counts in sorted(figures(judged).items()):
        total = sum(counts.values())
        said = ", ".join(f"{counts[each]} {each}" for each in VERDICTS)
        failed = sum(
            each.failed
            for each in judged
            if (each.recipe.wrong is None, each.form) == (right, form)
        )
        name = "false errors" if right else "missed"
        yield (
            f"{'right' if right else 'wrong'} {form}: {total}; {said}; "
            f"{failed} {name} ({failed / total:.1%})"
        )
    for right in (False, True):
        yield ""
        yield f"By kind ({'right' if right else 'wrong'}): all, failed plain, failed noted"
        mine = [each for each in judged if (each.recipe.wrong is None) is right]
        for kind in sorted({each.recipe.kind for each in mine}):
            of_kind = [each for each in mine if each.recipe.kind == kind]
            by_form = Counter(each.form for each in of_kind if each.failed)
            strange = "" if right or kind in SIGHT.kinds else "  (a kind without codes of its own)"
            row = f"{len(of_kind) // 2:3} {by_form['plain']:3} {by_form['noted']:3}"
            yield f"  {kind:22}{row}{strange}"
    yield ""
    for each in judged:
        if each.failed or (each.recipe.wrong is None and each.verdict == "asked"):
            yield f"{each.form} {each.recipe.name} ({each.recipe.kind}): {_why(each)}"


def _why(judged: Judged) -> str:
    if judged.recipe.wrong is not None:
        return f"{judged.verdict}, though {judged.recipe.wrong}"
    errors = Counter(each.code for each in judged.problems if each.level is Level.ERROR)
    named = (f"{n} {code}" if n > 1 else code for code, n in sorted(errors.items()))
    return f"{judged.verdict} by {', '.join(named)}"


def _shown(judged: Judged) -> Iterator[str]:
    yield f"======== {judged.form}: {judged.verdict}"
    for number, line in enumerate(judged.recipe.texts[judged.form].split("\n"), 1):
        yield f"{number:3} {line}"
    for each in judged.problems:
        spot = f"{each.place.path.removeprefix('content/')}:{each.place.line}"
        yield f"  {each.level.value} {each.code} at {spot}: {each.message}"
        yield from (f"      {line}" for line in each.hint.split("\n") if line)


def main(arguments: Iterable[str] | None = None) -> int:
    """Prints the figures of a folder, or everything about one recipe."""
    parser = argparse.ArgumentParser(description="Judge a corpus of small recipes.")
    parser.add_argument("folder", type=Path, nargs="?", default=DEVELOPMENT)
    parser.add_argument("--show", metavar="NAME", help="what is found in one recipe")
    asked = parser.parse_args(None if arguments is None else list(arguments))
    recipes = [each for each in recipes_in(asked.folder) if asked.show in (None, each.name)]
    if not recipes:
        print(f"No such recipe in {asked.folder}.", file=sys.stderr)
        return 2
    judged = [each for recipe in recipes for each in judge(recipe)]
    tell = (line for each in judged for line in _shown(each)) if asked.show else _told(judged)
    print("\n".join(tell))
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
