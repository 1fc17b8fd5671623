"""Speed as ratios against a floor, measured in one run. Not a test: nothing here can fail.

    python tests/speed/ratios.py [help] [check] [nothing] [pdf] [build] [cores] [site] [differing]

Run it where Spoonfold is installed as its users have it (`pip install .` in a new environment):
compiled like the libraries that it is measured against, and without those of the tests, of which
Pint would load NumPy.

Each ratio is the median of interleaved runs in processes of their own, so that what else
the machine is doing falls on both sides alike; what takes minutes is run once. CPU time of
the process and its children.
"""

from __future__ import annotations

import os
import random
import re
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PAPER = ROOT / "layouts" / "look" / "paper.css"

AMOUNTS = ("1/8", "1/4", "1/3", "1/2", "2/3", "3/4", "1", "1 1/4", "1 1/2", "2", "2 1/2", "3")

FLOOR_HELP = "import click"

# What every reader of such files must at least do, with the same libraries.
FLOOR_CHECK = """
import sys, yaml
from pathlib import Path
from markdown_it import MarkdownIt
parser = MarkdownIt("commonmark", {"html": False})
for path in sorted(Path(sys.argv[1]).glob("content/recipes/*.md")):
    _, header, body = path.read_text(encoding="utf-8").split("---\\n", 2)
    yaml.load(header, Loader=yaml.CSafeLoader)
    parser.parse(body)
for path in sorted(Path(sys.argv[1]).glob("content/*.yaml")):
    yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.CSafeLoader)
"""

# The PDFs alone: WeasyPrint on the finished HTML of each sheet that it is told of, as a plain
# script would call it. Without the fonts' configuration a stylesheet's own fonts aren't loaded,
# and it would lay out other text. Answers with the seconds that each took.
FLOOR_PDFS = """
import sys, time
from pathlib import Path
start = time.process_time()
from weasyprint import CSS, HTML
from weasyprint.text.fonts import FontConfiguration
sheet = Path(sys.argv[1])
for line in sys.stdin:
    html = Path(line.rstrip()).read_text(encoding="utf-8")
    fonts = FontConfiguration()
    style = CSS(filename=str(sheet), font_config=fonts)
    HTML(string=html, base_url=sheet.as_uri()).write_pdf(
        font_config=fonts, stylesheets=[style], pdf_variant="pdf/ua-1")
    now = time.process_time()
    print(now - start, flush=True)
    start = now
"""

# A build in which every finished sheet is kept as it is printed: of several sizes of type the
# one that fits.
KEEPING = """
import sys
from pathlib import Path
from spoonfold.build import build
from spoonfold.press.pdf import Printer
folder, output, kept, *rest = sys.argv[1:]
kept = Path(kept)
def keep_sheets(next_path):
    print_one = Printer.print
    def print_kept(self, tries, *rest, **named):
        path = next_path()
        def noted():
            for html in tries:
                path.write_bytes(html)
                yield html
        return print_one(self, noted(), *rest, **named)
    Printer.print = print_kept
"""
KEEP_HTML = (
    KEEPING
    + """
keep_sheets(lambda: kept / f"{len(list(kept.iterdir())):03}.html")
build(Path(folder), Path(output), rest)
"""
)

# What a build spends on its PDFs, from the page's values to the bytes: every size of type that
# is tried, the letters' check and the mending of tags. After each sheet the floor prints its
# finished HTML, so that what else the machine is doing falls on both alike.
PDFS = (
    KEEPING
    + """
import subprocess, time
from spoonfold.press.render import RenderContext
floor = subprocess.Popen([sys.executable, "-c", *rest],
                         stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
ours, least, sheets = 0.0, 0.0, 0
largest_one, printed_one = RenderContext.largest, RenderContext.printed
def timed(work, *given):
    global ours
    start = time.process_time()
    done = work(*given)
    ours += time.process_time() - start
    return done
def printed_twice(self, sheet, largest):
    global least, sheets
    pdf = timed(printed_one, self, sheet, largest)
    print(kept, file=floor.stdin, flush=True)
    least += float(floor.stdout.readline())
    sheets += 1
    return pdf
keep_sheets(lambda: kept)
RenderContext.largest = lambda self, sheet: timed(largest_one, self, sheet)
RenderContext.printed = printed_twice
start = time.process_time()
import weasyprint
ours += time.process_time() - start
build(Path(folder), Path(output))
print(sheets, ours, least)
"""
)

# The command that builds a site, and of that the rendering of its templates alone.
SITE = """
import contextlib, io, resource, sys, time
import spoonfold.press.render as site
from spoonfold.cli import main
real, spent, pages = site.rendered, 0.0, 0
def timed(*given, **named):
    global spent, pages
    began = time.process_time()
    page = real(*given, **named)
    spent += time.process_time() - began
    pages += 1
    return page
site.rendered = timed
with contextlib.redirect_stdout(io.StringIO()) as told:
    main(["build", "--folder", sys.argv[1], "--only", "site"], standalone_mode=False)
assert pages, told.getvalue()
print(time.process_time(), spent, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024)
"""


def cpu_seconds(arguments: Sequence[str], told: str = "") -> float:
    """CPU time of one process, told this, and all that it started."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(arguments, check=True, input=told, text=True, stdout=subprocess.DEVNULL)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def ratio(name: str, ours: Callable[[], Sequence[str]], floor: Sequence[str], runs: int) -> None:
    """Prints the medians of interleaved runs and their ratio."""
    show(name, [(cpu_seconds(ours()), cpu_seconds(floor)) for _ in range(runs)])


def show(name: str, pairs: Sequence[tuple[float, float]]) -> None:
    """One line of the table: the medians of ours and of the floor, in seconds."""
    mine, least = (statistics.median(column) for column in zip(*pairs, strict=True))
    print(f"{name:44} {mine:8.2f} s {least:8.2f} s {mine / least:8.2f}", flush=True)


def many_recipes(folder: Path, count: int) -> Path:
    """The demo class with its recipes repeated under other names."""
    shutil.copytree(ROOT / "content", folder / "content")
    recipes = sorted((ROOT / "content" / "recipes").glob("*.md"))
    originals = [path for path in recipes if path.name.count(".") == 1]
    for number in range(count - len(originals)):
        source = originals[number % len(originals)]
        text = source.read_text(encoding="utf-8").replace(
            "title: ", f"title: Number {number} of ", 1
        )
        (folder / "content" / "recipes" / f"copy-{number}.md").write_text(text, encoding="utf-8")
    return folder


def spoonfold(*arguments: str) -> list[str]:
    return [sys.executable, "-m", "spoonfold", *arguments]


def python(code: str, *arguments: str) -> list[str]:
    return [sys.executable, "-c", code, *arguments]


def help_ratio(_: Path) -> None:
    ratio("--help / python and click", lambda: spoonfold("--help"), python(FLOOR_HELP), 9)


def check_ratio(work: Path) -> None:
    for count in (250, 500, 1000):
        show_check(f"check of {count} recipes", many_recipes(work / str(count), count))


def show_check(name: str, folder: Path) -> None:
    """A class that was checked before against loading it; and the first time, when no recipe is
    understood yet."""
    command = spoonfold("check", "--folder", str(folder))
    floor = python(FLOOR_CHECK, str(folder))
    ratio(f"first {name} / loading them", lambda: command, floor, 1)
    ratio(f"{name} / loading them", lambda: command, floor, 5)


def nothing_ratio(work: Path) -> None:
    """A build with nothing changed against `check`."""
    output = str(work / "build")
    command = spoonfold("build", "--folder", str(ROOT), "--out", output)
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    ratio(
        "build with nothing changed / check",
        lambda: command,
        spoonfold("check", "--folder", str(ROOT)),
        7,
    )


def finished_html(work: Path, *only: str) -> Path:
    """Every sheet of the demo as it is printed."""
    finished = work / "html"
    finished.mkdir(parents=True)
    subprocess.run(
        python(KEEP_HTML, str(ROOT), str(work / "kept"), str(finished), *only), check=True
    )
    return finished


def pdf_ratio(work: Path) -> None:
    """The PDFs of a cold build, each written once, against the printer alone on their HTML."""
    done = subprocess.run(
        python(PDFS, str(ROOT), str(work / "build"), str(work / "kept"), FLOOR_PDFS, str(PAPER)),
        check=True,
        stdout=subprocess.PIPE,
        text=True,
    )
    sheets, ours, floor = done.stdout.split()
    show(f"the {sheets} PDFs of a cold build / WeasyPrint", [(float(ours), float(floor))])


def build_ratio(work: Path) -> None:
    """Whole builds, with all that goes before the PDFs: reading, checking, the clock, the site;
    first what families get, then everything."""
    floor = python(FLOOR_PDFS, str(PAPER))
    for name, only in (("site and booklets", ("site", "booklet")), ("everything", ())):
        folder = work / name
        pages = "\n".join(map(str, sorted(finished_html(folder, *only).iterdir())))
        parts = [word for part in only for word in ("--only", part)]
        cold = spoonfold(
            "build", "--folder", str(ROOT), "--out", str(folder / "cold"), "--workers", "1", *parts
        )
        show(
            f"cold build, {name} / WeasyPrint alone",
            [(cpu_seconds(cold), cpu_seconds(floor, pages))],
        )


def cores_ratio(work: Path) -> None:
    """The time on the wall of a cold build on two cores against one; CPU time is the same. What
    else the machine does takes from one of two cores, so that it takes several runs."""
    show(
        "cold build, two workers / one (wall)",
        [(cold_seconds(work / "two", 2), cold_seconds(work / "one", 1)) for _ in range(3)],
    )


def cold_seconds(output: Path, workers: int) -> float:
    """Time on the wall of a cold build."""
    shutil.rmtree(output, ignore_errors=True)
    start = time.perf_counter()
    subprocess.run(
        spoonfold("build", "--folder", str(ROOT), "--out", str(output), "--workers", str(workers)),
        check=True,
        stdout=subprocess.DEVNULL,
    )
    return time.perf_counter() - start


def site_ratio(work: Path) -> None:
    """The templates need the values that reading, checking and working out give."""
    for count in (250, 500, 1000):
        show_site(f"site of {count}", many_recipes(work / str(count), count))


def show_site(name: str, folder: Path) -> None:
    """The site of a class folder against its templates alone."""
    # What goes wrong in it is to be seen: only what it prints is taken.
    done = subprocess.run(python(SITE, str(folder)), check=True, stdout=subprocess.PIPE, text=True)
    all_of_it, rendering, megabytes = done.stdout.split()
    show(f"{name} ({megabytes} MB) / its templates", [(float(all_of_it), float(rendering))])


def differing_ratio(work: Path) -> None:
    """A thousand recipes that share few lines, so that little of one is known from another."""
    folder = many_recipes(work / "1000", 1000)
    for path in sorted((folder / "content" / "recipes").glob("copy-*.md")):
        path.write_text(
            made_different(path.read_text(encoding="utf-8"), path.stem), encoding="utf-8"
        )
    show_check("check of 1000 that differ", folder)
    show_site("site of 1000 that differ", folder)


def made_different(text: str, name: str) -> str:
    """A recipe with other amounts, and other words in every step and paragraph."""
    chance = random.Random(name)
    _, header, body = text.split("---\n", 2)
    # Water is used by shares of its amount, which have to fit.
    header = re.sub(
        r"^(  - )[\d /]+ (tsp|tbsp|cups?) (?!water|boil|warm|cold)",
        lambda found: f"{found[1]}{chance.choice(AMOUNTS)} {found[2]} ",
        header,
        flags=re.MULTILINE,
    )
    body = re.sub(
        r"^(?:\d+\. |[A-Z]).*",
        lambda found: f"{found[0]} This is number {chance.random()}.",
        body,
        flags=re.MULTILINE,
    )
    return f"---\n{header}---\n{body}"


RATIOS: dict[str, Callable[[Path], None]] = {
    "help": help_ratio,
    "check": check_ratio,
    "nothing": nothing_ratio,
    "pdf": pdf_ratio,
    "build": build_ratio,
    "cores": cores_ratio,
    "site": site_ratio,
    "differing": differing_ratio,
}


def main() -> None:
    print(f"{'':44} {'ours':>10} {'floor':>10} {'ratio':>8}")
    for name in sys.argv[1:] or RATIOS:
        with tempfile.TemporaryDirectory() as work:
            # What is kept of a class folder is this run's own.
            os.environ["XDG_CACHE_HOME"] = work
            RATIOS[name](Path(work))


if __name__ == "__main__":
    main()
