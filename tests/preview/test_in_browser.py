"""The preview as the author sees it: edit, break, mend, in a real browser."""

from __future__ import annotations

import http.client

import pytest
from preview_kit import PATIENCE, Browser, Running, until

from tiny_class import RICE

PAGE = "document.getElementById('frame').contentDocument"
TEXT = f"{PAGE}.body.innerText"
PROBLEMS = "document.getElementById('problems')"
EVENING = RICE.replace("title: Plain rice", "title: Evening rice")
BROKEN = EVENING.replace("serves: 4", "serves: many")


def test_page_follows_every_save(running: Running, browser: Browser) -> None:
    """An edit shows; a mistake shows with its line above the last good page; mended, it is gone.
    What the author was looking at stays: the page, how far down it was, how many are eating."""
    browser.open(running.address)
    browser.wait(f"{TEXT}.includes('Plain rice')")
    browser.get(f"{PAGE}.querySelector('a[href$=\"rice.html\"]').click()")
    browser.wait(f"{PAGE}.querySelector('.household') !== null && {PAGE}.readyState == 'complete'")
    browser.get(f"{PAGE}.fonts.ready.then(() => null)")
    browser.get(f"{PAGE}.querySelector('.household input').click()")
    browser.get(f"{PAGE}.defaultView.scrollTo(0, 300)")

    running.write("recipes/rice.md", EVENING)
    browser.wait(f"{TEXT}.includes('Evening rice')")
    assert browser.get("location.hash") == "#/site/recipes/rice.html"
    browser.wait(f"Math.abs({PAGE}.defaultView.scrollY - 300) < 2")
    browser.wait(f"{PAGE}.querySelector('.household input').checked")

    running.write("recipes/rice.md", BROKEN)
    browser.wait(f"{PROBLEMS}.checkVisibility() && {PROBLEMS}.className == 'errors'")
    told = browser.get(f"{PROBLEMS}.innerText")
    assert "1 error. Below is what was last made" in told
    assert "content/recipes/rice.md:5" in told and "serves: many" in told
    assert browser.get(f"{PROBLEMS}.querySelector('pre b').textContent") == "many"
    assert "Evening rice" in browser.get(TEXT)
    browser.wait(f"Math.abs({PAGE}.defaultView.scrollY - 300) < 2")

    (running.folder / "content/recipes/rice.md").unlink()
    browser.wait(f"{PROBLEMS}.innerText.includes('content/class.yaml')")
    assert "Evening rice" in browser.get(TEXT)

    running.write("recipes/rice.md", RICE)
    browser.wait(f"{TEXT}.includes('Plain rice')")
    browser.wait(f"!{PROBLEMS}.checkVisibility()")
    assert browser.broken == []


def test_sheets_open_and_ctrl_c_stops(running: Running, browser: Browser) -> None:
    """A sheet that was printed opens in the frame; Ctrl-C in the middle of the next printing
    leaves nothing behind and says nothing of errors."""
    browser.open(running.address)
    browser.wait("document.querySelector('nav a[href$=\"allergen-notice-en.pdf\"]') !== null")
    browser.get("document.querySelector('nav a[href$=\"allergen-notice-en.pdf\"]').click()")
    browser.wait("location.hash == '#/families/allergen-notice-en.pdf'")
    kind = browser.get("fetch(location.hash.slice(1)).then((a) => a.headers.get('content-type'))")
    assert kind == "application/pdf"
    assert "this computer alone" in browser.get("document.querySelector('nav').textContent")

    running.write("recipes/rice.md", EVENING)
    browser.wait("document.getElementById('doing').textContent.startsWith('Printing')")
    code, out, err = running.interrupted()
    assert (code, err) == (0, "")
    assert out.endswith(f"\nStopped. What was made last is in {running.folder / 'build'}.\n")
    assert sorted(each.name for each in running.folder.iterdir()) == ["build", "content"]
    assert "Evening rice" in (running.folder / "build/site/recipes/rice.html").read_text()
    browser.wait("document.getElementById('status').textContent.includes('has stopped')")


def test_ctrl_c_stops_while_nothing_is_made(running: Running) -> None:
    """Also where it only waits; and the port is free again."""
    running.write("recipes/rice.md", BROKEN)
    assert running.process.stdout is not None
    lines = []
    until(lambda: lines.append(running.process.stdout.readline()) or "1 error" in lines[-1])
    assert lines[-1].endswith("  1 error: content/recipes/rice.md:5; nothing new is made.\n")
    code, _, err = running.interrupted()
    assert (code, err) == (0, "")
    port = int(running.address.rsplit(":", 1)[1].strip("/"))
    gone = http.client.HTTPConnection("127.0.0.1", port, timeout=PATIENCE)
    with pytest.raises(ConnectionRefusedError):
        gone.request("GET", "/")
