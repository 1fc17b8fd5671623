"""Where the pages of the site are: below its top, and on the net."""

from __future__ import annotations

from urllib.parse import quote

from spoonfold.model.classroom import Classroom


def site_folder(language: str, classroom: Classroom) -> str:
    """Where the pages of a language lie, from the site's top: the first language's at the top
    itself, another's in a folder of its own."""
    return "" if language == classroom.languages[0] else f"{language}/"


def recipe_address(classroom: Classroom, language: str, key: str) -> str:
    """Where a recipe's page is on the net; empty where class.yaml has no `site`."""
    if not classroom.site:
        return ""
    top = classroom.site.rstrip("/")
    return f"{top}/{site_folder(language, classroom)}recipes/{quote(key)}.html"
