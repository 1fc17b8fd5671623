"""The one list of tools: what it knows, in English and Spanish, and what it never loses."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spoonfold.check import examine
from spoonfold.knowledge.cautions import CAUTIONS
from spoonfold.knowledge.equipment import (
    Kind,
    Washed,
    all_tools,
    described,
    nearest_tools,
    tool_named,
    wash_words,
)
from spoonfold.problem import Level
from tiny_class import CLASS, RICE, write_class

SOURCE = Path(__file__).resolve().parents[2] / "src" / "spoonfold"
_LINES = (Path(__file__).parent / "tools.tsv").read_text("utf-8").splitlines()
TABLE = list(csv.DictReader((line for line in _LINES if not line.startswith("#")), delimiter="\t"))
EVERY_NAME = [
    (name, tool.name)
    for tool in all_tools()
    for name in (tool.name, *(each for names in tool.names.values() for each in names))
]


def _names(row: dict[str, str]) -> Iterator[str]:
    yield from re.split(r"; ", row["english"])
    yield from re.split(r"; |/", row["spanish"])


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row["english"])
def test_the_table_of_tools(row: dict[str, str]) -> None:
    """Every name of the table is known, in both languages, with the dangers of its row."""
    kinds = {"H": Kind.HOT, "E": Kind.CORD, "V": Kind.VESSEL, "C": Kind.COLD_PLACE}
    for name in _names(row):
        known = tool_named(name)
        assert known is not None, name
        for letter in set(row["kinds"].split()) & kinds.keys():
            assert kinds[letter] in known.kinds, (name, letter)
        dangers = row["cautions"].split()
        if "c" in dangers and "B" in row["kinds"]:
            assert known.cautions, name
            assert CAUTIONS[known.cautions[0]].icon == "knife", name
        if "m" in dangers:
            assert "blender blade" in known.cautions, name
            assert Kind.MOVING_BLADE in known.kinds, name


def test_every_name_leads_to_its_own_thing() -> None:
    """No name stands in two rows, so that none is lost behind another."""
    for name, owner in EVERY_NAME:
        known = tool_named(name)
        assert known is not None
        assert known.name == owner, name


def test_cautions_and_wash_words_are_known() -> None:
    """The lists speak of each other by names that are there."""
    for tool in all_tools():
        assert set(tool.cautions) <= CAUTIONS.keys(), tool.name
        assert tool.source, tool.name
        assert tool.raw, tool.name
    assert set(wash_words()) == {
        *("board", "knife", "bowl", "table", "grater", "peeler", "thermometer")
    }


@given(
    st.sampled_from(EVERY_NAME),
    st.sampled_from(("", "big red ", "the class's ", "second ", "12-inch ", "Aunt Ada's ")),
    st.sampled_from(("", " 2", " (5 qt)", " A")),
)
def test_words_around_a_name_take_nothing_away(
    named: tuple[str, str], before: str, behind: str
) -> None:
    """Of a thing that is described more closely, all that is known of it stays."""
    known = tool_named(named[0])
    closer = tool_named(f"{before}{named[0]}{behind}")
    spanish = any(named[0] in tool.names.get("es", ()) for tool in all_tools())
    if known is not None and not known.whole and not (spanish and before):
        assert closer is not None
        assert known.cautions == closer.cautions[: len(known.cautions)] or (
            set(known.cautions) <= set(closer.cautions)
        )
        assert known.dangers - {"pot"} <= closer.dangers


@pytest.mark.parametrize(
    ("name", "kin"),
    [
        ("hotplate", "hot plate"),
        ("gas burner", "burner"),
        ("electric oven", "oven"),
        ("pressure cooker", "slow cooker"),
        ("bread knife", "knife"),
        ("immersion blender", "blender"),
        ("vegetable peeler", "peeler"),
        ("cuchillo", "knife"),
        ("pelador", "peeler"),
        ("Licuadora", "blender"),
        ("abrelatas", "can opener"),
        ("tijeras", "scissors"),
        ("rallador", "grater"),
        ("parrilla eléctrica", "hot plate"),
        ("estufa", "burner"),
        ("horno", "oven"),
        ("comal", "griddle"),
        ("olla a presion", "slow cooker"),
        ("cuchillos grandes", "knife"),
        ("two-quart jug of the blender", "blender"),
    ],
)
def test_it_brings_what_its_kin_brings(name: str, kin: str, tmp_path: Path) -> None:
    """In a real class, by its problems: the cautions and the adult that the kin calls for."""
    found = []
    for number, called in enumerate((name, kin)):
        folder = tmp_path / str(number)
        recipe = RICE.replace("needs: burner, pot", f"needs: {called}")
        recipe = re.sub(r"    - (watch|adult): .*\n", "", recipe)
        listed = f"{{{called}: 4}}"
        write_class(
            folder,
            {
                "class.yaml": re.sub(r"equipment: .*", f"equipment: {listed}", CLASS),
                "recipes/rice.md": recipe,
            },
        )
        examined = examine(folder)
        problems = examined.problems
        assert not {"undescribed-tool", "undescribed-equipment", "unknown-equipment"} & {
            each.code for each in problems
        }
        due = {
            each.value
            for step in examined.facts.folder.recipes["rice"].steps
            for each in step.worked_out
        }
        found.append((due, {each.code for each in problems if each.level is Level.ERROR}))
    (due, codes), (kin_due, kin_codes) = found
    assert kin_due | kin_codes
    assert kin_due <= due
    assert kin_codes <= codes


@pytest.mark.parametrize(
    "name", ["knfe", "bolw", "dough docker", "refrigerator shelf", "shelf", "steam box"]
)
def test_what_is_not_known_is_nothing(name: str) -> None:
    """A guess would be worse than a question."""
    assert tool_named(name) is None


def test_nearest_names_hurt_alike() -> None:
    """Between a blade and a bowl nothing is proposed; a plain slip is mended."""
    assert nearest_tools("bred knife") == ("bread knife",)
    assert nearest_tools("mixng bowl") == ("mixing bowl",)
    assert nearest_tools("cuchilo") == ("cuchillo",)
    assert nearest_tools("blade") != ("ladle",)
    for tool in all_tools():
        for name in (tool.name[1:], tool.name[:-1], tool.name[:2] + tool.name[3:]):
            near = [tool_named(each) for each in nearest_tools(name)]
            assert len({each.dangers for each in near if each is not None}) <= 1, name


def test_a_description_only_adds() -> None:
    """Whatever a class says of a thing that is known, its dangers stay."""
    for tool in all_tools():
        own = described(tool.name, ["other"], [], "by children", None)
        assert tool.dangers <= own.dangers
        assert set(tool.cautions) <= set(own.cautions)
    like = described("dough docker", ["cord"], ["steam"], None, "knife")
    assert {Kind.BLADE, Kind.CORD} <= like.kinds
    assert set(like.cautions) == {"sharp edge", "steam"}
    alone = described("steam box", ["heated pot"], [], None, None)
    assert {Kind.HEAT_SOURCE, Kind.HOT, Kind.VESSEL} <= alone.kinds
    assert alone.washed is Washed.END


def test_what_only_keeps_warm_cooks_nothing() -> None:
    """A kettle, a torch or a toaster burns, and is no proof that food is cooked."""
    for name in ("kettle", "kitchen torch", "toaster", "chafing dish", "dehydrator", "shelf"):
        known = tool_named(name)
        assert known is None or Kind.HEAT_SOURCE not in known.kinds, name


def test_no_other_list_of_tools() -> None:
    """Outside the room of what is known, no set of words is a list of tools: three names of
    things that can hurt, side by side in one collection, would be one. Sentences may name them.
    """
    hurting = {name for name, owner in EVERY_NAME if (tool := tool_named(owner)) and tool.dangers}
    lists = re.compile(r"[\[({](?:\s*\"([^\"\n]+)\"\s*,?)+\s*[\])}]")
    for path in sorted(SOURCE.rglob("*.py")):
        if path.parent.name == "knowledge":
            continue
        for match in lists.finditer(path.read_text("utf-8")):
            named = set(re.findall(r"\"([^\"]+)\"", match[0])) & hurting
            assert len(named) < 3, (path.name, sorted(named))


@pytest.mark.parametrize(
    ("tools", "needs"),
    [
        ("tools: {dough docker: {like: knife}}", "dough docker"),
        # A description never takes a caution from what is known.
        ("tools: {knife: {kind: other}}", "knife"),
    ],
)
def test_what_a_class_says_of_a_tool_brings_its_cautions(
    tools: str, needs: str, tmp_path: Path
) -> None:
    """Printed with the step that needs it, though nobody wrote it there."""
    text = CLASS.replace("mixing bowl: ", "dough docker: 1, mixing bowl: ") + tools + "\n"
    recipe = RICE.replace("needs: burner, pot", f"needs: burner, pot, {needs}")
    folder = write_class(tmp_path, {"class.yaml": text, "recipes/rice.md": recipe})
    [step] = examine(folder).facts.folder.recipes["rice"].steps
    assert "sharp edge" in {term.text for term in step.watch}
