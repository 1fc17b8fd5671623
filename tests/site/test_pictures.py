"""The author's own photos: upright, light, harmless, and telling nothing about the author."""

from __future__ import annotations

import re
import struct
import zlib
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image, ImageCms, ImageFile

from spoonfold.build import build
from spoonfold.press.pictures import SITE_WIDTH, Prepared, Unfit, prepared
from spoonfold.sheets import SITE
from tiny_class import RICE, write_class

_SECRET = b"Mornington Crescent 7"


def photo(width: int = 1600, height: int = 1200, kind: str = "JPEG", **options: object) -> bytes:
    """A photo-like picture: red on its left half, blue on its right, with a soft pattern."""
    image = Image.new("RGB", (width, height))
    image.paste((200, 30, 30), (0, 0, width // 2, height))
    image.paste((30, 30, 200), (width // 2, 0, width, height))
    image = Image.blend(image, Image.effect_noise((width, height), 60).convert("RGB"), 0.3)
    file = BytesIO()
    image.save(file, kind, **options)
    return file.getvalue()


def with_gps(orientation: int = 1) -> bytes:
    """A photo as a phone writes it: where it was taken, by whom, and which way is up."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif[0x010E] = _SECRET.decode()
    exif.get_ifd(0x8825).update({1: "N", 2: (51.0, 32.0, 3.0), 3: "W", 4: (0.0, 8.0, 19.0)})
    return photo(exif=exif, comment=_SECRET)


class TestMetadata:
    def test_planted_place_is_gone(self) -> None:
        """Neither the position nor the description nor the comment is in the new file."""
        data = with_gps()
        assert _SECRET in data and Image.open(BytesIO(data)).getexif().get_ifd(0x8825)
        made = prepared(data, SITE_WIDTH)
        assert isinstance(made, Prepared)
        again = Image.open(BytesIO(made.data))
        assert not again.getexif() and _SECRET not in made.data and b"Exif" not in made.data
        assert set(again.info) <= {
            "jfif",
            "jfif_version",
            "jfif_unit",
            "jfif_density",
            "progressive",
            "progression",
        }

    def test_text_in_png_is_gone(self) -> None:
        from PIL.PngImagePlugin import PngInfo

        info = PngInfo()
        info.add_text("Author", _SECRET.decode())
        drawing = BytesIO()
        Image.new("RGBA", (40, 30), (1, 2, 3, 4)).save(drawing, "PNG", pnginfo=info)
        made = prepared(drawing.getvalue(), SITE_WIDTH)
        assert isinstance(made, Prepared) and made.kind == "png"
        assert _SECRET in drawing.getvalue() and _SECRET not in made.data
        assert Image.open(BytesIO(made.data)).getpixel((0, 0)) == (1, 2, 3, 4)

    def test_colour_profile_is_applied_and_dropped(self) -> None:
        profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
        made = prepared(photo(icc_profile=profile), SITE_WIDTH)
        assert isinstance(made, Prepared)
        assert "icc_profile" not in Image.open(BytesIO(made.data)).info


class TestShape:
    def test_upright(self) -> None:
        """A photo taken on its side (orientation 6: turn right) stands up in the new file."""
        made = prepared(with_gps(orientation=6), 600)
        assert isinstance(made, Prepared) and (made.width, made.height) == (600, 800)
        image = Image.open(BytesIO(made.data))
        top, bottom = image.getpixel((300, 100)), image.getpixel((300, 700))
        assert isinstance(top, tuple) and isinstance(bottom, tuple)
        assert top[0] > top[2] and bottom[2] > bottom[0]

    def test_never_wider_and_never_blown_up(self) -> None:
        wide, small = prepared(photo(2400, 600), 1200), prepared(photo(300, 200), 1200)
        assert isinstance(wide, Prepared) and (wide.width, wide.height) == (1200, 300)
        assert isinstance(small, Prepared) and (small.width, small.height) == (300, 200)

    def test_light(self) -> None:
        made = prepared(photo(4000, 3000), SITE_WIDTH)
        assert isinstance(made, Prepared) and len(made.data) < 300_000

    def test_same_bytes_again(self) -> None:
        data = with_gps()
        assert prepared(data, 800) == prepared(data, 800)


def _bomb(side: int) -> bytes:
    """A small PNG file that says it is `side` pixels square."""

    def chunk(name: bytes, body: bytes) -> bytes:
        return (
            struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
        )

    header = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", header)
        + chunk(b"IDAT", zlib.compress(bytes(1000)))
        + chunk(b"IEND", b"")
    )


class TestRefusals:
    @pytest.mark.parametrize("side", [10_001, 60_000])
    def test_bombs_are_not_unpacked(self, side: int) -> None:
        """A file of a hundred bytes that would take gigabytes is refused by its header."""
        made = prepared(_bomb(side), SITE_WIDTH)
        assert isinstance(made, Unfit) and "too large" in made.message

    @pytest.mark.parametrize("data", [b"", b"not a picture", b"<svg/>", b"%PDF-1.7"])
    def test_what_is_no_picture(self, data: bytes) -> None:
        made = prepared(data, SITE_WIDTH)
        assert isinstance(made, Unfit) and ".jpg" in made.hint

    def test_cut_off(self, monkeypatch: pytest.MonkeyPatch) -> None:
        """Also once the PDF printer is loaded, which tells Pillow to let half a picture pass."""
        monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)
        data = photo()
        made = prepared(data[: len(data) // 2], SITE_WIDTH)
        assert isinstance(made, Unfit) and "damaged" in made.message


def _with_picture(folder: Path, data: bytes) -> Path:
    recipe = RICE.replace("## Steps", "![Rice in a blue bowl](../pictures/Bowl.jpg)\n\n## Steps")
    return write_class(folder, {"recipes/rice.md": recipe, "pictures/Bowl.jpg": data})


class TestBuild:
    def test_shown_on_recipe_and_home(self, tmp_path: Path) -> None:
        """One file under a name of its content, shown with size and words from both pages."""
        outcome = build(_with_picture(tmp_path, with_gps()), tmp_path / "build", [SITE])
        assert outcome.problems == () and outcome.made
        site = tmp_path / "build" / "site"
        (file,) = (site / "pictures").iterdir()
        assert re.fullmatch(r"bowl-[0-9a-f]{12}\.jpg", file.name)
        for page, root in (("recipes/rice.html", "../"), ("index.html", "")):
            expected = (
                f'<img src="{root}pictures/{file.name}" width="1200" height="900" '
                'alt="Rice in a blue bowl">'
            )
            assert (site / page).read_text(encoding="utf-8").count(expected) == 1
        assert _SECRET not in file.read_bytes()

    def test_unfit_picture_is_a_problem(self, tmp_path: Path) -> None:
        """Nothing is swapped in, and the message points at the line."""
        outcome = build(_with_picture(tmp_path, b"nonsense"), tmp_path / "build", [SITE])
        (problem,) = outcome.problems
        assert problem.code == "picture-unfit" and problem.place.path == "content/recipes/rice.md"
        assert problem.place.line == 14
        assert not outcome.made and not (tmp_path / "build" / "site").exists()
