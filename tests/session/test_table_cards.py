"""Table cards: the table's own amounts, every caution beside its step, swaps at their table."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction as F
from pathlib import Path

import pypdfium2
import pytest
from session_sheets import Office, Printed

from spoonfold.build import build
from spoonfold.check.rule import facts_of
from spoonfold.language.amounts import amounts_text
from spoonfold.model.classroom import Setting
from spoonfold.model.prose import Link, Text, plain
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.scale import Scaled, scaled_for_class
from spoonfold.plan.people.jobs import seat_letter
from spoonfold.plan.safety.apart import apart_of
from spoonfold.plan.safety.swapped import table_swaps
from spoonfold.problem import Place
from spoonfold.sheets.home_labels import home_labels_of
from spoonfold.sheets.table_cards import FILE, TableCard
from spoonfold.sheets.table_cards.steps import CardStep, Elsewhere, without_amounts
from tiny_class import CLASS, write_class

SESSIONS = range(1, 9)


def steps(card: TableCard) -> Iterator[CardStep]:
    return (entry for entry in card.entries if isinstance(entry, CardStep))


def by_dish(office: Office, session: int) -> Iterator[tuple[Recipe, list[TableCard]]]:
    cards = office.cards(session).cards
    for dish in office.session(session).dishes:
        yield office.read.recipes[dish.text], [card for card in cards if card.dish == dish.text]


def places(office: Office, recipe: Recipe, setting: Setting) -> list[Scaled]:
    """The scale of every card of a dish: the tables', then the pot's."""
    whole = scaled_for_class(recipe, office.uses[recipe.key], office.read.pantry, setting)
    shared = [whole.shared] if whole.shared else []
    return [*whole.tables, *shared]


def measured(office: Office, place: Scaled, number: int, but: set[str]) -> dict[str, str]:
    """What a step takes at one place, by ingredient, without those named in `but`."""
    found = {}
    for use in place.by_step.get(number, ()):
        key = use.use.ingredient.key
        if key not in but and use.measured and not use.use.piece:
            found[key] = amounts_text(use.measured.shown, office.texts)
    return found


def gone(office: Office, recipe: Recipe, setting: Setting, table: int) -> set[str]:
    """What a table's swaps take out."""
    swaps = table_swaps(recipe, office.uses[recipe.key], office.read.pantry, setting)
    return {each.key for swap in swaps if swap.table == table for each in swap.originals}


class TestAmounts:
    @pytest.mark.parametrize("session", SESSIONS)
    def test_amounts_are_those_of_the_tables_scale(self, office: Office, session: int) -> None:
        """Every step shows exactly what its table, or the pot for all, measures."""
        setting = office.session(session).setting
        shown = 0
        for recipe, cards in by_dish(office, session):
            for table, (card, place) in enumerate(
                zip(cards, places(office, recipe, setting), strict=False), start=1
            ):
                out = gone(office, recipe, setting, table) if table <= 3 else set()
                for step in steps(card):
                    wanted = measured(office, place, step.view.number, out)
                    own = {use.key: use.amount.text for use in step.uses}
                    assert wanted.items() <= own.items()
                    shown += len(wanted)
        assert shown > 9

    @pytest.mark.parametrize("session", SESSIONS)
    @pytest.mark.parametrize("more", [1, -1])
    def test_one_more_or_one_fewer_is_the_scale_of_that_table(
        self, office: Office, session: int, more: int
    ) -> None:
        """The small lines hold the amounts of a table with another number of children, and
        those alone that change."""
        usual = office.session(session)
        for recipe, cards in by_dish(office, session):
            for index, card in enumerate(cards):
                tables = list(usual.setting.tables)
                tables[min(index, len(tables) - 1)] += more
                setting = replace(usual.setting, tables=tuple(tables))
                other = next(
                    each
                    for each in office.cards_of(replace(usual, setting=setting)).cards
                    if (each.dish, each.where) == (card.dish, card.where)
                )
                place = places(office, recipe, setting)[index]
                wanted = []
                for before, after in zip(steps(card), steps(other), strict=True):
                    own = {use.key: use.amount.text for use in after.uses}
                    out = gone(office, recipe, setting, index + 1)
                    real = measured(office, place, after.view.number, out)
                    assert real.items() <= own.items()
                    wanted += [
                        new.amount.text
                        for old, new in zip(before.uses, after.uses, strict=True)
                        if old.amount.text != new.amount.text
                    ]
                said = [text for _, text in card.changes[0 if more > 0 else 1].amounts]
                assert said == wanted

    def test_a_child_alone_has_no_line_for_one_fewer(self, tmp_path: Path) -> None:
        """A table of one can only become more."""
        alone = Office(
            write_class(tmp_path, {"class.yaml": CLASS.replace("tables: [4]", "tables: [1]")})
        )
        (card,) = (each for each in alone.cards(1).cards)
        assert [change.title for change in card.changes] == ["One more is here? Measure:"]

    def test_each_childs_share_stands_beside_the_amount(self, office: Office) -> None:
        """Two children at four thirds of an onion: two thirds each."""
        card = office.cards(2).cards[0]
        onion = next(use for step in steps(card) for use in step.uses if use.key == "onion")
        assert onion.amount.text == "1⅓ large" and onion.note == "your table's share of 4"
        assert onion.each == "each cuts ⅔ onion"

    def test_it_is_said_how_an_amount_comes_about(self, office: Office) -> None:
        """Half eggs are beaten and measured, and nobody salts a large pot all at once; nobody
        tastes what is raw; beans in place of turkey are tasted."""
        usual = office.session(4)
        half = replace(usual, setting=replace(usual.setting, portion=F(1, 2)))
        card = office.cards_of(half).cards[0]
        eggs = next(use for step in steps(card) for use in step.uses if use.key == "eggs")
        assert eggs.note == "beat 3 and measure this much; 1 % less" and "cup" in eggs.amount.text
        assert card.portion == "One portion: 1 bowl. ½ of a portion for each"
        notes = {
            (number, at): use.note
            for number, at in ((2, -1), (6, 0), (6, -1), (7, -1))
            for step in steps(office.cards(number).cards[at])
            for use in step.uses
            if use.key == "salt"
        }
        first = "start with three quarters, then taste"
        assert notes == {(2, -1): first, (6, 0): "", (6, -1): first, (7, -1): ""}

    def test_words_name_no_amount_of_another_size(
        self, office: Office, soup_cards: Printed
    ) -> None:
        """“5 cups of the water” is the household's: on no card does it stand."""
        assert not any("5cupsofthe" in page or "lastcup" in page for page in soup_cards.pages)
        assert any("3¾cupswater" in page for page in soup_cards.pages)
        at = Place("x.md", 1, 1)
        link = Link((Text("5 cups of the water", at),), "#water", "5 cups", at)
        half = replace(link, children=(Text("half the water", at),))
        soup = office.read.recipes["red-lentil-soup"]
        assert plain(without_amounts((link,), soup)) == "water"
        assert without_amounts((half,), soup) == (half,)


class TestSteps:
    @pytest.mark.parametrize("session", SESSIONS)
    def test_every_step_stands_on_every_card_in_order(self, office: Office, session: int) -> None:
        """Own steps in full, the others short; and every step in full on the cards of its place
        alone."""
        for recipe, cards in by_dish(office, session):
            full: set[int] = set()
            for card in cards:
                numbers = []
                for entry in card.entries:
                    if isinstance(entry, Elsewhere):
                        numbers += [each.number for each in entry.steps]
                    else:
                        numbers.append(entry.view.number)
                        full.add(entry.view.number)
                assert numbers == [step.number for step in recipe.steps]
                apart = apart_of(
                    recipe,
                    office.uses[recipe.key],
                    office.read.pantry,
                    office.session(session).setting,
                ).steps
                own = {f"Table {table}": steps for table, steps in apart.items()}
                for step in steps(card):
                    number = step.view.number
                    once = recipe.steps[number - 1].for_class
                    assert once is (card.where == "For all" or number in own.get(card.where, ()))
            assert full == {step.number for step in recipe.steps if step.when is None}

    def test_raw_and_ready_boards_are_marked(self, office: Office) -> None:
        """Shaping raw turkey is done on the raw board, cutting what is eaten raw on the other; at
        the table that has beans instead nothing is raw."""
        turkey, milkless, beans = office.cards(6).cards
        for card in (turkey, milkless):
            boards = {step.view.number: step.board for step in steps(card)}
            assert boards[8] == "raw" and boards[4] == boards[5] == "ready" and not boards[10]
        assert not any(step.board for step in steps(beans))

    @pytest.mark.parametrize("session", SESSIONS)
    def test_seats_are_those_of_the_job_chart(self, office: Office, session: int) -> None:
        """Whoever has a step on the chart is named at that step of the table's card."""
        jobs = next(each for each in office.season.sessions if each.session == session)
        for recipe, cards in by_dish(office, session):
            for card, seats in zip(cards, jobs.tables, strict=False):
                for step in steps(card):
                    wanted = [
                        seat_letter(seat.seat)
                        for seat in seats
                        for job in seat.jobs
                        if job.dish == recipe.key
                        and step.view.number in [each.number for each in job.steps]
                    ]
                    assert list(step.who) == wanted
                    assert step.everyone == (len(wanted) == len(seats) > 1)

    def test_a_table_is_told_its_part_of_what_was_made_for_all(self, office: Office) -> None:
        """Cold rice is shared out; a heated oven isn't."""
        rice, kofta = office.cards(4).cards[0], office.cards(6).cards[0]
        notes = [
            entry.note
            for card in (rice, kofta)
            for entry in card.entries
            if isinstance(entry, Elsewhere)
        ]
        assert notes == ["Your table takes 5 of 15 portions.", ""]


class TestSwaps:
    def test_a_swaps_table_alone_has_it(self, office: Office, kofta_cards: Printed) -> None:
        """White beans are on the card of table 3 and on no other; there no turkey is measured."""
        one, two, three = office.cards(6).cards
        assert not one.swaps
        assert [swap.name for swap in two.swaps] == ["coconut yogurt"]
        assert {swap.name for swap in three.swaps} == {"white beans", "coconut yogurt"}
        beans = [page for page in kofta_cards.pages if "whitebeans" in page]
        assert beans and all("Table3" in page for page in beans)
        names = {use.name: use for step in steps(three) for use in step.uses}
        assert "ground turkey" not in names
        assert names["white beans"].amount.text == "2½ cans (15 oz each)"
        assert names["white beans"].instead == "instead of ground turkey"

    def test_where_only_the_label_decides_both_are_named(self, office: Office) -> None:
        """The original stays, and what to take if its label says so."""
        three = office.cards(6).cards[2]
        yogurts = {
            use.name: use.instead
            for step in steps(three)
            for use in step.uses
            if "yogurt" in use.name
        }
        assert yogurts == {"plain yogurt": "", "coconut yogurt": "only if the label says so"}

    def test_no_card_says_for_whom(self, kofta_cards: Printed) -> None:
        """A card names foods and tables, never a child and never a need."""
        for page in kofta_cards.pages:
            for word in ("avoid", "allergicto", "cannoteat", "childwithout", "vegetarian"):
                assert word not in page

    @pytest.mark.parametrize("session", SESSIONS)
    def test_a_card_has_the_allergens_of_its_tables_labels(
        self, office: Office, session: int
    ) -> None:
        """What stands on a table's card stands on the boxes that it takes home, and nothing else;
        so does the dish's name."""
        boxes = home_labels_of(
            office.read,
            office.classroom,
            office.session(session),
            office.uses,
            (facts_of(office.read).flows, None),
            office.texts,
        ).labels
        for card in office.cards(session).cards:
            own = [box for box in boxes if (box.dish, box.table) == (card.title, card.where)]
            assert own or card.where == "For all"
            assert all(box.labels == card.labels for box in own)

    def test_a_table_without_raw_meat_is_told_of_none(self, office: Office) -> None:
        """Where beans stand for turkey, neither the caution, the washing nor the temperature of
        poultry is on the card, and what single steps say is what the author wrote for beans."""
        turkey, _, beans = office.cards(6).cards
        told = {
            card.where: {each.text for step in steps(card) for each in step.view.cautions}
            for card in (turkey, beans)
        }
        assert any("poultry" in text for text in told["Table 1"])
        assert not any("poultry" in text for text in told["Table 3"])
        words = {step.view.number: plain(step.view.text) for step in steps(beans)}
        assert "mash them" in words[7] and "turkey" not in " ".join(words.values())
        assert beans.title == "White bean kofta with cucumber yogurt"
        facts = [fact for step in steps(beans) for fact in step.view.facts]
        assert not any(fact.icon == "thermometer" for fact in facts)


class TestPrint:
    def test_cards_go_to_the_adults_alone(self, tmp_path: Path) -> None:
        """They lie in the session's folder of `class/`, by letter even where names are known."""
        folder = write_class(tmp_path, {"private/children.yaml": "- Zuzka\n- Bolek\n"})
        outcome = build(folder, folder / "build", ["table-cards"])
        assert outcome.write_failure is None and outcome.print_failure is None
        (path,) = (folder / "build").rglob("*.pdf")
        assert path.relative_to(folder / "build").as_posix() == (
            f"class/session-01/{FILE.name('en')}"
        )
        document = pypdfium2.PdfDocument(path)
        text = "".join(page.get_textpage().get_text_range() for page in document)
        assert "Zuzka" not in text and "Plain rice" in text


def test_loads_stand_on_the_card(office: Office) -> None:
    """By hand: the griddle holds two portions, and fifteen eat: eight loads, told at the step."""
    (pot,) = (card for card in office.cards(3).cards if card.where == "For all")
    told = {
        step.view.number: [fact.text for fact in step.view.facts if "loads" in fact.text]
        for step in steps(pot)
    }
    assert told[10] == ["8 loads, one after the other"]
    assert not any(said for number, said in told.items() if number != 10)


def test_more_than_four_times_is_cooked_in_batches(office: Office) -> None:
    """The soup serves four: for fifteen it is one batch, and two for 27; a table's part is none."""
    usual = office.session(2)
    many = replace(usual, setting=replace(usual.setting, tables=(8, 8, 8)))
    said = {card.where: card.portion for card in office.cards_of(many).cards}
    assert "Cook it in 2 batches" in said["For all"] and "batches" not in said["Table 1"]
    assert not any("batches" in card.portion for card in office.cards(2).cards)
