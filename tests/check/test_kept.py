"""What is kept of recipes changes nothing that is said, whatever lies in its place."""

from __future__ import annotations

import json
import os
import re
import shutil
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from spoonfold.check import RULES, Examined, Facts, Rule, examine, facts_of
from spoonfold.check.kept import read_kept
from spoonfold.model.classroom import Classroom
from spoonfold.plan.safety.flow import Flow
from spoonfold.read.files import Source
from spoonfold.read.folder import read_folder
from spoonfold.read.recipe import read_recipe
from tiny_class import CLASS, RICE, write_class

ROOT = Path(__file__).resolve().parents[2]
_NOTE = re.compile(r"^    - [a-z ]+: .*\n", re.MULTILINE)

CHICKEN = RICE.replace("Plain rice", "Chicken rice").replace(
    "  - salt, to taste\n", "  - salt, to taste\n  - 1 pound chicken thighs\n"
)
ROSY = CHICKEN.replace(
    "with salt.\n", "with salt.\n2. Cut the chicken thighs and fry them until rosy.\n"
)


def said(examined: Examined) -> object:
    """All that is told and made of a class."""
    read = examined.read.folder
    return (
        examined.problems,
        [each.edits for each in examined.problems],
        examined.accepted,
        read.recipes,
        read.translations,
        [(each.session, each.clock) for each in examined.facts.clocks],
        {name: flow.raw for name, flow in examined.facts.flows.items()},
    )


def stores(cache: Path) -> list[Path]:
    return sorted(cache.rglob("*"))


@pytest.fixture
def understood(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The recipes that were understood anew, in order."""
    import spoonfold.check.rule as module

    names: list[str] = []
    real = module.understood

    def noted(flow: Flow, classroom: Classroom | None) -> Flow:
        names.append(flow.recipe.key)
        return real(flow, classroom)

    monkeypatch.setattr(module, "understood", noted)
    return names


class TestChanges:
    """Each state of a class is said as if nothing were kept of the ones before."""

    def test_of_recipe_class_pantry_and_errors(self, tmp_path: Path) -> None:
        folder, cache = tmp_path / "class", tmp_path / "cache"
        avoids = CLASS.replace("sessions:", "needs:\n  - {table: 1, avoid: [milk]}\nsessions:")
        milky = (
            "rice:\n  section: grains\n  allergens: [milk]\n  raw: poultry\n"
            "chicken thighs:\n  section: meat\n  allergens: []\n"
        )
        states: list[dict[str, str | bytes | None]] = [
            {},
            {"recipes/chicken.md": CHICKEN},
            {"recipes/chicken.md": ROSY},
            {"class.yaml": avoids},
            {"class.yaml": avoids, "pantry.yaml": milky},
            {"pantry.yaml": milky},
            {"pantry.yaml": "rice: ["},
            {"pantry.yaml": b"\xff\xfe"},
            {"class.yaml": CLASS + "who: knows\n"},
            {"class.yaml": CLASS.replace("pot: 1, ", "")},
            {"class.yaml": CLASS.replace("[en]", "[es]")},
            {"class.yaml": None},
            {"recipes/rice.md": RICE.replace("serves: 4\n", "")},
            {"recipes/rice.md": RICE.replace("title: ", "accept: [{warning: no-time}]\ntitle: ")},
            {},
        ]
        told = set()
        for changes in states:
            shutil.rmtree(folder, ignore_errors=True)
            write_class(folder, {"recipes/chicken.md": ROSY, **changes})
            fresh = said(examine(folder))
            told.add(str(examine(folder).problems))
            assert said(examine(folder, cache=cache)) == fresh
            assert said(examine(folder, cache=cache)) == fresh
        assert len(told) > len(states) // 2

    @pytest.mark.parametrize("notes", [True, False], ids=["as written", "in plain words"])
    def test_of_the_demo(self, tmp_path: Path, understood: list[str], notes: bool) -> None:
        folder, cache = tmp_path / "class", tmp_path / "cache"
        shutil.copytree(ROOT / "content", folder / "content")
        for path in () if notes else (folder / "content/recipes").glob("*.md"):
            path.write_text(_NOTE.sub("", path.read_text("utf-8")), encoding="utf-8")
        fresh = said(examine(folder))
        assert said(examine(folder, cache=cache)) == fresh
        understood.clear()
        assert said(examine(folder, cache=cache)) == fresh
        assert understood == []

    def test_understands_again_what_was_changed_alone(
        self, tmp_path: Path, understood: list[str]
    ) -> None:
        folder = write_class(tmp_path / "class", {"recipes/chicken.md": CHICKEN})
        examine(folder, cache=tmp_path)
        understood.clear()
        write_class(folder, {"recipes/chicken.md": ROSY})
        examine(folder, cache=tmp_path)
        assert understood == ["chicken"]
        write_class(folder, {"class.yaml": CLASS.replace("ages: 9-12", "ages: 6-8")})
        examine(folder, cache=tmp_path)
        assert understood == ["chicken", "chicken", "rice"]

    def test_ways_to_mend(self, tmp_path: Path) -> None:
        """Also of what is found by the words alone, such as a link that is misspelt."""
        linked = ROSY.replace("the chicken thighs", "[the chicken](#chickn-thighs)")
        folder = write_class(tmp_path / "class", {"recipes/chicken.md": linked})
        fresh = said(examine(folder))
        assert any(each.edits for each in examine(folder).problems)
        examine(folder, cache=tmp_path / "cache")
        assert said(examine(folder, cache=tmp_path / "cache")) == fresh

    def test_reads_no_words_again_where_nothing_was_changed(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """Nor does a rule that looks at all recipes ask for what was read in their words: in a
        class of many that would take the longest."""
        import spoonfold.plan.safety.flow as module

        read: list[object] = []
        real = module.read_steps
        monkeypatch.setattr(module, "read_steps", lambda *of: read.append(of) or real(*of))
        without = CLASS.partition("sessions:")[0]
        home = ROSY.replace("until rosy.\n", "until rosy.\n    - home: Fry them in your pan.\n")
        folder = write_class(
            tmp_path / "class", {"class.yaml": without, "recipes/chicken.md": home}
        )
        first = examine(folder, cache=tmp_path / "cache")
        assert len(read) >= 3
        read.clear()
        assert examine(folder, cache=tmp_path / "cache").problems == first.problems
        assert read == []

    def test_forgets_what_is_gone(self, tmp_path: Path) -> None:
        folder, cache = write_class(tmp_path / "class"), tmp_path / "cache"
        examine(folder, cache=cache)
        before = stores(cache)[0].read_bytes()
        write_class(folder, {"recipes/chicken.md": CHICKEN})
        examine(folder, cache=cache)
        (folder / "content/recipes/chicken.md").unlink()
        examine(folder, cache=cache)
        assert [path.read_bytes() for path in stores(cache)] == [before]


def _bent(text: str) -> str:
    """The store without what it says of a danger, its head as it was."""
    head, body = text.split("\n")
    rows = json.loads(body)
    return f"{head}\n" + json.dumps({key: [notes, []] for key, (notes, _) in rows.items()})


class TestWhatLiesThere:
    """A store that isn't as it was written is as if it weren't there, and is written anew."""

    @pytest.mark.parametrize(
        "spoil",
        [
            lambda text: "",
            lambda text: text[: len(text) // 2],
            lambda text: text[:-1],
            lambda text: text.replace("rosy", "done"),
            lambda text: text.replace("error", "hint"),
            _bent,
            lambda text: "0" * 64 + "\n" + text.partition("\n")[2],
            lambda text: text.partition("\n")[2],
            lambda text: text + "{}",
            lambda text: "ü" + text,
            lambda text: "[" * 100_000,
        ],
    )
    def test_damaged(self, tmp_path: Path, spoil: Callable[[str], str]) -> None:
        folder = write_class(tmp_path / "class", {"recipes/chicken.md": ROSY})
        cache = tmp_path / "cache"
        fresh = said(examine(folder, cache=cache))
        [store] = stores(cache)
        whole = store.read_text("ascii")
        assert "rosy" in whole
        store.write_text(spoil(whole), encoding="utf-8")
        assert said(examine(folder, cache=cache)) == fresh
        assert stores(cache) == [store] and store.read_text("ascii") == whole

    @pytest.mark.skipif(not hasattr(os, "geteuid"), reason="no such permissions here")
    def test_open_to_others(self, tmp_path: Path, understood: list[str]) -> None:
        folder, cache = write_class(tmp_path / "class"), tmp_path / "cache"
        examine(folder, cache=cache)
        [store] = stores(cache)
        assert store.stat().st_mode & 0o777 == 0o600
        assert store.parent.stat().st_mode & 0o777 == 0o700
        store.chmod(0o666)
        understood.clear()
        examine(folder, cache=cache)
        assert understood == ["rice"]

    def test_of_another_program(
        self, tmp_path: Path, understood: list[str], monkeypatch: pytest.MonkeyPatch
    ) -> None:
        import spoonfold.check.kept as module

        folder = write_class(tmp_path / "class")
        examine(folder, cache=tmp_path)
        monkeypatch.setattr(module, "program_digest", lambda: "another")
        examine(folder, cache=tmp_path)
        assert understood == ["rice", "rice"]

    def test_of_another_folder(self, tmp_path: Path) -> None:
        """Two classes don't take each other's place."""
        first = write_class(tmp_path / "first", {"recipes/rice.md": ROSY})
        second = write_class(tmp_path / "second")
        cache = tmp_path / "cache"
        for folder in (first, second, first):
            assert said(examine(folder, cache=cache)) == said(examine(folder))
        assert len(stores(cache)) == 2

    def test_a_folder_in_its_place(self, tmp_path: Path) -> None:
        folder, cache = write_class(tmp_path / "class"), tmp_path / "cache"
        examine(folder, cache=cache)
        [store] = stores(cache)
        store.unlink()
        store.mkdir()
        assert said(examine(folder, cache=cache)) == said(examine(folder))
        assert stores(cache) == [store]

    def test_nowhere_to_write(self, tmp_path: Path) -> None:
        folder, cache = write_class(tmp_path / "class"), tmp_path / "cache"
        cache.write_text("a file", encoding="utf-8")
        assert said(examine(folder, cache=cache)) == said(examine(folder))
        assert cache.read_text("utf-8") == "a file"

    def test_two_at_once(self, tmp_path: Path) -> None:
        """Whoever ends last leaves a whole store."""
        folder, cache = write_class(tmp_path / "class"), tmp_path / "cache"
        examine(folder, cache=cache)
        row = next(iter(read_kept(cache, folder).before.values()))
        first, second = read_kept(cache, folder), read_kept(cache, folder)
        first.rows, second.rows = {"first": row}, {"second": row}
        second.write()
        first.write()
        assert read_kept(cache, folder).before.keys() == {"first"}
        assert len(stores(cache)) == 1

    def test_nothing_lies_in_the_class_folder(self, tmp_path: Path) -> None:
        folder = write_class(tmp_path / "class")
        before = sorted(folder.rglob("*"))
        examine(folder, cache=tmp_path / "cache")
        assert sorted(folder.rglob("*")) == before

    def test_no_child_is_in_it(self, tmp_path: Path) -> None:
        folder, cache = tmp_path / "class", tmp_path / "cache"
        rosy = ROSY.replace("rosy", "rosy for Quillon")
        write_class(folder, {"private/children.yaml": "[Quillon]\n", "recipes/chicken.md": rosy})
        found = examine(folder, cache=cache).problems
        assert "name-said" in {each.code for each in found}
        assert "quillon" not in stores(cache)[0].read_text("ascii").casefold()


@cache
def plain() -> Facts:
    """The facts of the demo with no note under any step, in which many rules find something."""
    read = read_folder(ROOT)
    recipes = {}
    for key, recipe in read.folder.recipes.items():
        source = read.sources[recipe.place.path]
        found = read_recipe(Source(source.path, _NOTE.sub("", source.text)), key, [])
        assert found is not None
        recipes[key] = found
    return facts_of(replace(read.folder, recipes=recipes))


@pytest.mark.parametrize(
    "rule", [rule for rule in RULES if rule.of_one], ids=[r.code for r in RULES if r.of_one]
)
def test_a_rule_of_one_recipe_finds_the_same_among_others(rule: Rule) -> None:
    facts = plain()
    apart = Counter(
        problem for name in facts.folder.recipes for problem in rule.run(facts.alone(name))
    )
    assert apart == Counter(rule.run(facts))
