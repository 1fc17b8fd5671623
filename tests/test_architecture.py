"""The shape of the house, read from its imports."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[1] / "src" / "spoonfold"

# Text flows from left to right, and each room knows only rooms to its left.
ROOMS = (
    "problem",
    "digest",
    "knowledge",
    "quantity",
    "model",
    "read",
    "kitchen",
    "plan",
    "teach",
    "check",
    "author",
    "language",
    "sheets",
    "press",
)
FRONT = ("build", "cli", "preview", "__main__", "__init__")
"""Files beside the rooms: they put the rooms together."""

# Third parties have one door each.
DOORS = {
    "yaml": "read",
    "markdown_it": "read",
    "pint": "quantity",
    "babel": "language",
    "gettext": "language",
    "jinja2": "press/html",
    "markupsafe": "press/html.py",
    "weasyprint": "press/pdf.py",
    "click": "cli",
    "PIL": "press",
    "fontTools": "press",
    "pikepdf": "press/fold",
    "tinycss2": "press/stylesheets.py",
    "segno": "press/figures/qr.py",
    "http": "preview",
    "socketserver": "preview",
}
# The clock, chance and the environment come in as arguments.
FORBIDDEN = {"random", "secrets", "uuid", "socket", "urllib.request", "subprocess"}


def _files() -> Iterator[Path]:
    yield from sorted(PACKAGE.rglob("*.py"))


def _imports(path: Path) -> Iterator[tuple[str, int]]:
    """Every module that a file names, also inside functions."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            for name in node.names:
                yield name.name, node.lineno
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                parts = ("spoonfold", *path.relative_to(PACKAGE).parts[:-1])
                base = ".".join(parts[: len(parts) - node.level + 1]) + (f".{base}" if base else "")
            yield base, node.lineno
            if base == "spoonfold":
                for name in node.names:
                    yield f"spoonfold.{name.name}", node.lineno


def _room(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


every_file = pytest.mark.parametrize(
    "path", list(_files()), ids=lambda path: path.relative_to(PACKAGE).as_posix()
)


def test_every_file_stands_in_a_known_room() -> None:
    """A new room is a decision: it is added to the order here and in DEVELOPERS.md."""
    assert {_room(path) for path in _files()} <= {*ROOMS, *FRONT}


@every_file
def test_imports_point_left_only(path: Path) -> None:
    """No room knows a room to its right; plan and teach don't know each other."""
    room = _room(path)
    if room in FRONT:
        return
    allowed = set(ROOMS[: ROOMS.index(room) + 1])
    if room == "teach":
        allowed.discard("plan")
    for module, line in _imports(path):
        parts = module.split(".")
        if parts[0] == "spoonfold" and len(parts) > 1 and parts[1] != "__version__":
            assert parts[1] in allowed, f"{path.name}:{line} imports {module}"


@every_file
def test_third_parties_have_one_door(path: Path) -> None:
    """A library is named in its own room alone, and nothing reaches for chance or the network."""
    where = path.relative_to(PACKAGE).as_posix()
    for module, line in _imports(path):
        top = module.split(".")[0]
        if top in DOORS:
            assert where.startswith(DOORS[top]), f"{where}:{line} imports {module}"
        banned = top in FORBIDDEN or module in FORBIDDEN
        # The PDF printer turns a file address into a path; it opens nothing with it.
        if banned and not (where == "press/pdf.py" and module == "urllib.request"):
            raise AssertionError(f"{where}:{line} imports {module}")


def test_files_can_be_held_in_the_head() -> None:
    """A file is one idea, of whatever length reads well; past 600 lines it has become two."""
    long = {
        path.name: n
        for path in _files()
        if (n := len(path.read_text(encoding="utf-8").splitlines())) > 600
    }
    assert not long
