"""The files of a class folder, read safely: nothing outside it, nothing huge, UTF-8 alone.

Signs that nobody sees and that no file of an author may hold.

Whether git keeps what lies in `content/private/`, asked of git's own list of files.

The list is the index, as its format is published with git (`gitformat-index(5)`): a head of 12
bytes, then one entry a file, sorted by path. Read here without running git, which may not be
there, and would run what a repository tells it to."""

from __future__ import annotations

import os
import posixpath
import re
import stat
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import unquote

from spoonfold.problem import Level, Place, Problem

# Controls, other line ends than a line feed, and what is no character at all: YAML 1.2
# (5.1) refuses most of them, and the rest would make the line numbers wrong.
_NOT_TEXT = re.compile(
    "[\\x00-\\x08\\x0b-\\x1f\\x7f-\\x9f\\u2028\\u2029\\ud800-\\udfff\\ufffe\\uffff]"
)

# Embeddings, overrides and isolates (Unicode Standard Annex 9, section 2): they print letters
# and figures in another order than they are written in, by which a reader is misled (Unicode
# Technical Report 36, bidirectional text spoofing). The marks that only lend a place the
# direction of a letter (U+200E, U+200F, U+061C) stay: who types Arabic or Hebrew may need one.
_TURNING = re.compile("[\u202a-\u202e\u2066-\u2069]")
# The same as YAML and Markdown spell a sign that isn't typed (YAML 1.2.2, 5.7; CommonMark 0.31,
# 6.2 and 2.5). A backslash in front of the spelling makes plain words of it, but not two.
_SPELT = re.compile(
    r"(?<!\\)((?:\\\\)*)(\\(?:u|U0000)20(?:2[a-e]|6[6-9])"
    r"|&#(?:x0*20(?:2[a-e]|6[6-9])|0*(?:823[4-8]|829[4-7]));)",
    re.IGNORECASE,
)
_LONGEST_SHOWN = 200
"""Characters of a line that is shown without its signs; a longer one is a whole paragraph."""


def odd_sign(text: str, path: str) -> Problem | None:
    """The first sign of a file that isn't text or turns the order of what is printed."""
    odd = _NOT_TEXT.search(text)
    if odd is not None:
        return Problem(
            "not-text",
            Level.ERROR,
            _place(text, odd.start(), path),
            "There is an invisible sign here that isn't text; a word processor may have put it in.",
            "Delete it, or type the line again by hand.",
        )
    turning = None if text.isascii() else _TURNING.search(text)
    if turning is not None:
        return _turned(
            text,
            turning.start(),
            path,
            f"An invisible sign stands here (U+{ord(turning[0]):04X}), which turns",
        )
    spelt = _SPELT.search(text) if "\\" in text or "&#" in text else None
    if spelt is not None:
        return _turned(
            text, spelt.start(2), path, f"`{spelt[2]}` means an invisible sign, which turns"
        )
    return None


def _turned(text: str, at: int, path: str, said: str) -> Problem:
    line = text[text.rfind("\n", 0, at) + 1 :].partition("\n")[0]
    mended = _SPELT.sub(r"\1", _TURNING.sub("", line)).strip()
    shown = 0 < len(mended) <= _LONGEST_SHOWN
    return Problem(
        "turned-text",
        Level.ERROR,
        _place(text, at, path),
        f"{said} the order of what follows: an amount or a food could be printed otherwise than "
        "it is written.",
        # Which of the two was meant, what is seen or what is kept, the author alone knows.
        "Type the line again by hand, as it is meant; words of every language find their "
        "direction without such a sign."
        + (f" Without it the line reads:\n{mended}" if shown else ""),
    )


def _place(text: str, at: int, path: str) -> Place:
    return Place(path, text.count("\n", 0, at) + 1, at - text.rfind("\n", 0, at))


PRIVATE = "content/private/"
_LARGEST_INDEX = 100_000_000
"""An index of half a million files; a class folder has hundreds."""

_HEAD = 12
_BEFORE_HASH = 40
"""Times, device, inode, mode, owner and size."""
_SHA1, _SHA256 = 20, 32
_HAS_MORE_FLAGS = 0x4000


def private_tracked(folder: Path) -> Problem | None:
    """A warning where git keeps a private file of this class folder.

    None also where there is no git, or its list can't be read. Files that an index shares with
    another one (`core.splitIndex`) aren't seen.
    """
    try:
        top = folder.resolve()
        root = next(each for each in (top, *top.parents) if (each / ".git").exists())
        git = _git_folder(root / ".git")
        with (git / "index").open("rb") as file:
            data = file.read(_LARGEST_INDEX)
        wanted = f"{(top / PRIVATE).relative_to(root).as_posix()}/".encode()
        tracked = next(path for path in _paths(data, _hash_length(git)) if path.startswith(wanted))
    except (StopIteration, OSError, ValueError, IndexError):
        return None
    name = tracked[len(wanted) :].decode("utf-8", "replace")
    return Problem(
        "private-tracked",
        Level.WARNING,
        Place(f"{PRIVATE}{name}"),
        "git keeps this file, so it goes wherever the repository goes, with the children's names.",
        "Run git rm --cached -r content/private, and write /content/private/ into .gitignore. "
        "What was committed before stays in the history.",
    )


def _git_folder(path: Path) -> Path:
    """Where git keeps its things; in a second working tree `.git` is a file that says where."""
    if path.is_dir():
        return path
    says, _, where = path.read_text(encoding="utf-8").partition(": ")
    if says != "gitdir":
        raise ValueError(says)
    return path.parent / where.strip()


def _hash_length(git: Path) -> int:
    """Bytes of an object's name; a second working tree shares the settings of the first."""
    common = git / "commondir"
    shared = git / common.read_text(encoding="utf-8").strip() if common.is_file() else git
    settings = (shared / "config").read_text(encoding="utf-8", errors="replace")
    is_new = "objectformat=sha256" in "".join(settings.lower().split())
    return _SHA256 if is_new else _SHA1


def _paths(data: bytes, hash_length: int) -> Iterator[bytes]:
    """The path of every entry. Raises ValueError or IndexError for what is no index."""
    version = int.from_bytes(data[4:8], "big")
    if data[:4] != b"DIRC" or version not in (2, 3, 4):
        raise ValueError("no index")
    at, path = _HEAD, b""
    for _ in range(int.from_bytes(data[8:_HEAD], "big")):
        start = at
        at += _BEFORE_HASH + hash_length
        flags = int.from_bytes(data[at : at + 2], "big")
        at += 4 if flags & _HAS_MORE_FLAGS else 2
        if version == 4:
            # Only how much of the path before is dropped, and what is put in its place.
            dropped, at = _number(data, at)
            path = path[: len(path) - dropped]
        else:
            path = b""
        end = data.index(b"\0", at)
        path += data[at:end]
        yield path
        # Before version 4, one to eight zero bytes fill an entry up to a multiple of eight.
        at = end + 1 if version == 4 else start + (end - start) // 8 * 8 + 8


def _number(data: bytes, at: int) -> tuple[int, int]:
    """A number of seven bits a byte, as git writes offsets, and where it ends."""
    value = data[at] & 0x7F
    while data[at] & 0x80:
        at += 1
        value = ((value + 1) << 7) | (data[at] & 0x7F)
    return value, at + 1


# A recipe is about 4 kB; a hundred times that is a mistake, not a recipe.
MOST_BYTES = 1_000_000

_KINDS = (
    (b"PK\x03\x04", "a document of a word processor, or another packed file,"),
    (b"\xd0\xcf\x11\xe0", "a document of an old word processor"),
    (b"{\\rtf", "a document of a word processor (RTF)"),
    (b"%PDF", "a PDF"),
    (b"\xff\xd8\xff", "a picture"),
    (b"\x89PNG", "a picture"),
)
"""How files begin that an educator may rename by mistake (from memory)."""


@dataclass(frozen=True, slots=True)
class Source:
    """One text file."""

    path: str
    """Relative to the class folder, with forward slashes."""
    text: str
    """With `\\n` line ends and without a byte order mark."""


def files_inside(folder: Path) -> Iterator[str | Problem]:
    """Every regular file below `content/` that really lies inside the class folder, in order.

    No link is followed: what it leads to may be a private file, and would be published. Names
    that begin with a dot are passed over.
    """
    root = folder.resolve()
    top = root / "content"
    if not _is_folder(top):
        return
    if not top.resolve().is_relative_to(root):
        yield _refuse("link-outside", "content", *_OUTSIDE)
        return
    closed: list[OSError] = []
    for where, folders, names in os.walk(top, onerror=closed.append):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        linked = [name for name in folders if (Path(where) / name).is_symlink()]
        for name in sorted((*names, *linked)):
            path = Path(where) / name
            shown = path.relative_to(root).as_posix()
            if name.startswith("."):
                continue
            if not _is_text(shown):
                yield _refuse(
                    "file-name",
                    shown.encode("utf-8", "replace").decode(),
                    "The name of this file holds a sign that isn't a letter.",
                    "Give it a new name of small letters, digits and hyphens.",
                )
            elif path.is_symlink():
                yield _link(path, shown, root)
            else:
                yield shown
    for error in closed:
        # What lies there must not seem to have been deleted.
        yield _refuse(
            "unreadable-file",
            Path(error.filename).relative_to(root).as_posix(),
            f"This folder can't be opened: {_reason(error)}.",
            "Check that you may read it.",
        )


def problems_of_layouts(folder: Path) -> Iterator[Problem]:
    """Links among the class's own `layouts/`, and stylesheets and drawings that show a file from
    elsewhere: what lies there would be printed, be it a private one."""
    root = folder.resolve()
    top = root / LAYOUTS
    # Asked of the system's own door, which says no to a folder that may not be entered.
    if os.path.islink(top):  # noqa: PTH114 (pathlib raises there)
        yield _link(top, LAYOUTS, root)
        return
    for where, folders, names in os.walk(top):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted((*names, *folders)):
            path = Path(where) / name
            shown = path.relative_to(root).as_posix()
            if path.is_symlink():
                yield _link(path, shown.encode("utf-8", "replace").decode(), root)
            elif name in names and name.lower().endswith(_WITH_ADDRESSES):
                yield from _addresses_outside(path, shown)


def _addresses_outside(path: Path, shown: str) -> Iterator[Problem]:
    try:
        with path.open("rb") as file:
            text = _line_ends(file.read(MOST_BYTES).decode("utf-8", "replace"))
    except OSError:
        return
    for match in _ADDRESS.finditer(_COMMENT.sub(lambda each: _blank(each[0]), text)):
        address = unquote(match["address"].strip())
        if re.match(r"(?i)data:|#", address):
            continue
        target = posixpath.normpath(posixpath.join(posixpath.dirname(shown), address))
        has_scheme = re.match(r"[A-Za-z][A-Za-z0-9+.-]*:", address) is not None
        if has_scheme or not target.startswith(f"{LAYOUTS}/") or "\\" in address:
            place = _place(text, match.start("address"), shown)
            yield _refuse(
                "layout-outside",
                place.path,
                "This address leads out of layouts/, and nothing from elsewhere is printed: not "
                "from the net, and no private file.",
                "Copy the file into layouts/ and write its address from this file on.",
                place.line,
                place.column,
            )


LAYOUTS = "layouts"
_WITH_ADDRESSES = (".css", ".svg")
_ADDRESS = re.compile(
    r"""(?ix)
    (?: url\( \s* ["']? | @import \s* ["'] | \b(?:xlink:)?(?:href|src) \s* = \s* ["'] )
    (?P<address> [^"')\n]* )
    """
)


_COMMENT = re.compile(r"(?s)/\*.*?\*/|<!--.*?-->")


def _blank(text: str) -> str:
    """As many spaces, on as many lines."""
    return re.sub(r"[^\n]", " ", text)


def _link(path: Path, shown: str, root: Path) -> Problem:
    """Why a link isn't followed, by where it leads."""
    try:
        is_inside = path.resolve(strict=True).is_relative_to(root)
    except (OSError, RuntimeError):
        is_inside = False
    if not is_inside:
        return _refuse("link-outside", shown, *_OUTSIDE)
    if path.is_dir():
        return _refuse(
            "link-to-folder",
            shown,
            "This is a link to another folder, and links to folders aren't followed.",
            "Copy the files themselves to this place.",
        )
    return _refuse(
        "link-to-file",
        shown,
        "This is a link to another file, and links aren't followed: a private file could be "
        "published through one.",
        "Copy the file itself to this place.",
    )


_OUTSIDE = (
    "This is a link to something outside the class folder, so whoever gets the folder doesn't "
    "get it.",
    "Copy the file itself to this place.",
)


def _refuse(
    code: str, path: str, message: str, hint: str, line: int = 0, column: int = 0
) -> Problem:
    return Problem(code, Level.ERROR, Place(path, line, column), message, hint)


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError:
        # It lies in a folder that may not be entered.
        return False


def _reason(error: OSError) -> str:
    return error.strerror or "the disk refused"


def _is_text(name: str) -> bool:
    try:
        name.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return True


def read_source(
    folder: Path, path: str, unread: dict[str, Source] | None = None
) -> Source | Problem:
    """The text of one file, or why it can't be read: then what can be shown of it goes into
    `unread`, with a mark for what can't."""
    try:
        # Asked before it is opened: a pipe that nobody writes to would be waited for for ever.
        if not stat.S_ISREG((folder / path).stat().st_mode):
            return _refuse("not-a-file", path, "This isn't a file that can be read.", "Remove it.")
        with (folder / path).open("rb") as file:
            raw = file.read(MOST_BYTES + 1)
    except OSError as error:
        return _refuse(
            "unreadable-file",
            path,
            f"This file can't be opened: {_reason(error)}.",
            "Check that it is there and that you may read it.",
        )
    if len(raw) > MOST_BYTES:
        return _refuse(
            "file-too-large",
            path,
            "This file is larger than 1 MB; what an educator writes is a few pages.",
            "Is it perhaps a picture or a document saved under the wrong name?",
        )
    kind = next((kind for start, kind in _KINDS if raw.startswith(start)), None)
    if kind is not None:
        return _refuse(
            "not-utf-8",
            path,
            f"This is {kind} under the name of a text file, so it can't be read.",
            "Open it in its own program, choose “Save as” and plain text (UTF-8), and give that "
            "file this name.",
        )
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        if unread is not None:
            unread[path] = Source(path, _line_ends(raw.decode("utf-8", "replace")))
        before = raw[: error.start]
        line = before.count(b"\n") + 1
        column = len(before.rsplit(b"\n", 1)[-1].decode("utf-8", "replace")) + 1
        return _refuse(
            "not-utf-8",
            path,
            "This file isn't saved as UTF-8 text, so a letter here can't be read.",
            "In the text editor choose “Save as” and the encoding UTF-8.",
            line,
            column,
        )
    text = _line_ends(text)
    odd = odd_sign(text, path)
    if odd is not None:
        if unread is not None:
            unread[path] = Source(path, text)
        return odd
    return Source(path, text)


def source_of(text: str, path: str) -> Source | Problem:
    """A text as it would be read from a file, or why it couldn't be."""
    text = _line_ends(text.removeprefix("\ufeff"))
    return odd_sign(text, path) or Source(path, text)


def _line_ends(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")
