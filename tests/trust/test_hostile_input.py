"""Whatever stands in any field of any file, checking and making the site end with problems or
with pages that say just that: nothing is run, fetched, read or written elsewhere, or hangs."""

from __future__ import annotations

import json
import os
import socket
import struct
import subprocess
import sys
import tempfile
import zlib
from collections.abc import Callable, Iterator
from functools import partial
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import pytest
import tinyhtml5
from fields import Field, fields_of
from full_class import FILES, RICE, write_full_class
from hostile_text import LETTERS, MARKUP, PIECES
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from in_full import sampled
from spoonfold.build import build
from spoonfold.check import examine
from spoonfold.problem import has_errors

pytestmark = pytest.mark.slow
HERE = Path(__file__).resolve().parent
FIELDS: tuple[tuple[str, Field], ...] = tuple(
    (name, field) for name, text in FILES.items() for field in fields_of(name, text)
)
PROSE_TAGS = {"a", "em", "strong", "ol", "ul", "li", "blockquote", "p", "h3", "h4", "img", "time"}
PROSE_ATTRIBUTES = {"href", "src", "width", "height", "alt"}
HARMLESS = ("http://", "https://", "mailto:", "tel:")
XHTML = "{http://www.w3.org/1999/xhtml}"
SECONDS = 60
INPUTS = str(sampled(50, 1000))
"""Of the search that is guided by coverage."""
MEGABYTES = 1536


Plain = tuple[set[str], set[str], set[str]]
"""Elements, attributes, and the scripts that the templates bring themselves."""


def elements(page: Path) -> Iterator[tuple[str, dict[str, str], str]]:
    """Every element as a browser builds it: its name, attributes and the text in it."""
    for each in tinyhtml5.parse(page.read_bytes()).iter():
        if isinstance(each.tag, str):
            yield each.tag.removeprefix(XHTML), dict(each.attrib), each.text or ""


def site_of(folder: Path) -> Path:
    return folder / "build" / "site"


@pytest.fixture(scope="session")
def plain(tmp_path_factory: pytest.TempPathFactory) -> Plain:
    """The elements and attributes of a site without anything hostile."""
    folder = write_full_class(tmp_path_factory.mktemp("plain"))
    assert build(folder, folder / "build", ["site"]).made
    tags, attributes, scripts = set(PROSE_TAGS), set(PROSE_ATTRIBUTES), set[str]()
    for page in site_of(folder).rglob("*.html"):
        for tag, given_, text in elements(page):
            tags.add(tag)
            if tag == "script" and "type" not in given_:
                scripts.add(text)
            attributes.update(given_)
    assert not {name for name in attributes if name.startswith("on")}
    return tags, attributes, scripts


def assert_clean(folder: Path, plain: Plain) -> str:
    """Nothing on the pages but what the templates and prose may have; gives all their text."""
    tags, attributes, scripts = plain
    words = []
    for page in site_of(folder).rglob("*.html"):
        for tag, given_, text in elements(page):
            assert tag in tags, (page, tag)
            assert given_.keys() <= attributes, (page, given_)
            for name in ("href", "src"):
                address = given_.get(name, "")
                scheme = address.split("/")[0]
                assert ":" not in scheme or address.lower().startswith(HARMLESS), address
            if tag == "script" and "type" in given_:
                assert given_["type"] == "application/ld+json"
                json.loads(text)
            elif tag == "script":
                assert text in scripts
            words.append(text)
        words += ["".join(tinyhtml5.parse(page.read_bytes()).itertext())]
    return "\n".join(words)


@settings(max_examples=sampled(20, 120), deadline=None, suppress_health_check=list(HealthCheck))
@given(where=st.sampled_from(FIELDS), piece=st.sampled_from(PIECES), quoted=st.booleans())
def test_any_piece_in_any_field(
    where: tuple[str, Field], piece: str, quoted: bool, plain: Plain
) -> None:
    """A hostile text in one field of one file is a problem with a place, or is said as it is."""
    name, field = where
    text = field.filled(FILES[name], piece, quoted=quoted)
    with tempfile.TemporaryDirectory() as top:
        folder = write_full_class(Path(top), {name: text.encode("utf-8", "surrogatepass")})
        outcome = build(folder, folder / "build", ["site"])
        if not has_errors(outcome.problems):
            assert outcome.files
            assert_clean(folder, plain)


@pytest.fixture(scope="session")
def free(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[Field]]:
    """The fields that take any words, by file."""
    folder = write_full_class(tmp_path_factory.mktemp("free"))
    found: dict[str, list[Field]] = {}
    for name, field in FIELDS:
        path = folder / "content" / name
        # Two words and a stop, so that neither an address nor a name of something is meant.
        path.write_text(field.filled(FILES[name], "Any words.", quoted=True), encoding="utf-8")
        if not has_errors(examine(folder).problems):
            found.setdefault(name, []).append(field)
        path.write_text(FILES[name], encoding="utf-8")
    assert sum(map(len, found.values())) > 60
    return found


@pytest.mark.parametrize("piece", [*MARKUP, *LETTERS], ids=range(len(MARKUP) + len(LETTERS)))
def test_everywhere_at_once(
    tmp_path: Path, piece: str, free: dict[str, list[Field]], plain: Plain
) -> None:
    """A hostile text in all fields that take words comes out as it is, or is a problem."""
    changes = {}
    for name, fields in free.items():
        text = FILES[name]
        for field in reversed(fields):
            # Markdown has a meaning for some of these signs; in the header they have none.
            text = field.filled(text, piece, quoted=True) if field.in_yaml else text
        changes[name] = text
    folder = write_full_class(tmp_path, changes)
    outcome = build(folder, folder / "build", ["site"])
    assert outcome.write_failure is None
    if not has_errors(outcome.problems):
        assert " ".join(piece.split()) in " ".join(assert_clean(folder, plain).split())


@pytest.mark.parametrize("piece", MARKUP, ids=range(len(MARKUP)))
def test_markup_in_a_name_is_said_as_it_is(tmp_path: Path, piece: str, plain: Plain) -> None:
    """A dish, a class and a lesson may be called anything, and the pages say just that."""
    shown = json.dumps(f"Soup {piece}", ensure_ascii=False)
    folder = write_full_class(
        tmp_path,
        {
            "recipes/rice.md": RICE.replace("Rice with carrot", shown),
            "class.yaml": FILES["class.yaml"].replace("Tiny Table", shown),
            "lessons/soap.md": FILES["lessons/soap.md"].replace("Soap\n", f"{shown}\n", 1),
        },
    )
    outcome = build(folder, folder / "build", ["site"])
    assert not has_errors(outcome.problems) and outcome.made
    assert f"Soup {piece}" in assert_clean(folder, plain)


class TestPlaces:
    """Nothing outside the class folder is read, whatever points there."""

    MARK = "the-neighbours-secret"

    @pytest.mark.parametrize("name", [*FILES, "pictures/bowl.png", "recipes/other.md"])
    def test_link_to_a_file_outside(self, tmp_path: Path, name: str) -> None:
        """A link that leads out is a problem, and what it leads to isn't read."""
        secret = tmp_path / "secret"
        secret.write_text(f"{self.MARK}: [", encoding="utf-8")
        folder = write_full_class(tmp_path / "class")
        path = folder / "content" / name
        path.parent.mkdir(exist_ok=True)
        path.unlink(missing_ok=True)
        path.symlink_to(secret)
        examined = examine(folder)
        assert ("link-outside", f"content/{name}") in {
            (each.code, each.place.path) for each in examined.problems
        }
        assert self.MARK not in repr(examined.read)

    @pytest.mark.parametrize("name", ["recipes", "private", "pictures", "."])
    def test_link_to_a_folder_outside(self, tmp_path: Path, name: str) -> None:
        """A folder that is a link out of the class folder is a problem, and isn't read."""
        folder = write_full_class(tmp_path / "class")
        path = folder / "content" / name
        away = tmp_path / "away"
        (path.rename(away) if path.exists() else away.mkdir())
        (away / "mark.md").write_text(self.MARK, encoding="utf-8")
        (folder / "content" / name if name != "." else folder / "content").symlink_to(away)
        examined = examine(folder)
        assert "link-outside" in {each.code for each in examined.problems}
        assert self.MARK not in repr(examined.read)

    @pytest.mark.parametrize("target", ["loop", "missing", "../content", "/dev/zero"])
    def test_link_to_nothing_good(self, tmp_path: Path, target: str) -> None:
        """Loops, dangling links and devices are problems, not crashes."""
        folder = write_full_class(tmp_path / "class")
        (folder / "content/recipes/loop").symlink_to(target)
        (folder / "content/words.yaml").unlink()
        (folder / "content/words.yaml").symlink_to("recipes/loop")
        assert has_errors(examine(folder).problems)

    @pytest.mark.parametrize(
        "address",
        [
            "../../../secret.png",
            "/etc/hostname",
            "..\\..\\secret.png",
            "file:///etc/hostname",
            "../private/children.yaml",
            "../pictures/../../../secret.png",
            "%2e%2e/%2e%2e/secret.png",
            "http://127.0.0.1:9/x.png",
            "//127.0.0.1/x.png",
            "data:image/png;base64,AAAA",
        ],
    )
    def test_picture_elsewhere(self, tmp_path: Path, address: str) -> None:
        """No picture is taken from outside, from the private folder or from the network."""
        (tmp_path / "secret.png").write_bytes(b"x")
        folder = write_full_class(
            tmp_path / "class",
            {"recipes/rice.md": RICE.replace("Rice as", f"![A bowl]({address})\n\nRice as")},
        )
        outcome = build(folder, folder / "build", ["site"])
        assert {each.code for each in outcome.problems} & {
            "picture-outside",
            "picture-private",
            "picture-on-web",
            "picture-missing",
            "link-not-read",
        }
        assert not (folder / "build").exists()


def test_nothing_is_asked_of_the_network(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A site and a PDF full of addresses are made without a single socket."""
    asked: list[object] = []

    def refuse(*arguments: Any, **named: Any) -> Any:
        asked.append(arguments)
        raise OSError("no network here")

    # The class itself must stay one: others are made from it when they are first imported.
    monkeypatch.setattr(socket.socket, "__init__", refuse)
    monkeypatch.setattr(socket, "getaddrinfo", refuse)
    folder = write_full_class(
        tmp_path,
        {
            "recipes/rice.md": RICE.replace(
                "Rice as", "[One](http://127.0.0.1/a.css) <http://127.0.0.1/b>\n\nRice as"
            )
        },
    )
    # One booklet: others have the same addresses.
    outcome = build(folder, folder / "build", ["site", "booklet"], households=[2], languages=["en"])
    assert not has_errors(outcome.problems) and outcome.made and outcome.print_failure is None
    assert asked == []


def bomb(side: int) -> bytes:
    """A PNG of one colour: a few kilobytes that unpack to side x side pixels."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    packer = zlib.compressobj(9)
    row = bytes(1 + side // 8)
    packed = b"".join(packer.compress(row) for _ in range(side)) + packer.flush()
    size = struct.pack(">IIBBBBB", side, side, 1, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", size) + chunk(b"IDAT", packed) + chunk(b"IEND", b"")
    )


HEADER = RICE.split("\n---\n")[0] + "\n---\n"
BIG = 150_000
HEAVY: dict[str, tuple[str, str | Callable[[], bytes]]] = {
    "brackets in YAML": ("class.yaml", "name: " + "[" * BIG),
    "braces in YAML": ("words.yaml", "{a: " * (BIG // 4)),
    "blocks in YAML": ("skills.yaml", "".join(f"{' ' * n}a:\n" for n in range(700))),
    "endless list": ("private/children.yaml", "- a\n" * (BIG // 4)),
    "endless tables": (
        "class.yaml",
        FILES["class.yaml"].replace("[4, 4]", "[" + "4, " * 9000 + "4]"),
    ),
    "endless sizes": (
        "class.yaml",
        FILES["class.yaml"].replace(
            "cups: [1,", "cups: [" + "".join(f"1/{n}, " for n in range(1, 9000))
        ),
    ),
    "endless sessions": (
        "class.yaml",
        FILES["class.yaml"].replace("accept:", "  - {dishes: [rice]}\n" * 9000 + "accept:"),
    ),
    "endless keys": ("words.yaml", "".join(f"w{n}: {{mean: x}}\n" for n in range(9000))),
    "endless ingredients": (
        "recipes/rice.md",
        RICE.replace("  - 2 cups water\n", "".join(f"  - 1 cup f{n}\n" for n in range(9000))),
    ),
    "endless steps": ("recipes/rice.md", RICE + "\n## Steps\n\n" + "1. Stir the rice.\n" * 9000),
    "steps": ("recipes/rice.md", HEADER + "\n## Steps\n\n" + "1. Stir the rice.\n" * 9000),
    "a number": ("recipes/rice.md", RICE.replace("1 cup rice", "1" * BIG + " cups rice")),
    "a fraction": ("recipes/rice.md", RICE.replace("1 cup rice", "1/" + "7" * BIG + " cup rice")),
    "quotes": ("recipes/rice.md", HEADER + "> " * (BIG // 2) + "x"),
    "lists": ("recipes/rice.md", HEADER + "- " * (BIG // 2) + "x"),
    "stress": ("recipes/rice.md", HEADER + "*a **b " * (BIG // 7)),
    "links": ("recipes/rice.md", HEADER + "[" * BIG),
    "code": ("recipes/rice.md", HEADER + "".join("`" * n + "a" for n in range(700))),
    "references": ("recipes/rice.md", HEADER + "[a]: b\n" * (BIG // 7)),
    "a picture": ("pictures/bowl.png", partial(bomb, 60_000)),
}

_HEAVY_RUN = """
import resource, sys
from pathlib import Path
from forked import in_fork
from spoonfold.build import build
from spoonfold.problem import has_errors
seconds, megabytes = int(sys.argv[1]), int(sys.argv[2]) << 20

def refused():
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
    resource.setrlimit(resource.RLIMIT_AS, (megabytes, megabytes))
    outcome = build(folder, folder / "build", ["site"])
    assert has_errors(outcome.problems) and not outcome.made

for folder in map(Path, sys.argv[3:]):
    print(f"\\n{folder.name}:", file=sys.stderr, flush=True)
    print(in_fork(refused), flush=True)
"""


@pytest.fixture(scope="session")
def heavy(tmp_path_factory: pytest.TempPathFactory) -> tuple[dict[str, int], str]:
    """How the build of each ended that is heavy, and all that was complained of. Each is built in
    a bounded process of its own, a copy of one that is small: ours may be beyond the bounds."""
    top = tmp_path_factory.mktemp("heavy")
    rice = RICE.replace("Rice as", "![A bowl](../pictures/bowl.png)\n\nRice as")
    for name, (path, content) in HEAVY.items():
        changes: dict[str, str | bytes] = {"recipes/rice.md": rice} if name == "a picture" else {}
        heavy = content() if callable(content) else content
        write_full_class(top / name, {**changes, path: heavy})
    done = subprocess.run(
        [
            *(sys.executable, "-c", _HEAVY_RUN, str(SECONDS), str(MEGABYTES)),
            *(str(top / name) for name in HEAVY),
        ],
        capture_output=True,
        text=True,
        cwd=HERE.parent,
    )
    return dict(zip(HEAVY, map(int, done.stdout.split()), strict=True)), done.stderr


@pytest.mark.skipif(
    find_spec("resource") is None or not hasattr(os, "fork"),
    reason="this system can't bound a process",
)
@pytest.mark.parametrize("name", HEAVY)
def test_heavy(name: str, heavy: tuple[dict[str, int], str]) -> None:
    """What is endless, huge or deep is refused in bounded time and memory."""
    ended, complaints = heavy
    assert ended[name] == 0, complaints.partition(f"\n{name}:\n")[2][:2000]


@pytest.mark.skipif(find_spec("atheris") is None, reason="atheris has no build for this Python")
def test_a_short_search(tmp_path: Path) -> None:
    """A coverage-guided search finds nothing that breaks; run it longer by hand with
    `python tests/trust/fuzz_class.py INPUTS`."""
    # By way of a small process: Linux counts the memory of the one that starts another to the
    # peak of the other (getrusage(2), ru_maxrss), and the search is stopped at a peak.
    between = "import subprocess, sys; sys.exit(subprocess.run(sys.argv[1:]).returncode)"
    done = subprocess.run(
        [sys.executable, "-c", between, sys.executable, str(HERE / "fuzz_class.py"), INPUTS],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONDONTWRITEBYTECODE": "1"},
    )
    assert done.returncode == 0, done.stderr[-3000:]
    assert not list(tmp_path.iterdir())
