"""The site as a family uses it, in a real browser: from the disk, without a script, offline."""

from __future__ import annotations

import json
import shutil
import ssl
import subprocess
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest
from odd_classes import ODD
from site_checkers import QuietHandler, answering, browser, made

from browser_tools import TOOLS
from spoonfold.sheets import SITE
from tiny_class import write_class

_RECIPE = "egg-fried-rice"


class _Fading(QuietHandler):
    """Serves until somebody asks for /gone; from then on nothing answers."""

    gone = threading.Event()

    def do_GET(self) -> None:  # noqa: N802 (the standard library's name)
        if self.gone.is_set():
            self.close_connection = True
            return
        if self.path == "/gone":
            self.gone.set()
            self.send_response(200)
            self.send_header("Content-Length", "0")
            self.end_headers()
            return
        super().do_GET()


@contextmanager
def _served_safely(folder: Path, keys: Path) -> Iterator[str]:
    """The folder over HTTPS, with a certificate that is made for it and signed by nobody."""
    if shutil.which("openssl") is None:
        pytest.skip("no OpenSSL on this machine")
    key, certificate = keys / "key.pem", keys / "certificate.pem"
    subprocess.run(
        [
            "openssl",
            "req",
            "-x509",
            "-newkey",
            "rsa:2048",
            "-nodes",
            "-days",
            "2",
            "-subj",
            "/CN=localhost",
            "-addext",
            "subjectAltName=DNS:localhost",
            "-keyout",
            str(key),
            "-out",
            str(certificate),
        ],
        check=True,
        capture_output=True,
    )
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(certificate, key)
    _Fading.gone.clear()
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Fading, directory=str(folder)))
    server.socket = context.wrap_socket(server.socket, server_side=True)
    with answering(server):
        yield f"https://localhost:{server.server_port}"


@pytest.fixture(scope="module")
def seen(demo_site: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What the visit saw of the demo's site."""
    chromium = browser()
    with _served_safely(demo_site, tmp_path_factory.mktemp("keys")) as address:
        run = subprocess.run(
            ["node", "visit.mjs", chromium, str(demo_site), address, _RECIPE],
            cwd=TOOLS,
            capture_output=True,
            text=True,
            timeout=240,
            check=False,
        )
    assert run.returncode == 0, run.stderr
    report: dict[str, Any] = json.loads(run.stdout)
    return report


class TestChoosing:
    def test_nothing_chosen_is_everything(self, seen: dict[str, Any]) -> None:
        assert len(seen["all"]["shown"]) == 9 and seen["all"]["said"] == ""

    def test_without_an_allergen(self, seen: dict[str, Any]) -> None:
        """Dishes with egg go, their meetings too; the rest stays and is counted aloud."""
        found = seen["without"]
        assert len(found["shown"]) == 7 and found["said"] == "7 dishes fit."
        assert not {"Egg fried rice with vegetables", "Cabbage pancakes"} & set(found["shown"])
        assert found["meetings"] == seen["all"]["meetings"] - 2
        assert found["hash"] == "#without=egg"

    def test_choices_add_up_and_stay_in_the_address(self, seen: dict[str, Any]) -> None:
        quick = seen["quick"]
        assert set(quick["shown"]) < set(seen["without"]["shown"])
        assert quick["hash"] == "#without=egg&minutes=30"
        assert seen["again"] == {**quick, "open": True}

    def test_all_come_back(self, seen: dict[str, Any]) -> None:
        assert seen["back"]["shown"] == seen["all"]["shown"] and seen["back"]["hash"] == ""

    def test_another_fragment_chooses_nothing(self, seen: dict[str, Any]) -> None:
        assert seen["elsewhere"]["shown"] == seen["all"]["shown"]

    def test_without_the_script_all_is_there(self, seen: dict[str, Any]) -> None:
        """Whatever the address asks for; and nothing to press that would do nothing."""
        assert seen["scriptless"]["shown"] == seen["all"]["shown"]
        assert seen["filters"] is False


class TestSwitches:
    def test_sizes_without_the_script(self, seen: dict[str, Any]) -> None:
        """2 cups of water for 4 are 3½ for 7."""
        assert "2 cups water" in seen["usual"]["ingredients"]
        assert "3½ cups water" in seen["seven"]["ingredients"]
        assert "2 cups water" not in seen["seven"]["ingredients"]

    def test_metric_without_the_script(self, seen: dict[str, Any]) -> None:
        """Cups become weights or milliliters, in the steps too; spoons and eggs stay, and what
        is weighed isn't scooped."""
        shown = seen["metric"]
        assert "830 ml water" in shown["ingredients"]
        assert "cup" not in shown["ingredients"] and "cup" not in shown["needs"]
        assert "7 large eggs" in shown["ingredients"]
        assert 0 < shown["strips"] < seen["seven"]["strips"]

    def test_the_chosen_size_is_printed(self, seen: dict[str, Any]) -> None:
        assert seen["printed"]["ingredients"] == seen["metric"]["ingredients"]
        assert seen["answers"] == ["7", "Grams and ml"]

    def test_choices_are_remembered(self, seen: dict[str, Any]) -> None:
        assert seen["remembered"] == ["5", "metric"]


class TestOffline:
    def test_from_the_disk_nothing_is_kept(self, seen: dict[str, Any]) -> None:
        assert seen["kept"] == 0

    def test_every_page_opens_without_a_net(self, seen: dict[str, Any]) -> None:
        """After one page was visited: in both languages, with its letters; a file that no page
        needs only where it was asked for before."""
        offline = dict(seen["offline"])
        assert offline.pop("fonts/OFL-Literata.txt").startswith("net::")
        assert set(offline.values()) == {"200 true"}
        assert {"Andika", "Literata"} <= set(seen["letters"])

    def test_old_ones_of_ours_are_thrown_away(self, seen: dict[str, Any]) -> None:
        assert "somebody else" in seen["caches"]
        assert sum(name.startswith("spoonfold ") for name in seen["caches"]) == 1

    def test_no_booklet_is_fetched_unasked(self, seen: dict[str, Any]) -> None:
        assert "/index.html" in seen["files"]
        assert not [name for name in seen["files"] if name.endswith((".pdf", ".txt"))]

    def test_nothing_is_complained_of(self, seen: dict[str, Any]) -> None:
        assert [each for each in seen["console"] if "ERR_" not in each] == []


def _worker(site: Path) -> tuple[str, str]:
    """What the site's worker goes by: its version, and all else."""
    version, rest = (site / "worker.js").read_text("utf-8").split("\n", 1)
    return version, rest


def test_the_worker_names_what_is_there(demo_site: Path) -> None:
    """None of the files twice."""
    _, rest = _worker(demo_site)
    files = rest.split("const FILES = ", 1)[1]
    names = json.loads(files[: files.index("]") + 1])
    assert len(names) == len(set(names)) > 20
    assert all((demo_site / name).is_file() for name in names)


def test_the_worker_goes_by_what_it_keeps(tmp_path: Path) -> None:
    """The same site has the same worker, and one changed word has another."""
    folder = write_class(tmp_path, ODD["busy"])
    worker = _worker(made(folder, tmp_path / "build", SITE))
    assert _worker(made(folder, tmp_path / "again", SITE)) == worker
    words = folder / "content/words.yaml"
    words.write_text(words.read_text("utf-8").replace("beat", "stir", 1), encoding="utf-8")
    other = _worker(made(folder, tmp_path / "build", SITE))
    assert other[0] != worker[0] and other[1] == worker[1]
