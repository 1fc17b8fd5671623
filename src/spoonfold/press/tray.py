"""What goes into a new output: written, or carried over from the one before."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from spoonfold.language.texts import direction_of
from spoonfold.press.desk import Printed
from spoonfold.press.fold import mini_book
from spoonfold.press.glyphs import MissingGlyph
from spoonfold.press.memo import Memo, Record
from spoonfold.press.output import Stage
from spoonfold.problem import Problem
from spoonfold.sheets.sheet import Sheet


@dataclass(slots=True)
class Tray:
    """The files of the output in the making, and what each is made of."""

    stage: Stage
    output: Path
    before: Memo
    files: dict[str, Record] = field(default_factory=dict)
    """Every file of the new output, by path."""
    missing: list[MissingGlyph] = field(default_factory=list)
    unfit: list[Problem] = field(default_factory=list)
    """What is told of sheets that weren't made, since they don't fit."""
    changed: int = 0
    """How many files are new or other than before."""

    def write(self, path: str, data: bytes, key: str = "") -> None:
        record = Record(key, hashlib.sha256(data).hexdigest())
        before = self.before.files.get(path)
        self.changed += before is None or before.digest != record.digest
        self.stage.write(path, data)
        self.files[path] = record

    def keep(self, path: str) -> None:
        """Carries a file over; a folder with all that is in it."""
        self.stage.keep(path)
        kept = self.stage.folder / path
        for file in sorted(kept.rglob("*")) if kept.is_dir() else [kept]:
            name = file.relative_to(self.stage.folder).as_posix()
            if file.is_file():
                self.files[name] = self.before.files.get(name) or Record(
                    "", hashlib.sha256(file.read_bytes()).hexdigest()
                )

    def keep_made(self, paths: Sequence[str], key: str) -> bool:
        """Carries files over that were made of just this; False where one wasn't."""
        if not all(self.before.has(self.output, path, key) for path in paths):
            return False
        for path in paths:
            self.keep(path)
        return True

    def take(self, sheet: Sheet, printed: Printed, key: str) -> None:
        """A printed sheet, or the letters that its fonts lack."""
        if not isinstance(printed, bytes):
            self.missing += printed
            return
        if sheet.is_mini_book:
            folded = mini_book(printed, direction_of(sheet.language) == "rtl")
            if folded is None:
                self.unfit += [sheet.too_long] if sheet.too_long else []
                return
            printed = folded
        for path in sheet.paths:
            self.write(path, printed, key)
