"""Every remedy works: what `check` says to write, written where it says so, takes that problem away
and brings no other."""

from __future__ import annotations

import shutil
import sys
import tempfile
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from remedies import Files, remedied
from written_cases import all_cases, write

from spoonfold.check import examine
from spoonfold.problem import Level, Problem
from tiny_class import write_class

CORPUS = Path(__file__).parents[1] / "kitchen" / "corpus"
sys.path.insert(0, str(CORPUS))

from judge import DEVELOPMENT, FORMS, class_of, recipes_in  # noqa: E402 (its folder is no package)

EACH = 3
"""So many of each code are tried: a hundred times the same sentence tells no more."""

PROSE = {
    "only the author knows what is meant, or what else there is": """
        impossible-change missing-not-needed missing-not-replaced not-a-change second-change
        accepts-nothing after-circle ambiguous-link amount-in-translation before-what-it-needs
        cannot-accept cannot-convert empty-header empty-part fixed-too-long heading-level kept-out
        language-not-listed line-broken missing-key name-perhaps name-said names-without-seat
        needs-emptied never-used no-headnote no-such-table no-time-unit no-way-to-weigh not-a-price
        not-a-date not-a-whole-number more-votes not-votes note-not-translated note-of-no-session
        note-untranslated nothing-left pantry-takes-away
        package-no-weight picture-kind second-differs sessions-collide set-as-code skill-circle
        skill-first-unknown step-number swap-brings swap-for-itself swap-incomplete swap-not-free
        table-cards-language title-twice translation-groups translation-ingredients
        translation-link translation-of-nothing translation-sections translation-share
        swap-step-number taste-kept-out
        translation-steps translation-swaps two-could-be-meant unclosed-quote unknown-choice
        unknown-key unknown-note unknown-section unknown-tool unknown-word unlisted-food
        unreadable-position untranslated unused-file used-in-part used-over word-unexplained
        word-unused zero-amount hard-sentence""",
    "the day, the tables or the tools have to be planned otherwise": """
        change-of-no-session dates-out-of-order dish-twice does-not-fit few-helpers idle-hands
        no-cooker one-circuit over-budget skill-too-early
        step-too-long swap-without-tools too-few-helpers too-little-equipment too-long-warm
        warm-by-the-clock""",
    "a file gets another name, or two become one": """
        note-by-number two-notes""",
    "the dish itself has to be cooked otherwise": """
        acid-for-heat alcohol beans-boiled bursts eaten-raw fire-indoors heat-of-nothing
        honey-before-one how-long left-warm marinade-not-sauce met-raw-again nothing-hot
        not-understood ready-but-raw stops-short swap-of-no-step tasted-raw thawed-warm too-young
        unpasteurised""",
}
"""Codes whose hint is advice, by why it can't be more."""


@dataclass(slots=True)
class Tried:
    """What became of one code's hints."""

    worked: list[str] = field(default_factory=list)
    failed: list[str] = field(default_factory=list)
    prose: int = 0
    """Hints that can't be followed to the letter."""


def _classes() -> Iterator[tuple[str, Path]]:
    """Every class of the written cases, with what is wrong in it, and every small recipe."""
    for case in all_cases():
        with tempfile.TemporaryDirectory() as folder:
            write(case, Path(folder))
            settings = Path(folder, "content/class.yaml")
            # A temperature asks for a thermometer, and a class has one.
            if settings.exists() and "thermometer" not in settings.read_text("utf-8"):
                text = settings.read_text("utf-8").replace("bowl: 4", "bowl: 4, thermometer: 2")
                settings.write_text(text, "utf-8")
            yield case.where, Path(folder)
    for recipe in recipes_in(DEVELOPMENT):
        for form in FORMS:
            with tempfile.TemporaryDirectory() as folder:
                files = {"class.yaml": class_of(recipe), "recipes/rice.md": recipe.texts[form]}
                yield f"{recipe.name} {form}", write_class(Path(folder), files)


def _texts(folder: Path) -> Files:
    return {
        path.relative_to(folder / "content").as_posix(): path.read_text("utf-8")
        for path in sorted((folder / "content").rglob("*"))
        if path.suffix in (".md", ".yaml")
    }


def _weighed(problems: Sequence[Problem]) -> Counter[tuple[str, str]]:
    return Counter(
        (each.code, each.place.path) for each in problems if each.level is not Level.HINT
    )


def _outcome(folder: Path, problem: Problem, files: Files, before: Counter[tuple[str, str]]) -> str:
    """Empty where the remedy works; else what is wrong with it."""
    with tempfile.TemporaryDirectory() as copied:
        shutil.copytree(folder / "content", Path(copied, "content"))
        for name, text in files.items():
            Path(copied, "content", name).write_text(text, "utf-8")
        after = _weighed(examine(Path(copied)).problems)
    key = (problem.code, problem.place.path)
    if problem.level is not Level.HINT and after[key] >= before[key]:
        return "it stays"
    brought = {code for code, _ in after - before} - FOLLOWS.get(problem.code, frozenset())
    return f"it brings {', '.join(sorted(brought))}" if brought else ""


@cache
def tried() -> dict[str, Tried]:
    """Every code's hints, followed."""
    found: dict[str, Tried] = defaultdict(Tried)
    for where, folder in _classes():
        problems = examine(folder).problems
        before, files = _weighed(problems), _texts(folder)
        for problem in problems:
            record = found[problem.code]
            if len(record.worked) + len(record.failed) >= EACH:
                continue
            outcomes = [
                _outcome(folder, problem, changed, before) for changed in remedied(problem, files)
            ]
            if not outcomes:
                record.prose += 1
            elif "" in outcomes:
                record.worked.append(where)
            else:
                record.failed.append(f"{where}: {'; '.join(outcomes)}: {problem.hint}")
    return found


FOLLOWS = {
    "amount-in-words": frozenset({"used-in-part"}),
    "burns-a-child": frozenset({"no-time"}),
    "cuts-a-hand": frozenset({"no-time"}),
    "feeds-a-fire": frozenset({"no-time"}),
    "food-behind-comma": frozenset({"never-used"}),
    "share-in-words": frozenset({"used-in-part"}),
    "slow-to-heat": frozenset({"heat-missing"}),
    "swap-reason": frozenset({"swap-needless"}),
}
"""What a remedy may bring, since its hint says what else to write: to name both foods in the
steps, and where the rest goes. A sentence that goes takes along the minutes and the temperature
that it told, and a
reason that is spelt right may still be none."""


def test_every_literal_remedy_works() -> None:
    """To the letter, at its place."""
    failed = [each for record in tried().values() for each in record.failed]
    assert failed == [], "\n".join(failed)


def test_each_code_has_a_remedy_that_was_followed_or_a_reason_for_prose() -> None:
    """Nothing is left out for being hard to follow."""
    followed = {code for code, record in tried().items() if record.worked or record.failed}
    prose = [code for codes in PROSE.values() for code in codes.split()]
    assert set(tried()) - followed <= set(prose)
