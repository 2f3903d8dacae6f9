"""What to try beside the job's own findings: nothing that they advise against, their order, and no two ways at once."""

from __future__ import annotations

from dataclasses import replace

import make_samples
from judgement_jobs import PROFILES, judged, put
from stanchion.job.complaint import Complaint
from stanchion.job.model import Job
from stanchion.job.runs import new_run
from stanchion.judgement.criteria.riders_words import load_riders_words
from stanchion.judgement.results.findings import Severity
from stanchion.planning.what_to_try import WhatToTry, what_to_try
from stanchion.wording.try_sentences import change_words, opposite_words, with_spring_words

WORDS = load_riders_words()
WELL = make_samples.well_set()
CLOSED = put(
    WELL,
    front__left__compression__now=0.0,
    front__left__rebound__now=0.0,
    rear__rebound__now=0.0,
    rear__low_speed_compression__now=0.0,
    rear__high_speed_compression__now=0.0,
)


def tried(job: Job, *complaints: tuple[str, str], front_mm: float = 105.0, rear_mm: float = 45.0) -> WhatToTry:
    said = tuple(Complaint(what=what, where=where) for what, where in complaints)  # type: ignore[arg-type]
    run = replace(new_run(job, "9:40"), complaints=said, front_marker_mm=front_mm, rear_marker_mm=rear_mm)
    job = replace(job, runs=(*job.runs, run))
    return what_to_try(job, len(job.runs) - 1, judged(job), PROFILES, WORDS)


def offered(of: WhatToTry) -> list[str]:
    return [one.row.do for one in of.offered]


def why_not(of: WhatToTry) -> dict[str, str]:
    return {one.row.do: one.hindered.why for one in of.not_offered if one.hindered is not None}


def one_click() -> WhatToTry:
    """Almost at their ends, the collar backed off since sag was read, both ends near full travel."""
    job = put(WELL, front__left__compression__now=1.0, front__left__rebound__now=23.5, rear__collar__now=0.0)
    said = ("dives", "turn_in"), ("packs_down", "bumps"), ("squats", "exit")
    return tried(job, *said, front_mm=119.0, rear_mm=63.0)


class TestSagInDoubt:
    def test_no_spring_or_preload_where_sag_is_not_as_predicted(self) -> None:
        of = one_click()
        assert why_not(of)["rear_preload_more"] == "doubt_first"
        assert why_not(of)["rear_spring_stiffer"] == "doubt_first"
        assert not {"rear_preload_more", "rear_spring_stiffer"} & set(offered(of))
        assert "front_preload_more" in offered(of)  # nothing is in doubt there

    def test_nor_where_sag_is_too_near_the_edge_of_its_target(self) -> None:
        of = tried(make_samples.soft_springs(), ("runs_wide", "exit"), ("kicks", "bumps"), rear_mm=40.0)
        rear = {do: why for do, why in why_not(of).items() if do.startswith("rear")}
        assert rear == dict.fromkeys(("rear_preload_more", "rear_spring_stiffer", "rear_preload_less"), "sag_at_edge")

    def test_every_warning_on_the_end_stands_under_what_to_check(self) -> None:
        of = one_click()
        (rear,) = [one for one in of.readings if one.kind == "rear_sag"]
        assert [one.code for one in rear.findings] == ["sag_not_as_predicted"]
        for job in (make_samples.soft_springs(), put(WELL, front__left__spring__set_length_mm=251.0)):
            of = tried(job, ("runs_wide", "exit"), ("kicks", "bumps"))
            listed = [one for state in of.readings for one in state.findings]
            run = replace(new_run(job, "9:40"), front_marker_mm=105.0, rear_marker_mm=45.0)
            findings = judged(replace(job, runs=(*job.runs, run))).findings
            ends = [one for one in findings if one.severity > Severity.NOTE and {"front", "rear"} & set(one.where)]
            assert ends
            assert {(one.code, one.where) for one in ends} <= {(one.code, one.where) for one in listed}


class TestOrder:
    def test_near_full_travel_in_the_order_of_the_finding(self) -> None:
        front = [do for do in offered(one_click()) if do.startswith("front")]
        assert front == ["front_air_gap_less", "front_compression_more", "front_preload_more", "front_spring_stiffer"]

    def test_the_opposite_of_a_change_comes_last_and_only_if_that_made_it_worse(self) -> None:
        of = tried(make_samples.soft_springs(), ("harsh", "bumps"), ("dives", "straight_braking"), ("tops_out", "exit"))
        late = {one.row.do: one.opposite_of for one in of.offered if one.opposite_of is not None}
        assert late["front_rebound_more"] == "front_rebound_less"
        assert offered(of)[-len(late) :] == list(late)
        (one,) = [one for one in of.offered if one.row.do == "front_rebound_more"]
        number = offered(of).index("front_rebound_less") + 1
        assert opposite_words(one, of.offered) == f"The opposite of {number}: only if {number} made it worse."

    def test_travel_that_is_never_used_asks_for_less_first(self) -> None:
        said = ("runs_wide", "exit"), ("kicks", "bumps")
        by_order, by_marker = tried(WELL, *said, rear_mm=54.0), tried(WELL, *said, rear_mm=30.0)
        first, then = "rear_compression_more", "rear_compression_less"
        assert offered(by_order).index(first) < offered(by_order).index(then)
        assert offered(by_marker).index(then) < offered(by_marker).index(first)

    def test_other_springs_come_last_where_the_sags_suit_those_fitted(self) -> None:
        of = tried(CLOSED, ("dives", "straight_braking"), ("pumps", "exit"), ("harsh", "bumps"))
        assert [one.row.do for one in of.offered if one.last] == offered(of)[-2:]

    def test_fork_springs_say_each_leg_and_what_becomes_of_preload(self) -> None:
        of = tried(CLOSED, ("dives", "straight_braking"))
        (one,) = [one for one in of.offered if one.row.do == "front_spring_stiffer"]
        assert change_words(one, CLOSED) == "Fork spring rate +0.25 N/mm, each leg"
        assert with_spring_words(one).startswith(("With it: Front sag", "Preload: leave spacer"))
