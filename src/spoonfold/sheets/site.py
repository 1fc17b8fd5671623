"""The files of the class site."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator

from spoonfold.language.texts import Texts
from spoonfold.paper.address import site_folder
from spoonfold.paper.notice import IngredientsPage, notice_of
from spoonfold.paper.site import site_of
from spoonfold.press.html import Environment, rendered
from spoonfold.press.layouts import Layouts
from spoonfold.sheets.sheet import File, Tongue, Work

_LOOKS = ("look/tokens.css", "look/tokens-dark.css", "look/screen.css")


def site_files(
    work: Work,
    layouts: Layouts,
    environment: Callable[[Texts], Environment],
    booklets: Collection[str],
) -> Iterator[File]:
    """Stylesheets, fonts, and the pages in each language with the templates that go with it;
    `booklets` names the files of booklets that there are."""
    fonts = [name for name in layouts.names("fonts") if name.endswith((".woff2", ".txt"))]
    for name in (*_LOOKS, *fonts):
        yield File(f"site/{name}", layouts.find(name).read_bytes())
    for tongue in work.tongues:
        yield from _pages(work, tongue, environment(tongue.texts), booklets)


def _pages(
    work: Work, tongue: Tongue, environment: Environment, booklets: Collection[str]
) -> Iterator[File]:
    site = site_of(tongue.folder, work.classroom, tongue.uses, tongue.texts, booklets)
    notice = notice_of(tongue.folder, work.classroom, tongue.texts)
    pages = (
        ("index.html", "home.html", site.home),
        ("words.html", "words.html", site.words),
        ("season.html", "season.html", site.season),
        ("ingredients.html", "ingredients.html", IngredientsPage(site.season.frame, notice)),
        *((f"recipes/{page.sheet.key}.html", "recipe.html", page) for page in site.recipes),
    )
    own = site_folder(tongue.texts.language, work.classroom)
    for name, template, page in pages:
        yield File(f"site/{own}{name}", rendered(environment, template, page=page))
