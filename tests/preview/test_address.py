"""Which file a browser's request names."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import quote

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from in_full import sampled
from spoonfold.preview.server import file_at, kind_of

PIECES = st.sampled_from(
    [
        "/",
        "..",
        ".",
        "%2e",
        "%2E%2e",
        "%2f",
        "%5c",
        "\\",
        "//",
        "site",
        "class",
        "build",
        "private",
        "secret.txt",
        "index.html",
        "%00",
        "?",
        "#",
        ";",
        "%",
        "%ff",
        ":",
        "C:",
        "~",
        "é",
        ".made-of",
        "out",
        "content",
        "%252e",
    ]
)


@pytest.fixture(scope="module")
def output(tmp_path_factory: pytest.TempPathFactory) -> Path:
    top = tmp_path_factory.mktemp("class")
    for name in (
        "build/site/index.html",
        "build/site/a b/é%.html",
        "build/class/jobs.pdf",
        "build/.made-of.json",
        "build/site/.hidden",
        "build/other/file.txt",
        "secret.txt",
        "content/secret.txt",
    ):
        path = top / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(name)
    (top / "build/site/out").symlink_to(top / "content")
    (top / "build/site/out.txt").symlink_to(top / "secret.txt")
    return top / "build"


@pytest.mark.parametrize("name", ["site/index.html", "site/a b/é%.html", "class/jobs.pdf"])
def test_every_sheet_is_found_by_its_address(output: Path, name: str) -> None:
    """Spaces, letters of any language and a percent sign in a name find their way."""
    assert file_at(output, f"/{quote(name)}?again") == output / name


@pytest.mark.parametrize(
    "target",
    [
        "/../secret.txt",
        "/site/../../secret.txt",
        "/site/%2e%2e/%2e%2e/secret.txt",
        "/site/..%2f..%2fsecret.txt",
        "/site/out/secret.txt",
        "/site/out.txt",
        "/site/.hidden",
        "/.made-of.json",
        "/other/file.txt",
        "/site",
        "/site/",
        "/",
        "",
        "site/index.html",
        "//site/index.html",
        "/site//index.html",
        "/site\\index.html",
        "/site/index.html%00",
        "http://127.0.0.1/site/index.html",
        "/site/%ff.html",
        f"/site/{'x' * 5000}",
    ],
)
def test_nothing_else_is(output: Path, target: str) -> None:
    """What is outside, hidden, led to by a link, no file, or no address, isn't found."""
    assert file_at(output, target) is None


@settings(
    max_examples=sampled(80, 400), suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(pieces=st.lists(PIECES | st.text(max_size=3), max_size=8))
def test_no_address_leads_out(output: Path, pieces: list[str]) -> None:
    """However an address is put together, it finds a file of the output or none."""
    found = file_at(output, "/" + "".join(pieces))
    if found is not None:
        inside = found.resolve().relative_to(output.resolve())
        assert inside.parts[0] in ("site", "families", "class")
        assert not any(part.startswith(".") for part in inside.parts)


def test_kinds_are_the_registered_ones() -> None:
    """A sheet opens in the browser, and what isn't known is never run by it."""
    assert kind_of("a.pdf") == "application/pdf"
    assert kind_of("A.HTML") == "text/html; charset=utf-8"
    assert kind_of("season.ics").startswith("text/calendar")
    assert kind_of("a.exe") == kind_of("a") == "application/octet-stream"
