"""The tones keep their contrast on the screen, by day and night, and apart on a grey copy."""

import re
from collections.abc import Callable
from itertools import pairwise

import pytest
from stylesheets import LOOK, contrast, grey, lightness, pairs, rules, tokens, tone_in, tones, used

DAY = tones("tokens.css")
NIGHT = tones("tokens-dark.css")
TEXT = pairs(tokens("tokens.css")["text-pairs"])
SHAPES = pairs(tokens("tokens.css")["shape-pairs"])
SHEETS = ("screen.css", "paper.css")
MODES = {"day": DAY, "night": NIGHT}

TEXT_CONTRAST = 4.5  # WCAG 2.2, SC 1.4.3
SHAPE_CONTRAST = 3.0  # WCAG 2.2, SC 1.4.11
GREY_STEP = 7.0  # Of CIE L*; about three times what the eye tells apart side by side.
COPIER_STEP = 18.0  # Of 255.


class TestFormula:
    @pytest.mark.parametrize(
        ("tone", "ratio"),
        [
            ("#000000", 21.0),
            ("#767676", 4.542),
            ("#777777", 4.478),
            ("#595959", 7.005),
            ("#949494", 3.033),
            ("#ff0000", 3.998),
            ("#0000ff", 8.592),
        ],
    )
    def test_known_ratios(self, tone: str, ratio: float) -> None:
        """The contrast with white is the published one, to three decimals."""
        assert round(contrast(tone, "#ffffff"), 3) == ratio
        assert contrast(tone, "#ffffff") == contrast("#ffffff", tone)

    def test_lightness_ends(self) -> None:
        """Black has the lightness 0, white 100."""
        assert lightness("#000000") == 0
        assert round(lightness("#ffffff"), 6) == 100


class TestContrast:
    def test_same_tones_by_night(self) -> None:
        """The night sheet declares every tone of the day sheet and no other."""
        assert NIGHT.keys() == DAY.keys()

    @pytest.mark.parametrize("mode", MODES)
    @pytest.mark.parametrize(("front", "ground"), TEXT)
    def test_text(self, front: str, ground: str, mode: str) -> None:
        """Text reaches 4.5:1 on each ground that it is declared for."""
        assert contrast(MODES[mode][front], MODES[mode][ground]) >= TEXT_CONTRAST

    @pytest.mark.parametrize("mode", MODES)
    @pytest.mark.parametrize(("front", "ground"), SHAPES)
    def test_shapes(self, front: str, ground: str, mode: str) -> None:
        """Frames, rules and drawings reach 3:1 on each ground that they are declared for."""
        assert contrast(MODES[mode][front], MODES[mode][ground]) >= SHAPE_CONTRAST


class TestGrey:
    def test_tones_are_listed(self) -> None:
        """Every tone is in the list of greys, but for those named after their ground."""
        listed = tokens("tokens.css")["grey-tones"].strip('"').split(", ")
        assert sorted(listed) == sorted(name for name in DAY if not name.startswith("on-"))

    @pytest.mark.parametrize(("measure", "step"), [(lightness, GREY_STEP), (grey, COPIER_STEP)])
    def test_distinct(self, measure: Callable[[str], float], step: float) -> None:
        """Printed grey, each tone is a clear step from the next."""
        ladder = sorted(measure(tone) for name, tone in DAY.items() if not name.startswith("on-"))
        gaps = [high - low for low, high in pairwise(ladder)]
        assert min(gaps) >= step


class TestStylesheets:
    @pytest.mark.parametrize("sheet", SHEETS)
    def test_no_other_colour(self, sheet: str) -> None:
        """Outside the tokens nothing names a colour."""
        text = re.sub(r"/\*.*?\*/", "", (LOOK / sheet).read_text(encoding="utf-8"), flags=re.DOTALL)
        named = r"#[0-9a-fA-F]{3,8}\b|\b(?:rgb|hsl|oklch|lab)a?\(|:\s*(?:black|white|gr[ae]y|red)\b"
        assert re.findall(named, text) == []

    def test_tokens_are_used(self) -> None:
        """Each token is read by a stylesheet, and none is read that isn't declared."""
        declared = {
            name for name in tokens("tokens.css") if not name.endswith(("-pairs", "-tones"))
        }
        # How wide and high the paper is comes with each page.
        of_the_page = {"wide", "high"} - declared
        assert used("screen.css") | used("paper.css") == declared | of_the_page

    @pytest.mark.parametrize("sheet", SHEETS)
    def test_pairs_are_declared(self, sheet: str) -> None:
        """A rule that colours text uses a pair that is declared, so that it is measured."""
        names = set(DAY)
        undeclared = []
        for selector, declarations in rules(sheet):
            front = tone_in(declarations.get("color", ""), names)
            ground = tone_in(declarations.get("background", ""), names) or "paper"
            if front and (front, ground) not in TEXT:
                undeclared.append((selector, front, ground))
        assert undeclared == []

    @pytest.mark.parametrize("sheet", SHEETS)
    def test_frames_are_declared(self, sheet: str) -> None:
        """A border uses a tone that is declared as a shape on the sheet."""
        for selector, declarations in rules(sheet):
            for name, value in declarations.items():
                if name.startswith(("border", "outline")) and (tone := tone_in(value, set(DAY))):
                    assert (tone, "paper") in SHAPES, selector
