"""The fonts are whole, free to pass on, and hold every letter that the sheets print."""

from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from stylesheets import LAYOUTS

FONTS = LAYOUTS / "fonts"
FACES = sorted(path.stem for path in FONTS.glob("*.ttf"))
TEXT_FACES = [face for face in FACES if face.startswith("Andika")]
SITE_BUDGET = 1_200_000  # Bytes: about five seconds on a slow telephone line.

AMOUNTS = "0123456789½⅓⅔¼¾⅛⅜⅝⅞×÷°–—−⁄"
MARKS = "“”‘’…·•‐¡¿←→\u00a0"
ENGLISH = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz.,;:!?'\"()[]/&%$+=#*-@_"
SPANISH = "áéíóúüñÁÉÍÓÚÜÑ"
FRENCH = "àâæçéèêëîïôœùûüÿÀÂÆÇÉÈÊËÎÏÔŒÙÛÜŸ«»"
TURKISH = "çğıöşüÇĞİÖŞÜ"
VIETNAMESE = "ăâđêôơưĂÂĐÊÔƠƯàáãèéìíòóõùúýĩũ" + "".join(map(chr, range(0x1EA0, 0x1EFA)))
# Arabic's own letters, signs of vowels, digits and marks (Unicode 16, block Arabic).
ARABIC = (
    "".join(map(chr, (*range(0x0621, 0x063B), *range(0x0641, 0x0653), *range(0x0660, 0x066A))))
    + "،؛؟"
)
NAMES = AMOUNTS + MARKS + ENGLISH + SPANISH + FRENCH + TURKISH + VIETNAMESE


def letters(face: str) -> set[int]:
    return set(TTFont(FONTS / f"{face}.ttf", lazy=True).getBestCmap())


@pytest.mark.parametrize("face", FACES)
class TestEveryFace:
    def test_letters(self, face: str) -> None:
        """No letter of the languages in hand, and no sign of an amount, is missing."""
        held = letters(face)
        wanted = ARABIC if face.startswith("Vazirmatn") else NAMES
        assert [letter for letter in wanted if ord(letter) not in held] == []

    def test_licence(self, face: str) -> None:
        """The Open Font Licence lies beside the face, with the face's own copyright line."""
        licence = (FONTS / f"OFL-{face.partition('-')[0]}.txt").read_text(encoding="utf-8")
        holder = TTFont(FONTS / f"{face}.ttf", lazy=True)["name"].getDebugName(0).splitlines()[0]
        assert "SIL OPEN FONT LICENSE Version 1.1" in licence
        assert holder in licence
        assert "THE FONT SOFTWARE IS PROVIDED" in licence

    def test_embeddable_and_static(self, face: str) -> None:
        """The face may be embedded in any PDF, and gives the same bytes each time."""
        font = TTFont(FONTS / f"{face}.ttf", lazy=True)
        assert font["OS/2"].fsType == 0
        assert "fvar" not in font

    def test_compressed_only(self, face: str) -> None:
        """The web's copy is the same font, compressed: letters, outlines, names, spacing."""
        whole, packed = (TTFont(FONTS / f"{face}.{kind}") for kind in ("ttf", "woff2"))
        assert whole.getGlyphOrder() == packed.getGlyphOrder()
        assert whole.getBestCmap() == packed.getBestCmap()
        for table in ("GSUB", "GPOS", "name", "OS/2", "hmtx", "cvt ", "fpgm", "prep"):
            if table in whole:
                assert whole.getTableData(table) == packed.getTableData(table), table
        for name in whole.getGlyphOrder()[::7]:
            assert whole["glyf"][name] == packed["glyf"][name], name


class TestTogether:
    def test_site_budget(self) -> None:
        """All that the site loads stays under its budget."""
        assert sum(path.stat().st_size for path in FONTS.glob("*.woff2")) < SITE_BUDGET

    def test_ticked(self) -> None:
        """The tick of a chosen household is in every face of the text."""
        for face in TEXT_FACES:
            assert ord("✓") in letters(face)

    def test_boxes_are_drawn(self) -> None:
        """No face has an empty box to tick, so the sheets draw theirs and never write one."""
        assert all(ord("☐") not in letters(face) for face in FACES)
        written = [path for path in _layouts() if "☐" in path.read_text(encoding="utf-8")]
        assert written == []

    @pytest.mark.parametrize("sheet", ["screen.css", "paper.css"])
    def test_faces_exist(self, sheet: str) -> None:
        """Each font that a stylesheet asks for is there, by a relative address."""
        text = (LAYOUTS / "look" / sheet).read_text(encoding="utf-8")
        asked = [part.partition(")")[0] for part in text.split("url(")[1:]]
        assert asked
        for address in asked:
            assert address.startswith("../")
            assert (LAYOUTS / "look" / address).is_file(), address


def _layouts() -> list[Path]:
    kinds = (".css", ".html", ".svg", ".po", ".j2")
    return [path for path in LAYOUTS.rglob("*") if path.suffix in kinds]
