"""The helper's brief: one side a dish, to cook it at home and to coach it in class.

For the adults in the room: it names tables that cook with something else, never a child.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.knowledge.equipment import Kind
from spoonfold.language.amounts import number_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import Block, Listing, Paragraph, Prose, plain_prose
from spoonfold.model.recipe import Recipe, Step
from spoonfold.plan.amounts.eaters import eaters_at_tables, portions_at_tables
from spoonfold.plan.amounts.uses import Uses
from spoonfold.sheets.card import card_size
from spoonfold.sheets.shared.cautions import CautionView, cautions_of, sentence
from spoonfold.sheets.shared.head import Head, head_of
from spoonfold.sheets.shared.recipe import RecipeSheet, home_sheet
from spoonfold.sheets.shared.swaps import TableSwapView, contact_rules, session_swaps
from spoonfold.sheets.sheet import BuildContext, Layout, Moment, PackEntry, Part, SessionFile, Sheet
from spoonfold.teach.skills import coaching_of, skill_uses

_SCIENCE = 2
"""Sentences of each paragraph: enough for an answer at the table."""

_SENTENCE = re.compile(r"(?<=[.!?])\s+")


@dataclass(frozen=True, slots=True)
class SkillNote:
    """A skill that the dish asks for, and how to coach it."""

    name: str
    how: str
    caution: str
    is_new: bool
    """The season uses it for the first time: then it is told in full."""


@dataclass(frozen=True, slots=True)
class AtSteps:
    """Something to know, and the steps that it belongs to: `3, 5–7`."""

    steps: str
    title: str
    text: str


@dataclass(frozen=True, slots=True)
class BriefSide:
    """One dish."""

    sheet: RecipeSheet
    """At household size, to practise at home."""
    for_whom: str
    work: tuple[tuple[str, str], ...]
    """Where the class does what: a place, and what is done there."""
    skills: tuple[SkillNote, ...]
    watch: tuple[AtSteps, ...]
    yours: tuple[AtSteps, ...]
    """What is kept for an adult."""
    easier: tuple[AtSteps, ...]
    usual: tuple[AtSteps, ...]
    """What nobody wrote and the words don't say, but is only usual: to be looked at."""
    swaps: tuple[TableSwapView, ...]
    rules: tuple[str, ...]
    """How to keep swaps apart; none where there are no swaps."""
    questions: tuple[str, ...]
    science: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HelperBrief:
    """All dishes of a session."""

    head: Head
    sides: tuple[BriefSide, ...]


def brief_of(
    folder: ClassFolder,
    classroom: Classroom,
    uses: Mapping[str, Uses],
    session: Session,
    texts: Texts,
) -> HelperBrief:
    """The brief of a session: dishes that couldn't be read are left out."""
    swaps = session_swaps(session, folder.recipes, uses, folder.pantry, texts)
    return HelperBrief(
        head=head_of(folder, classroom, session, texts),
        sides=tuple(
            _side(folder, classroom, uses, session, folder.recipes[dish.text], swaps, texts)
            for dish in session.dishes
            if dish.text in folder.recipes
        ),
    )


def _side(
    folder: ClassFolder,
    classroom: Classroom,
    uses: Mapping[str, Uses],
    session: Session,
    recipe: Recipe,
    swaps: Sequence[TableSwapView],
    texts: Texts,
) -> BriefSide:
    people = card_size(classroom.households)
    own = tuple(each for each in swaps if each.dish == recipe.title)
    in_class = [step for step in recipe.steps if step.when is None]
    cautions = [(step.number, each) for step in in_class for each in cautions_of(step, texts)]
    return BriefSide(
        sheet=home_sheet(recipe, uses[recipe.key], folder.pantry, folder.words, people, texts),
        for_whom=texts.count("for 1 person", "for {number} people", people),
        work=_work(session, recipe, texts),
        skills=_skills(folder, classroom, session, recipe),
        watch=_gathered((number, each) for number, each in cautions if each.icon != "adult"),
        yours=_gathered((number, each) for number, each in cautions if each.icon == "adult"),
        easier=tuple(
            AtSteps(str(step.number), "", sentence(step.easier)) for step in in_class if step.easier
        ),
        usual=_usual(recipe, texts),
        swaps=own,
        rules=contact_rules(texts) if own else (),
        questions=_questions(recipe.sections.get("talk", ())),
        science=_science(recipe.sections.get("science", ())),
    )


def _portions(amount: Fraction, texts: Texts) -> str:
    """`5 portions`; up to one it is singular, as amounts are."""
    return texts.count(
        "{amount} portion",
        "{amount} portions",
        1 if amount <= 1 else 2,
        amount=number_text(amount, texts),
    )


_LOOKED_AT = (Kind.HEAT_SOURCE, Kind.POT, Kind.BLADE, Kind.MOVING_BLADE)
"""Tools of which it matters that they are the right ones."""


def _usual(recipe: Recipe, texts: Texts) -> tuple[AtSteps, ...]:
    guessed = [
        (step, each) for step in recipe.steps for each in step.worked_out if not each.is_said
    ]
    found: dict[str, list[int]] = {}
    for step, each in guessed:
        if each.note in ("time", "wait"):
            found.setdefault(texts.say("minutes"), []).append(step.number)
        elif each.note == "needs" and each.value in step.named(*_LOOKED_AT):
            found.setdefault(texts.say(each.value), []).append(step.number)
    return tuple(AtSteps(numbers_text(steps), "", what) for what, steps in found.items())


def _work(session: Session, recipe: Recipe, texts: Texts) -> tuple[tuple[str, str], ...]:
    """Which steps are done where, and for how many."""
    setting = session.setting
    eaters, portions = eaters_at_tables(setting), portions_at_tables(setting)
    sizes = dict.fromkeys(zip(eaters, portions, strict=True))
    each = "; ".join(
        texts.count(
            "1 eats: {portions}",
            "{number} eat: {portions}",
            number,
            portions=_portions(amount, texts),
        )
        for number, amount in sizes
    )
    before = [step for step in recipe.steps if step.when is not None]
    shared = [step for step in recipe.steps if step.when is None and step.for_class]
    tables = [step for step in recipe.steps if not step.shared]
    found = (
        (texts.say("Before class, by an adult"), before, ""),
        (texts.say("At each table"), tables, each),
        (texts.say("Once for everyone"), shared, _portions(sum(portions, Fraction(0)), texts)),
    )
    return tuple(
        (place, ". ".join(part for part in (_steps_text(steps, texts), size) if part))
        for place, steps, size in found
        if steps
    )


def _steps_text(steps: Sequence[Step], texts: Texts) -> str:
    return texts.count(
        "step {numbers}",
        "steps {numbers}",
        len(steps),
        numbers=numbers_text([step.number for step in steps]),
    )


def numbers_text(numbers: Iterable[int]) -> str:
    """Whole numbers as people write them: `1, 3–5`."""
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(
        str(run[0]) if len(run) == 1 else f"{run[0]}{'–' if len(run) > 2 else ', '}{run[-1]}"
        for run in runs
    )


def _skills(
    folder: ClassFolder, classroom: Classroom, session: Session, recipe: Recipe
) -> tuple[SkillNote, ...]:
    sessions = [(each.number, [dish.text for dish in each.dishes]) for each in classroom.sessions]
    notes = coaching_of(tuple(skill_uses(sessions, folder.recipes)), folder.skills)
    found: dict[str, SkillNote] = {}
    for note in notes:
        if (note.use.session, note.use.recipe) == (session.number, recipe.key):
            found.setdefault(
                note.use.skill.text,
                SkillNote(
                    folder.skills[note.use.skill.text].name,
                    sentence(note.text),
                    note.caution or "",
                    note.first_time,
                ),
            )
    # What is new takes the most coaching.
    return tuple(sorted(found.values(), key=lambda note: not note.is_new))


def _gathered(cautions: Iterable[tuple[int, CautionView]]) -> tuple[AtSteps, ...]:
    """Each text once, with every step that it belongs to."""
    numbers: dict[tuple[str, str], list[int]] = {}
    for number, each in cautions:
        numbers.setdefault((each.title, each.text), []).append(number)
    return tuple(
        AtSteps(numbers_text(steps), title, text) for (title, text), steps in numbers.items()
    )


def _questions(prose: Prose) -> tuple[str, ...]:
    """What to talk about, one by one: nobody's answer is the right one."""
    return tuple(text for block in prose for item in _items(block) if (text := plain_prose(item)))


def _items(block: Block) -> Sequence[Prose]:
    return block.items if isinstance(block, Listing) else ((block,),)


def _science(prose: Prose) -> tuple[str, ...]:
    return tuple(
        " ".join(_SENTENCE.split(plain_prose((block,)))[:_SCIENCE])
        for block in prose
        if isinstance(block, Paragraph)
    )


def made(context: BuildContext) -> Iterator[Sheet]:
    """What a helper reads and practises at home, a session and language."""
    for edition in context.editions:
        for session in context.classroom.sessions:
            brief = brief_of(
                edition.folder, context.classroom, edition.uses, session, edition.texts
            )
            language = edition.texts.language
            yield Sheet(
                (FILE.path(session, language),),
                f"Printing the helper's brief for session {session.number} ({language})",
                LAYOUT,
                {"brief": brief},
                language,
                len(brief.sides),
            )


def in_pack(context: BuildContext, session: Session) -> Iterator[PackEntry]:
    say = context.texts.say
    yield PackEntry(
        Moment.BEFORE,
        FILE.path(session, context.texts.language),
        say("Helper's brief"),
        say("a week before: one for each helper"),
        session.setting.helpers,
    )


FILE = SessionFile("helper-brief")

LAYOUT = Layout(
    "brief.html",
    ("10.5pt", "9.8pt", "9.2pt", "8.7pt", "8.2pt", "7.8pt"),
    holds=(4500, 4800, 5450, 6050, 6500),
)
"""Every dish has one side."""

PART = Part(made, FILE.owns, in_pack)
