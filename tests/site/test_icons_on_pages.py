"""Icons drawn once a page: the same picture, and less of it."""

from __future__ import annotations

import re
from pathlib import Path

from site_checkers import pages

from spoonfold.press.icons import drawn_once

_CLOCK = (
    '<svg class="icon" aria-hidden="true" xmlns="http://www.w3.org/2000/svg" '
    'viewBox="0 0 24 24" width="24" height="24" fill="none" stroke-width="2">'
    '<circle r="9"/></svg>'
)


def test_the_second_points_at_the_first() -> None:
    """What the shape is drawn with goes along with it; the frame stays with each."""
    page = drawn_once(f"<p>{_CLOCK} 5 min</p><p>{_CLOCK} 7 min</p>".encode()).decode()
    assert page == (
        '<p><svg class="icon" aria-hidden="true" viewBox="0 0 24 24">'
        '<g id="icon-1" fill="none" stroke-width="2"><circle r="9"/></g></svg> 5 min</p>'
        '<p><svg class="icon" aria-hidden="true" viewBox="0 0 24 24">'
        '<use href="#icon-1"/></svg> 7 min</p>'
    )


def test_one_alone_stays() -> None:
    assert drawn_once(f"<p>{_CLOCK}</p>".encode()).decode() == f"<p>{_CLOCK}</p>"


def test_every_icon_of_the_site_is_drawn(all_sites: dict[str, Path]) -> None:
    """Each that points somewhere points at one that is drawn on the same page."""
    pointing = 0
    for site in all_sites.values():
        for path in pages(site):
            text = path.read_text(encoding="utf-8")
            drawn = re.findall(r'<g id="(icon-\d+)"', text)
            used = re.findall(r'<use href="#(icon-\d+)"/>', text)
            assert len(drawn) == len(set(drawn)) and set(used) == set(drawn), path
            pointing += len(used)
    assert pointing > 100
