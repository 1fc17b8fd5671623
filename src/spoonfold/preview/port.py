"""A port that is free, or who holds the one that was asked for."""

from __future__ import annotations

import errno
import http.client
import json
from dataclasses import dataclass

from spoonfold.preview.server import LOOPBACK, NAME, PreviewServer, Served

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
