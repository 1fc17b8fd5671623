"""Making what a build is asked for, as far as it isn't there already."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from spoonfold.check import Examined
from spoonfold.check.translation import without_font, without_texts
from spoonfold.digest import digest_of
from spoonfold.language.cldr import own_name
from spoonfold.language.texts import direction_of, load_texts
from spoonfold.language.translated import folder_in, uses_in
from spoonfold.model.classroom import Classroom
from spoonfold.press import fold
from spoonfold.press.fold import page_count
from spoonfold.press.glyphs import MissingGlyph
from spoonfold.press.layouts import Layouts
from spoonfold.press.memo import Memo, Record
from spoonfold.press.output import Stage
from spoonfold.press.pdf import Printer
from spoonfold.press.render import Printed, RenderContext, render_context_for
from spoonfold.press.site import file_bytes, offline_file, site_files, sitemap_file
from spoonfold.press.workers import Due, WorkerPool, due_of, worker_pool
from spoonfold.problem import Failure, Level, Place, Problem
from spoonfold.read.folder import Progress, Read
from spoonfold.sheets import NAMES, SITE, parts
from spoonfold.sheets.booklet import booklet_name
from spoonfold.sheets.sheet import BuildContext, Edition, File, Joined, Page, Sheet


@dataclass(frozen=True, slots=True)
class Asked:
    """What a build is asked for; empty is all there is."""

    parts: tuple[str, ...] = ()
    households: tuple[int, ...] = ()
    """Sizes of booklets."""
    languages: tuple[str, ...] = ()
    """Of what families get."""
    sessions: tuple[int, ...] = ()
    """By their numbers; then only their own sheets."""

    @property
    def is_narrow(self) -> bool:
        """Whether parts are made in part only."""
        return bool(self.households or self.languages or self.sessions)

    @property
    def wanted(self) -> frozenset[str]:
        """The parts of which anything is made."""
        names = frozenset(self.parts) or frozenset(NAMES)
        if not self.sessions:
            return names
        return frozenset(
            name
            for name in names
            if any(owned.startswith("class/session-") for owned in parts()[name].owns)
        )

    def has(self, path: str) -> bool:
        """Whether a file of a wanted part is among what is asked for."""
        folders = tuple(f"class/session-{number:02}/" for number in self.sessions)
        return not folders or path.startswith(folders)


@dataclass(frozen=True, slots=True)
class Made:
    """What was staged."""

    files: dict[str, Record]
    changed: int
    problems: tuple[Problem, ...]
    """Why it can't be swapped in."""
    warnings: tuple[Problem, ...]
    """What is told besides."""
    print_failure: Failure | None
    """Why nothing could be printed."""


@dataclass(slots=True)
class OutputCollector:
    """The files of the output in the making, and what each is made of."""

    stage: Stage
    output: Path
    before: Memo
    files: dict[str, Record] = field(default_factory=dict)
    """Every file of the new output, by path."""
    missing_glyphs: list[MissingGlyph] = field(default_factory=list)
    unfit: list[Problem] = field(default_factory=list)
    """What is told of sheets that weren't made, since they don't fit."""
    changed: int = 0
    """How many files are new or other than before."""

    def write(self, path: str, data: bytes, key: str = "") -> None:
        record = Record(key, hashlib.sha256(data).hexdigest())
        before = self.before.files.get(path)
        self.changed += before is None or before.digest != record.digest
        self.stage.write(path, data)
        self.files[path] = record

    def keep(self, path: str) -> None:
        """Carries a file over; a folder with all that is in it."""
        self.stage.keep(path)
        kept = self.stage.folder / path
        for file in sorted(kept.rglob("*")) if kept.is_dir() else [kept]:
            name = file.relative_to(self.stage.folder).as_posix()
            if file.is_file():
                self.files[name] = self.before.files.get(name) or Record(
                    "", hashlib.sha256(file.read_bytes()).hexdigest()
                )

    def keep_made(self, paths: Sequence[str], key: str) -> bool:
        """Carries files over that were made of just this; False where one wasn't."""
        if not all(self.before.has(self.output, path, key) for path in paths):
            return False
        for path in paths:
            self.keep(path)
        return True

    def take(self, sheet: Sheet, printed: Printed, key: str) -> None:
        """A printed sheet, or the letters that its fonts lack."""
        if not isinstance(printed, bytes):
            self.missing_glyphs += printed
            return
        if sheet.layout.is_mini_book:
            folded = fold.mini_book(printed, direction_of(sheet.language) == "rtl")
            if folded is None:
                self.unfit += [sheet.too_long] if sheet.too_long else []
                return
            printed = folded
        for path in sheet.paths:
            self.write(path, printed, key)


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
    wanted = asked.wanted
    rendering, collector = render_context_for(folder), OutputCollector(stage, output, before)
    context = _build_context(examined, classroom, asked, rendering.layouts)
    no_pdf = rendering.printer if wanted - {SITE} else None
    can_print = not isinstance(no_pdf, Failure)
    letterless = tuple(_unprintable(context.editions, no_pdf))
    if letterless:
        return Made({}, 0, letterless, (), None)
    for path in _the_rest(output, () if asked.is_narrow else wanted):
        collector.keep(path)
    booklets = _booklets(context, collector, "booklet" in wanted and can_print)
    context = replace(context, booklets=booklets)
    sheets: list[Sheet] = []
    to_join: list[Joined] = []
    for name, part in parts().items():
        if name in wanted and name != SITE:
            progress(f"Working out: {name}")
            for made in part.made(context):
                if isinstance(made, (File, Joined)) and not asked.has(made.path):
                    continue
                if isinstance(made, Sheet) and not asked.has(made.paths[0]):
                    continue
                if isinstance(made, File):
                    collector.write(made.path, file_bytes(made))
                elif isinstance(made, Problem):
                    # Who asks for a part by name wants to know why it isn't there.
                    collector.unfit += [made] if name in asked.parts else []
                elif not can_print:
                    continue
                elif isinstance(made, Joined):
                    to_join.append(made)
                elif isinstance(made, Sheet):
                    sheets.append(made)
    with worker_pool(rendering, workers) as pool:
        due = [
            each
            for each in (due_of(rendering, sheet) for sheet in sheets)
            if not collector.keep_made(each.sheet.paths, each.key)
        ]
        printing = pool.printed(due)
        # While others print, or one core would wait for it.
        if SITE in wanted:
            progress("Making the site")
            pages = (made for made in parts()[SITE].made(context) if isinstance(made, (Page, File)))
            _make_site(pages, classroom, rendering, collector)
        for number, (each, printed) in enumerate(printing, start=1):
            progress(f"{each.sheet.doing} ({number} of {len(due)})")
            collector.take(each.sheet, printed, each.key)
        if not collector.missing_glyphs:
            _join(to_join, collector, pool, progress)
    problems = (*rendering.pictures.problems, *_missing(collector.missing_glyphs, examined.read))
    told = (*_too_long(sheets, stage.folder), *collector.unfit, *_half_told(context.editions))
    failure = no_pdf if isinstance(no_pdf, Failure) else None
    return Made(collector.files, collector.changed, problems, told, failure)


def _make_site(
    pages: Iterable[Page | File],
    classroom: Classroom,
    rendering: RenderContext,
    collector: OutputCollector,
) -> None:
    """The files of the site, and the worker that knows them all."""
    digests = {}
    for file in site_files(pages, rendering):
        collector.write(file.path, file.data)
        digests[file.path] = collector.files[file.path].digest
    if classroom.site:
        sitemap = sitemap_file(f"{classroom.site.rstrip('/')}/", digests)
        collector.write(sitemap.path, sitemap.data)
    meetings = [
        (each.date.isoformat(), [dish.text for dish in each.dishes])
        for each in sorted(classroom.sessions, key=lambda session: session.date)
    ]
    worker = offline_file(digests, meetings, rendering.layouts)
    collector.write(worker.path, worker.data)


def _too_long(sheets: Iterable[Sheet], staged: Path) -> Iterator[Problem]:
    """Sheets that take more paper than they may, carried over or printed now."""
    for sheet in sheets:
        path = staged / sheet.paths[0]
        if (
            sheet.too_long is not None
            and sheet.most_pages is not None
            and path.is_file()
            and page_count(path.read_bytes()) > sheet.most_pages
        ):
            yield sheet.too_long


def _join(
    to_join: Iterable[Joined], collector: OutputCollector, pool: WorkerPool, progress: Progress
) -> None:
    """Joins what is staged, each with a slip of its own."""
    staged = collector.stage.folder
    parts: dict[str, Joined] = {}
    due = []
    for part in to_join:
        found = _found(part, staged)
        key = digest_of(
            part.known_by, *(piece for path, data in found.items() for piece in (path, data))
        )
        if not collector.keep_made([part.path], key):
            parts[part.path] = part
            slip = part.slip({path: page_count(data) for path, data in found.items()})
            due.append(Due(slip, key, pool.context.largest(slip)))
    for each, printed in pool.printed(due):
        progress(each.sheet.doing)
        if isinstance(printed, bytes):
            part = parts[each.sheet.paths[0]]
            collector.write(part.path, _joined(part, printed, _found(part, staged)), each.key)
        else:
            collector.missing_glyphs += printed


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


def _unprintable(
    editions: Sequence[Edition], printer: Printer | Failure | None
) -> Iterator[Problem]:
    """Languages whose own name can't be printed: told before any page is laid out."""
    if not isinstance(printer, Printer):
        return
    for edition in editions:
        name = own_name(edition.texts.language)
        if printer.lacks(name):
            yield without_font(edition.texts.language, name)


def _half_told(editions: Sequence[Edition]) -> Iterator[Problem]:
    """Languages that the fixed texts aren't translated into."""
    for edition in editions:
        if not edition.texts.is_translated:
            yield without_texts(edition.texts.language)


def _build_context(
    examined: Examined, classroom: Classroom, asked: Asked, layouts: Layouts
) -> BuildContext:
    main = _edition(examined, classroom.languages[0], layouts)
    editions = tuple(
        main if language == classroom.languages[0] else _edition(examined, language, layouts)
        for language in classroom.languages
        if language in (asked.languages or classroom.languages)
    )
    return BuildContext(
        examined,
        classroom,
        editions,
        main,
        asked.households or classroom.households,
        numbers=asked.sessions,
    )


def _edition(examined: Examined, language: str, layouts: Layouts) -> Edition:
    texts = load_texts(language, *layouts.folders)
    folder = folder_in(examined.read.folder, language)
    return Edition(folder, uses_in(examined.facts.uses, folder.recipes), texts)


def _booklets(context: BuildContext, collector: OutputCollector, are_made: bool) -> frozenset[str]:
    """The files of booklets that will lie beside the site: carried over, and made now."""
    kept = {
        path.rpartition("/")[2] for path in collector.files if path.startswith("site/booklets/")
    }
    made = (
        {
            booklet_name(edition.texts.language, people)
            for edition in context.editions
            for people in context.households
        }
        if are_made
        else set()
    )
    return frozenset(kept | made)


def _the_rest(output: Path, wanted: Collection[str]) -> Iterator[str]:
    """What other parts made before."""
    patterns = [
        pattern for name, part in parts().items() if name not in wanted for pattern in part.owns
    ]
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
