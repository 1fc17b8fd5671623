"""Where the layouts are: the ones that ship, and any single file that a class overrides."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

# In a checkout the layouts lie beside src/; in the wheel, inside the package.
_IN_CHECKOUT = Path(__file__).resolve().parents[3] / "layouts"


def shipped_layouts() -> Path:
    """The folder of layouts that came with Spoonfold."""
    inside = Path(str(files("spoonfold"))) / "layouts"
    return inside if inside.is_dir() else _IN_CHECKOUT


@dataclass(frozen=True, slots=True)
class Layouts:
    """Files by name: the class folder's own `layouts/` first, then what ships."""

    folders: tuple[Path, ...]
    """Whole paths: sheets refer to files by address, which has no relative ones."""

    @property
    def own(self) -> Path | None:
        """The class's own folder, where it has one beside what ships."""
        return self.folders[0] if len(self.folders) > 1 else None

    def find(self, name: str) -> Path:
        """The file of that name; FileNotFoundError where there is none: a bug."""
        for folder in self.folders:
            path = folder / name
            if path.is_file():
                return path
        raise FileNotFoundError(name)

    def in_place_of(self, path: Path) -> Path:
        """The file that stands for this one, named from beside it: a stylesheet of the class
        shows icons that ship, and one that ships the icons of the class."""
        for folder in self.folders:
            if path.is_relative_to(folder):
                with suppress(FileNotFoundError):
                    return self.find(path.relative_to(folder).as_posix())
        return path

    def names(self, under: str) -> Iterator[str]:
        """Every file below a folder, each name once, in order."""
        found = {
            path.relative_to(folder).as_posix()
            for folder in self.folders
            for path in (folder / under).rglob("*")
            if path.is_file()
        }
        yield from sorted(found)


def layouts_for(class_folder: Path) -> Layouts:
    """The layouts for one class folder."""
    own = (class_folder / "layouts").resolve()
    shipped = shipped_layouts().resolve()
    if own.is_dir() and own != shipped:
        return Layouts((own, shipped))
    return Layouts((shipped,))
