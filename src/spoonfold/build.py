"""The whole pipeline as one straight function: read, check, plan, page, press, swap."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from spoonfold.check import Examined, examine
from spoonfold.language.texts import load_texts
from spoonfold.model.classroom import Classroom
from spoonfold.paper.site import booklet_name
from spoonfold.press.glyphs import MissingGlyph
from spoonfold.press.layouts import layouts_for, shipped_layouts
from spoonfold.press.output import Stage, Trouble, commit, discard, open_stage
from spoonfold.press.pdf import NoPdf, Printer, printer
from spoonfold.press.pictures import Gallery
from spoonfold.problem import Level, Place, Problem, has_errors, in_order
from spoonfold.read.folder import Progress, Read
from spoonfold.sheets import PACK, PARTS, SITE
from spoonfold.sheets.desk import Desk
from spoonfold.sheets.pack import pack_of
from spoonfold.sheets.sheet import File, Sheet, Tongue, Work, in_session
from spoonfold.sheets.site import site_files

PART_NAMES = (SITE, *(part.name for part in PARTS), PACK)
"""What `--only` may name."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a build."""

    problems: tuple[Problem, ...]
    read: Read
    made: int = 0
    """Files in the new output; 0 where nothing was swapped in."""
    trouble: Trouble | None = None
    """Why the output could not be written."""
    missing: NoPdf | None = None
    """Why something could not be made on this machine."""


def build(
    folder: Path,
    output: Path,
    only: Sequence[str] = (),
    wait_seconds: float = 0,
    progress: Progress = lambda step: None,
    households: Sequence[int] = (),
    languages: Sequence[str] = (),
) -> Outcome:
    """Builds the class folder into the output folder; on errors the old output stays.

    `only` names parts; `households` and `languages` narrow what families get to these sizes and
    to these of the class's languages. What isn't made is carried over.
    """
    examined = examine(folder, progress)
    read, problems = examined.read, examined.problems
    classroom = read.folder.classroom
    if classroom is None or has_errors(problems):
        return Outcome(problems, read)
    for language in languages:
        if language not in classroom.languages:
            return Outcome(problems, read, trouble=Trouble(
                "not-a-language", f"The class has no language {language}.",
                f"class.yaml lists {', '.join(classroom.languages)}."))
    wanted = frozenset(only) or frozenset(PART_NAMES)
    work = _work_of(examined, classroom, households, languages)
    layouts = layouts_for(folder)
    fonts = [layouts.find(name) for name in layouts.names("fonts") if name.endswith(".ttf")]
    press = printer((*layouts.folders, folder), fonts) if wanted - {SITE} else None
    stage = open_stage(output, wait_seconds, content=folder / "content")
    if isinstance(stage, Trouble):
        return Outcome(problems, read, trouble=stage)
    try:
        desk = Desk(layouts, Gallery(folder), press)
        _keep_the_rest(stage, output, () if households or languages else wanted)
        if SITE in wanted:
            progress("Making the site")
            booklets = _booklets(work, output, wanted, press)
            for file in site_files(work, layouts, desk.on_site(work.texts), booklets):
                stage.write(file.path, file.data)
            for name, picture in desk.gallery.files.items():
                stage.write(f"site/{name}", picture)
        missing: list[MissingGlyph] = []
        for part in PARTS:
            if part.name not in wanted:
                continue
            for made in part.made(work):
                if isinstance(made, File):
                    stage.write(made.path, made.data)
                elif isinstance(press, Printer):
                    progress(made.doing)
                    missing += _printed(stage, desk, made)
        if PACK in wanted and isinstance(press, Printer) and not missing:
            for session in classroom.sessions:
                progress(f"Joining the print pack of session {session.number}")
                pack = pack_of(work, session, stage.folder, desk)
                if isinstance(pack, File):
                    stage.write(pack.path, pack.data)
                else:
                    missing += pack
        if missing or desk.gallery.problems:
            return Outcome(
                in_order([*problems, *desk.gallery.problems, *_missing(missing, read)]), read)
        progress("Swapping in")
        made_files = sum(path.is_file() for path in stage.folder.rglob("*")) - 1
        trouble = commit(stage)
    finally:
        discard(stage)
    return Outcome(problems, read, 0 if trouble else made_files, trouble,
                   press if isinstance(press, NoPdf) else None)


def _work_of(
    examined: Examined, classroom: Classroom, households: Sequence[int], languages: Sequence[str]
) -> Work:
    main = _tongue(examined, classroom.languages[0])
    tongues = tuple(
        main if language == classroom.languages[0] else _tongue(examined, language)
        for language in classroom.languages if language in (languages or classroom.languages[:1]))
    return Work(examined, classroom, tongues, main, tuple(households) or classroom.households)


def _tongue(examined: Examined, language: str) -> Tongue:
    texts = load_texts(language, shipped_layouts())
    return Tongue(examined.read.folder, examined.facts.uses, texts)


def _booklets(
    work: Work, output: Path, wanted: Collection[str], press: Printer | NoPdf | None
) -> frozenset[str]:
    """The files of booklets that will lie beside the site."""
    if "booklet" not in wanted:
        # What was made before is carried over, and nothing else.
        return frozenset(path.name for path in (output / "site/booklets").glob("*.pdf"))
    if not isinstance(press, Printer):
        return frozenset()
    return frozenset(
        booklet_name(tongue.texts.language, people)
        for tongue in work.tongues for people in work.households)


def _keep_the_rest(stage: Stage, output: Path, wanted: Collection[str]) -> None:
    """Carries over what other parts made before."""
    patterns = [pattern for part in PARTS if part.name not in wanted for pattern in part.owns]
    if PACK not in wanted:
        patterns += in_session(PACK)
    for pattern in patterns:
        for path in sorted(output.glob(pattern)):
            stage.keep(path.relative_to(output).as_posix())
    if SITE not in wanted and (output / "site").is_dir():
        for path in sorted((output / "site").iterdir()):
            # Booklets are another part's.
            if path.name != "booklets":
                stage.keep(f"site/{path.name}")


def _printed(stage: Stage, desk: Desk, sheet: Sheet) -> tuple[MissingGlyph, ...]:
    pdf = desk.printed(sheet)
    if not isinstance(pdf, bytes):
        return pdf
    for path in sheet.paths:
        stage.write(path, pdf)
    return ()


def _missing(found: Iterable[MissingGlyph], read: Read) -> Iterator[Problem]:
    """Each letter that can't be printed, where it is written first."""
    for each in found:
        fonts = " or ".join(each.fonts)
        yield Problem(
            "missing-glyph", Level.ERROR, _place(each, read),
            f"The letter {each.letter} (U+{ord(each.letter):04X}) isn't in {fonts}, the letters "
            f"that the sheets are printed with: “{each.text}” would have a hole.",
            "Write it another way, or add a font that has it to layouts/.")


def _place(missing: MissingGlyph, read: Read) -> Place:
    source = read.sources.get(missing.source)
    if source is None:
        return Place(missing.source or "content/class.yaml")
    for number, line in enumerate(source.text.splitlines(), start=1):
        if missing.letter in line:
            return Place(missing.source, number, line.index(missing.letter) + 1)
    return Place(missing.source)
