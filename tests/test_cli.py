"""The commands: what they print, and their exit codes."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from spoonfold.cli import DONE, NOT_HERE, PROBLEMS, STOPPED, WRONG_USE, main
from spoonfold.sheets import NAMES
from tiny_class import CLASS, RICE, write_class


def run(*arguments: str | Path) -> Result:
    result = CliRunner().invoke(main, [str(each) for each in arguments])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


class TestCheck:
    def test_a_right_class_has_no_problems(self, tmp_path: Path) -> None:
        result = run("check", "--folder", write_class(tmp_path))
        assert (result.exit_code, result.output) == (DONE, "Read 1 recipe: no problems.\n")

    def test_a_mistake_is_shown_where_it_is(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """The whole text: file, level, line, code, message, caret, what to write instead."""
        bent = RICE.replace("  - 2 cups water", "  - 2 c water")
        write_class(tmp_path, {"recipes/rice.md": bent})
        monkeypatch.chdir(tmp_path)
        result = run("check")
        assert result.exit_code == PROBLEMS
        assert result.output == (
            "content/recipes/rice.md:8:7: error: bare-unit-letter\n"
            "  c could be cups or cans. Write it out.\n"
            "  8 |   - 2 c water\n"
            "    |       ^\n"
            "  write: 2 cups water or 2 cans water\n"
            "\n"
            "Why it matters: spoonfold why bare-unit-letter\n"
            "\n"
            "Read 1 recipe: 1 error.\n"
        )

    def test_anywhere_inside_a_class(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        """The class folder is found from each of its folders, and paths are said from there."""
        folder = write_class(tmp_path, {"recipes/rice.md": RICE.replace("2 cups", "2 c")})
        monkeypatch.chdir(folder / "content" / "recipes")
        assert "../../content/recipes/rice.md:8:7: error:" in run("check").output
        (tmp_path / "other").mkdir()
        monkeypatch.chdir(tmp_path / "other")
        assert run("check").exit_code == PROBLEMS
        (folder / "content" / "class.yaml").unlink()
        assert run("check").exit_code == WRONG_USE

    def test_json_gives_the_same_values(self, tmp_path: Path) -> None:
        bent = RICE.replace("serves: 4\n", "")
        folder = write_class(tmp_path, {"recipes/rice.md": bent})
        (problem,) = json.loads(run("check", "--folder", folder, "--json").output)
        keys = {"code", "level", "path", "line", "column", "message", "hint", "edits", "move"}
        assert problem.keys() == keys
        assert (problem["code"], problem["level"], problem["path"], problem["line"]) == (
            "missing-key",
            "error",
            "content/recipes/rice.md",
            1,
        )

    def test_no_class_folder_is_wrong_use(self, tmp_path: Path) -> None:
        result = run("check", "--folder", tmp_path)
        assert result.exit_code == WRONG_USE
        assert "There is no folder content/" in result.output


class TestScale:
    def test_the_table(self, tmp_path: Path) -> None:
        result = run("scale", "rice", "--serves", "15", "--folder", write_class(tmp_path))
        assert result.exit_code == DONE
        assert result.output == (
            "Plain rice: for 15 instead of 4, which is × 3¾\n"
            "\n"
            "ingredient  recipe     exactly  measure\n"
            "---------------------------------------\n"
            "rice        1 cup      3¾ cups  3¾ cups\n"
            "water       2 cups     7½ cups  7½ cups\n"
            "salt        as needed\n"
        )

    @pytest.mark.parametrize("serves", ["0", "-1", "1/0", "many", "1e999", "9" * 400])
    def test_a_strange_number_is_wrong_use(self, tmp_path: Path, serves: str) -> None:
        result = run("scale", "rice", "--serves", serves, "--folder", write_class(tmp_path))
        assert result.exit_code == WRONG_USE
        assert "For example: --serves 15" in result.output

    def test_an_unknown_recipe_names_the_nearest(self, tmp_path: Path) -> None:
        result = run("scale", "rise", "--serves", "4", "--folder", write_class(tmp_path))
        assert result.exit_code == WRONG_USE
        assert "Did you mean rice?" in result.output

    def test_no_line_is_wider_than_the_terminal(self) -> None:
        """Eighty columns hold the longest recipe of the demo."""
        root = Path(__file__).resolve().parents[1]
        for recipe in sorted((root / "content" / "recipes").glob("*.md")):
            if recipe.name.count(".") == 1:
                result = run("scale", recipe.stem, "--serves", "15", "--folder", root)
                assert max(map(len, result.output.splitlines())) <= 80


class TestBuild:
    def test_a_part_that_there_is_not(self, tmp_path: Path) -> None:
        """The nearest is suggested, and what there is fits a terminal."""
        result = run("build", "--only", "site", "--only", "boklet", "--folder", tmp_path)
        assert (result.exit_code, result.output) == (
            WRONG_USE,
            (
                "There is no part boklet.\n"
                "Did you mean booklet?\n"
                "The parts are site, booklet, large-print, card, mini-book, notice, brief,\n"
                "shopping, prep, lesson-card, jobs, table-cards, story-card, word-cards,\n"
                "worksheet, packet, home-labels, safety, season, colours, changed, print-pack.\n"
            ),
        )

    def test_a_part_like_none(self, monkeypatch: pytest.MonkeyPatch) -> None:
        """Nothing is suggested that isn't near; a narrow terminal isn't overrun, and the parts
        that are named are those that a build makes."""
        monkeypatch.setattr("spoonfold.cli.wrapped.width", lambda: 40)
        first, *there = run("build", "--only", "zzzz").output.splitlines()
        assert first == "There is no part zzzz."
        assert max(map(len, there)) <= 40
        named = " ".join(there).removeprefix("The parts are ").removesuffix(".").split(", ")
        assert sorted(named) == sorted(NAMES)

    def test_an_error_keeps_what_was_made(self, tmp_path: Path) -> None:
        folder = write_class(tmp_path)
        assert run("build", "--only", "site", "--folder", folder).exit_code == DONE
        before = (folder / "build" / "site" / "index.html").read_bytes()
        write_class(tmp_path, {"recipes/rice.md": RICE.replace("serves: 4", "serves: 0")})
        result = run("build", "--only", "site", "--folder", folder)
        assert result.exit_code == PROBLEMS
        assert "Nothing was made: 1 error." in result.output
        assert (folder / "build" / "site" / "index.html").read_bytes() == before

    def test_a_folder_that_is_not_ours_is_never_replaced(self, tmp_path: Path) -> None:
        folder = write_class(tmp_path / "class")
        hers = tmp_path / "hers"
        hers.mkdir()
        (hers / "letter.txt").write_text("dear", encoding="utf-8")
        result = run("build", "--only", "site", "--folder", folder, "--out", hers)
        assert result.exit_code == WRONG_USE
        assert (hers / "letter.txt").read_text(encoding="utf-8") == "dear"

    def test_without_pango_the_rest_is_made(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """The site is swapped in, the command says what is missing and how to mend it."""
        import builtins

        real = builtins.__import__

        def without_pango(name: str, *rest: Any, **named: Any) -> object:
            if name.split(".")[0] == "weasyprint":
                raise OSError("cannot load library 'libpango-1.0-0'")
            return real(name, *rest, **named)

        monkeypatch.setattr(builtins, "__import__", without_pango)
        folder = write_class(tmp_path)
        result = run("build", "--folder", folder)
        assert result.exit_code == NOT_HERE
        assert "PDF needs the system library Pango" in result.output
        assert "apt install libpango-1.0-0" in result.output
        assert (folder / "build" / "site" / "index.html").is_file()
        assert not list((folder / "build").rglob("*.pdf"))
        assert ".pdf" not in (folder / "build" / "site" / "index.html").read_text("utf-8")


class TestHelp:
    @pytest.mark.parametrize("command", ["check", "build", "scale"])
    def test_each_command_has_examples_and_exit_codes(self, command: str) -> None:
        output = run(command, "--help").output
        assert f"  spoonfold {command}" in output and "Exit codes:" in output

    def test_every_command_is_in_the_readme(self) -> None:
        readme = (Path(__file__).resolve().parents[1] / "README.md").read_text(encoding="utf-8")
        for name in main.commands:
            assert f"`spoonfold {name}" in readme

    def test_help_imports_nothing_heavy(self) -> None:
        """`--help` costs click alone; `check` never loads what makes PDFs or pages."""
        heavy = ("yaml", "markdown_it", "pint", "jinja2", "babel", "weasyprint", "PIL", "fontTools")
        code = (
            "import sys\nfrom spoonfold.cli import main\n"
            "try:\n    main(['--help'])\nexcept SystemExit:\n    pass\n"
            f"print([name for name in {heavy} if name in sys.modules])"
        )
        output = subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True
        ).stdout
        assert output.splitlines()[-1] == "[]"

    def test_check_does_not_load_the_printer(self, tmp_path: Path) -> None:
        folder = write_class(tmp_path)
        code = (
            "import sys\nfrom spoonfold.cli import main\n"
            f"try:\n    main(['check', '--folder', {str(folder)!r}])\n"
            "except SystemExit:\n    pass\n"
            "print([name for name in ('weasyprint', 'jinja2', 'PIL') if name in sys.modules])"
        )
        output = subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True
        ).stdout
        assert output.splitlines()[-1] == "[]"


def test_nothing_but_text_when_piped(tmp_path: Path) -> None:
    """No colours and no progress where the output isn't a terminal."""
    folder = write_class(tmp_path, {"recipes/rice.md": RICE.replace("PE", "Peru")})
    done = subprocess.run(
        [sys.executable, "-m", "spoonfold", "check", "--folder", str(folder)],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONUTF8": "1"},
    )
    assert done.returncode == PROBLEMS
    assert "\x1b" not in done.stdout + done.stderr and done.stderr == ""


def test_ctrl_c_ends_at_once(tmp_path: Path) -> None:
    """Also while sheets are printed by several processes: no traceback, exit code 130, and what
    was made before still there."""
    folder = write_class(tmp_path)
    (folder / "build").mkdir()
    (folder / "build" / ".gitkeep").touch()
    running = subprocess.Popen(
        [sys.executable, "-m", "spoonfold", "build", "--workers", "2"],
        cwd=folder,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        start_new_session=True,
        text=True,
    )
    # Sheets are being printed once the stage is there.
    while running.poll() is None and not any(folder.glob(".build-staging*")):
        time.sleep(0.02)
    os.killpg(running.pid, signal.SIGINT)
    said, told = running.communicate(timeout=60)
    # Where it is stopped in code that was made from a text, Python ends by the signal itself, which
    # shells count the same.
    assert running.returncode in (STOPPED, -signal.SIGINT)
    assert (said, told) == ("", "\nStopped. What was there before is still there.\n")
    assert sorted(each.name for each in folder.iterdir()) == ["build", "content"]


def test_one_session_alone(tmp_path: Path) -> None:
    """Its sheets are made and nothing else; what there isn't is refused."""
    two = CLASS.replace("  - {dishes: [rice]}", "  - {dishes: [rice]}\n  - {dishes: [rice]}")
    folder = write_class(tmp_path, {"class.yaml": two})
    result = run("build", "--folder", folder, "--session", "3")
    assert (result.exit_code, result.output) == (
        WRONG_USE,
        "There is no session 3.\nThe sessions are 1 to 2.\n",
    )
    result = run("build", "--folder", folder, "--session", "2", "--only", "jobs", "--only", "card")
    if result.exit_code == NOT_HERE:
        pytest.skip(result.output)
    assert result.exit_code == DONE
    made = [each for each in (folder / "build").rglob("*") if each.suffix == ".pdf"]
    assert [each.relative_to(folder / "build").as_posix() for each in made] == [
        "class/session-02/jobs-en.pdf"
    ]
