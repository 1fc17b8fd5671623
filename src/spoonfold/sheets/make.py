"""Making what a build is asked for, as far as it isn't there already."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from spoonfold.check import Examined
from spoonfold.language.texts import load_texts
from spoonfold.language.translated import folder_in, uses_in
from spoonfold.model.classroom import Classroom
from spoonfold.paper.booklet import booklet_name
from spoonfold.press.fold import page_count
from spoonfold.press.glyphs import MissingGlyph
from spoonfold.press.layouts import shipped_layouts
from spoonfold.press.memo import Memo, Record
from spoonfold.press.output import Stage
from spoonfold.press.pdf import NoPdf
from spoonfold.problem import Level, Place, Problem
from spoonfold.read.folder import Progress, Read
from spoonfold.sheets import PARTS, SITE
from spoonfold.sheets.desk import Desk, desk_for
from spoonfold.sheets.languages import half_told, unprintable
from spoonfold.sheets.sheet import File, Joined, Sheet, Tongue, Work
from spoonfold.sheets.site import offline_file, site_files
from spoonfold.sheets.tray import Tray
from spoonfold.sheets.workers import Due, Hands, due_of, hands_for

PART_NAMES = (SITE, *(part.name for part in PARTS))
"""What `--only` may name."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What a build is asked for; empty is all there is."""

    parts: tuple[str, ...] = ()
    households: tuple[int, ...] = ()
    """Sizes of booklets."""
    languages: tuple[str, ...] = ()
    """Of what families get."""

    @property
    def is_narrow(self) -> bool:
        """Whether parts are made in part only."""
        return bool(self.households or self.languages)


@dataclass(frozen=True, slots=True)
class Made:
    """What was staged."""

    files: dict[str, Record]
    changed: int
    problems: tuple[Problem, ...]
    """Why it can't be swapped in."""
    warnings: tuple[Problem, ...]
    """What is told besides."""
    missing: NoPdf | None
    """Why nothing could be printed."""


def make(
    folder: Path,
    output: Path,
    examined: Examined,
    classroom: Classroom,
    asked: Asked,
    before: Memo,
    stage: Stage,
    progress: Progress,
    workers: int,
) -> Made:
    """Stages all parts that are asked for, made or carried over, and the rest as it was."""
    wanted = frozenset(asked.parts) or frozenset(PART_NAMES)
    desk, tray = desk_for(folder), Tray(stage, output, before)
    work = _work_of(examined, classroom, asked)
    no_pdf = desk.printer if wanted - {SITE} else None
    can_print = not isinstance(no_pdf, NoPdf)
    letterless = tuple(unprintable(work.tongues, no_pdf))
    if letterless:
        return Made({}, 0, letterless, (), None)
    for path in _the_rest(output, () if asked.is_narrow else wanted):
        tray.keep(path)
    sheets: list[Sheet] = []
    to_join: list[Joined] = []
    for part in PARTS:
        if part.name in wanted:
            progress(f"Working out: {part.name}")
            for made in part.made(work):
                if isinstance(made, File):
                    tray.write(made.path, made.data)
                elif isinstance(made, Problem):
                    # Who asks for a part by name wants to know why it isn't there.
                    tray.unfit += [made] if part.name in asked.parts else []
                elif not can_print:
                    continue
                elif isinstance(made, Joined):
                    to_join.append(made)
                else:
                    sheets.append(made)
    with hands_for(desk, workers) as hands:
        due = [
            each
            for each in (due_of(desk, sheet) for sheet in sheets)
            if not tray.keep_made(each.sheet.paths, each.key)
        ]
        printing = hands.printed(due)
        # While others print, or one core would wait for it.
        if SITE in wanted:
            progress("Making the site")
            booklets = _booklets(work, tray, "booklet" in wanted and can_print)
            _make_site(site_files(work, desk.layouts, desk.on_site, booklets), desk, tray)
        for number, (each, printed) in enumerate(printing, start=1):
            progress(f"{each.sheet.doing} ({number} of {len(due)})")
            tray.take(each.sheet, printed, each.key)
        if not tray.missing:
            _join(to_join, tray, hands, progress)
    problems = (*desk.gallery.problems, *_missing(tray.missing, examined.read))
    told = (*_too_long(sheets, stage.folder), *tray.unfit, *half_told(work.tongues))
    return Made(
        tray.files, tray.changed, problems, told, no_pdf if isinstance(no_pdf, NoPdf) else None
    )


def _make_site(pages: Iterable[File], desk: Desk, tray: Tray) -> None:
    """The files of the site, the pictures that its pages have asked for by then, and the worker
    that knows them all."""
    digests = {}
    for file in _with_pictures(pages, desk):
        tray.write(file.path, file.data)
        digests[file.path] = tray.files[file.path].digest
    worker = offline_file(digests, desk.layouts)
    tray.write(worker.path, worker.data)


def _with_pictures(pages: Iterable[File], desk: Desk) -> Iterator[File]:
    """The files of the site, then the pictures that its pages have asked for by then."""
    yield from pages
    for name, data in desk.gallery.files.items():
        yield File(f"site/{name}", data)


def _too_long(sheets: Iterable[Sheet], staged: Path) -> Iterator[Problem]:
    """Sheets that take more paper than they may, carried over or printed now."""
    for sheet in sheets:
        path = staged / sheet.paths[0]
        if (
            sheet.too_long is not None
            and sheet.sides is not None
            and path.is_file()
            and page_count(path.read_bytes()) > sheet.sides
        ):
            yield sheet.too_long


def _join(to_join: Iterable[Joined], tray: Tray, hands: Hands, progress: Progress) -> None:
    """Joins what is staged, each with a slip of its own."""
    staged = tray.stage.folder
    parts: dict[str, Joined] = {}
    due = []
    for part in to_join:
        key = part.key(staged)
        if not tray.keep_made([part.path], key):
            parts[part.path] = part
            slip = part.slip(part.found(staged))
            due.append(Due(slip, key, hands.desk.largest(slip)))
    for each, printed in hands.printed(due):
        progress(each.sheet.doing)
        if isinstance(printed, bytes):
            part = parts[each.sheet.paths[0]]
            tray.write(part.path, part.join(printed, part.found(staged)), each.key)
        else:
            tray.missing += printed


def _work_of(examined: Examined, classroom: Classroom, asked: Asked) -> Work:
    main = _tongue(examined, classroom.languages[0])
    tongues = tuple(
        main if language == classroom.languages[0] else _tongue(examined, language)
        for language in classroom.languages
        if language in (asked.languages or classroom.languages)
    )
    return Work(examined, classroom, tongues, main, asked.households or classroom.households)


def _tongue(examined: Examined, language: str) -> Tongue:
    texts = load_texts(language, shipped_layouts())
    folder = folder_in(examined.read.folder, language)
    return Tongue(folder, uses_in(examined.facts.uses, folder.recipes), texts)


def _booklets(work: Work, tray: Tray, are_made: bool) -> frozenset[str]:
    """The files of booklets that will lie beside the site: carried over, and made now."""
    kept = {path.rpartition("/")[2] for path in tray.files if path.startswith("site/booklets/")}
    made = (
        {
            booklet_name(tongue.texts.language, people)
            for tongue in work.tongues
            for people in work.households
        }
        if are_made
        else set()
    )
    return frozenset(kept | made)


def _the_rest(output: Path, wanted: Collection[str]) -> Iterator[str]:
    """What other parts made before."""
    patterns = [pattern for part in PARTS if part.name not in wanted for pattern in part.owns]
    if SITE not in wanted:
        patterns.append("site/*")
    for pattern in patterns:
        for path in sorted(output.glob(pattern)):
            # Booklets lie beside the site and are another part's.
            if path != output / "site/booklets":
                yield path.relative_to(output).as_posix()


def _missing(found: Iterable[MissingGlyph], read: Read) -> Iterator[Problem]:
    """Each letter that can't be printed, where it is written first."""
    for each in found:
        fonts = " or ".join(each.fonts)
        yield Problem(
            "missing-glyph",
            Level.ERROR,
            _place(each, read),
            f"The letter {each.letter} (U+{ord(each.letter):04X}) isn't in {fonts}, the letters "
            f"that the sheets are printed with: “{each.text}” would have a hole.",
            "Write it another way, or add a font that has it to layouts/.",
        )


def _place(missing: MissingGlyph, read: Read) -> Place:
    source = read.sources.get(missing.source)
    if source is None:
        return Place(missing.source or "content/class.yaml")
    for number, line in enumerate(source.text.splitlines(), start=1):
        if missing.letter in line:
            return Place(missing.source, number, line.index(missing.letter) + 1)
    return Place(missing.source)
