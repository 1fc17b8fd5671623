"""The site as a family uses it, in a real browser: from the disk, without a script, offline."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import ssl
import subprocess
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import ThreadingHTTPServer
from pathlib import Path
from typing import Any, ClassVar

import pytest
from odd_classes import ODD
from site_checkers import QuietHandler, answering, browser, made

from browser_tools import TOOLS
from spoonfold.sheets import SITE
from tiny_class import write_class

_RECIPE = "egg-fried-rice"
_YESTERDAY = time.time() - 24 * 60 * 60


class _Fading(QuietHandler):
    """Serves until somebody asks for /gone; from then on nothing answers. /asked is what was
    answered since it was asked for last."""

    gone = threading.Event()
    answered: ClassVar[list[tuple[str, int]]] = []

    def do_GET(self) -> None:  # noqa: N802 (the standard library's name)
        if self.gone.is_set():
            self.close_connection = True
            return
        if self.path in ("/gone", "/asked"):
            if self.path == "/gone":
                self.gone.set()
            data = json.dumps(self.answered).encode()
            self.answered.clear()
            self.send_response(200)
            self.send_header("Content-Length", str(len(data)))
            self.end_headers()
            self.wfile.write(data)
            return
        super().do_GET()

    def log_request(self, code: int | str = "-", size: int | str = "-") -> None:
        self.answered.append((self.path, int(code)))


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
    site = tmp_path_factory.mktemp("visited") / "site"
    shutil.copytree(demo_site, site, ignore=shutil.ignore_patterns("*.pdf"))
    # As published yesterday: a browser asks with no date that is still to come.
    for path in site.rglob("*"):
        os.utime(path, times=(_YESTERDAY, _YESTERDAY))
    with _served_safely(site, tmp_path_factory.mktemp("keys")) as address:
        run = subprocess.run(
            ["node", "visit.mjs", chromium, str(site), address, _RECIPE],
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

    def test_what_the_labels_and_swaps_decide_is_counted_apart(self, seen: dict[str, Any]) -> None:
        """Of nine dishes three have gluten, two may have it by their labels, and in two a swap
        takes it out; one of these brings wheat by its label."""
        found = seen["gluten"]
        assert found["said"] == (
            "2 dishes fit. 2 dishes only if the labels agree. "
            "2 dishes only with another food in place of one of their own."
        )
        assert len(found["shown"]) == 6
        assert len(found["conditions"]) == 4
        assert "Cabbage pancakes" in found["shown"]
        assert "Cabbage pancakes" not in seen["wheat"]["shown"]

    def test_all_come_back(self, seen: dict[str, Any]) -> None:
        assert seen["back"]["shown"] == seen["all"]["shown"] and seen["back"]["hash"] == ""

    def test_another_fragment_chooses_nothing(self, seen: dict[str, Any]) -> None:
        assert seen["elsewhere"]["shown"] == seen["all"]["shown"]

    def test_without_the_script_all_is_there(self, seen: dict[str, Any]) -> None:
        """Whatever the address asks for; and nothing to press that would do nothing."""
        assert seen["scriptless"]["shown"] == seen["all"]["shown"]
        assert seen["filters"] is False


class TestThisWeek:
    def test_the_next_meeting_stands_on_top(self, seen: dict[str, Any]) -> None:
        """By the reader's own day: what is cooked and what is in it, what to bring, a calendar."""
        found = seen["meetings"]["2027-10-24"]
        assert found["ahead"].startswith("Next meeting\n")
        for said in ("Turkey kofta", "October 30", "What to bring: an apron", "Contains:"):
            assert said in found["ahead"], said
        assert "Add to a calendar" in found["ahead"]
        assert found["before"].startswith("Cooked last time\n") and "stew" in found["before"]

    def test_the_day_itself_is_called_today(self, seen: dict[str, Any]) -> None:
        found = seen["meetings"]["2027-10-23"]
        assert found["ahead"].startswith("Today\n") and "fried rice" in found["before"]

    def test_before_and_after_the_season(self, seen: dict[str, Any]) -> None:
        """Nothing was cooked before the first meeting; after the last one nothing is next."""
        first, last = seen["meetings"]["2027-09-01"], seen["meetings"]["2028-01-01"]
        assert "rolls" in first["ahead"] and first["before"] == ""
        assert last["ahead"] == "" and "Fruit salad" in last["before"]

    def test_without_the_script_the_list_has_it(self, seen: dict[str, Any]) -> None:
        assert seen["ahead"] is False


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
        assert (
            "71\u00a0°C (160\u00a0°F)" in shown["heat"]
            and "160\u00a0°F (71\u00a0°C)" not in shown["heat"]
        )
        assert "160\u00a0°F (71\u00a0°C)" in seen["seven"]["heat"]
        assert 0 < shown["strips"] < seen["seven"]["strips"]

    def test_the_chosen_size_is_printed(self, seen: dict[str, Any]) -> None:
        assert seen["printed"]["ingredients"] == seen["metric"]["ingredients"]
        assert seen["answers"] == ["7", "Grams and ml"]

    def test_choices_are_remembered(self, seen: dict[str, Any]) -> None:
        assert seen["remembered"] == ["5", "metric"]


class TestAtTheStove:
    def test_every_step_is_there_the_instruction_first(self, seen: dict[str, Any]) -> None:
        """One at a time, in the page's own words and order, by keys, finger and button."""
        stove = seen["stove"]
        assert [each["first"] for each in stove["all"]] == stove["steps"]
        count = len(stove["steps"])
        assert count > 5
        assert [each["title"] for each in stove["all"]] == [
            f"Step {number} of {count}" for number in range(1, count + 1)
        ]

    def test_amounts_are_those_of_the_chosen_size(self, seen: dict[str, Any]) -> None:
        """Seven eat: 3½ cups of water, and of no other size."""
        needs = " ".join(each["needs"] for each in seen["stove"]["all"])
        assert "3½ cups water" in needs and "2 cups water" not in needs

    def test_dangers_are_badges_with_their_names(self, seen: dict[str, Any]) -> None:
        found = {name for each in seen["stove"]["all"] for name in each["dangers"]}
        assert {"Raw egg.", "Hot pan."} & found and all(found)

    def test_a_wet_thumb_finds_every_button(self, seen: dict[str, Any]) -> None:
        """48 pixels, and nothing to scroll sideways at 360."""
        for each in seen["stove"]["all"]:
            assert each["smallest"] >= 48 and not each["sideways"], each["title"]

    def test_ticks_and_timers_are_kept(self, seen: dict[str, Any]) -> None:
        """Also over a page that was thrown away meanwhile: a timer goes by when it ends."""
        stove = seen["stove"]
        assert stove["timed"]["done"] and len(stove["timed"]["timers"]) == 1
        assert stove["third"]["done"] is False
        assert stove["third"]["timers"][0].startswith("Step 2 of ")
        assert stove["again"]["done"] and "Time is up" in stove["again"]["timers"][0]

    def test_the_page_stays_as_it_was(self, seen: dict[str, Any]) -> None:
        assert seen["stove"]["closed"] and seen["stove"]["same"]

    def test_without_the_script_there_is_nothing_to_press(self, seen: dict[str, Any]) -> None:
        assert seen["toStove"] is False


class TestOffline:
    def test_from_the_disk_nothing_is_kept(self, seen: dict[str, Any]) -> None:
        assert seen["kept"] == 0

    def test_what_was_opened_and_the_next_session_are_kept(self, seen: dict[str, Any]) -> None:
        """In both languages, with what the pages show; no other dish, and no booklet."""
        files = seen["files"]
        dishes = {name for name in files if "/recipes/" in name}
        assert dishes == {"/recipes/rice-paper-rolls.html", "/es/recipes/rice-paper-rolls.html"}
        assert {"/season.html", "/index.html", "/ingredients.html"} <= set(files)
        assert "/look/screen.css" in files and "/fonts/Andika-Regular.woff2" in files
        assert not [name for name in files if name.endswith((".pdf", ".txt"))]

    def test_old_ones_of_ours_are_thrown_away(self, seen: dict[str, Any]) -> None:
        assert "somebody else" in seen["caches"]
        assert sum(name.startswith("spoonfold ") for name in seen["caches"]) == 1

    def test_a_mended_page_is_shown_at_once(self, seen: dict[str, Any]) -> None:
        """It was kept before; the net is asked first."""
        assert seen["mended"]["text"].startswith("Mended: ") and not seen["mended"]["kept"]

    def test_a_withdrawn_page_is_no_longer_kept(self, seen: dict[str, Any]) -> None:
        assert seen["withdrawn"] == 404 and seen["withdrawnKept"] is False

    def test_one_changed_file_is_fetched_as_one(self, seen: dict[str, Any]) -> None:
        """By a new build's worker, and a file that is missing on the server stops nothing. The
        others are known by their digests, or the server says that they are as they were."""
        fetched = {path for path, code in seen["asked"] if code == 200}
        assert "/recipes/rice-paper-rolls.html" in fetched
        assert fetched <= {"/recipes/rice-paper-rolls.html", "/worker.js", "/asked"}
        assert ["/es/ingredients.html", 404] in seen["asked"]

    def test_a_kept_page_says_so_and_since_when(self, seen: dict[str, Any]) -> None:
        """Without a net, also by another fragment or question."""
        assert len(seen["offline"]) == 6
        for name, found in seen["offline"].items():
            assert found["text"] and found["kept"] is True and found["since"], name
        assert all(
            found["text"].startswith("Mended: ")
            for name, found in seen["offline"].items()
            if name.startswith("recipes/")
        )

    def test_what_was_never_opened_is_not_there(self, seen: dict[str, Any]) -> None:
        assert seen["unopened"].startswith("net::")

    def test_letters_are_there_without_a_net(self, seen: dict[str, Any]) -> None:
        assert {"Andika", "Literata"} <= set(seen["letters"])

    def test_nothing_is_complained_of(self, seen: dict[str, Any]) -> None:
        """But for what was taken away or asked for without a net."""
        assert [each for each in seen["console"] if "ERR_" not in each and "404" not in each] == []


def _worker(site: Path) -> tuple[str, str]:
    """What the site's worker goes by: its version, and all else."""
    version, rest = (site / "worker.js").read_text("utf-8").split("\n", 1)
    return version, rest


def test_the_worker_names_what_is_there(demo_site: Path) -> None:
    """The pages of every meeting, by its day, and the digest of each."""
    _, rest = _worker(demo_site)
    files, meetings = (
        json.JSONDecoder().raw_decode(rest.split(f"const {name} = ", 1)[1])[0]
        for name in ("FILES", "MEETINGS")
    )
    assert [day for day, _ in meetings] == sorted(day for day, _ in meetings)
    assert len(meetings) == 8
    for _, names in meetings:
        assert set(names) <= set(files) and any("recipes/" in name for name in names)
    for name, digest in files.items():
        assert hashlib.sha256((demo_site / name).read_bytes()).hexdigest()[:16] == digest


def test_the_worker_goes_by_what_it_keeps(tmp_path: Path) -> None:
    """The same site has the same worker, and one changed word has another."""
    folder = write_class(tmp_path, ODD["busy"])
    worker = _worker(made(folder, tmp_path / "build", SITE))
    assert _worker(made(folder, tmp_path / "again", SITE)) == worker
    words = folder / "content/words.yaml"
    words.write_text(words.read_text("utf-8").replace("beat", "stir", 1), encoding="utf-8")
    other = _worker(made(folder, tmp_path / "build", SITE))
    assert other[0] != worker[0]
