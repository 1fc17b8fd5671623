"""Time to boil and what a circuit carries."""

from __future__ import annotations

from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spoonfold.plan.clock.boil import (
    CIRCUIT_WATTS,
    EFFICIENCY,
    circuits_for,
    joules_to_warm,
    minutes_to_boil,
)


class TestWarmingWater:
    def test_the_worked_example_of_a_textbook(self) -> None:
        """0.250 litres from 20 to 80 °C take 62.8 kJ (OpenStax, College Physics, Example 14.1)."""
        assert joules_to_warm(F(1, 4), F(20), F(80)) == 62790

    def test_the_pan_of_the_worked_example(self) -> None:
        """Its 0.500 kg of aluminium (900 J/kg K) take 27.0 kJ, 89.8 kJ with the water."""
        pan = joules_to_warm(F(1, 2), F(20), F(80), F(900))
        assert pan == 27000
        assert round((pan + joules_to_warm(F(1, 4), F(20), F(80))) / 1000, 1) == F(898, 10)

    def test_six_litres_with_another_textbooks_constant(self) -> None:
        """6 litres from 20 to 100 °C take 2,016,000 J at 4200 J/kg K (a published school task)."""
        assert joules_to_warm(F(6), F(20), F(100), F(4200)) == 2_016_000


class TestTimeToBoil:
    def test_a_measured_boil_is_met_at_its_measured_efficiency(self) -> None:
        """A quart on 1,300 W drew 0.126 kWh where 317 of 430 BTU were needed: 5 min 50 s.

        Published by a magazine (Scheckel's test of 2016). The needed heat implies water of about
        16 °C, near a cold tap.
        """
        quart = F(946353, 1_000_000)
        minutes = minutes_to_boil(quart, 1300, F(317, 430))
        assert abs(minutes - F(35, 6)) < F(1, 4)

    def test_a_big_pot_takes_half_an_hour_and_more(self) -> None:
        """5 litres on 1,500 W: 5 x 4186 x 85 / (1500 x 0.74) / 60 minutes, exactly."""
        assert minutes_to_boil(F(5), 1500) == F(5 * 4186 * 85) / (1500 * EFFICIENCY * 60)
        assert 26 < minutes_to_boil(F(5), 1500) < 27

    @given(st.fractions(F(1, 10), 20), st.integers(300, 4000))
    def test_twice_the_water_takes_twice_as_long(self, litres: F, watts: int) -> None:
        """And twice the watts take half as long."""
        assert minutes_to_boil(2 * litres, watts) == 2 * minutes_to_boil(litres, watts)
        assert 2 * minutes_to_boil(litres, 2 * watts) == minutes_to_boil(litres, watts)


class TestCircuits:
    @pytest.mark.parametrize(
        ("together", "circuits"),
        [
            ({}, 0),
            ({"burner": 1}, 1),
            ({"burner": 2}, 2),
            ({"kettle": 3}, 1),
            ({"kettle": 4}, 2),
            ({"burner": 1, "kettle": 1}, 2),
            ({"oven": 1}, 1),
        ],
    )
    def test_two_cookers_share_a_circuit_only_below_its_limit(
        self, together: dict[str, int], circuits: int
    ) -> None:
        """Two of 1,500 W need two circuits; three of 600 W just share one of 1,800 W."""
        watts = {"burner": 1500, "kettle": 600, "oven": 2400}
        assert circuits_for(together, watts).circuits == circuits

    @given(st.dictionaries(st.sampled_from("abc"), st.integers(0, 4)))
    def test_the_circuits_carry_the_sum(self, together: dict[str, int]) -> None:
        """Never fewer circuits than the sum of watts needs."""
        watts = {"a": 400, "b": 1000, "c": 1500}
        found = circuits_for(together, watts)
        assert found.watts == sum(watts[name] * count for name, count in together.items())
        assert found.circuits * CIRCUIT_WATTS >= found.watts
