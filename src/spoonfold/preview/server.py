"""Answers on this computer's own address: the page, how things stand, and files of the output.

What a browser may ask for, and which file of the output that is.

The page round the preview, and what it is made of.

A port that is free, or who holds the one that was asked for."""

from __future__ import annotations

import base64
import errno
import hashlib
import http.client
import json
import socketserver
import sys
import threading
import time
from collections.abc import Mapping
from dataclasses import dataclass
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib.resources import files
from pathlib import Path
from typing import Any
from urllib.parse import unquote_to_bytes

from spoonfold.press.layouts import Layouts
from spoonfold.preview.board import Board

_TOPS = frozenset({"site", "families", "class"})
"""The folders of an output that people look at."""

KINDS = {
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".txt": "text/plain; charset=utf-8",
    ".csv": "text/csv; charset=utf-8",
    ".ics": "text/calendar; charset=utf-8",
    ".json": "application/json",
    ".pdf": "application/pdf",
    ".woff2": "font/woff2",
    ".ttf": "font/ttf",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".jpg": "image/jpeg",
    ".jpeg": "image/jpeg",
    ".webp": "image/webp",
    ".gif": "image/gif",
}
"""Media types by ending (IANA media types registry). This computer's own table isn't asked: it
differs from one to the next."""

_UNKNOWN = "application/octet-stream"
_FORBIDDEN = frozenset("/\\:\0")
"""Signs that lead elsewhere on one system or another."""


def kind_of(name: str) -> str:
    """The media type of a file, by its ending."""
    return KINDS.get(Path(name).suffix.lower(), _UNKNOWN)


def file_at(output: Path, target: str) -> Path | None:
    """The file that a request's target names, such as `/site/index.html?again`; None where it
    names nothing that may be seen: something hidden, outside the output, or no file."""
    path = target.partition("#")[0].partition("?")[0]
    if not path.startswith("/"):
        return None
    try:
        # Taken apart before it is decoded: an encoded slash is part of a name, and refused.
        parts = [unquote_to_bytes(part).decode() for part in path[1:].split("/")]
    except UnicodeError:
        return None
    if parts[0] not in _TOPS or not all(map(_is_plain, parts)):
        return None
    found = output.joinpath(*parts)
    try:
        # A link may have been put there by hand since.
        inside = found.resolve().is_relative_to(output.resolve())
        return found if inside and found.is_file() else None
    except (OSError, ValueError, RuntimeError):
        return None


def _is_plain(part: str) -> bool:
    return bool(part) and not part.startswith(".") and not set(part) & _FORBIDDEN


_LOOKS = (
    "look/tokens.css",
    "look/tokens-dark.css",
    "fonts/Andika-Regular.woff2",
    "fonts/Andika-Bold.woff2",
    "fonts/Literata-Bold.woff2",
)


def shell_files(layouts: Layouts) -> Mapping[str, tuple[str, bytes]]:
    """By address: the media type and the bytes of everything that the page needs."""
    found = {"/": ("text/html; charset=utf-8", _page())}
    for name in _LOOKS:
        address = name.removeprefix("look/")
        found[f"/shell/{address}"] = (kind_of(name), layouts.find(name).read_bytes())
    found["/shell/shell.css"] = (kind_of("shell.css"), _part("shell.css").encode())
    return found


def policy() -> str:
    """What the page may do (Content Security Policy Level 3): run its own script, known by its
    digest, and nothing from elsewhere."""
    digest = base64.b64encode(hashlib.sha256(_part("shell.js").encode()).digest()).decode()
    return (
        f"default-src 'none'; script-src 'sha256-{digest}'; style-src 'self'; "
        "font-src 'self'; connect-src 'self'; frame-src 'self'; img-src data:; "
        "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    )


def _page() -> bytes:
    return _part("shell.html").replace("{{script}}", _part("shell.js")).encode()


def _part(name: str) -> str:
    return (files("spoonfold.preview") / name).read_text(encoding="utf-8")


LOOPBACK = "127.0.0.1"
NAME = "Spoonfold-preview"
"""What the server calls itself, so that a second preview knows who holds its port."""

_SLOWEST_SECONDS = 10
"""Who asks for something says it within this time, or is left."""
_TRIES = 3
_TRY_SECONDS = 0.05
"""While an output is swapped in, a system that can't exchange folders has none for an instant."""

_ALWAYS = (
    # What was saved must be seen, so nothing is kept; and no page from elsewhere may have it.
    ("Cache-Control", "no-store"),
    ("X-Content-Type-Options", "nosniff"),
    ("Referrer-Policy", "no-referrer"),
    ("Cross-Origin-Resource-Policy", "same-origin"),
    ("Cross-Origin-Opener-Policy", "same-origin"),
)
_IN_OUR_FRAME = "frame-ancestors 'self'"
_PLAIN = "text/plain; charset=utf-8"
_LOOKED_AT = frozenset({".html", ".pdf"})
"""Endings of what is looked at, not of what belongs to it."""

_NO_PAGE = """\
<!doctype html><html lang="en"><meta charset="utf-8"><title>Not there</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="stylesheet" href="/shell/shell.css">
<body class="lost"><h1>There is no such page or sheet</h1>
<p>It may not be made yet, or it was taken away. It appears here as soon as it is made.</p>
<p><a href="/site/index.html">To the site</a></p></body></html>
"""


@dataclass(frozen=True, slots=True)
class Served:
    """What a server has to give."""

    output: Path
    board: Board
    shell: Mapping[str, tuple[str, bytes]]
    policy: str


class PreviewServer(ThreadingHTTPServer):
    """One thread an answer; all of them end with the program."""

    daemon_threads = True
    # Elsewhere this lets two servers share a port; only here does it mean “again at once”.
    allow_reuse_address = sys.platform != "win32"

    def __init__(self, port: int, served: Served) -> None:
        """Raises OSError where the port can't be had."""
        self.served = served
        super().__init__((LOOPBACK, port), _Answer)
        self._thread = threading.Thread(target=self.serve_forever, args=(0.1,), daemon=True)

    def server_bind(self) -> None:
        # The name of this computer isn't looked up: that can take seconds.
        socketserver.TCPServer.server_bind(self)
        self.server_name, self.server_port = LOOPBACK, self.server_address[1]

    def handle_error(self, request: Any, client_address: object) -> None:
        if not isinstance(sys.exception(), OSError):
            # A browser that went away meanwhile is none of ours; anything else is a bug.
            super().handle_error(request, client_address)

    def begin(self) -> None:
        """Answers from now on."""
        self._thread.start()

    def end(self) -> None:
        """Answers no more, and gives the port back."""
        self.shutdown()
        self._thread.join()
        self.server_close()


class _Answer(BaseHTTPRequestHandler):
    server: PreviewServer
    timeout = _SLOWEST_SECONDS

    def do_GET(self) -> None:
        if not self._is_for_us():
            # A page from elsewhere may give its own name this address (“DNS rebinding”): it
            # would be asked for by that name.
            self._say(HTTPStatus.FORBIDDEN, "This preview answers on this computer alone.")
            return
        address, _, asked = self.path.partition("?")
        served = self.server.served
        if address == "/state":
            news = served.board.news(asked)
            if news is None:
                self._send(HTTPStatus.NO_CONTENT, "", b"")
            else:
                self._send(HTTPStatus.OK, "application/json", news)
        elif address in served.shell:
            kind, data = served.shell[address]
            self._send(HTTPStatus.OK, kind, data, served.policy)
        else:
            self._send_file()

    do_HEAD = do_GET  # noqa: N815 (the standard library's name)

    def _refuse(self) -> None:
        self._say(HTTPStatus.METHOD_NOT_ALLOWED, "Nothing can be changed here.")

    do_POST = do_PUT = do_PATCH = do_DELETE = do_OPTIONS = _refuse  # noqa: N815 (likewise)

    def _is_for_us(self) -> bool:
        port = self.server.server_port
        hosts = self.headers.get_all("Host") or []
        names = {f"{name}:{port}" for name in (LOOPBACK, "localhost")}
        if port == 80:
            names |= {LOOPBACK, "localhost"}
        return len(hosts) == 1 and hosts[0].strip().lower() in names

    def _send_file(self) -> None:
        for _ in range(_TRIES):
            path = file_at(self.server.served.output, self.path)
            try:
                if path is not None:
                    # Read whole and closed: an open file would keep the output from being
                    # swapped on some systems.
                    data = path.read_bytes()
                    if path.suffix in _LOOKED_AT:
                        shown = path.relative_to(self.server.served.output)
                        self.server.served.board.looked_at = shown.as_posix()
                    self._send(HTTPStatus.OK, kind_of(path.name), data, _IN_OUR_FRAME)
                    return
            except FileNotFoundError:
                pass
            time.sleep(_TRY_SECONDS)
        self._send(
            HTTPStatus.NOT_FOUND,
            "text/html; charset=utf-8",
            _NO_PAGE.encode(),
            f"default-src 'none'; style-src 'self'; font-src 'self'; {_IN_OUR_FRAME}",
        )

    def _say(self, status: HTTPStatus, text: str) -> None:
        self._send(status, _PLAIN, f"{text}\n".encode())

    def _send(self, status: HTTPStatus, kind: str, data: bytes, policy: str = "") -> None:
        self.send_response(status)
        for name, value in _ALWAYS:
            self.send_header(name, value)
        if policy:
            self.send_header("Content-Security-Policy", policy)
        if status is HTTPStatus.METHOD_NOT_ALLOWED:
            self.send_header("Allow", "GET, HEAD")
        if kind:
            self.send_header("Content-Type", kind)
            self.send_header("Content-Length", str(len(data)))
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(data)

    def version_string(self) -> str:
        """The name alone: nobody needs to know more."""
        return NAME

    def log_message(self, format: str, *args: object) -> None:
        """Nothing is said of each request: the terminal is for the author."""


USUAL_PORT = 8420
"""Where the preview is, unless something else is there."""
_HOW_MANY = 20
"""Ports that are tried one after the other."""
_ASK_SECONDS = 0.5
_LONGEST_ANSWER = 10_000_000
"""In bytes: a class name at the head of many problems."""


@dataclass(frozen=True, slots=True)
class Taken:
    """A port that can't be had."""

    port: int
    holder: str
    """Who holds it, as far as is known: a sentence's beginning."""


@dataclass(frozen=True, slots=True)
class Open:
    """A server, and the ports that it could not have."""

    server: PreviewServer
    passed: tuple[Taken, ...]


def open_server(port: int | None, served: Served) -> Open | Taken:
    """A server at this port, or else at the first that is free from the usual one on; the last
    one taken where none is. Raises OSError where this computer has no address of its own."""
    passed: list[Taken] = []
    for number in (port,) if port is not None else range(USUAL_PORT, USUAL_PORT + _HOW_MANY):
        try:
            return Open(PreviewServer(number, served), tuple(passed))
        except OSError as error:
            if error.errno in (errno.EACCES, errno.EPERM):
                passed.append(Taken(number, "This computer's own services"))
            elif error.errno == errno.EADDRINUSE:
                passed.append(Taken(number, _holder(number)))
            else:
                raise
    return passed[-1]


def _holder(port: int) -> str:
    """Who answers there: another preview tells its class."""
    asked = http.client.HTTPConnection(LOOPBACK, port, timeout=_ASK_SECONDS)
    try:
        asked.request("GET", "/state")
        answer = asked.getresponse()
        if answer.getheader("Server") != NAME:
            return "Another program"
        name = json.loads(answer.read(_LONGEST_ANSWER))["class"]
        return f"Another preview, of “{name}”,"
    except (OSError, http.client.HTTPException, ValueError, LookupError, TypeError):
        return "Another program"
    finally:
        asked.close()
