"""A saved page, JSON or text becomes a recipe file in the class folder; never over another."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from spoonfold.author.bring.file import Origin, RecipeText, recipe_text
from spoonfold.author.bring.found import MOST_BYTES, FoundRecipe
from spoonfold.author.bring.linked import from_linked, load, recipe_in
from spoonfold.author.bring.marked import marked_items
from spoonfold.author.bring.page import Page, read_page
from spoonfold.author.bring.pasted import from_text
from spoonfold.author.words import file_name
from spoonfold.author.written import Refused, Written, write_new
from spoonfold.model.pantry import Pantry
from spoonfold.read.yaml_text import clean

_PAGE_SIGNS = (
    "<!doctype",
    "<html",
    "<head",
    "<body",
    "<script",
    "<div",
    "<p>",
    "<ul",
    "<ol",
    "<h1",
)


@dataclass(frozen=True, slots=True)
class Brought:
    """A recipe that was brought in."""

    written: Written
    content: RecipeText
    source: str
    """What it was made from, in a few words."""


def found_in(raw: bytes, name: str) -> tuple[FoundRecipe, str] | Refused:
    """What can be found of a recipe in a file's bytes, and what it was found in."""
    if len(raw) > MOST_BYTES:
        return Refused(
            f"{name} is larger than {MOST_BYTES // 1_000_000} MB; a saved page isn't.",
            "Save the page as “HTML only”, or paste the recipe into a text file.",
        )
    text, guess = _decoded(raw)
    if "\x00" in text:
        return Refused(
            f"{name} is no text: it may be a picture, a PDF or a document.",
            "Open it, copy the recipe and paste it into a plain text file.",
        )
    found, source = _found(text, name)
    if guess:
        found = replace(found, guesses=(*found.guesses, guess))
    if not found.ingredients and not found.steps:
        return Refused(
            f"No recipe was found in {name}.",
            "Paste the recipe into a plain text file: its title, a line that says "
            "“Ingredients”, one ingredient on a line, a line that says “Steps”, and the "
            "steps.",
        )
    return found, source


def bring(
    folder: Path, raw: bytes, file: str, pantry: Pantry, origin: Origin, name: str | None = None
) -> Brought | Refused:
    """Writes `content/recipes/NAME.md` from a file's bytes; `file` is what it is called."""
    found = found_in(raw, clean(file))
    if isinstance(found, Refused):
        return found
    recipe, source = found
    content = recipe_text(recipe, pantry, source, origin)
    key = file_name(name or recipe.title)
    written = write_new(folder, f"content/recipes/{key}.md", content.text)
    if isinstance(written, Refused):
        return replace(written, instead=f"Give the new file another name: --name {key}-2")
    return Brought(written, content, source)


def _decoded(raw: bytes) -> tuple[str, str]:
    """The text, and the guess at its encoding where it had to be guessed."""
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        return raw.decode("utf-16", "replace"), ""
    try:
        return raw.decode("utf-8-sig"), ""
    except UnicodeDecodeError:
        # What older word processors and pages are saved as.
        return raw.decode("cp1252", "replace"), "read as Windows text (cp1252): look at its accents"


def _found(text: str, name: str) -> tuple[FoundRecipe, str]:
    data, words = f"the recipe data (schema.org/Recipe) in {name}", f"the words of {name}"
    value = load(text) if text.lstrip()[:1] in ("{", "[") else None
    if value is not None:
        return _of(value), data
    opening = text[:100_000].lower()
    if not any(sign in opening for sign in _PAGE_SIGNS):
        return from_text(text.replace("\r\n", "\n").replace("\r", "\n")), words
    page = read_page(text)
    for each in page.data:
        found = _of(load(each))
        if found.ingredients or found.steps:
            return _with_page(found, page), data
    if "Recipe" in text:
        found = _of(marked_items(text))
        if found.ingredients or found.steps:
            return _with_page(found, page), data
    found = _with_page(from_text(page.text), page)
    return replace(found, guesses=("the page has no recipe data", *found.guesses)), words


def _of(value: Any) -> FoundRecipe:
    """The recipe in the data of a page; an empty one where there is none."""
    recipe = recipe_in(value)
    return FoundRecipe() if recipe is None else from_linked(recipe)


def _with_page(found: FoundRecipe, page: Page) -> FoundRecipe:
    """With what only the page says."""
    return replace(
        found, title=found.title or clean(page.title), address=found.address or clean(page.address)
    )
