"""Propagation of uncertainty, against the worked examples H.1 and H.2 of JCGM 100:2008 (their numbers from memory)."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np
import pytest

from stanchion.mechanics.propagation import ErrorPart, ErrorSource, effect_of, propagated, summed


def test_the_end_gauge_of_h1() -> None:
    """JCGM 100:2008, H.1, Table H.1 (from memory): u_c 32 nm, 16.7 degrees of freedom, first-order terms only."""
    length_nm, per_degree, off_degrees = 50.0e6, 11.5e-6, -0.1

    def gauge(moved: Mapping[str, float]) -> Mapping[str, float]:
        standard = length_nm + 623.0 + moved.get("standard", 0.0)
        difference = 215.0 + moved.get("difference", 0.0)
        warmth, apart = off_degrees + moved.get("warmth", 0.0), moved.get("apart", 0.0)
        expands, other = per_degree + moved.get("expands", 0.0), moved.get("other", 0.0)
        return {"length": standard + difference - standard * (other * warmth + expands * apart)}

    known = propagated(
        gauge,
        [
            ErrorSource("standard", (("standard", 25.0),), 18.0),
            ErrorSource("difference", (("difference", 9.7),), 25.6),
            ErrorSource("expands", (("expands", 1.2e-6),)),
            ErrorSource("warmth", (("warmth", 0.41),)),
            ErrorSource("other", (("other", 0.58e-6),), 50.0),
            ErrorSource("apart", (("apart", 0.029),), 2.0),
        ],
    )["length"]
    assert known.value - length_nm == pytest.approx(838.0)
    assert known.uncertainty.standard == pytest.approx(31.7, abs=0.05)  # printed 32
    assert known.uncertainty.freedom == pytest.approx(16.7, abs=0.3)
    by_name = {part.name: abs(part.effect) for part in known.parts}
    assert by_name == pytest.approx({"standard": 25.0, "apart": 16.6, "difference": 9.7, "other": 2.9}, abs=0.1)
    assert known.parts[0].name == "standard"


def test_resistance_and_reactance_of_h2() -> None:
    """JCGM 100:2008, H.2, Tables H.2 to H.4 (from memory): correlated readings, R 127.732 with 0.071, X 219.847 with
    0.295, Z 254.260 with 0.236. Errors shared by several readings are sources that move all of them."""
    volts = [5.007, 4.994, 5.005, 4.990, 4.999]
    amperes = [19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3]
    angles = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433]
    readings = np.array([volts, amperes, angles])
    means = readings.mean(axis=1)
    shared = np.linalg.cholesky(np.cov(readings) / 5.0)

    def impedance(moved: Mapping[int, float]) -> Mapping[str, float]:
        volt, ampere, angle = (means[at] + moved.get(at, 0.0) for at in range(3))
        z = volt / ampere
        return {"R": z * math.cos(angle), "X": z * math.sin(angle), "Z": z}

    sources = [ErrorSource(f"{n}", tuple((at, float(shared[at, n])) for at in range(3))) for n in range(3)]
    known = propagated(impedance, sources)
    printed = {"R": (127.732, 0.071), "X": (219.847, 0.295), "Z": (254.260, 0.236)}
    for name, (value, standard) in printed.items():
        assert known[name].value == pytest.approx(value, abs=0.0015)
        assert known[name].uncertainty.standard == pytest.approx(standard, abs=0.0015)


def test_the_scale_of_one_tape_drops_out_of_a_difference_of_two_equal_readings() -> None:
    tape = ErrorSource("tape", (("long", 0.5), ("short", 0.5)))
    known = propagated(
        lambda moved: {
            "apart": (548.0 + moved.get("long", 0.0)) - (513.0 + moved.get("short", 0.0)),
            "sum": (548.0 + moved.get("long", 0.0)) + (513.0 + moved.get("short", 0.0)),
        },
        [tape],
    )
    assert known["apart"].uncertainty.standard == pytest.approx(0.0, abs=1e-12)
    assert known["sum"].uncertainty.standard == pytest.approx(1.0)


def test_a_result_that_an_error_takes_away_one_way_is_known_by_the_other() -> None:
    assert effect_of(0.0, None, 0.3) == pytest.approx(0.3)
    assert effect_of(1.0, 0.8, None) == pytest.approx(0.2)


def test_a_result_that_an_error_takes_away_both_ways_is_not_said_to_be_sure() -> None:
    def edge(moved: Mapping[str, float]) -> Mapping[str, float]:
        return {"always": 1.0} if moved else {"always": 1.0, "only_as_read": 2.0}

    assert set(propagated(edge, [ErrorSource("tape", (("x", 1.0),))])) == {"always"}


def test_the_largest_part_comes_first_whichever_way_it_goes() -> None:
    known = summed(1.0, [ErrorPart("a", 1.0), ErrorPart("b", -3.0), ErrorPart("c", 2.0)])
    assert [part.name for part in known.parts] == ["b", "c", "a"]
    assert summed(1.0, []).uncertainty.standard == 0.0
