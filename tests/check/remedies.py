"""Does what a message says to write, where it says so, to see whether that helps.

A hint is followed only where it is literal: lines to write, words to put in the place of others. An
ellipsis stands for what only the author knows; `FILLED` says what is put there. The rest is advice
in prose; `PROSE` in the test beside this names each such code, and why.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from spoonfold.problem import Problem

Files = Mapping[str, str]
"""What each file of `content/` says, by its path below it."""

_LINK = re.compile(r"!?\[[^\]]*\]\([^)]*\)")
_QUOTED = re.compile(r"“([^”]*)”")
_NEAR = re.compile(r"^Did you mean `([^`]+)`\?")
_WRITE = re.compile(r"Write: “([^”]+[.”])")
_KEY = re.compile(r"[a-z ]+: [^…`]+(?<! file)")
_NOTE = re.compile(r"^\s*- ([a-z ]+): ")
_STEP = re.compile(r"^(\d+)\. ")
_SENTENCE = re.compile(r"[^.!?:;]+[.!?:;]*”?\s*")
_FOOD = re.compile(r"^[^\s:][^:]*:$")
FILLED = "we looked at it"


def remedied(problem: Problem, files: Files) -> Iterator[dict[str, str]]:
    """The files with what a problem's hint says to write; several where it leaves a choice, none
    where it is no literal text."""
    path = problem.place.path.removeprefix("content/")
    if problem.place.line == 0 or path not in files:
        return
    for changed in _followed(problem, path, files):
        if changed is not None:
            yield {**files, **changed}


def _followed(problem: Problem, path: str, files: Files) -> Iterator[dict[str, str] | None]:
    lines = files[path].split("\n")
    said = problem.hint.split("\n")
    at = problem.place.line - 1
    last = said[-1]
    near = _NEAR.match(problem.hint)
    if near:
        yield _put(path, lines, problem, near[1])
    if last.startswith("tools: "):
        yield {"class.yaml": f"{files['class.yaml']}{last}\n"}
    elif "allergens: read the label" in problem.hint:
        block = "\n".join(said[next(n for n, each in enumerate(said) if _FOOD.match(each)) :])
        described = block.replace("allergens: read the label", "allergens: []")
        yield {"pantry.yaml": f"{files.get('pantry.yaml', '')}\n{described}\n"}
    elif last.startswith("accept: ") and path.startswith("recipes/"):
        yield {path: _in_header(lines, last.replace("…", FILLED))}
    elif last.startswith("- {instead of") and "…" not in last:
        yield {path: _in_header(lines, "swaps:", f"  {last}")}
    elif said[0].startswith("Give each a line") and all(each[:2] == "- " for each in said[1:]):
        listed = (f"  {each}" for each in said[1:])
        yield {path: "\n".join((*lines[:at], *listed, *lines[at + 1 :]))}
    elif _NOTE.match(last) and "…" not in last:
        yield from _notes(path, lines, at, said)
    elif _LINK.fullmatch(last):
        yield _linked(path, lines, problem, last)
    elif _STEP.match(lines[at]) and path.startswith("recipes/"):
        for words in _WRITE.findall(problem.hint):
            yield _said_otherwise(path, lines, problem, words.rstrip("”"))
    elif _KEY.fullmatch(last) and problem.place.column and not said[0].startswith("For example"):
        yield _rekeyed(path, lines, problem, last)


def _rekeyed(path: str, lines: list[str], problem: Problem, entry: str) -> dict[str, str] | None:
    """A key with its value in the place of the one by that name, on the problem's own line."""
    at = problem.place.line - 1
    begin = re.search(rf"\b{re.escape(entry.split(':')[0])}: ", lines[at])
    if begin is None:
        return None
    end, depth = begin.end(), 0
    flow = not lines[at].lstrip().startswith("- ") or "{" in lines[at][: begin.start()]
    while end < len(lines[at]):
        letter = lines[at][end]
        if flow and depth == 0 and letter in ",}]":
            break
        depth += (letter in "[{") - (letter in "]}")
        end += 1
    line = lines[at][: begin.start()] + entry + lines[at][end:]
    return {path: "\n".join((*lines[:at], line, *lines[at + 1 :]))}


def _notes(
    path: str, lines: list[str], at: int, said: list[str]
) -> Iterator[dict[str, str] | None]:
    """Notes below the step that is meant: the one of the problem or, where the problem stands in
    the list, each in turn."""
    if said[-1].startswith("    ") and not _STEP.match(lines[at]):
        yield {path: "\n".join((*lines[:at], said[-1], *lines[at + 1 :]))}
    elif said[0].startswith("Under the step that cooks it"):
        for number, line in enumerate(lines):
            if _STEP.match(line):
                yield _noted(path, lines, number, said)
    else:
        yield _noted(path, lines, at, said)


def _put(path: str, lines: list[str], problem: Problem, word: str) -> dict[str, str] | None:
    """A word in the place of the one that the message quotes."""
    at, column = problem.place.line - 1, problem.place.column - 1
    for quoted in _QUOTED.findall(problem.message):
        begin = lines[at].find(quoted, max(column, 0))
        if begin >= 0:
            line = lines[at][:begin] + word + lines[at][begin + len(quoted) :]
            return {path: "\n".join((*lines[:at], line, *lines[at + 1 :]))}
    return None


def _in_header(lines: list[str], *entries: str) -> str:
    """A key of the header, at its end; its list goes on where it is there already."""
    end = lines.index("---", 1)
    key = entries[0].split(":")[0] + ":"
    if len(entries) > 1 and key in lines[:end]:
        at = lines.index(key) + 1
        return "\n".join((*lines[:at], *entries[1:], *lines[at:]))
    return "\n".join((*lines[:end], *entries, *lines[end:]))


def _noted(path: str, lines: list[str], at: int, said: list[str]) -> dict[str, str] | None:
    """Notes: in the place of the one of that name, else below the step."""
    while at and not _STEP.match(lines[at]):
        if lines[at].startswith("  - ") or lines[at] == "---":
            return None
        at -= 1
    end = at + 1
    while end < len(lines) and lines[end].startswith("    "):
        end += 1
    notes = [f"    {each.strip()}" for each in said if _NOTE.match(each)]
    names = {_name(each) for each in notes}
    kept = [each for each in lines[at + 1 : end] if _name(each) not in names]
    return {path: "\n".join((*lines[: at + 1], *kept, *notes, *lines[end:]))}


def _name(line: str) -> str:
    note = _NOTE.match(line)
    return note[1] if note else line


def _linked(path: str, lines: list[str], problem: Problem, link: str) -> dict[str, str] | None:
    """A link in the place of the one that stands there, or of its words."""
    at, column = problem.place.line - 1, problem.place.column - 1
    line = lines[at]
    if line.startswith("  - "):
        return None
    there = next((m for m in _LINK.finditer(line) if m.start() <= column + 1 < m.end()), None)
    if there is None:
        inner = link[1 : link.index("](")]
        quoted = _QUOTED.findall(problem.message)
        # “2 cups” of a message is “2 cups of water” in the line.
        loose = (rf"{re.escape(each)}(?: of)?(?: the)? {inner.split()[-1]}" for each in quoted)
        wanted = "|".join((re.escape(inner), *loose, *map(re.escape, quoted)))
        found = [match for match in re.finditer(wanted, line) if match.end() > column]
        if not found:
            return None
        span = found[0].span()
    else:
        span = there.span()
    line = line[: span[0]] + link + line[span[1] :]
    return {path: "\n".join((*lines[:at], line, *lines[at + 1 :]))}


def _said_otherwise(
    path: str, lines: list[str], problem: Problem, words: str
) -> dict[str, str] | None:
    """A sentence in the place of the one that the problem stands in."""
    at, column = problem.place.line - 1, problem.place.column - 1
    step = _STEP.match(lines[at])
    assert step is not None
    for sentence in _SENTENCE.finditer(lines[at], step.end()):
        if sentence.start() <= max(column, step.end()) < sentence.end():
            named = _named(lines, sentence.group())
            line = f"{lines[at][: sentence.start()]}{named}{words} {lines[at][sentence.end() :]}"
            line = line.rstrip()
            return {path: "\n".join((*lines[:at], line, *lines[at + 1 :]))}
    return None


def _named(lines: list[str], sentence: str) -> str:
    """What the sentence took from the list still has to be taken."""
    names = []
    for line in lines[: lines.index("---", 1)]:
        listed = re.match(r"  - [\d/ ½⅓¼-]*(?:[a-z]+ )?(.+?)(?:,.*)?$", line)
        if listed and not {*listed[1].split()}.isdisjoint(re.findall(r"[\w-]+", sentence)):
            names.append(listed[1])
    return f"Take the {' and the '.join(names)}. " if names else ""
