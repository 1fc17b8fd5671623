"""The whole pipeline as one straight function: read, check, plan, page, press, swap."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from spoonfold.check import examine
from spoonfold.language.texts import load_texts
from spoonfold.paper.booklet import Booklet, booklet_of
from spoonfold.paper.site import Site, booklet_name, site_of
from spoonfold.press.html import Environment, environment_for, rendered
from spoonfold.press.layouts import Layouts, layouts_for, shipped_layouts
from spoonfold.press.output import Stage, Trouble, commit, discard, open_stage
from spoonfold.press.pdf import NoPdf, Printer, printer
from spoonfold.problem import Problem, has_errors
from spoonfold.read.folder import Progress, Read

SITE, BOOKLET = "site", "booklet"
PARTS = (SITE, BOOKLET)
"""What `--only` may name."""

_SITE_FILES = ("look/tokens.css", "look/tokens-dark.css", "look/screen.css")
_BOOKLET_FOLDERS = ("site/booklets", "families")


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
) -> Outcome:
    """Builds the class folder into the output folder; on errors the old output stays."""
    examined = examine(folder, progress)
    read, facts, problems = examined.read, examined.facts, examined.problems
    classroom = read.folder.classroom
    if classroom is None or has_errors(problems):
        return Outcome(problems, read)
    layouts = layouts_for(folder)
    texts = load_texts(classroom.languages[0], shipped_layouts())
    wanted = frozenset(only) or frozenset(PARTS)
    press = printer((*layouts.folders, folder)) if BOOKLET in wanted else None
    stage = open_stage(output, wait_seconds, content=folder / "content")
    if isinstance(stage, Trouble):
        return Outcome(problems, read, trouble=stage)
    try:
        environment = environment_for(layouts, texts)
        if SITE in wanted:
            progress("Making the site")
            _write_site(stage, layouts, environment, site_of(
                read.folder, classroom, facts.uses, texts,
                booklets=not isinstance(press, NoPdf)))
        else:
            stage.keep("site")
        if isinstance(press, Printer):
            for people in classroom.households:
                progress(f"Printing the booklet for {people}")
                _write_booklet(stage, layouts, environment, press, booklet_of(
                    read.folder, classroom, facts.uses, people, texts))
        elif press is None:
            for kept in _BOOKLET_FOLDERS:
                stage.keep(kept)
        stage.keep("class")
        progress("Swapping in")
        made = sum(path.is_file() for path in stage.folder.rglob("*")) - 1
        trouble = commit(stage)
    finally:
        discard(stage)
    missing = press if isinstance(press, NoPdf) else None
    return Outcome(problems, read, 0 if trouble else made, trouble, missing)


def _write_site(stage: Stage, layouts: Layouts, environment: Environment, site: Site) -> None:
    fonts = [name for name in layouts.names("fonts") if name.endswith((".woff2", ".txt"))]
    for name in (*_SITE_FILES, *(f"fonts/{name.removeprefix('fonts/')}" for name in fonts)):
        stage.write(f"site/{name}", layouts.find(name).read_bytes())
    pages = (
        ("index.html", "home.html", site.home),
        ("words.html", "words.html", site.words),
        ("season.html", "season.html", site.season),
        *((f"recipes/{page.sheet.key}.html", "recipe.html", page) for page in site.recipes),
    )
    for name, template, page in pages:
        stage.write(f"site/{name}", rendered(environment, template, page=page))


def _write_booklet(
    stage: Stage, layouts: Layouts, environment: Environment, press: Printer, booklet: Booklet
) -> None:
    html = rendered(environment, "booklet.html", book=booklet)
    pdf = press.print(html, layouts.find("look/paper.css"))
    name = booklet_name(booklet.language, booklet.people)
    for folder in _BOOKLET_FOLDERS:
        stage.write(f"{folder}/{name}", pdf)
