"""Where no spring rate brings both sags of an end into their targets: advice and list say so alike, and it stays said.

The physics stands beside each case in the test's own arithmetic: springs of rate k (both legs together, or the shock's)
with preload P carry a load at a sag s where k (P + s) is that load, so that both sags in target need

    k >= (rider load - static load) / (greatest rider sag - least static sag), or they lie too far apart;
    P = static load / k - static sag, which adjuster and band must leave room for.

Targets and bands are the track profile's (common practice, no published source).
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any, cast

import pytest

import judgement_jobs
from judgement_jobs import FULL, PROFILES, judged, put, repeated
from stanchion.job.model import End, Job, Readings, SagEnd
from stanchion.judgement.choice import choose
from stanchion.judgement.findings import Finding, Severity
from stanchion.judgement.rates import Asked, no_rate
from stanchion.judgement.rear_refit import RearRefit
from stanchion.judgement.remedies import Aims
from stanchion.judgement.wording import reason, sentence
from stanchion.report.check import as_text
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_text import sheet_text

FORK_N_PER_MM = 19.0
"""Both legs of the fork of these jobs, with 12 mm installed and 2 mm turned in."""
SHOCK_N_PER_MM, RATIO, COLLAR_OUT_MM, COLLAR_MM = 95.0, 0.4, 12.0, 15.0
"""The shock of these jobs: its spring, its motion ratio, and preload with the collar out and what it adds."""


def sag_end(static: float, rider: float) -> SagEnd:
    return repeated(judgement_jobs.sag_end(static, rider))


def front(static: float, rider: float, **more: Any) -> Job:
    return put(FULL, sag__front=sag_end(static, rider), **more)


def rear(static: float, rider: float, **more: Any) -> Job:
    return put(FULL, sag__rear=sag_end(static, rider), **({"rear__collar__now": 2.0} | more))


def advice(job: Job, end: End) -> Finding:
    given = judged(job).sag.end(end).advice
    assert given is not None
    return given


def rate_in_list(job: Job, end: End) -> str:
    """Why the list of springs has no rate; "" where it has."""
    return choose(job, judged(job), PROFILES, end).needed_n_per_mm.problem


class TestTheFork:
    """Installed preload 8 to 15 mm, the adjuster adds 0 to 8: from 8 to 23 mm in all."""

    def test_stiff_enough_it_stands_too_high(self) -> None:
        # 30 mm apart are the 23 that the targets allow with 30/23 of the rate; at static 15 its preload then is
        # (12 + 2 + 12) x 23/30 - 15 = 4.9 mm: the band begins at 8.
        stiffest_preload = FORK_N_PER_MM * 26.0 / (FORK_N_PER_MM * 30.0 / 23.0) - 15.0
        assert stiffest_preload < 8.0 - 2.0
        job = front(12.0, 42.0)
        given = advice(job, "front")
        assert given.code == "no_spring_needs_less"
        assert (given.severity, given.where) == (Severity.WARNING, ("sag", "front"))
        assert rate_in_list(job, "front") == "no_rate_needs_less"

    def test_soft_enough_it_stands_too_low(self) -> None:
        # 1 mm apart are the 3 at least wanted with a third of the rate; at static 25 that takes 3 x 40 - 25 = 95 mm.
        job = front(26.0, 27.0)
        assert advice(job, "front").code == "no_spring_needs_more"
        assert rate_in_list(job, "front") == "no_rate_needs_more"

    def test_rider_sag_alone_is_brought_in_by_what_the_adjuster_has(self) -> None:
        given = advice(front(12.0, 42.0), "front")
        assert (given.values["work"], given.values["way"], given.values["turned_way"]) == ("turns", "more", "in")
        assert cast(float, given.values["preload_mm"]) <= 6.0  # left on the adjuster
        assert 28.0 <= cast(float, given.values["rider_after_mm"]) <= 38.0

    def test_where_the_adjuster_is_at_its_end_a_spacer_within_the_band_does_it(self) -> None:
        # Fully in: 20 mm of preload; 30.5 apart takes 23/30.5 of the rate, and (20 + 10) x 23/30.5 - 15 = 7.6 mm.
        given = advice(front(8.0, 40.5, front__left__adjuster__now=16.0), "front")
        assert given.code == "no_spring_needs_less"
        assert (given.values["work"], given.values["way"]) == ("spacer", "more")
        assert cast(float, given.values["spacer_change_mm"]) <= 3.0  # from 12 to the band's 15
        assert 28.0 <= cast(float, given.values["rider_after_mm"]) <= 38.0
        assert "spacer longer by" in sentence(given)

    def test_over_its_limit_no_preload_is_added(self) -> None:
        # 16 mm installed is over the limit of 15: a spacer within the band leaves rider sag where it is, or lower.
        long = {"front__left__spring__set_length_mm": 234.0, "front__left__spring__set_length_in_mm": 226.0}
        given = advice(front(12.0, 50.0, **long), "front")
        assert given.code == "no_spring_needs_less"
        assert given.values["work"] == "measure"
        assert "see the list of springs" in sentence(given)

    def test_springs_that_just_suit_are_asked_for(self) -> None:
        # Fully in the same sags leave (20 + 12) x 23/30 - 15 = 9.5 mm, which is in the band.
        job = front(12.0, 42.0, front__left__adjuster__now=16.0)
        assert advice(job, "front").values["way"] == "stiffer"
        assert rate_in_list(job, "front") == ""


class TestTheShock:
    """The collar gives 12 to 27 mm of preload whatever spring of this length is put on."""

    def test_stiff_enough_the_collar_cannot_let_it_down(self) -> None:
        # 36 - 4 = 32 mm apart are 27 with 32/27 of the rate; at static 5 the preload then is
        # (15 + 0.4 x 4) x 27/32 - 0.4 x 5 = 12.0, and the sags are known to 0.8: so it is shut from 34 apart on.
        now = COLLAR_OUT_MM + 2.0 * 1.5
        most = SHOCK_N_PER_MM * (now + RATIO * 4.0) / (SHOCK_N_PER_MM * 37.0 / 28.6) - RATIO * 4.2
        assert most < COLLAR_OUT_MM
        job = rear(4.0, 41.0)
        assert advice(job, "rear").code == "no_spring_needs_less"
        assert rate_in_list(job, "rear") == "no_rate_needs_less"

    def test_soft_enough_the_collar_cannot_hold_it_up(self) -> None:
        # 4 mm apart are 15 with 4/15 of the rate; at static 10 that takes (15 + 0.4 x 20) x 15/4 - 4 = 82 mm.
        job = rear(20.0, 24.0)
        assert advice(job, "rear").code == "no_spring_needs_more"
        assert rate_in_list(job, "rear") == "no_rate_needs_more"

    def test_no_preload_tops_the_machine_out(self) -> None:
        # Rider sag wants 4 to 5 mm more at the collar, and static sag is 4: with 1.6 mm more it would be gone.
        given = advice(rear(4.0, 41.0), "rear")
        assert given.values["work"] == "measure"
        assert "see the list of springs" in sentence(given)
        # From 9 mm it may come down to 4, which is 0.4 x 5 = 2 mm at the collar.
        further = advice(rear(9.0, 52.0), "rear")
        assert further.code == "no_spring_needs_less"
        assert cast(float, further.values["preload_mm"]) == pytest.approx(2.0, abs=0.1)
        assert cast(float, further.values["static_after_mm"]) >= 3.7

    def test_the_motion_ratio_is_among_what_to_check_there(self) -> None:
        assert "motion ratio" in sentence(advice(rear(20.0, 24.0), "rear"))
        assert "motion ratio" not in sentence(advice(front(26.0, 27.0), "front"))

    def test_it_is_found_at_the_rate_where_both_are_missed(self) -> None:
        job = rear(4.0, 41.0)
        assessment = judged(job)
        loads = {
            "static": RATIO * SHOCK_N_PER_MM * (15.0 + RATIO * 4.0),
            "rider": RATIO * SHOCK_N_PER_MM * (15.0 + RATIO * 41.0),
        }
        aims = Aims(targets={"static": (5.0, 10.0), "rider": (25.0, 32.0)}, slack_mm={})
        band = PROFILES.by_name["track"].rear.installed_preload
        asked = Asked(loads=cast(Any, loads), band=band, aims=aims)
        found = {no_rate(RearRefit(job, assessment.rear.spring), asked, guess) for guess in (20.0, 95.0, 300.0)}
        assert found == {"no_rate_needs_less"}
        # By hand, over every rate: never both.
        for rate in range(40, 300):
            low = max(loads["static"] / (RATIO * rate) - RATIO * 10.0, loads["rider"] / (RATIO * rate) - RATIO * 32.0)
            high = min(loads["static"] / (RATIO * rate) - RATIO * 5.0, loads["rider"] / (RATIO * rate) - RATIO * 25.0)
            assert max(low, COLLAR_OUT_MM) > min(high, COLLAR_OUT_MM + COLLAR_MM)


SHUT: list[tuple[End, Job]] = [
    ("front", front(12.0, 42.0)),
    ("front", front(26.0, 27.0)),
    ("front", front(8.0, 40.5, front__left__adjuster__now=16.0)),
    ("front", front(32.0, 33.0)),
    ("rear", rear(4.0, 41.0)),
    ("rear", rear(9.0, 52.0)),
    ("rear", rear(20.0, 24.0)),
    ("rear", rear(4.0, 36.0, rear__collar__now=0.0)),
]


@pytest.mark.parametrize(("end", "job"), SHUT)
class TestWhatIsSaid:
    def test_advice_target_list_text_and_sheet_say_the_same(self, end: End, job: Job) -> None:
        assessment = judged(job)
        given = advice(job, end)
        assert given.code.startswith("no_spring")
        assert assessment.predicted.end(end).target == given
        needed = choose(job, assessment, PROFILES, end).needed_n_per_mm
        assert needed.problem == given.code.replace("no_spring", "no_rate")
        assert "no rate brings both sags in" in reason(needed)
        words = " ".join(sentence(given).split())
        assert words in " ".join(as_text("a", job, assessment).split())
        assert words in " ".join(sheet_text(make_sheet(job, assessment)).split())

    def test_no_row_of_the_list_is_called_too_soft_or_too_stiff(self, end: End, job: Job) -> None:
        rows = choose(job, judged(job), PROFILES, end).options
        assert rows
        assert not {row.verdict for row in rows} & {"too_soft", "too_stiff", "borderline", "suits"}

    def test_no_spring_is_asked_for(self, end: End, job: Job) -> None:
        given = advice(job, end)
        words = sentence(given)
        assert given.values["work"] != "spring"
        assert not any(word in words for word in ("stiffer", "Stiffer", "softer", "Softer", "too soft", "too stiff"))
        assert "Check weights" in words
        assert "targets" in words

    def test_done_and_measured_again_it_is_quiet(self, end: End, job: Job) -> None:
        given = advice(job, end)
        after = given
        if given.values["work"] != "measure":
            job = done(job, end, given)
            after = advice(job, end)
        assert after.code == given.code
        assert after.values["work"] == "measure"
        assert after.values["preload_mm"] is None


def done(job: Job, end: End, given: Finding) -> Job:
    """The job with what was asked for done, and the sags that it said to expect measured."""
    values = given.values
    if (change := values["spacer_change_mm"]) is not None:
        longer = cast(float, change) * (1.0 if values["spacer_way"] == "longer" else -1.0)
        spring, stack = job.front.left.spring, job.front.left.stack
        job = put(
            job,
            front__left__spring__set_length_mm=cast(float, spring.set_length_mm) - longer,
            front__left__spring__set_length_in_mm=cast(float, spring.set_length_in_mm) - longer,
            front__left__stack__spacer_mm=cast(float, stack.spacer_mm) + longer,
        )
    if (turns := values["turns"]) is not None:
        more = cast(float, turns) * (1.0 if values["turned_way"] == "in" else -1.0)
        if end == "front":
            job = put(job, front__left__adjuster__now=cast(float, job.front.left.adjuster.now) + more)
        else:
            job = put(job, rear__collar__now=cast(float, job.rear.collar.now) + more)
    static, rider = (cast(float | None, values[f"{state}_after_mm"]) or 0.0 for state in ("static", "rider"))
    return put(job, **{f"sag__{end}": sag_end(static, rider)})


class TestToTheEdge:
    """What brings a sag only to the edge of what its readings can tell."""

    def test_turned_there_and_read_as_roughly_nothing_more_is_asked_for(self) -> None:
        # Rider 42 with readings 3 mm apart: known to many mm. Static 24, known well, has 9 mm to its lower edge.
        rough = Readings(down_mm=(557.0, 560.0), up_mm=(557.0, 560.0))
        readings = replace(sag_end(28.0, 41.5), rider=rough)
        job = put(FULL, sag__front=readings, front__left__adjuster__now=10.0)
        given = advice(job, "front")
        assert given.values["work"] == "turns"
        moved = cast(float, given.values["rider_mm"]) - cast(float, given.values["rider_after_mm"])
        again = replace(
            sag_end(28.0 - moved, 0.0),
            rider=Readings(
                down_mm=tuple(mm + moved for mm in rough.down_mm), up_mm=tuple(mm + moved for mm in rough.up_mm)
            ),
        )
        now = cast(float, job.front.left.adjuster.now) + cast(float, given.values["turns"])
        after = advice(put(job, sag__front=again, front__left__adjuster__now=now), "front")
        assert after.values["work"] == "none"

    def test_what_no_turn_brings_nearer_is_left(self) -> None:
        # Fully in, static 25.4 is known to 0.1 with a finer tape: over its target, by less than is worth a spring.
        fine = put(front(25.4, 36.0, front__left__adjuster__now=16.0), sag__tape_resolution_mm=0.1)
        fine = put(fine, front__left__spring__set_length_mm=235.0, front__left__spring__set_length_in_mm=227.0)
        given = advice(fine, "front")
        assert (given.code, given.severity, given.values["work"]) == ("pair_close", Severity.NOTE, "none")
        assert "leave it" in sentence(given)

    def test_a_spring_that_suits_only_within_what_can_be_told_is_not_bought_yet(self) -> None:
        job = rear(4.0, 37.0)
        given = advice(job, "rear")
        assert given.values["again"] is True
        assert "Measure again before buying one." in sentence(given)
        choice = choose(job, judged(job), PROFILES, "rear")
        assert choice.if_at_all
        assert choice.window_n_per_mm is None
        assert choice.needed_n_per_mm.known
