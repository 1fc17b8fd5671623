"""What a check says of a session's time: each rule set off by one change, and silent without."""

from __future__ import annotations

from pathlib import Path

import pytest

from spoonfold.check import clock, examine
from spoonfold.problem import Level, Problem
from tiny_class import CLASS, RICE, write_class

CODES = frozenset(rule.code for rule in clock.RULES)

CUTTING = (
    RICE.replace("title: Plain rice", "title: Rice and carrot")
    .replace("  - salt, to taste", "  - salt, to taste\n  - 4 medium carrots")
    .replace(
        "1. Boil the rice",
        "1. Cut the carrots.\n    - time: 4 min\n    - needs: knife, board\n"
        "    - watch: sharp edge\n2. Boil the rice",
    )
)
YOGURT = RICE.replace("  - salt, to taste", "  - salt, to taste\n  - 1 cup plain yogurt").replace(
    "    - adult: stays at the burner\n",
    "    - adult: stays at the burner\n2. Stir in the plain yogurt.\n    - time: 1 min\n",
)


def found(folder: Path, changes: dict[str, str] | None = None) -> list[Problem]:
    """What the clock's rules say of the tiny class with changes."""
    problems = examine(write_class(folder, changes)).problems
    return [each for each in problems if each.code in CODES]


def class_with(*pairs: tuple[str, str]) -> dict[str, str]:
    """The tiny class's file with texts replaced, each of which must be there."""
    text = CLASS
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new)
    return {"class.yaml": text}


def test_a_class_with_enough_of_everything_hears_nothing(tmp_path: Path) -> None:
    """The tiny class fits, and no rule of the clock speaks."""
    assert found(tmp_path) == []


class TestDoesNotFit:
    """A session that is too long."""

    def test_says_by_how_much_and_what_helps(self, tmp_path: Path) -> None:
        """Three tables at one burner, one after the other: a warning with both ways out."""
        [problem] = found(
            tmp_path,
            class_with(
                ("tables: [4]", "tables: [4, 4, 4]"),
                ("helpers: 1", "helpers: 3"),
                ("pot: 1", "pot: 3"),
            ),
        )
        assert (problem.code, problem.level) == ("does-not-fit", Level.WARNING)
        assert problem.message == (
            "Session 1 takes 54 minutes of cooking, and there are 35: 19 too many."
        )
        assert "One more burner saves 18 minutes." in problem.hint
        assert "for the whole class saves" in problem.hint and "`for: class`" in problem.hint

    def test_a_minute_more_is_enough(self, tmp_path: Path) -> None:
        """What ends with the time fits; one minute less does not."""
        assert found(tmp_path / "a", class_with(("minutes: 60", "minutes: 43"))) == []
        [problem] = [
            each
            for each in found(tmp_path / "b", class_with(("minutes: 60", "minutes: 42")))
            if each.code == "does-not-fit"
        ]
        assert "18 minutes of cooking, and there are 17: 1 too many" in problem.message

    def test_too_few_pots_in_any_order(self, tmp_path: Path) -> None:
        """Two pots that are both full at once, where there is one."""
        two = RICE.replace(
            "    - adult: stays at the burner\n",
            """\
    - adult: stays at the burner
2. Warm the salt in another pot.
    - after: none
    - time: 3 min
    - needs: burner, pot
3. Pour both together.
    - after: 1, 2
    - time: 1 min
    - needs: pot x2
""",
        )
        crowded = [
            each for each in found(tmp_path, {"recipes/rice.md": two}) if "“pot”" in each.message
        ]
        assert [each.code for each in crowded] == ["does-not-fit"]

    def test_it_is_a_warning_that_can_be_accepted(self, tmp_path: Path) -> None:
        """A session that doesn't fit still builds, and an author may live with it."""
        changed = class_with(("minutes: 60", "minutes: 42"))["class.yaml"]
        changed += "accept: {warning: does-not-fit, because: we eat later}\n"
        examined = examine(write_class(tmp_path, {"class.yaml": changed}))
        assert "does-not-fit" not in {each.code for each in examined.problems}
        assert [each.because for each in examined.accepted] == ["we eat later"]


class TestNoCooker:
    """Nothing to cook on."""

    def test_a_session_without_a_burner(self, tmp_path: Path) -> None:
        """None at all, and none on one day although the class has one."""
        [problem] = found(tmp_path / "a", class_with(("burner: 1", "burner: 0")))
        assert problem.code == "no-cooker" and "needs a burner" in problem.message
        assert "`burner: 1`" in problem.hint
        [problem] = found(
            tmp_path / "b",
            class_with(
                ("{dishes: [rice]}", "{dishes: [rice], equipment: {pot: 1, knife: 4, board: 4}}")
            ),
        )
        assert problem.code == "no-cooker" and problem.place.line == 15

    def test_it_is_told_once(self, tmp_path: Path) -> None:
        """No burner at all isn't also told as too little of it."""
        examined = examine(write_class(tmp_path, class_with(("burner: 1", "burner: 0"))))
        assert [each.code for each in examined.problems] == ["no-cooker"]


def test_a_step_longer_than_the_session(tmp_path: Path) -> None:
    """It is told at the step, once, besides that the session doesn't fit."""
    problems = found(tmp_path, {"recipes/rice.md": RICE.replace("wait: 15 min", "wait: 40 min")})
    [step] = [each for each in problems if each.code == "step-too-long"]
    assert step.place.path == "content/recipes/rice.md"
    assert "takes 43 minutes" in step.message and "there are 35" in step.message
    assert {each.code for each in problems} == {"step-too-long", "does-not-fit"}


class TestOneCircuit:
    """Two cookers on one circuit."""

    CLASS = (
        ("tables: [4]", "tables: [4, 4]"),
        ("helpers: 1", "helpers: 2"),
        ("burner: 1, pot: 1", "burner: 2, pot: 2"),
    )

    def test_two_hungry_burners(self, tmp_path: Path) -> None:
        """They are told once, with what they draw and what to write."""
        [problem] = found(
            tmp_path,
            class_with(
                *self.CLASS,
                ("households:", "watts: {burner: 1500}\nhouseholds:"),
                ("  - {dishes: [rice]}", "  - {dishes: [rice]}\n  - {dishes: [rice]}"),
            ),
        )
        assert problem.code == "one-circuit" and problem.level is Level.WARNING
        assert "draw 3000 watts" in problem.message and "`circuits: 2`" in problem.hint

    @pytest.mark.parametrize("more", ["watts: {burner: 800}", "watts: {burner: 1500}\ncircuits: 2"])
    def test_enough_circuits_are_left_alone(self, more: str, tmp_path: Path) -> None:
        """Small burners share one, and who says that there are two is believed."""
        assert (
            found(tmp_path, class_with(*self.CLASS, ("households:", f"{more}\nhouseholds:"))) == []
        )

    def test_too_few_circuits_are_counted(self, tmp_path: Path) -> None:
        """One circuit is not enough for two such burners, however surely it is written."""
        [problem] = found(
            tmp_path,
            class_with(
                *self.CLASS, ("households:", "watts: {burner: 1500}\ncircuits: 1\nhouseholds:")
            ),
        )
        assert "there is 1" in problem.message


def test_a_table_that_waits_for_the_burner(tmp_path: Path) -> None:
    """Its wait is a hint with the minutes, and a class of one table has no such wait."""
    slow = CUTTING.replace("wait: 15 min", "wait: 25 min").replace(
        "    - adult: stays at the burner\n", "    - hands: 4\n    - after: 1\n"
    )
    changes = class_with(
        ("tables: [4]", "tables: [4, 4]"),
        ("helpers: 1", "helpers: 2"),
        ("pot: 1", "pot: 2"),
        ("minutes: 60", "minutes: 120"),
    )
    [problem] = found(tmp_path / "two", {**changes, "recipes/rice.md": slow})
    assert (problem.code, problem.level) == ("idle-hands", Level.HINT)
    assert "everyone at table 2 waits for 31 minutes" in problem.message
    one = class_with(("minutes: 60", "minutes: 120"))
    assert found(tmp_path / "one", {**one, "recipes/rice.md": slow}) == []


def test_tables_without_an_adult(tmp_path: Path) -> None:
    """Three tables with knives, one helper and the lead cook: one table is alone."""
    many = (
        ("tables: [4]", "tables: [4, 4, 4]"),
        ("burner: 1, pot: 1", "burner: 3, pot: 3"),
        ("knife: 4, board: 4", "knife: 12, board: 12"),
    )
    cutting = {"recipes/rice.md": CUTTING}
    [problem] = found(tmp_path / "a", {**class_with(*many), **cutting})
    assert problem.code == "few-helpers" and "1 helper for 3 tables" in problem.message
    more = class_with(*many, ("helpers: 1", "helpers: 2"))
    assert found(tmp_path / "b", {**more, **cutting}) == []


class TestWarmByTheClock:
    """Food that waits for its turn outside the cold."""

    @staticmethod
    def hot_day(tables: str) -> dict[str, str]:
        return {
            **class_with(
                ("tables: [4]", f"tables: {tables}\nhot days: yes\nfrom home: 5 min"),
                ("helpers: 1", "helpers: 3"),
                ("pot: 1", "pot: 3"),
                ("minutes: 60", "minutes: 120"),
            ),
            "recipes/rice.md": YOGURT,
        }

    def test_the_queue_counts(self, tmp_path: Path) -> None:
        """One table is served in time; the third at the same burner is not."""
        assert found(tmp_path / "one", self.hot_day("[4]")) == []
        problems = found(tmp_path / "three", self.hot_day("[4, 4, 4]"))
        [warm] = [each for each in problems if each.code == "warm-by-the-clock"]
        assert warm.place.path == "content/recipes/rice.md"
        assert warm.level is Level.WARNING and "at table" in warm.message
        assert "At most 60" in warm.message

    def test_what_is_too_long_by_itself_is_told_once(self, tmp_path: Path) -> None:
        """Where the steps alone are too long, the recipe's error says it."""
        slow = self.hot_day("[4, 4, 4]")
        slow["recipes/rice.md"] = YOGURT.replace("wait: 15 min", "wait: 60 min")
        problems = examine(write_class(tmp_path, slow)).problems
        codes = [each.code for each in problems]
        assert "too-long-warm" in codes and "warm-by-the-clock" not in codes
