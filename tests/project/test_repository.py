"""What stands around the code: the workflow, the forms for issues, the hooks, the release."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest
import yaml

ROOT = Path(__file__).resolve().parents[2]
GITHUB = ROOT / ".github"
FORMS = sorted(GITHUB.glob("ISSUE_TEMPLATE/[0-9]-*.yml"))


def loaded(path: Path) -> Any:
    return yaml.safe_load(path.read_text("utf-8"))


def commands(job: Any) -> list[str]:
    """Each line that a job runs."""
    return [line.strip() for step in job["steps"] for line in step.get("run", "").split("\n")]


class TestWorkflow:
    JOBS = loaded(GITHUB / "workflows" / "checks.yml")["jobs"]

    def test_linux_runs_everything(self) -> None:
        """By the same script as on a desk."""
        job = self.JOBS["everything"]
        assert job["runs-on"].startswith("ubuntu")
        assert "bash .ci/run" in commands(job) and (ROOT / ".ci" / "run").exists()

    def test_other_systems_run_the_quick_loop(self) -> None:
        job = self.JOBS["quick"]
        systems = {each.partition("-")[0] for each in job["strategy"]["matrix"]["os"]}
        assert systems == {"macos", "windows"}
        assert 'python -m pytest -m "not slow"' in commands(job)

    def test_it_may_only_read(self) -> None:
        """Nothing is published or written by it."""
        workflow = loaded(GITHUB / "workflows" / "checks.yml")
        assert workflow["permissions"] == {"contents": "read"}
        assert "secrets" not in (GITHUB / "workflows" / "checks.yml").read_text("utf-8")


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.stem)
def test_a_form_has_what_its_site_asks_for(form: Path) -> None:
    """A name, a description, and fields with a label and an id each of its own; and it says that
    no child's name belongs there before anything can be typed."""
    read = loaded(form)
    assert read["name"] and read["description"]
    first, *fields = read["body"]
    assert first["type"] == "markdown"
    assert "Never put a child's name here" in first["attributes"]["value"]
    assert {each["type"] for each in fields} <= {"input", "textarea"}
    names = [each["id"] for each in fields]
    assert len(set(names)) == len(names) and all(each["attributes"]["label"] for each in fields)
    assert any(each.get("validations", {}).get("required") for each in fields)


def test_there_is_a_form_for_each_need() -> None:
    """A wrong sheet, a refused recipe, something missing."""
    assert len(FORMS) == 3


def test_hooks_run_what_must_hold_before_a_change_lands() -> None:
    """The same checks as `.ci/run`, from the environment that is active."""
    (local,) = loaded(ROOT / ".pre-commit-config.yaml")["repos"]
    assert local["repo"] == "local"
    assert {each["language"] for each in local["hooks"]} == {"system"}
    hooked = {each["entry"].split(" --")[0] for each in local["hooks"]}
    run = (ROOT / ".ci" / "run").read_text("utf-8")
    assert hooked == {"ruff check", "ruff format", "mypy"}
    assert all(f".venv/bin/{each}" in run for each in hooked)


def test_files_are_as_the_editor_is_told() -> None:
    """Lines of Python are as long as the lint lets them be."""
    told = (ROOT / ".editorconfig").read_text("utf-8")
    (length,) = re.findall(r"^max_line_length = (\d+)$", told, re.MULTILINE)
    assert f"line-length = {length}\n" in (ROOT / "pyproject.toml").read_text("utf-8")


def git(folder: Path, *arguments: str) -> None:
    subprocess.run(
        ["git", "-c", "user.name=T", "-c", "user.email=t@example.org", *arguments],
        cwd=folder,
        check=True,
        capture_output=True,
    )


class TestRelease:
    """`.ci/release` begins only with what is ready; here it is stopped at the tests."""

    @pytest.fixture
    def project(self, tmp_path: Path) -> Path:
        """A tree with the script, a version and its heading, whose tests fail."""
        (tmp_path / ".ci").mkdir()
        shutil.copy(ROOT / ".ci" / "release", tmp_path / ".ci")
        (tmp_path / ".ci" / "run").write_text('echo "in full: $SPOONFOLD_IN_FULL"\nexit 7\n')
        package = tmp_path / "src" / "spoonfold"
        (package / "author").mkdir(parents=True)
        (package / "__init__.py").write_text('__version__ = "1.2.0"\n')
        (package / "author" / "changes.md").write_text("# Changes\n\n## Version 1.2.0\n")
        git(tmp_path, "init", "-q")
        git(tmp_path, "add", ".")
        git(tmp_path, "commit", "-qm", "All")
        return tmp_path

    def run(self, project: Path) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            ["bash", ".ci/release"],
            cwd=project,
            capture_output=True,
            text=True,
            check=False,
            env={**os.environ, "SPOONFOLD_IN_FULL": ""},
        )

    def test_everything_runs_in_full_first(self, project: Path) -> None:
        """And where it doesn't hold, nothing is built and no tag is named."""
        done = self.run(project)
        assert (done.returncode, done.stdout) == (7, "in full: 1\n")
        assert not (project / "dist").exists()

    @pytest.mark.parametrize(
        ("path", "text", "told"),
        [
            ("src/spoonfold/__init__.py", '__version__ = "1.2.0.dev0"\n', "such as 1.2.0"),
            ("src/spoonfold/__init__.py", '__version__ = "1.3.0"\n', "## Version 1.3.0"),
            (
                "src/spoonfold/author/changes.md",
                "## Version 1.2.0, not finished yet\n",
                "it should be “## Version 1.2.0”",
            ),
        ],
        ids=["in the works", "nothing told of it", "heading not ready"],
    )
    def test_what_is_not_ready_is_refused(
        self, project: Path, path: str, text: str, told: str
    ) -> None:
        """Before anything runs."""
        (project / path).write_text(text)
        git(project, "commit", "-qam", "Change")
        done = self.run(project)
        assert (done.returncode, done.stdout) == (1, "")
        assert done.stderr.startswith("No release: ") and told in done.stderr

    def test_a_tree_with_changes_is_refused(self, project: Path) -> None:
        """What is built would be in no commit."""
        (project / "more.txt").write_text("more\n")
        assert "commit or put away" in self.run(project).stderr

    def test_a_tag_is_set_once(self, project: Path) -> None:
        git(project, "tag", "v1.2.0")
        assert "there is a tag v1.2.0 already" in self.run(project).stderr
