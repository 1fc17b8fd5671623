"""A coverage-guided search for files that break reading, checking or the site.

    python tests/trust/fuzz_class.py INPUTS [FOLDER]

FOLDER keeps what was found worth trying again, so that a longer search goes on where the last
one ended. Exits with 0 when nothing broke; otherwise the search says what did, and leaves the
input that broke it in the folder in which it was started (`crash-…`, `timeout-…`).

One input is one file of a class that is right otherwise: its first byte chooses the file, the
rest is what stands in it. Each is read; where that finds no error, the whole class is checked,
and where that finds none either, its site is made. Tries so many inputs. One that takes a minute
is taken for endless, and the search may take 1 GB.
"""

from __future__ import annotations

import random
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

import atheris

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
# What is to be searched for branches has to be imported under the eyes of the fuzzer.
with atheris.instrument_imports(include=["spoonfold"]):
    from spoonfold.build import build
    from spoonfold.check import examine
    from spoonfold.model.recipe import Recipe
    from spoonfold.problem import has_errors
    from spoonfold.read.classroom import read_children, read_classroom
    from spoonfold.read.files import Source, read_source
    from spoonfold.read.pantry import read_pantry
    from spoonfold.read.recipe import read_recipe
    from spoonfold.read.shape import Found
    from spoonfold.read.teaching import read_after, read_lesson, read_skills, read_words
    from spoonfold.read.translation import read_translation

from full_class import FILES, RICE, write_full_class
from hostile_text import PIECES

SECONDS_EACH = 60
"""Many times what a right input takes on a busy computer."""
MEGABYTES = 1024
LONGEST = 8000


def _rice() -> Recipe:
    """The recipe that a translation goes with."""
    recipe = read_recipe(Source("content/recipes/rice.md", RICE), "rice", [])
    assert recipe is not None
    return recipe


_RICE = _rice()
READERS: dict[str, Callable[[Source, Found], object]] = {
    "recipes/rice.md": lambda source, found: read_recipe(source, "rice", found),
    "class.yaml": read_classroom,
    "pantry.yaml": read_pantry,
    "recipes/rice.es.md": lambda source, found: read_translation(source, _RICE, "es", found),
    "words.yaml": read_words,
    "skills.yaml": read_skills,
    "lessons/soap.md": lambda source, found: read_lesson(source, "soap", found),
    "after/2027-09-18.md": lambda source, found: read_after(source, "2027-09-18", found),
    "private/children.yaml": read_children,
}
NAMES = tuple(READERS)


def write_seeds(folder: Path) -> None:
    """Every file as it is when it is right."""
    for number, name in enumerate(NAMES):
        (folder / name.replace("/", "-")).write_bytes(bytes([number]) + FILES[name].encode())


def bent(data: bytes, most: int, seed: int) -> bytes:
    """The input with a line doubled, lost or moved, or with a hostile piece in it; every other
    time the fuzzer's own change, which knows nothing of lines."""
    chance = random.Random(seed)
    if chance.random() < 0.4:
        return bytes(atheris.Mutate(data, most))
    head, lines = data[:1], data[1:].split(b"\n")
    at = chance.randrange(len(lines))
    act = chance.randrange(4)
    if act == 0:
        lines.insert(chance.randrange(len(lines) + 1), lines[at])
    elif act == 1:
        del lines[at]
    else:
        piece = chance.choice(PIECES).encode("utf-8", "surrogatepass")
        start = chance.randrange(len(lines[at]) + 1)
        # In the place of a value, or in the middle of anything.
        colon = lines[at].rfind(b": ")
        if act == 2 and colon >= 0:
            lines[at] = lines[at][: colon + 2] + piece
        else:
            lines[at] = lines[at][:start] + piece + lines[at][start:]
    return (head + b"\n".join(lines))[:most]


def search(inputs: int, corpus: Path) -> None:
    """Tries so many inputs. Ends the process."""
    write_seeds(corpus)
    with tempfile.TemporaryDirectory() as where:
        folder = write_full_class(Path(where) / "class")

        def one(data: bytes) -> None:
            name = NAMES[data[0] % len(NAMES) if data else 0]
            path = folder / "content" / name
            path.write_bytes(data[1:])
            source = read_source(folder, f"content/{name}")
            if isinstance(source, Source):
                found: Found = []
                READERS[name](source, found)
                if not has_errors(found) and not has_errors(examine(folder).problems):
                    build(folder, folder / "build", ["site"])
            path.write_bytes(FILES[name].encode())

        # The first one loads the templates too, which takes as long as four others: no fault of
        # an input's.
        one(bytes([0]) + FILES[NAMES[0]].encode())
        atheris.Setup(
            [
                sys.argv[0],
                str(corpus),
                f"-runs={inputs}",
                f"-timeout={SECONDS_EACH}",
                f"-rss_limit_mb={MEGABYTES}",
                f"-max_len={LONGEST}",
                "-len_control=0",
                "-seed=1",
            ],
            one,
            custom_mutator=bent,
        )
        atheris.Fuzz()


if __name__ == "__main__":
    if len(sys.argv) > 2:
        search(int(sys.argv[1]), Path(sys.argv[2]))
    else:
        with tempfile.TemporaryDirectory() as kept:
            search(int(sys.argv[1]), Path(kept))
