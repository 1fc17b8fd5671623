"""How many letters each sheet of the demo holds, and the size of type in which it fits.

    python tests/speed/sizes.py

From this the numbers of the layouts' `holds` are taken: for each size the most letters of a sheet
that fitted in it. Tries every size from the largest, so it takes a while.
"""

from __future__ import annotations

import tempfile
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

from spoonfold.build import build
from spoonfold.press.pdf import Printer
from spoonfold.press.render import Printed, RenderContext, letters_of
from spoonfold.sheets.sheet import Sheet

ROOT = Path(__file__).resolve().parents[2]


def main() -> None:
    seen: dict[str, list[tuple[int, int, str]]] = defaultdict(list)

    def noted(self: RenderContext, sheet: Sheet, largest: bytes) -> Printed:
        tried = []

        def tries() -> Iterator[bytes]:
            for size in sheet.layout.sizes:
                tried.append(size)
                yield self.html(sheet, size)

        assert isinstance(self.printer, Printer)
        letters = letters_of(largest)
        paper = self.layouts.find("look/paper.css")
        pdf = self.printer.print(tries(), paper, sheet.most_pages)
        if len(sheet.layout.sizes) > 1:
            seen[sheet.layout.template].append((len(tried) - 1, letters, sheet.paths[0]))
        return pdf

    RenderContext.printed = noted  # type: ignore[method-assign]  # every size is to be seen
    with tempfile.TemporaryDirectory() as work:
        build(ROOT, Path(work) / "build")
    for template, rows in sorted(seen.items()):
        print(template)
        for size, letters, path in sorted(rows):
            print(f"  size {size}  {letters:6} letters  {path}")


if __name__ == "__main__":
    main()
