"""A YAML file with a few lines more, all others byte for byte as they were.

The place is found in the tree that `read` makes, and the longer text is read again: it must hold
all that it held before, and the new entry. Otherwise the author is asked to add it by hand.
"""

from __future__ import annotations

from dataclasses import dataclass

from spoonfold.author.written import Refused
from spoonfold.problem import Problem
from spoonfold.read.nodes import Mapping, Node, Scalar, Sequence, node_from_yaml

_MARK = "\ufeff"


@dataclass(frozen=True, slots=True)
class Grown:
    """A longer text."""

    text: str
    line: int
    """The line on which the new part begins, from 1."""

    @property
    def plain(self) -> str:
        """As `read` reads it: line feeds alone, without a byte order mark."""
        return _plain(self.text)


def parts_of_file(text: str, path: str) -> list[tuple[str, str]] | None:
    """A file of named entries cut at its keys: each key with its lines, comments above it among
    them; behind an empty key what stands before the first. None where keys share lines."""
    root = _tree(text, path)
    if not isinstance(root, Mapping) or any(place.column != 1 for place in root.keys.values()):
        return None
    lines = _lines(text)
    cuts: list[tuple[int, str]] = []
    for key, place in root.keys.items():
        at = place.line - 1
        while at and not _is_content(lines[at - 1]) and lines[at - 1].strip():
            at -= 1
        cuts.append((at, key))
    ends = [at for at, _ in cuts[1:]] + [len(lines)]
    if sorted({at for at, _ in cuts}) != [at for at, _ in cuts]:
        return None
    parts = [("", "".join(lines[: cuts[0][0]]))] if cuts else []
    return parts + [
        (key, "".join(lines[at:end])) for (at, key), end in zip(cuts, ends, strict=True)
    ]


def with_session(text: str, path: str, entry: str) -> Grown | Refused:
    """class.yaml with one more session. `entry` is what stands between its braces."""
    by_hand = Refused(
        f"The list of sessions in {path} is written in a way that can't be added to safely.",
        f"Add this line by hand under sessions:   - {{{entry}}}",
    )
    root = _tree(text, path)
    if not isinstance(root, Mapping) or "sessions" not in root.entries:
        return by_hand
    first = root.keys["sessions"].line
    later = [place.line for place in root.keys.values() if place.line > first]
    lines = _lines(text)
    end = min(later, default=len(lines) + 1)
    node = root.entries["sessions"]
    if isinstance(node, Sequence) and _is_flow(lines, node):
        at = _last_bracket(lines, first, end)
        if at is None:
            return by_hand
        row, column = at
        joint = ", " if node.items else ""
        lines[row] = f"{lines[row][:column]}{joint}{{{entry}}}{lines[row][column:]}"
        new = row + 1
    else:
        # Comments below the last entry that stand at the edge belong to what follows.
        last = max(
            number
            for number in range(first, end)
            if number == first or _is_content(lines[number - 1])
        )
        indent = 2 if not isinstance(node, Sequence) else node.place.column - 1
        end_of_line = "\r\n" if lines[0].endswith("\r\n") else "\n"
        if not lines[last - 1].endswith("\n"):
            lines[last - 1] += end_of_line
        lines.insert(last, f"{' ' * indent}- {{{entry}}}{end_of_line}")
        new = last + 1
    grown = Grown("".join(lines), new)
    return grown if _only_longer(root, _tree(grown.text, path), "sessions") else by_hand


def with_entry(text: str, path: str, key: str, added: list[str]) -> Grown | Refused:
    """A file of named entries with one more at its end. `added` are its lines."""
    by_hand = Refused(
        f"{path} is written in a way that can't be added to safely.",
        "Add these lines by hand at its end:\n" + "\n".join(added),
    )
    found: list[Problem] = []
    root = node_from_yaml(_plain(text), path, found)
    if found or not (root is None or isinstance(root, Mapping)):
        return Refused(f"{path} can't be read yet.", "Mend it first: spoonfold check")
    for known, place in root.keys.items() if root else ():
        if known.casefold() == key.casefold():
            return Refused(f"“{known}” is already explained, on line {place.line} of {path}.")
    end_of_line = "\r\n" if "\r\n" in text else "\n"
    joint = "" if not text or text.endswith("\n") else end_of_line
    grown = Grown(
        text + joint + "".join(line + end_of_line for line in added), len(_lines(text)) + 1
    )
    after = _tree(grown.text, path)
    before = root or Mapping(after.place if after else found[0].place)
    if not isinstance(after, Mapping) or set(after.entries) != {*before.entries, key}:
        return by_hand
    same = all(_same(before.entries[each], after.entries[each]) for each in before.entries)
    return grown if same else by_hand


def _plain(text: str) -> str:
    return text.removeprefix(_MARK).replace("\r\n", "\n")


def _lines(text: str) -> list[str]:
    """The lines with their ends; other signs than a line feed end none."""
    return [line + "\n" for line in text.split("\n")[:-1]] + (
        [last] if (last := text.rsplit("\n", 1)[-1]) else []
    )


def _tree(text: str, path: str) -> Node | None:
    """The tree of a text that has nothing wrong with it."""
    found: list[Problem] = []
    root = node_from_yaml(_plain(text), path, found)
    return None if found else root


def _is_flow(lines: list[str], node: Sequence) -> bool:
    line = _plain(lines[node.place.line - 1])
    return line[node.place.column - 1 : node.place.column] == "["


def _is_content(line: str) -> bool:
    bare = line.strip()
    return bool(bare) and not (bare.startswith("#") and line[0] == "#")


def _last_bracket(lines: list[str], first: int, end: int) -> tuple[int, int] | None:
    for row in range(min(end - 1, len(lines)) - 1, first - 2, -1):
        column = lines[row].partition(" #")[0].rfind("]")
        if column >= 0 and not lines[row].lstrip().startswith("#"):
            return row, column
    return None


def _only_longer(before: Mapping, after: Node | None, key: str) -> bool:
    """Whether a list has one item more and everything else is what it was."""
    if not isinstance(after, Mapping) or list(before.entries) != list(after.entries):
        return False
    old, new = before.entries[key], after.entries[key]
    kept = old.items if isinstance(old, Sequence) else []
    if not isinstance(new, Sequence) or len(new.items) != len(kept) + 1:
        return False
    rest = all(
        _same(before.entries[each], after.entries[each]) for each in before.entries if each != key
    )
    return rest and all(map(_same, kept, new.items))


def _same(one: Node, other: Node) -> bool:
    """Whether two trees say the same, wherever they stand."""
    match one, other:
        case Scalar(), Scalar():
            return one.text == other.text
        case Sequence(), Sequence():
            return len(one.items) == len(other.items) and all(map(_same, one.items, other.items))
        case Mapping(), Mapping():
            return list(one.entries) == list(other.entries) and all(
                _same(one.entries[key], other.entries[key]) for key in one.entries
            )
        case _:
            return False
