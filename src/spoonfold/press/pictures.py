"""The author's own photos, made fit for the site and for paper. The only room that knows Pillow.

A phone writes into a photo where and when it was taken. None of that is ever published: each
picture is painted anew, and nothing but its points of colour goes into the new file.
"""

from __future__ import annotations

import base64
import hashlib
import os
import stat
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from spoonfold.model.prose import Picture
from spoonfold.model.recipe import slug
from spoonfold.press.html import Shown
from spoonfold.problem import Level, Problem

if TYPE_CHECKING:
    from PIL.Image import Image

SITE_WIDTH = 1200
"""Pixels: sharp on a phone's screen at full width, and still light."""
PAPER_WIDTH = 1350
"""Pixels: 300 to the inch over the 4.5 inches between a booklet page's margins."""
MOST_PIXELS = 100_000_000
"""More than any phone's sensor gives in its usual mode; unpacked, some 300 MB."""
MOST_UNPACKED = 30_000_000
"""The same for what can't be unpacked smaller than it is, which only JPEG can: some 250 MB."""
MOST_BYTES = 100_000_000
_LIGHT = 120_000
_QUALITIES = (82, 74, 66, 58)
_KINDS = ("JPEG", "PNG", "WEBP", "GIF")


@dataclass(frozen=True, slots=True)
class Prepared:
    """A picture as it is published."""

    data: bytes
    kind: str
    """`jpeg` or `png`."""
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Unfit:
    """Why a file can't be shown as a picture, and what to do."""

    message: str
    hint: str


class PictureStore:
    """The pictures that sheets ask for, each prepared once."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._prepared: dict[tuple[str, int], Prepared | Unfit] = {}
        self.files: dict[str, bytes] = {}
        """What the site needs, by name below its top."""
        self.problems: list[Problem] = []

    def on_site(self, picture: Picture) -> Shown | None:
        """The picture as a file of the site."""
        ready = self._ready(picture, SITE_WIDTH)
        if ready is None:
            return None
        ending = "jpg" if ready.kind == "jpeg" else "png"
        # Named by its content: a browser that keeps pictures never shows an old one.
        mark = hashlib.sha256(ready.data).hexdigest()[:12]
        stem = slug(Path(picture.path).stem) or "picture"
        name = f"pictures/{stem}-{mark}.{ending}"
        self.files[name] = ready.data
        return Shown(name, ready.width, ready.height)

    def on_paper(self, picture: Picture) -> Shown | None:
        """The picture inside the page itself: no path of the author's disk gets into a PDF."""
        ready = self._ready(picture, PAPER_WIDTH)
        if ready is None:
            return None
        text = base64.b64encode(ready.data).decode()
        return Shown(f"data:image/{ready.kind};base64,{text}", ready.width, ready.height)

    def _ready(self, picture: Picture, widest: int) -> Prepared | None:
        path = (self._folder / picture.place.path).parent / picture.path
        key = (str(path), widest)
        if key not in self._prepared:
            self._prepared[key] = self._read(path, widest)
        found = self._prepared[key]
        if isinstance(found, Prepared):
            return found
        problem = Problem(
            "picture-unfit",
            Level.ERROR,
            picture.place,
            f"“{picture.path}” {found.message}",
            found.hint,
        )
        if problem not in self.problems:
            self.problems.append(problem)
        return None

    def _read(self, path: Path, widest: int) -> Prepared | Unfit:
        # As it is named and as it is found are the same, or a link lies between.
        top = (self._folder / "content").resolve()
        below = os.path.relpath(path, self._folder / "content")
        if below.startswith(("..", "private")) or path.resolve() != top / below:
            return Unfit("isn't where it says.", "Copy the picture itself into content/pictures/.")
        try:
            # A pipe would be waited for for ever, and a file with holes fill the memory.
            about = path.stat()
            if not stat.S_ISREG(about.st_mode):
                return Unfit("isn't a file.", "Copy the picture itself into content/pictures/.")
            if about.st_size > MOST_BYTES:
                return Unfit("is too large a file.", "Save it smaller, as .jpg.")
            data = path.read_bytes()
        except OSError:
            return Unfit("can't be read.", "Check that the file is there and opens.")
        return prepared(data, widest)


def prepared(data: bytes, widest: int) -> Prepared | Unfit:
    """The picture upright, at most so many pixels wide, and without anything else in the file."""
    from PIL import Image, UnidentifiedImageError

    try:
        with _whole_pictures_only(), warnings.catch_warnings():
            # The limit below is ours and comes before anything is unpacked.
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            with Image.open(BytesIO(data), formats=_KINDS) as image:
                if image.width * image.height > MOST_PIXELS:
                    return _too_large(image.width, image.height)
                # A JPEG can be unpacked small at once.
                image.draft("RGB", (2 * widest, 2 * widest))
                if image.width * image.height > MOST_UNPACKED:
                    return _too_large(image.width, image.height)
                clean = _painted(image, widest)
    except Image.DecompressionBombError:
        return _too_large()
    except UnidentifiedImageError:
        return Unfit("isn't a picture that can be read here.", "Save it as .jpg or .png.")
    except (OSError, ValueError, SyntaxError, EOFError):
        return Unfit("is damaged or cut off.", "Copy it again from the camera or phone.")
    return _encoded(clean)


@contextmanager
def _whole_pictures_only() -> Iterator[None]:
    """Refuses half a picture, also where the PDF printer has told Pillow to let it pass."""
    from PIL import ImageFile

    before = ImageFile.LOAD_TRUNCATED_IMAGES
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        yield
    finally:
        ImageFile.LOAD_TRUNCATED_IMAGES = before


def _too_large(width: int = 0, height: int = 0) -> Unfit:
    size = f" ({width} × {height} pixels)" if width else ""
    return Unfit(
        f"is too large to unpack{size}.",
        "Save it smaller: 2000 pixels wide is plenty for every sheet.",
    )


def _painted(image: Image, widest: int) -> Image:
    """A new picture with the same points of colour: upright, in sRGB, and small enough."""
    from PIL import Image as Images
    from PIL import ImageOps

    upright = ImageOps.exif_transpose(image)
    see_through = upright.has_transparency_data
    straight = _in_srgb(upright, upright.info.get("icc_profile"))
    colours = straight.convert("RGBA" if see_through else "RGB")
    if colours.width > widest:
        height = max(1, round(colours.height * widest / colours.width))
        colours = colours.resize((widest, height), Images.Resampling.LANCZOS)
    clean = Images.new(colours.mode, colours.size)
    clean.paste(colours)
    return clean


def _in_srgb(image: Image, profile: bytes | None) -> Image:
    """The colours as every screen takes them that is told nothing; phones write others."""
    from PIL import ImageCms

    if not profile or image.mode not in ("RGB", "RGBA"):
        return image
    try:
        source = ImageCms.ImageCmsProfile(BytesIO(profile))
        turned = ImageCms.profileToProfile(
            image, source, ImageCms.createProfile("sRGB"), outputMode=image.mode
        )
    except (ImageCms.PyCMSError, OSError):
        # A broken profile isn't worth losing the picture for.
        return image
    return turned or image


def _encoded(image: Image) -> Prepared:
    """JPEG for photos, PNG for drawings with few colours and for what is see-through."""
    if image.mode == "RGBA" or image.getcolors(256):
        return Prepared(_saved(image, "PNG", optimize=True), "png", *image.size)
    data = b""
    for quality in _QUALITIES:
        data = _saved(image, "JPEG", quality=quality, optimize=True, progressive=True)
        if len(data) <= _LIGHT:
            break
    return Prepared(data, "jpeg", *image.size)


def _saved(image: Image, kind: str, **options: int) -> bytes:
    file = BytesIO()
    image.save(file, kind, **options)
    return file.getvalue()
