"""`fit`: what can be cooked on a day, and why the rest can't."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from spoonfold.check import examine
from spoonfold.check.fit import Fit, day_for, fits_of
from spoonfold.cli import main
from tiny_class import CLASS, RICE, write_class

SLOW = RICE.replace("title: Plain rice", "title: Slow rice").replace("wait: 15 min", "wait: 40 min")
MILKY = (
    RICE.replace("title: Plain rice", "title: Milk rice")
    .replace("2 cups water", "2 cups milk")
    .replace("in the water", "in the milk")
)
BAKED = (
    RICE.replace("title: Plain rice", "title: Baked rice")
    .replace("needs: burner, pot", "needs: oven shelf, baking pan")
    .replace("Boil the rice", "Bake the rice")
)
FILES = {
    "recipes/slow-rice.md": SLOW,
    "recipes/milk-rice.md": MILKY,
    "recipes/baked-rice.md": BAKED,
    "class.yaml": CLASS + "needs: [{table: 1, avoid: [milk]}]\nbudget: 2\n",
}


def fits(folder: Path, number: int | None = None) -> dict[str, Fit]:
    examined = examine(folder)
    classroom = examined.read.folder.classroom
    assert classroom is not None
    day = day_for(classroom, number)
    return {each.recipe.key: each for each in fits_of(examined.facts, classroom, day)}


@pytest.fixture(scope="module")
def found(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Fit]:
    return fits(write_class(tmp_path_factory.mktemp("fit"), FILES))


class TestFit:
    """Each recipe of a small folder, as one more day of its class."""

    def test_what_fits_comes_first(self, found: dict[str, Fit]) -> None:
        """The tiny class's own dish has nothing against it, and 18 minutes by its notes."""
        assert next(iter(found)) == "rice"
        assert found["rice"].fits and found["rice"].minutes == 18 and not found["rice"].only_if

    @pytest.mark.parametrize(
        ("name", "code"),
        [
            ("slow-rice", "does-not-fit"),
            ("milk-rice", "need-not-met"),
            ("baked-rice", "unknown-equipment"),
        ],
    )
    def test_why_not_and_what_would_do(self, found: dict[str, Fit], name: str, code: str) -> None:
        """Too long, with milk for who avoids it, in an oven that isn't there."""
        against = {each.code: each for each in found[name].against}
        assert not found[name].fits and code in against and against[code].hint

    def test_another_day_has_another_kitchen(self, tmp_path: Path) -> None:
        """A session of its own length and tables is what counts where it is named."""
        long = "  - {dishes: [rice], minutes: 100}\n"
        files = {**FILES, "class.yaml": FILES["class.yaml"].replace("needs:", f"{long}needs:")}
        folder = write_class(tmp_path, files)
        assert not fits(folder)["slow-rice"].fits
        assert fits(folder, 2)["slow-rice"].fits

    def test_a_dish_alone_is_as_it_is_beside_others(self, tmp_path: Path) -> None:
        """Its problems are those that `check` tells of it once it is planned."""
        planned = FILES["class.yaml"].replace("dishes: [rice]", "dishes: [slow-rice]")
        told = {
            each.code
            for each in examine(write_class(tmp_path, {**FILES, "class.yaml": planned})).problems
        }
        assert {each.code for each in fits(tmp_path)["slow-rice"].against} <= told


def test_the_command(tmp_path: Path) -> None:
    """Groups with their counts, within 80 columns; a session that isn't there is refused."""
    write_class(tmp_path, {name: text for name, text in FILES.items() if "milk" not in name})
    result = CliRunner().invoke(main, ["fit", "--folder", str(tmp_path)])
    assert result.exit_code == 0
    assert "\nFITS (1)\n- rice: 18 minutes" in result.output
    assert "\nDOES NOT FIT (2)\n" in result.output
    assert max(map(len, result.output.splitlines())) <= 80
    wrong = CliRunner().invoke(main, ["fit", "--folder", str(tmp_path), "--session", "9"])
    assert wrong.exit_code == 2
