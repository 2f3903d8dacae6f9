"""Calibrating a scale: mass and reading in turn, ended after three of them, odd readings confirmed."""

from __future__ import annotations

import datetime as dt

import pytest

from stanchion.bench.calibration_round import CalibrationRound
from stanchion.job.model import KnownMass
from stanchion.units.known_units import Units

TODAY = dt.date(2026, 5, 3)


def typed(going: CalibrationRound, *texts: str) -> None:
    for text in texts:
        while going.typed:
            going.delete()
        for one in text:
            going.type(one)
        going.take()


def test_three_masses_and_enter_make_a_calibration() -> None:
    going = CalibrationRound("front", TODAY)
    typed(going, "blue", "0", "0.2", "50", "50.3")
    going.take()
    assert going.refused
    typed(going, "100", "100.7")
    assert not going.done
    typed(going, "")
    assert going.done
    made = going.calibration()
    assert (made.called, made.calibrated_on) == ("blue", TODAY)
    assert made.masses == tuple(
        KnownMass(true_kg=true_kg, read_kg=read_kg) for true_kg, read_kg in ((0.0, 0.2), (50.0, 50.3), (100.0, 100.7))
    )


def test_it_can_be_gone_on_with_after_its_end_and_a_mass_taken_out() -> None:
    going = CalibrationRound("rear", TODAY)
    typed(going, "blue", "0", "0", "20", "20", "40", "40", "")
    going.back()
    typed(going, "60", "60", "")
    assert len(going.calibration().masses) == 4
    for _ in range(3):
        going.back()
    assert going.one is not None
    assert going.one.key == ("true", 3)
    typed(going, "")
    assert going.done
    assert len(going.calibration().masses) == 3


def test_a_reading_far_from_its_mass_is_taken_only_when_asked_twice() -> None:
    going = CalibrationRound("both", TODAY)
    typed(going, "blue", "50", "56")
    assert (going.at, going.doubt) == (2, "far_off")
    going.take()
    assert (going.at, going.doubt) == (3, "")


def test_masses_are_read_in_the_units_shown_and_nonsense_is_refused() -> None:
    going = CalibrationRound("both", TODAY, Units(masses="lb"))
    typed(going, "blue", "stone")
    assert going.refused
    typed(going, "100")
    assert going.values[("true", 0)] == pytest.approx(45.359237)


def test_no_more_than_twelve_masses_are_asked() -> None:
    going = CalibrationRound("both", TODAY)
    typed(going, "blue", *(str(10 * (at // 2)) for at in range(24)))
    assert going.done
    assert len(going.calibration().masses) == 12
