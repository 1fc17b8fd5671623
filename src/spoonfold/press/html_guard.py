"""A class's own templates: what is wrong in them, and an environment in which they can do no harm.

They are text that came from somewhere, as a recipe is. They see the values of a page and nothing
behind them (Jinja's sandbox), and take so many turns at most.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from difflib import get_close_matches
from pathlib import Path
from types import CodeType
from typing import Any

from jinja2 import Environment, TemplateError, TemplateNotFound, TemplateSyntaxError, meta, nodes
from jinja2.exceptions import SecurityError, UndefinedError
from jinja2.filters import do_batch
from jinja2.runtime import Context
from jinja2.sandbox import ImmutableSandboxedEnvironment

from spoonfold.press.drawings import Flaw

_MOST_TURNS = 300_000
"""Rounds of loops and calls of one page; the longest page that ships takes some thousands."""
_MOST_LETTERS = 100_000
"""In a text that a template repeats or fills up."""
_MOST_IN_A_ROW = 1_000
_LEFT_OUT_GLOBALS = ("lipsum",)
_LEFT_OUT_FILTERS = ("random", "center", "format", "pprint", "xmlattr", "slice")
"""What goes by chance, or fills up to any length."""


def _batched(value: Iterable[Any], count: int, fill: Any = None) -> Iterator[list[Any]]:
    """Jinja's filter, which fills the last row up."""
    if count > _MOST_IN_A_ROW:
        raise EndlessTemplateError("this fills up a row without end")
    return do_batch(value, count, fill)


class EndlessTemplateError(TemplateError):
    """A template took more turns than any page needs."""


class GuardedEnvironment(ImmutableSandboxedEnvironment):
    """Jinja for templates of a class's own."""

    intercepted_binops = frozenset({"*", "**", "%"})

    def __init__(self, *args: Any, **named: Any) -> None:
        super().__init__(*args, **named)
        for name in _LEFT_OUT_GLOBALS:
            self.globals.pop(name, None)
        for name in _LEFT_OUT_FILTERS:
            self.filters.pop(name, None)
        self.filters["batch"] = _batched
        self._left = _MOST_TURNS

    def begin(self) -> None:
        """Counts the turns of a new page."""
        self._left = _MOST_TURNS

    def counted(self, values: Iterable[Any]) -> Iterator[Any]:
        """What a loop goes through, a turn each."""
        for value in values:
            self._turn()
            yield value

    def call(self, __context: Context, __obj: Any, *args: Any, **named: Any) -> Any:
        """Calls what a template calls: a turn."""
        self._turn()
        return super().call(__context, __obj, *args, **named)

    def call_binop(self, context: Context, operator: str, left: Any, right: Any) -> Any:
        """Works out what could become endlessly large."""
        if operator == "**" or (operator == "%" and isinstance(left, str)):
            raise SecurityError(f"{operator} isn't worked out here")
        for text, times in ((left, right), (right, left)):
            if (
                operator == "*"
                and isinstance(times, int)
                and hasattr(text, "__len__")
                and len(text) * times > _MOST_LETTERS
            ):
                raise EndlessTemplateError("this repeats a text without end")
        return super().call_binop(context, operator, left, right)

    def _turn(self) -> None:
        self._left -= 1
        if self._left < 0:
            raise EndlessTemplateError("this goes round and round without an end")

    def _generate(
        self,
        source: nodes.Template,
        name: str | None,
        filename: str | None,
        defer_init: bool = False,
    ) -> str:
        for loop in source.find_all(nodes.For):
            counted = nodes.EnvironmentAttribute("counted", lineno=loop.iter.lineno)
            loop.iter = nodes.Call(counted, [loop.iter], [], None, None, lineno=loop.iter.lineno)
            loop.iter.set_environment(self)
        return super()._generate(source, name, filename, defer_init)


_JINJA_COMMENT = re.compile(r"(?s)\{#.*?#\}|<!--.*?-->")
_ACTIVE = re.compile(
    r"""(?ix)
    (?P<remote> \b(?:src|srcset|poster|data|action|formaction|background|xlink:href) \s*=\s*["']?
        \s* (?:[a-z][a-z0-9+.-]*:)?// )
    | (?P<linked> <link\b [^>]* href \s*=\s*["']? \s* (?:[a-z][a-z0-9+.-]*:)?// )
    | (?P<styled> (?:url\( \s*["']?\s* | @import \s*["']) (?:[a-z][a-z0-9+.-]*:)?// )
    | (?P<frame> <(?:iframe|object|embed|base|applet|frame)\b )
    | (?P<handler> <[a-z][^>]*\son[a-z]+ \s*=\s*["'] )
    | (?P<script> javascript\s*: )
    """
)


def flaws_of_template(
    data: bytes, environment: Environment, pages: Collection[str], known: Collection[str]
) -> Iterator[Flaw]:
    """What keeps a template from being used, as far as it can be told without a page. `pages`: the
    templates that there are; `known`: the values that some page has."""
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = len(data[: error.start].split(b"\n"))
        yield Flaw(line, "This template isn't saved as UTF-8 text.", "Save it as UTF-8.")
        return
    if not text.strip():
        yield Flaw(0, "This template is empty.", "Remove it: then the one that ships is used.")
        return
    try:
        tree = environment.parse(text)
        environment.compile(text)
    except TemplateSyntaxError as error:
        yield Flaw(error.lineno, f"This template can't be read: {_sentence(error.message)}", _JINJA)
        return
    except (RecursionError, ValueError, OverflowError, MemoryError, SyntaxError) as error:
        yield Flaw(0, f"This template can't be read: {_sentence(str(error))}", _JINJA)
        return
    yield from _missing_parts(tree, pages)
    yield from _unknown_values(tree, environment, known)
    plain = _JINJA_COMMENT.sub(lambda match: re.sub(r"[^\n]", " ", match[0]), text)
    for match in _ACTIVE.finditer(plain):
        yield Flaw(
            len(plain[: match.start()].split("\n")),
            "This would run a program in the page."
            if match.lastgroup in ("handler", "script")
            else "This shows something from elsewhere, and nothing from elsewhere is shown.",
            "Remove it, or put what it shows into layouts/.",
        )


_JINJA = "The templates that ship show how it is written: {{ value }}, {% for … %} {% endfor %}."


def values_known(pages: Iterable[Path], environment: Environment) -> frozenset[str]:
    """Every value that a template which ships asks its page for."""
    names: set[str] = set()
    for path in pages:
        names |= meta.find_undeclared_variables(environment.parse(path.read_text(encoding="utf-8")))
    return frozenset(names)


def _missing_parts(tree: nodes.Template, pages: Collection[str]) -> Iterator[Flaw]:
    for node in tree.find_all((nodes.Include, nodes.Import, nodes.FromImport, nodes.Extends)):
        named = node.template  # type: ignore[attr-defined]  # each of these has one
        if getattr(node, "ignore_missing", False) or not isinstance(named, nodes.Const):
            continue
        wanted = named.value if isinstance(named.value, (list, tuple)) else [named.value]
        if not any(each in pages for each in wanted):
            close = get_close_matches(str(wanted[0]), pages, 1)
            yield Flaw(
                node.lineno,
                f"There is no template layouts/pages/{wanted[0]}.",
                f"Did you mean {close[0]}?" if close else "Put it there, or remove this.",
            )


def _unknown_values(
    tree: nodes.Template, environment: Environment, known: Collection[str]
) -> Iterator[Flaw]:
    asked = {
        name.name
        for test in tree.find_all((nodes.Test, nodes.Filter))
        if test.name in ("defined", "undefined", "default", "d")
        for name in test.find_all(nodes.Name)
    }
    unknown = meta.find_undeclared_variables(tree) - set(known) - set(environment.globals) - asked
    for name in sorted(unknown):
        node = next((each for each in tree.find_all(nodes.Name) if each.name == name), None)
        close = get_close_matches(name, known, 1)
        yield Flaw(
            node.lineno if node is not None else 0,
            f"No page has a value {name}.",
            f"Did you mean {close[0]}?" if close else "Remove it.",
        )


def fault_of(error: BaseException, own: Path) -> tuple[str, Flaw] | None:
    """Where and why filling the class's own templates failed; None for what isn't theirs."""
    where, line = "", 0
    if isinstance(error, TemplateSyntaxError) and error.filename:
        where, line = _below(error.filename, own), error.lineno
    trace = error.__traceback__
    while trace is not None:
        code: CodeType = trace.tb_frame.f_code
        found = _below(code.co_filename, own)
        if found:
            where, line = found, trace.tb_lineno
        trace = trace.tb_next
    if isinstance(error, TemplateNotFound):
        message = f"there is no template {error.name}"
    elif isinstance(error, UndefinedError):
        message = re.sub(r"'[\w.]+ object' has no attribute", "this value has no", str(error))
    elif isinstance(error, RecursionError):
        message = "it calls itself without an end"
    else:
        message = str(error) or type(error).__name__
    if not where and not isinstance(error, TemplateError):
        return None
    return where, Flaw(line, f"This template can't be filled: {_sentence(message)}", _FILLED)


_FILLED = "Mend this line, or remove the file: then the one that ships is used."


def _below(filename: str, own: Path) -> str:
    try:
        return Path(filename).resolve().relative_to(own).as_posix()
    except (OSError, ValueError):
        return ""


def _sentence(text: str | None) -> str:
    said = (text or "it fails").strip().rstrip(".")
    return f"{said}."
