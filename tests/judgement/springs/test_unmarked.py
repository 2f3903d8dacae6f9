"""A spring without a mark on it: its rate by the spring tester, else by wire and coils, named as what it is."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Literal

import pytest

from judgement_jobs import PROFILES, codes, found, judged, put
from rates import WEIGHED, known
from stanchion.bench.guided_measuring import missing, steps
from stanchion.job.model import Coils, Job
from stanchion.job.model import TesterPair as Reading
from stanchion.judgement.results.findings import Severity
from stanchion.planning.spring_choice import choose
from stanchion.wording.finding_words import sentence

COILS = Coils(wire_mm=5.0, outer_mm=35.0, total_coils=22.0, wire="oil_tempered")
"""D = 30 mm, 20 active coils: k = 77 200 · 5⁴ / (8 · 30³ · 20) = 11.1690 N/mm (by hand)."""
RATE = 77_200 * 5.0**4 / (8 * 30.0**3 * 20)
READINGS = tuple(Reading(length_mm=250.0 - mm, force_n=9.5 * mm) for mm in (20.0, 40.0, 60.0))


def unmarked(coils: Coils, end: str = "front__left") -> Job:
    """That end's spring without a rate."""
    return put(WEIGHED, **{f"{end}__spring__rate_n_per_mm": None, f"{end}__spring__coils": coils})


class TestByCaliper:
    def test_wire_and_coils_give_a_rate_to_predict_with_as_an_estimate(self) -> None:
        a = judged(unmarked(COILS))
        assert a.front.mean_rate_n_per_mm.value == pytest.approx(RATE)
        assert a.front.mean_rate_n_per_mm.estimate
        marked = judged(put(WEIGHED, front__left__spring__rate_n_per_mm=RATE))
        for one, other in (
            (a.predicted.front.rider.sag_mm, marked.predicted.front.rider.sag_mm),
            (a.predicted.front.full_travel.slow_n, marked.predicted.front.full_travel.slow_n),
            (a.front.left.preload_force_n, marked.front.left.preload_force_n),
        ):
            assert known(one.value) == pytest.approx(known(other.value))
            assert (one.estimate, other.estimate) == (True, False)

    def test_it_is_named_as_calculated(self) -> None:
        finding = found(judged(unmarked(COILS)), "rate_by_coils")
        assert finding.severity is Severity.NOTE
        assert f"no rate is entered, so {RATE:.2f} N/mm is used, an estimate calculated" in sentence(finding)

    def test_an_unknown_wire_gives_its_range(self) -> None:
        """Shigley, Table 10-5, and EN 10270-1: 77 200 to 81 500 MPa."""
        said = sentence(found(judged(unmarked(Coils(wire_mm=5.0, outer_mm=35.0, total_coils=22.0))), "rate_by_coils"))
        assert f"({RATE:.2f} to {RATE * 81_500 / 77_200:.2f} N/mm by kind of wire)" in said

    def test_an_ordinary_spring_lies_between_both_wires_it_can_be_of(self) -> None:
        """ASTM A229 and A401, 77 200 MPa (Shigley, Table 10-5); EN 10270-2, 79 500 MPa (from memory)."""
        coils = replace(COILS, wire="ordinary")
        a = judged(unmarked(coils))
        assert a.springs.left.rate_calculated_range == pytest.approx((RATE, RATE * 79_500 / 77_200))
        assert "A401" in a.springs.left.shear_modulus_source
        assert a.front.mean_rate_n_per_mm.estimate

    def test_the_shock_likewise(self) -> None:
        coils = Coils(wire_mm=12.0, outer_mm=72.0, total_coils=8.5, wire="chrome_silicon")
        a = judged(unmarked(coils, "rear"))
        assert found(a, "rate_by_coils").where == ("rear", "spring")
        assert a.rear.wheel_rate_n_per_mm.estimate
        assert a.predicted.rear.rider.sag_mm.known

    def test_the_choice_of_springs_lists_it_as_fitted(self) -> None:
        job = unmarked(COILS)
        choice = choose(job, judged(job), PROFILES, "front")
        (fitted, *_) = [one for one in choice.options if one.fitted_now]
        assert fitted.mean_rate_n_per_mm == pytest.approx(RATE)


class TestWireAtFullTravel:
    def test_its_stress_is_that_of_the_force_there(self) -> None:
        """8 F D / (pi d^3) with the force at full travel; a marked spring gives the same, as wire and coils settle
        how far it twists."""
        job = unmarked(COILS)
        figures = judged(job).springs.left
        pressed = known(figures.usable_travel_mm.value) - known(figures.clearance_now_mm.value)
        plain = 8 * RATE * pressed * 30.0 / (math.pi * 5.0**3)
        assert figures.stress_mpa.value == pytest.approx(plain * (4 * 6 + 2) / (4 * 6 - 3))
        assert figures.stress_share.value == pytest.approx(plain * (13 / 12) / (1855 / 5.0**0.187))

    @pytest.mark.parametrize(("coils", "said"), [(22.0, False), (14.0, True)])
    def test_it_is_noted_only_beyond_the_guide(self, coils: float, said: bool) -> None:
        a = judged(unmarked(replace(COILS, total_coils=coils)))
        share = known(a.springs.left.stress_share.value)
        assert (share > 0.75) is said
        assert ("wire_stress_high" in codes(a)) is said
        if said:
            assert f"{100 * share:.0f} % of its strength" in sentence(found(a, "wire_stress_high"))
            assert found(a, "wire_stress_high").severity is Severity.NOTE

    def test_a_slender_shock_spring_may_buckle_and_a_fork_spring_is_guided(self) -> None:
        slender = Coils(wire_mm=7.0, outer_mm=37.0, total_coils=14.0, wire="ordinary")
        job = put(unmarked(slender, "rear"), rear__spring__free_length_mm=230.0, rear__spring__set_length_mm=218.0)
        a = judged(job)
        assert known(a.springs.rear.buckles_at_mm.value) < 60.0
        assert found(a, "spring_may_buckle").where == ("rear", "spring")
        stout = judged(unmarked(Coils(wire_mm=12.0, outer_mm=72.0, total_coils=8.5, wire="ordinary"), "rear"))
        assert stout.springs.rear.buckles_at_mm.problem == "never_buckles"
        assert judged(unmarked(COILS)).springs.left.buckles_at_mm.problem == "guided_by_tube"


class TestGuided:
    def test_the_caliper_is_asked_for_where_no_rate_is_entered(self) -> None:
        asked = {step.path[-1]: step for step in steps("front", unmarked(Coils()))}
        assert {"wire_mm", "outer_mm", "total_coils"} <= {*asked}
        assert not asked["rate_n_per_mm"].optional
        assert not {"wire_mm", "outer_mm", "total_coils"} & {step.path[-1] for step in steps("front", WEIGHED)}

    def test_a_calculated_rate_is_no_longer_missing(self) -> None:
        ends: tuple[tuple[Literal["front", "rear"], str], ...] = (("front", "front__left"), ("rear", "rear"))
        for part, end in ends:
            open_ones = missing(steps(part, unmarked(COILS, end)), unmarked(COILS, end))
            assert "rate_n_per_mm" not in {step.path[-1] for step in open_ones}


class TestByTester:
    def test_its_rate_comes_before_that_of_the_coils(self) -> None:
        a = judged(unmarked(Coils(wire_mm=5.0, outer_mm=35.0, total_coils=22.0, tester=READINGS)))
        assert a.front.mean_rate_n_per_mm.value == pytest.approx(9.5)
        assert "9.50 N/mm" in sentence(found(a, "rate_by_tester"))
        assert "rate_by_coils" not in codes(a)


class TestNeither:
    def test_the_rate_is_asked_for(self) -> None:
        a = judged(unmarked(Coils(wire_mm=5.0)))
        assert ("front", "left", "spring", "rate_n_per_mm") in a.front.left.preload_force_n.needs

    def test_a_marked_spring_is_taken_at_its_mark(self) -> None:
        a = judged(put(WEIGHED, front__left__spring__coils=COILS))
        assert a.front.mean_rate_n_per_mm.value == 9.5
        assert not {"rate_by_coils", "rate_by_tester"} & {*codes(a)}
