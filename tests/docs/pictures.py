"""Makes the pictures of the README anew, from a finished build. Not a test.

python tests/docs/pictures.py build
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

import pypdfium2
from PIL import Image

PICTURES = Path(__file__).resolve().parents[2] / ".pictures"
COLOURS = 64
"""So few are enough for ink on paper, and keep a picture small."""
WIDEST = 1000
"""Pixels."""

PAGES = (
    ("site-home.png", "index.html", (1200, 1030)),
    ("site-recipe.png", "recipes/red-lentil-soup.html", (1200, 1080)),
    ("site-phone.png", "recipes/red-lentil-soup.html", (390, 1100)),
)
SHEETS = (
    # A picture, the sheet, its pages side by side (counted from 0), pixels from top to bottom.
    ("booklet.png", "families/booklet-en-4.pdf", (13, 14), 600),
    ("lesson-card.png", "class/session-06/lesson-card-en.pdf", (0,), 760),
    ("lesson-card-back.png", "class/session-06/lesson-card-en.pdf", (1,), 760),
    ("brief.png", "class/session-06/helper-brief-en.pdf", (0,), 760),
    ("shopping.png", "class/session-06/shopping-en.pdf", (0,), 760),
    ("table-card.png", "class/session-06/table-cards-en.pdf", (0,), 760),
    ("worksheet.png", "class/session-02/worksheet-grade-5-en.pdf", (0,), 760),
)


def shot(page: Path, size: tuple[int, int], to: Path) -> Image.Image:
    """A page as the browser shows it in a window of that size."""
    # A window on a screen is never narrower than 500 pixels, so a phone is a frame inside one.
    width, height = size
    frame = to.with_suffix(".html")
    frame.write_text(
        f'<body style="margin:0"><iframe src="{page.as_uri()}" style="border:0" width="{width}" '
        f'height="{height}" scrolling="no"></iframe>',
        encoding="utf-8",
    )
    subprocess.run(
        [
            "chromium",
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--hide-scrollbars",
            "--allow-file-access-from-files",
            f"--window-size={max(width, 500)},{height + 100}",
            f"--screenshot={to}",
            frame.as_uri(),
        ],
        check=True,
        capture_output=True,
    )
    return Image.open(to).convert("RGB").crop((0, 0, width, height))


def printed(sheet: Path, pages: tuple[int, ...], height: int) -> Image.Image:
    """Pages as a copier prints them, side by side with a rule round each."""
    pdf = pypdfium2.PdfDocument(sheet)
    images = [
        pdf[page].render(scale=height / pdf[page].get_height(), grayscale=True).to_pil()
        for page in pages
    ]
    spread = Image.new("L", (sum(each.width + 2 for each in images) + 2, height + 4), 128)
    at = 2
    for each in images:
        spread.paste(each.crop((0, 0, each.width, height)), (at, 2))
        at += each.width + 2
    return spread


def save(picture: Image.Image, name: str) -> None:
    if picture.width > WIDEST:
        picture = picture.resize((WIDEST, picture.height * WIDEST // picture.width))
    few = picture.convert("RGB").quantize(COLOURS, kmeans=3, dither=Image.Dither.NONE)
    few.save(PICTURES / name, optimize=True)


def main(build: Path) -> None:
    with tempfile.TemporaryDirectory() as folder:
        for name, page, size in PAGES:
            save(shot(build / "site" / page, size, Path(folder) / name), name)
    for name, sheet, pages, height in SHEETS:
        save(printed(build / sheet, pages, height), name)


if __name__ == "__main__":
    main(Path(sys.argv[1]).resolve())
