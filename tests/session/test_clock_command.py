"""`spoonfold clock`: a session in time, in eighty columns."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from session_sheets import ROOT

from spoonfold.cli import DONE, PROBLEMS, WRONG_USE, main
from tiny_class import CLASS, RICE, write_class


def run(*arguments: str | Path) -> Result:
    result = CliRunner().invoke(main, ["clock", *(str(each) for each in arguments)])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


def test_the_whole_of_a_small_session(tmp_path: Path) -> None:
    """Whether it fits, what helps, the day, each table's steps."""
    folder = write_class(tmp_path, {"class.yaml": CLASS.replace("helpers: 1", "helpers: 0")})
    result = run("1", "--folder", folder)
    assert (result.exit_code, result.output) == (
        DONE,
        """\
Session 1, Saturday, September 18, 2027: Plain rice
4 children at tables of 4; 0 helpers and the lead cook.

Fits, with 17 minutes to spare: cooking takes 18 of 35 minutes.
- One more of any one thing saves nothing worth it.

10 MINUTES LATE?
Nothing can be left out: every step is needed.
No step that is hurried saves a minute: all 10 come off the talk and the meal.

THE DAY, TO FIVE MINUTES
10:00  Arrive, wash hands
10:05  Talk
10:10  Cook
10:10  Step 1: Boil the rice in the water with salt           all begun by 10:20
10:45  Eat together
10:55  Clean up, count the tools
11:00  End

TABLE 1, 4 children
10:10–10:13  1    Boil the rice in the water with    adult, burner, pot
                  salt; waits until 10:28

FREE HANDS
- Table 1, all 4: 10:10 to 10:28 (18 min)
""",
    )


@pytest.mark.parametrize("session", range(1, 9))
def test_it_fits_a_terminal(session: int) -> None:
    """No line of the demo's clocks is longer than eighty columns."""
    result = run(session, "--folder", ROOT)
    assert result.exit_code == DONE
    assert max(map(len, result.output.splitlines())) <= 80
    assert "Fits" in result.output


def test_what_does_not_fit_says_so(tmp_path: Path) -> None:
    """By how much, and the way out; it is no error."""
    text = CLASS.replace("tables: [4]", "tables: [4, 4, 4]").replace("pot: 1", "pot: 3")
    folder = write_class(tmp_path, {"class.yaml": text.replace("helpers: 1", "helpers: 3")})
    result = run("1", "--folder", folder)
    assert result.exit_code == DONE
    assert "Does not fit: 19 minutes too long: cooking takes 54 of 35 minutes." in result.output
    assert "- One more burner saves 18 minutes." in result.output


def test_a_late_change(tmp_path: Path) -> None:
    """With half the children there is less to cut; the class file stays as it is."""
    cutting = RICE.replace("salt, to taste", "salt, to taste\n  - 8 medium carrots").replace(
        "1. Boil the rice",
        "1. Cut the carrots.\n    - time: 4 min\n    - skills: dice\n"
        "    - needs: knife, board\n    - watch: sharp edge\n2. Boil the rice",
    )
    cutting = cutting.replace("    - wait: 15 min\n", "    - wait: 15 min\n    - after: 1\n")
    skills = "dice:\n  how: cut it into cubes\n  by the piece: yes\n"
    folder = write_class(tmp_path, {"recipes/rice.md": cutting, "skills.yaml": skills})
    usual, fewer = (run("1", *more, "--folder", folder) for more in ((), ("--children", "2")))
    assert usual.exit_code == fewer.exit_code == DONE
    assert "4 children at tables of 4" in usual.output
    assert "2 children at tables of 2" in fewer.output
    spare = [int(result.output.partition("Fits, with ")[2].split()[0]) for result in (usual, fewer)]
    assert spare[1] > spare[0]


def test_an_unknown_session_is_wrong_use(tmp_path: Path) -> None:
    """The sessions that there are are named."""
    result = run("9", "--folder", write_class(tmp_path))
    assert (result.exit_code, result.output) == (
        WRONG_USE,
        "There is no session 9.\nThe sessions are 1 to 1.\n",
    )


def test_errors_in_the_content_come_first(tmp_path: Path) -> None:
    """A clock of half a recipe would be shorter than the class."""
    broken = RICE.replace("2 cups water", "2 c water")
    result = run("1", "--folder", write_class(tmp_path, {"recipes/rice.md": broken}))
    assert result.exit_code == PROBLEMS
    assert "bare-unit-letter" in result.output and "No clock was made." in result.output


def test_help_has_examples_and_exit_codes() -> None:
    """Whoever asks sees what to type and what the codes mean."""
    result = run("--help")
    assert "spoonfold clock 6 --children 9" in result.output
    assert "Exit codes:" in result.output
