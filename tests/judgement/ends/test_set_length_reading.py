"""One fork, its lengths read on the stop, touching and assembled: whatever the program then says must be the same.

The lengths are made here from the physics: the spring's squeeze where each was read is solved for with SciPy's brentq
from the balance of main spring and top-out spring, k s = kt (xt - x), and not with the program's own formula.
"""

from __future__ import annotations

import csv
import io
import math
from typing import Any

import pytest
from scipy.optimize import brentq

from judgement_jobs import PROFILES, codes, found, judged, put, split
from stanchion.job.model import Job
from stanchion.judgement.assess import assess
from stanchion.planning.spring_choice import choose
from stanchion.planning.whatif import compare
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json
from stanchion.report.export import export_csv
from stanchion.units.known_units import METRIC
from stanchion.wording.finding_words import sentence

FREE, RATE, STIFF, REACH = 250.0, 9.0, 27.0, 20.0
"""Main spring, and a top-out spring of 27 N/mm over 20 mm; invented."""
INSTALLED_AT_STOP, PITCH, TURNS, NOW = -2.0, 1.2, 8.0, 4.0
READING_PLACES = ("stop", "touching", "assembled")


def squeeze_where_read(read_at: str, at_stop_mm: float) -> tuple[float, float]:
    """Squeeze of the main spring, and compression, where its length is read with that preload on the stop."""
    if read_at == "stop":
        return at_stop_mm, 0.0
    if read_at == "touching":
        return at_stop_mm + REACH, REACH

    def pushed(x: float) -> float:
        return RATE * max(0.0, at_stop_mm + x) - STIFF * max(0.0, REACH - x)

    x = 0.0 if pushed(0.0) >= 0.0 else brentq(pushed, 0.0, REACH, xtol=1e-13)
    return at_stop_mm + x, x


def fork(read_at: str, **more: Any) -> Job:
    """That fork with both set lengths as they read there."""
    out, _ = squeeze_where_read(read_at, INSTALLED_AT_STOP)
    fully_in, _ = squeeze_where_read(read_at, INSTALLED_AT_STOP + PITCH * TURNS)
    values: dict[str, Any] = {
        "front__left__read_at": read_at,
        "front__left__spring__rate_n_per_mm": RATE,
        "front__left__spring__free_length_mm": FREE,
        "front__left__spring__set_length_mm": FREE - out,
        "front__left__spring__set_length_in_mm": FREE - fully_in,
        "front__left__spring__coils__solid_length_mm": 100.0,
        "front__left__adjuster__total_turns": TURNS,
        "front__left__adjuster__now": NOW,
        "front__left__stack__spacer_mm": 100.0,
        "front__travel_mm": 120.0,
        "front__top_out__fitted": "yes",
        "front__top_out__rate_n_per_mm": STIFF,
        "front__top_out__works_over_mm": REACH,
        "weights__front_alone_kg": 88.0,
        "weights__front_aboard_kg": 116.0,
        "weights__front_unsprung_kg": 14.0,
        "geometry__rake_deg": 24.0,
    }
    return put(Job(), **(values | more))


def by_hand(load_kg: float, turns: float = NOW) -> float:
    """Sag of that fork under a scale load, by its balance of forces."""
    preload = INSTALLED_AT_STOP + PITCH * turns
    cosine = math.cos(math.radians(24.0))

    def rests(load_n: float) -> float:
        def over(x: float) -> float:
            return 2.0 * (RATE * max(0.0, preload + x) - STIFF * max(0.0, REACH - x)) - load_n

        return float(brentq(over, 0.0, 120.0, xtol=1e-12))

    return rests((load_kg - 14.0) * 9.80665 * cosine) - rests(-14.0 * 9.80665 * cosine)


TO_TARGET = float(brentq(lambda turns: by_hand(116.0, NOW + turns) - 33.0, -NOW, TURNS - NOW, xtol=1e-12))
"""Turns that bring rider sag to 33 mm, the middle of its target on the track (28 to 38 mm, common practice)."""


@pytest.mark.parametrize("read_at", READING_PLACES)
class TestTheSameForkReadAnywhere:
    def test_has_the_range_turns_and_headroom_of_its_thread(self, read_at: str) -> None:
        left = judged(fork(read_at)).front.left
        assert left.adjuster_range_mm.value == pytest.approx(PITCH * TURNS)
        assert left.mm_per_turn.value == pytest.approx(PITCH)
        assert left.headroom_in_mm.value == pytest.approx(PITCH * (TURNS - NOW))
        assert left.headroom_out_mm.value == pytest.approx(PITCH * NOW)
        assert (left.headroom_in_turns.value, left.headroom_out_turns.value) == (TURNS - NOW, NOW)

    def test_has_preload_that_comes_to_the_same_on_the_stop(self, read_at: str) -> None:
        left = judged(fork(read_at)).front.left
        _, point = squeeze_where_read(read_at, INSTALLED_AT_STOP)
        assert left.read_at_mm == pytest.approx(point)
        at_stop = {"installed_preload_mm": 0.0, "preload_now_mm": NOW, "greatest_preload_mm": TURNS}
        for name, turns in at_stop.items():
            assert getattr(left, name).value - point == pytest.approx(INSTALLED_AT_STOP + PITCH * turns)
        # one scale: preload now is installed preload and what the adjuster adds
        assert left.installed_preload_mm.value is not None
        added = left.headroom_out_mm.value or 0.0
        assert left.preload_now_mm.value == pytest.approx(left.installed_preload_mm.value + added)

    def test_is_predicted_the_same_sag_and_the_same_turns(self, read_at: str) -> None:
        predicted = judged(fork(read_at)).predicted.front
        assert predicted.static.sag_mm.value == pytest.approx(by_hand(88.0), abs=1e-6)
        assert predicted.rider.sag_mm.value == pytest.approx(by_hand(116.0), abs=1e-6)
        turns, mm = predicted.turns_for_target.value, predicted.mm_for_target.value
        if read_at == "touching":  # installed preload as read is over its limit: no turns are asked of these springs
            assert turns is None
            return
        assert turns is not None
        assert mm == pytest.approx(turns * PITCH)
        turned = judged(put(fork(read_at), front__left__adjuster__now=NOW + turns)).predicted.front
        assert turns == pytest.approx(round(TO_TARGET * 4) / 4)  # as it can be set by hand
        assert turned.rider.sag_mm.value == pytest.approx(by_hand(116.0, NOW + turns), abs=1e-6)

    def test_has_the_same_left_between_its_coils(self, read_at: str) -> None:
        coils = judged(fork(read_at)).springs.left
        greatest = INSTALLED_AT_STOP + PITCH * TURNS
        assert coils.coil_bind_clearance_mm.value == pytest.approx(FREE - 100.0 - (greatest + 120.0))
        assert coils.clearance_now_mm.value == pytest.approx(FREE - 100.0 - (INSTALLED_AT_STOP + PITCH * NOW + 120.0))

    def test_shows_one_range_and_headroom_on_text_json_and_csv(self, read_at: str) -> None:
        job = fork(read_at)
        assessment = judged(job)
        data = as_json("x.toml", job, assessment)["front"]["left"]
        assert (data["adjuster_range_mm"], data["mm_per_turn"]) == (pytest.approx(9.6), pytest.approx(1.2))
        assert "Adjuster range       9.6 mm" in as_text("x.toml", job, assessment, METRIC)
        (row,) = csv.DictReader(io.StringIO(export_csv([("x.toml", job, assessment)])))
        assert row["derived.front.left.headroom_in_mm"] == "4.8"

    def test_a_turn_does_the_same(self, read_at: str) -> None:
        job = fork(read_at)
        turned, stop = (
            compare(one, put(one, front__left__adjuster__now=NOW + 1.0), PROFILES).row(("front",), "rider_predicted")
            for one in (job, fork("stop"))
        )
        assert turned.change is not None
        assert turned.change == pytest.approx(stop.change, abs=1e-6)

    def test_the_springs_list_gives_the_fitted_pair_the_same_headroom(self, read_at: str) -> None:
        job = fork(read_at)
        installed = judged(job).front.left.installed_preload_mm.value
        choice = choose(job, judged(job), PROFILES, "front", installed_mm=installed)
        (fitted,) = [one for one in choice.options if one.fitted_now]
        target = judged(job).predicted.front.mm_for_target.value
        if read_at == "touching":
            assert target is None
            return
        assert target is not None
        quarters = round(TO_TARGET * 4) / 4  # as it can be set by hand
        assert target == pytest.approx(PITCH * quarters)
        assert fitted.headroom_in_mm.value == pytest.approx(PITCH * (TURNS - NOW - quarters), abs=1e-6)
        assert fitted.turns_for_target.value == pytest.approx(quarters, abs=1e-6)
        assert fitted.fittings[0].spacer_mm.value == pytest.approx(100.0)
        assert fitted.fittings[0].set_length_in_mm == pytest.approx(job.front.left.spring.set_length_in_mm)


class TestReadAssembled:
    JOB = fork(
        "assembled",
        front__left__spring__rate_n_per_mm=8.0,
        front__left__spring__set_length_mm=238.0,
        front__left__spring__set_length_in_mm=230.8,
    )

    def test_the_true_range_is_the_difference_of_both_preloads_on_the_stop(self) -> None:
        # by hand: Ps = s - (20 - 8 s / 27); s = 12 and 19.2: -4.444 and 4.889, 9.333 apart, 1.167 a turn (read: 0.9)
        left = judged(self.JOB).front.left
        assert left.adjuster_range_mm.value == pytest.approx(28.0 / 3.0)
        assert left.mm_per_turn.value == pytest.approx(1.1667, abs=1e-4)
        assert left.headroom_in_mm.value == pytest.approx(4.667, abs=1e-3)

    def test_pressed_onto_the_stop_at_the_inner_end_only_part_of_it_is_corrected(self) -> None:
        # xr = max(0, 5 - 8 s / 27): 1.444 at 12 mm, 0 from 16.875 mm on: Ps = 10.556 and 19.2
        left = judged(put(self.JOB, front__top_out__works_over_mm=5.0)).front.left
        assert left.adjuster_range_mm.value == pytest.approx(19.2 - (12.0 - (5.0 - 96.0 / 27.0)))

    def test_the_length_of_the_top_out_spring_is_not_needed_for_the_range(self) -> None:
        left = judged(put(self.JOB, front__top_out__works_over_mm=None)).front.left
        assert left.adjuster_range_mm.value == pytest.approx(28.0 / 3.0)
        assert left.read_at_mm is None

    def test_the_note_says_where_the_figures_hold_and_that_the_band_takes_them_as_read(self) -> None:
        note = sentence(found(judged(self.JOB), "read_off_the_stop"))
        assert "16.4 mm off the stop: installed preload is 12.0 mm there and -4.4 mm on the stop" in note.replace(
            "−", "-"
        )
        assert "The band applies to the fork as it was read; the true range is 9.3 mm" in note
        assert judged(self.JOB).front.left.verdict == "in"

    @pytest.mark.parametrize("change", [{"front__left__read_at": "stop"}, {"front__top_out__fitted": "no"}])
    def test_on_the_stop_or_without_a_top_out_spring_there_is_no_note(self, change: dict[str, Any]) -> None:
        assert "read_off_the_stop" not in codes(judged(put(self.JOB, **change)))

    def test_without_the_rate_of_the_spring_it_is_not_known_where_it_was_read(self) -> None:
        unmarked = put(self.JOB, front__left__spring__rate_n_per_mm=None)
        assert judged(unmarked).front.left.read_at_mm is None
        assert judged(unmarked).front.left.installed_preload_mm.value == 12.0

    def test_its_thread_is_compared_with_the_true_range(self) -> None:
        assert "pitch_disagrees" not in codes(judged(put(self.JOB, front__left__adjuster__pitch_mm=7.0 / 6.0)))
        assert "pitch_disagrees" in codes(judged(put(self.JOB, front__left__adjuster__pitch_mm=0.9)))

    def test_read_some_turns_in_the_thread_and_both_lengths_still_give_the_same_fork(self) -> None:
        squeezed, _ = squeeze_where_read("assembled", INSTALLED_AT_STOP + 3.0 * PITCH)
        job = fork(
            "assembled",
            front__left__spring__set_length_mm=FREE - squeezed,
            front__left__spring__set_length_at=3.0,
        )
        assessment = assess(job, PROFILES)
        assert assessment.front.left.adjuster_range_mm.value == pytest.approx(PITCH * TURNS)
        assert assessment.predicted.front.rider.sag_mm.value == pytest.approx(by_hand(116.0), abs=1e-6)

    def test_mixed_springs_with_one_thread_have_one_turn(self) -> None:
        stiffer = split(fork("assembled"))
        k = 10.5

        def read(at_stop: float) -> float:
            x = brentq(lambda x: k * max(0.0, at_stop + x) - STIFF * max(0.0, REACH - x), 0.0, REACH, xtol=1e-13)
            return float(FREE - (at_stop + x))

        job = put(
            stiffer,
            front__right__spring__rate_n_per_mm=k,
            front__right__spring__set_length_mm=read(INSTALLED_AT_STOP),
            front__right__spring__set_length_in_mm=read(INSTALLED_AT_STOP + PITCH * TURNS),
        )
        assessment = judged(job)
        assert assessment.front.leg("right").mm_per_turn.value == pytest.approx(PITCH)
        assert assessment.predicted.front.turns_for_target.known
