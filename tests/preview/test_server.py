"""What the server answers, to whom, and on which port."""

from __future__ import annotations

import http.client
import json
import socket
import threading
from collections.abc import Iterator

import pytest
from click.testing import CliRunner

from spoonfold.cli import NOT_HERE, main
from spoonfold.preview.board import State
from spoonfold.preview.server import Open, PreviewServer, Taken, open_server
from tiny_class import write_class


def answer(
    server: PreviewServer, target: str, method: str = "GET", host: str | None = None
) -> tuple[http.client.HTTPResponse, bytes]:
    asked = http.client.HTTPConnection("127.0.0.1", server.server_port, timeout=10)
    asked.request(method, target, headers={} if host is None else {"Host": host})
    got = asked.getresponse()
    body = got.read()
    asked.close()
    return got, body


@pytest.fixture
def stranger() -> Iterator[int]:
    """A port that a program of another kind listens on: it never says a word."""
    with socket.socket() as listening:
        listening.bind(("127.0.0.1", 0))
        listening.listen()
        yield listening.getsockname()[1]


class TestAnswers:
    def test_page_and_sheets_are_given_and_never_kept(self, served: PreviewServer) -> None:
        """Each comes with its kind, and the browser is told to ask again each time."""
        for target, kind in {
            "/": "text/html; charset=utf-8",
            "/state": "application/json",
            "/site/index.html": "text/html; charset=utf-8",
            "/families/card.pdf": "application/pdf",
            "/class/list.csv": "text/csv; charset=utf-8",
            "/shell/fonts/Andika-Regular.woff2": "font/woff2",
        }.items():
            got, body = answer(served, target)
            assert (got.status, got.getheader("Content-Type")) == (200, kind), target
            assert got.getheader("Cache-Control") == "no-store"
            assert got.getheader("X-Content-Type-Options") == "nosniff"
            assert got.getheader("Cross-Origin-Resource-Policy") == "same-origin"
            assert body

    def test_own_page_runs_its_own_script_alone(self, served: PreviewServer) -> None:
        """The page's policy names the digest of its script and nothing from elsewhere."""
        policy = answer(served, "/")[0].getheader("Content-Security-Policy") or ""
        assert "default-src 'none'; script-src 'sha256-" in policy
        assert "unsafe" not in policy and "http" not in policy

    @pytest.mark.parametrize(
        "host",
        [
            "evil.example",
            "evil.example:{port}",
            "127.0.0.1",
            "127.0.0.1:1",
            "127.0.0.1.evil:{port}",
            "",
            "192.168.0.1:{port}",
        ],
    )
    def test_foreign_names_are_refused(self, served: PreviewServer, host: str) -> None:
        """A page from elsewhere that gives its own name this address gets nothing."""
        for target in ("/", "/state", "/site/index.html"):
            got, body = answer(served, target, host=host.format(port=served.server_port))
            assert got.status == 403 and b"home" not in body and b"Tiny" not in body

    def test_both_names_of_this_computer_are_served(self, served: PreviewServer) -> None:
        """By number and by name."""
        for name in ("127.0.0.1", "localhost", "LOCALHOST"):
            assert answer(served, "/", host=f"{name}:{served.server_port}")[0].status == 200

    @pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "PATCH", "OPTIONS", "MAKE"])
    def test_nothing_can_be_changed(self, served: PreviewServer, method: str) -> None:
        """Only looking is answered."""
        assert answer(served, "/site/index.html", method)[0].status in (405, 501)

    def test_head_has_no_body(self, served: PreviewServer) -> None:
        """A question about a file is answered without it."""
        got, body = answer(served, "/site/index.html", "HEAD")
        assert (got.status, got.getheader("Content-Length"), body) == (200, "7", b"")

    @pytest.mark.parametrize(
        "target",
        [
            "/private.txt",
            "/../private.txt",
            "/site/",
            "/class",
            "/.made-of.json",
            "/site/../../private.txt",
        ],
    )
    def test_nothing_but_sheets_is_given(self, served: PreviewServer, target: str) -> None:
        """No list of a folder, nothing hidden, nothing from outside the output."""
        got, body = answer(served, target)
        assert got.status == 404 and b"secret" not in body and b"card.pdf" not in body

    def test_state_is_told_once(self, served: PreviewServer) -> None:
        """Who has seen how things stand hears nothing until they change."""
        token = json.loads(answer(served, "/state")[1])["token"]
        assert answer(served, f"/state?{token}")[0].status == 204
        served.served.board.show(State("Tiny Table", doing="Printing"))
        assert json.loads(answer(served, f"/state?{token}")[1])["doing"] == "Printing"

    def test_ends_with_its_threads(self, served: PreviewServer) -> None:
        """Nothing is left running, and the port is free at once."""
        before = threading.active_count()
        second = PreviewServer(0, served.served)
        second.begin()
        answer(second, "/")
        second.end()
        assert threading.active_count() == before
        third = PreviewServer(second.server_port, served.served)
        third.server_close()


class TestPorts:
    def test_next_free_port_is_taken(
        self, served: PreviewServer, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """Where another preview is at the usual port, it is named and the next one tried."""
        monkeypatch.setattr("spoonfold.preview.server.USUAL_PORT", served.server_port)
        opened = open_server(None, served.served)
        assert isinstance(opened, Open)
        opened.server.server_close()
        assert opened.server.server_port > served.server_port
        assert opened.passed[0] == Taken(served.server_port, "Another preview, of “Tiny Table”,")

    def test_port_that_was_asked_for_is_not_replaced(
        self, served: PreviewServer, stranger: int
    ) -> None:
        """Who asks for a port hears who holds it, and gets no other."""
        assert open_server(stranger, served.served) == Taken(stranger, "Another program")

    def test_command_says_how_to_choose_another(
        self, tmp_path_factory: pytest.TempPathFactory, served: PreviewServer
    ) -> None:
        """The command ends, and says what to do."""
        folder = write_class(tmp_path_factory.mktemp("class"))
        result = CliRunner().invoke(
            main, ["preview", "--folder", str(folder), "--port", str(served.server_port)]
        )
        assert result.exit_code == NOT_HERE
        assert result.output == (
            f"Another preview, of “Tiny Table”, is using port {served.server_port}.\n"
            "Choose another, such as --port 9000, or leave --port out: then a free one is\n"
            "found.\n"
        )
        assert not (folder / "build").exists()
