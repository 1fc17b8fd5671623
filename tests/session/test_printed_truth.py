"""The finished sheets of a session, read as text and laid side by side, contradict each other
nowhere: in the demo class, and in classes of every shape."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from comparisons import KINDS
from generated_classes import SHAPES, Shape, shape_of, write_generated
from printed_truth import SHEETS, SessionSheets

from in_full import sampled
from made_once import made_once
from spoonfold.build import build

SESSIONS = range(1, 9)
CLASSES = dict(enumerate(SHAPES, start=1)) | {
    seed: shape_of(seed) for seed in range(101, sampled(101, 121))
}
"""By seed."""

_LEAST = {
    "amounts": 5,
    "allergens": 5,
    "people": 5,
    "eaters": 5,
    "promised": 20,
    "tools": 5,
    "times": 10,
    "numbers": 10,
}
"""Comparisons of a class below which a pattern must have stopped reading its sheet."""


def contradictions(kind: str, sheets: SessionSheets) -> list[str]:
    """Of one kind, said with both sides."""
    compared = list(KINDS[kind](sheets))
    assert len(compared) >= _LEAST.get(kind, 0), f"only {len(compared)} comparisons"
    return [str(each) for each in compared if not each.agrees]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("number", SESSIONS)
def test_no_sheet_of_the_demo_contradicts_another(
    demo_with: Callable[[str], Path], number: int, kind: str
) -> None:
    assert not contradictions(kind, SessionSheets(demo_with, number))


@pytest.fixture(scope="session")
def generated(tmp_path_factory: pytest.TempPathFactory) -> Callable[[int], Path]:
    """The output of a class by its seed."""

    def output(seed: int) -> Path:
        shape = CLASSES[seed]

        def make(folder: Path) -> None:
            write_generated(folder, shape, seed)
            outcome = build(folder, folder / "build", SHEETS)
            if outcome.print_failure is not None:
                pytest.skip(outcome.print_failure.message)
            assert outcome.made, [each.message for each in outcome.problems]

        return made_once(tmp_path_factory, f"generated-{seed}", make) / "build"

    return output


@pytest.mark.slow
@pytest.mark.parametrize(
    ("seed", "shape"), CLASSES.items(), ids=[each.name for each in CLASSES.values()]
)
def test_no_sheet_of_any_class_contradicts_another(
    generated: Callable[[int], Path], seed: int, shape: Shape
) -> None:
    folder = generated(seed)
    for number in range(1, len(shape.dishes) + 1):
        sheets = SessionSheets(lambda part: folder, number)
        assert not [said for kind in KINDS for said in contradictions(kind, sheets)]
