"""The season's colours and the packet on paper."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from printed_sheets import Press, Printed, printed, squeezed

from spoonfold.read.nutrients import food_rows, packaged_foods
from spoonfold.sheets import colours as groups
from spoonfold.sheets import packet

STRICT = "page-validation isn't installed: pip install 'spoonfold[test]'"
ADVICE = squeezed("not dietary advice")


@dataclass(frozen=True, slots=True)
class Packets:
    """A session's worksheet, blank and filled in."""

    values: packet.PacketSheet
    blank: Printed
    key: Printed


@pytest.fixture(scope="session")
def colours(demo: Press, demo_with: Callable[[str], Path]) -> tuple[groups.ColoursSheet, Printed]:
    values = groups.colours_sheet(demo.read, demo.classroom, demo.uses, demo.texts)
    assert values is not None
    return values, printed((demo_with("colours") / "class/colours-en.pdf").read_bytes())


@pytest.fixture(scope="session")
def packets(demo: Press, demo_with: Callable[[str], Path]) -> tuple[Packets, ...]:
    table = food_rows(), packaged_foods()
    made = []
    for session in demo.classroom.sessions:
        values = packet.packet_sheet(
            demo.read, demo.classroom, session, demo.uses, table, demo.texts
        )
        if values is not None:
            folder = demo_with("packet") / f"class/session-{session.number:02}"
            blank, key = (
                printed((folder / name).read_bytes())
                for name in ("packet-en.pdf", "packet-key-en.pdf")
            )
            made.append(Packets(values, blank, key))
    return tuple(made)


def test_the_season_is_one_page_of_colours(colours: tuple[groups.ColoursSheet, Printed]) -> None:
    """Every session stands on it, with what is missing, and that it is no advice."""
    values, made = colours
    (text,) = made.pages
    for each in values.sessions:
        assert squeezed(f"{each.number} · " + " · ".join(each.dishes)) in text
        assert all(squeezed(part)[1:] in text for part in each.plate.missing)
        assert all(squeezed(food) in text for food in each.plate.to_try)
    for bar in (
        values.season.colours,
        values.season.vegetables,
        values.season.origins,
        values.season.processing,
    ):
        for part in bar.segments:
            shown = part.percent if part.share else "none yet"
            assert squeezed(f"{part.name[1:]}: {shown}") in text
    assert squeezed("no advice about health") in text
    assert squeezed("NOVA (Monteiro and others, World Nutrition 7, 2016)") in text


def test_a_packet_is_one_sheet_a_dish(packets: tuple[Packets, ...]) -> None:
    """The dish in front and the packet behind, blank and in the key; two demo sessions have one."""
    assert [each.values.head.session for each in packets] == ["Session 5", "Session 8"]
    for each in packets:
        for made in (each.blank, each.key):
            assert len(made.pages) == 2
            assert ADVICE in made.pages[1]


def test_the_key_says_every_answer_and_the_worksheet_none(packets: tuple[Packets, ...]) -> None:
    """Each answer is in the key; on the worksheet nothing stands behind an equals sign."""
    for each in packets:
        key, blank = "".join(each.key.pages), "".join(each.blank.pages)
        for dish in each.values.dishes:
            for one in dish.sums:
                for line in one.lines:
                    asked = squeezed(f"{line.grams} ÷ 100 × {line.per} =")
                    assert asked in blank
                    assert asked + squeezed(f"{line.answer} {one.unit}") in key
                    assert asked + line.answer not in blank
                portion = squeezed(f"÷ {dish.serves} =")
                assert f"{portion}{one.portion}{one.unit}" in key
                assert f"{portion}{one.unit}" in blank
            for row in dish.packets:
                assert squeezed(f"{row.title} {row.per} {row.unit} {row.answer} {row.unit}") in key
                assert squeezed(f"{row.title} {row.per} {row.unit} {row.unit}") in blank
            assert key.count("✓") == sum(row.more != "both the same" for row in dish.packets)
        assert "✓" not in blank


def test_the_key_rings_the_one_with_more(packets: tuple[Packets, ...]) -> None:
    """By the numbers that the children have worked out."""
    for each in packets:
        for dish in each.values.dishes:
            for row in dish.packets:
                ours, theirs = (
                    float(text.replace(",", "")) for text in (row.ours, row.same_weight)
                )
                assert row.more == (
                    "our dish"
                    if ours > theirs
                    else "the packet"
                    if theirs > ours
                    else "both the same"
                )


def test_both_pass_the_strict_checker(
    colours: tuple[groups.ColoursSheet, Printed], packets: tuple[Packets, ...]
) -> None:
    """Each is PDF/UA-1 by an independent checker."""
    page = pytest.importorskip("page", reason=STRICT)
    for made in (colours[1], *(one for each in packets for one in (each.blank, each.key))):
        report = page.validate_pdf_bytes(made.pdf, profile=page.ValidationProfile.PDF_UA_1)
        assert [f"{each.rule_id}: {each.message}" for each in report.failures] == []
