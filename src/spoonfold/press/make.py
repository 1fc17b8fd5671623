"""Making what a build is asked for, as far as it isn't there already."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from spoonfold.check import Examined
from spoonfold.check.translation import without_font, without_texts
from spoonfold.language.cldr import own_name
from spoonfold.language.texts import load_texts
from spoonfold.language.translated import folder_in, uses_in
from spoonfold.model.classroom import Classroom
from spoonfold.press import fold
from spoonfold.press.calendar import calendar_bytes
from spoonfold.press.desk import Desk, desk_for
from spoonfold.press.fold import page_count
from spoonfold.press.glyphs import MissingGlyph
from spoonfold.press.layouts import shipped_layouts
from spoonfold.press.memo import Memo, Record, digest_of
from spoonfold.press.output import Stage
from spoonfold.press.pdf import NoPdf, Printer
from spoonfold.press.rows import spreadsheet_file
from spoonfold.press.site import SiteFile, offline_file, site_files
from spoonfold.press.tray import Tray
from spoonfold.press.workers import Due, Hands, due_of, hands_for
from spoonfold.problem import Level, Place, Problem
from spoonfold.read.folder import Progress, Read
from spoonfold.sheets import PARTS, SITE
from spoonfold.sheets.booklet import booklet_name
from spoonfold.sheets.calendar import Calendar
from spoonfold.sheets.sheet import File, Joined, Sheet, Tongue, Work

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
    letterless = tuple(_unprintable(work.tongues, no_pdf))
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
                    tray.write(made.path, _file_bytes(made))
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
    told = (*_too_long(sheets, stage.folder), *tray.unfit, *_half_told(work.tongues))
    return Made(
        tray.files, tray.changed, problems, told, no_pdf if isinstance(no_pdf, NoPdf) else None
    )


def _make_site(pages: Iterable[SiteFile], desk: Desk, tray: Tray) -> None:
    """The files of the site, the pictures that its pages have asked for by then, and the worker
    that knows them all."""
    digests = {}
    for file in _with_pictures(pages, desk):
        tray.write(file.path, file.data)
        digests[file.path] = tray.files[file.path].digest
    worker = offline_file(digests, desk.layouts)
    tray.write(worker.path, worker.data)


def _with_pictures(pages: Iterable[SiteFile], desk: Desk) -> Iterator[SiteFile]:
    """The files of the site, then the pictures that its pages have asked for by then."""
    yield from pages
    for name, data in desk.gallery.files.items():
        yield SiteFile(f"site/{name}", data)


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
        found = _found(part, staged)
        key = digest_of(
            part.known_by, *(piece for path, data in found.items() for piece in (path, data))
        )
        if not tray.keep_made([part.path], key):
            parts[part.path] = part
            slip = part.slip({path: page_count(data) for path, data in found.items()})
            due.append(Due(slip, key, hands.desk.largest(slip)))
    for each, printed in hands.printed(due):
        progress(each.sheet.doing)
        if isinstance(printed, bytes):
            part = parts[each.sheet.paths[0]]
            tray.write(part.path, _joined(part, printed, _found(part, staged)), each.key)
        else:
            tray.missing += printed


def _found(part: Joined, staged: Path) -> dict[str, bytes]:
    """The finished ones that are there, by path."""
    paths = dict.fromkeys(each.path for each in part.pieces)
    return {path: (staged / path).read_bytes() for path in paths if (staged / path).is_file()}


def _joined(part: Joined, slip: bytes, found: Mapping[str, bytes]) -> bytes:
    if part.is_folded:
        book = fold.saddle_stitched(found[part.pieces[0].path], part.is_rtl)
        return fold.slipped(part.title, slip, book)
    return fold.joined(
        [
            fold.Part(part.title, slip),
            *(
                fold.Part(each.title, found[each.path], each.copies)
                for each in part.pieces
                if each.path in found
            ),
        ]
    )


def _file_bytes(file: File) -> bytes:
    if isinstance(file.content, Calendar):
        return calendar_bytes(file.content)
    return spreadsheet_file(file.content)


def _unprintable(tongues: Sequence[Tongue], printer: Printer | NoPdf | None) -> Iterator[Problem]:
    """Languages whose own name can't be printed: told before any page is laid out."""
    if not isinstance(printer, Printer):
        return
    for tongue in tongues:
        name = own_name(tongue.texts.language)
        if printer.lacks(name):
            yield without_font(tongue.texts.language, name)


def _half_told(tongues: Sequence[Tongue]) -> Iterator[Problem]:
    """Languages that the fixed texts aren't translated into."""
    for tongue in tongues:
        if not tongue.texts.is_translated:
            yield without_texts(tongue.texts.language)


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
