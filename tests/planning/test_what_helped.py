"""What helped before is counted as one counts by hand, whatever the library holds."""

from __future__ import annotations

import datetime as dt
import random
from dataclasses import replace

from judgement_jobs import FULL, put
from stanchion.job.change import RiddenChange
from stanchion.job.complaint import Complaint
from stanchion.job.diff import differences
from stanchion.job.model import Job, Run
from stanchion.planning.what_helped import (
    ChangeKey,
    PastVerdict,
    Tally,
    helped,
    helped_otherwise,
    key_of_edits,
    past_verdicts,
)
from stanchion.wording.helped_sentences import earlier_words

DIVES = Complaint(where="straight_braking", what="dives")
WIDE = Complaint(where="exit", what="runs_wide")
START = put(FULL, rear__rebound__now=10.0, front__left__compression__now=12.0)


def key_of(job: Job, after: Job) -> ChangeKey:
    return key_of_edits(job, (one.edit for one in differences(job, after)))


OUT = key_of(START, put(START, rear__rebound__now=12.0))
IN = key_of(START, put(START, rear__rebound__now=8.0))
FIRMER = key_of(START, put(START, front__left__compression__now=10.0))


def of_runs(settings: list[Job], verdicts: list[str], told: Complaint = WIDE, **about: object) -> Job:
    """A job whose runs were ridden with these settings, every one complained of alike."""
    runs = tuple(
        Run(time=f"{9 + at}:00", complaints=(told,), verdict=verdict, front=job.front, rear=job.rear)
        for at, (job, verdict) in enumerate(zip(settings, verdicts, strict=True))
    )
    return replace(START, job=replace(START.job, rider="A", venue="Ring", **about), runs=runs)  # type: ignore[arg-type]


def test_which_way_counts_and_how_far_does_not() -> None:
    assert OUT != IN
    assert key_of(START, put(START, rear__rebound__now=13.0)) == OUT
    assert key_of(put(START, rear__rebound__now=6.0), put(START, rear__rebound__now=7.0)) == OUT
    softer = key_of(START, put(START, rear__spring__rate_n_per_mm=90.0))
    stiffer = key_of(START, put(START, rear__spring__rate_n_per_mm=100.0))
    assert softer != stiffer


def test_the_first_run_and_one_with_nothing_changed_give_nothing() -> None:
    job = of_runs([START, START, put(START, rear__rebound__now=12.0)], ["better", "worse", "not_said"])
    assert list(past_verdicts("a.toml", job)) == []


def test_a_verdict_counts_for_the_complaint_it_was_meant_against() -> None:
    job = of_runs([START, put(START, rear__rebound__now=12.0)], ["not_said", "better"])
    past = list(past_verdicts("a.toml", job))
    assert helped(past, OUT, [WIDE], "a", " RING ").here == Tally(better=1)
    assert helped(past, OUT, [replace(WIDE, where="anywhere")], "A", "Ring").here == Tally(better=1)
    assert not helped(past, OUT, [replace(WIDE, where="turn_in")], "A", "Ring").known
    assert not helped(past, OUT, [DIVES], "A", "Ring").known
    assert not helped(past, IN, [WIDE], "A", "Ring").known
    recorded = replace(job, runs=(job.runs[0], replace(job.runs[1], change=RiddenChange(complaints=(DIVES,)))))
    past = list(past_verdicts("a.toml", recorded))
    assert helped(past, OUT, [DIVES], "A", "Ring").here == Tally(better=1), "what was recorded wins over the run before"


def test_of_two_changes_at_once_neither_is_credited() -> None:
    both = put(START, rear__rebound__now=12.0, front__left__compression__now=10.0)
    past = list(past_verdicts("a.toml", of_runs([START, both], ["not_said", "better"])))
    for key in (OUT, FIRMER):
        found = helped(past, key, [WIDE], "A", "Ring")
        assert (found.here, found.last) == (Tally(unclear=1), None)


def test_settings_that_were_chosen_as_one_change_count_as_that_change() -> None:
    both = put(START, rear__spring__rate_n_per_mm=100.0, rear__collar__now=1.0)
    job = of_runs([START, both], ["not_said", "worse"])
    job = replace(job, runs=(job.runs[0], replace(job.runs[1], change=RiddenChange(complaints=(WIDE,)))))
    past = list(past_verdicts("a.toml", job))
    assert helped(past, key_of(START, both), [WIDE], "A", "Ring").here == Tally(worse=1)
    alone = key_of(START, put(START, rear__collar__now=1.0))
    assert not helped(past, alone, [WIDE], "A", "Ring").known


def test_what_else_helped_is_told_with_the_last_amount_unless_it_is_suggested_or_was_as_often_worse() -> None:
    two, three = (put(START, rear__rebound__now=to) for to in (12.0, 13.0))
    first = of_runs([START, two], ["not_said", "better"], date=dt.date(2026, 5, 1))
    later = of_runs([START, three], ["not_said", "better"], date=dt.date(2026, 5, 9))
    past = [*past_verdicts("b.toml", later), *past_verdicts("a.toml", first)]
    (found,) = helped_otherwise(past, set(), [WIDE], "A", "Ring")
    assert found.helped.here == Tally(better=2)
    assert earlier_words(found) == "Shock rebound: 3 clicks out (from 10 to 13 clicks)"
    assert helped_otherwise(past, {OUT}, [WIDE], "A", "Ring") == ()
    assert helped_otherwise(past, set(), [DIVES], "A", "Ring") == ()
    assert helped_otherwise(past, set(), [], "A", "Ring") == ()
    worse = of_runs([START, two, START, two], ["not_said", "worse", "not_said", "worse"])
    assert helped_otherwise([*past, *past_verdicts("c.toml", worse)], set(), [WIDE], "A", "Ring") == ()
    both = put(two, front__left__compression__now=10.0)
    together = list(past_verdicts("d.toml", of_runs([START, both], ["not_said", "better"])))
    assert helped_otherwise(together, set(), [WIDE], "A", "Ring") == (), "of two at once none can be credited"


def test_random_jobs_are_counted_as_by_hand() -> None:
    """Clicks turned one way or the other before each run, at random, with the counts kept beside it."""
    chance = random.Random(18)
    past: list[PastVerdict] = []
    by_hand, last = dict.fromkeys(("here", "elsewhere", "others"), Tally()), None
    for number in range(240):
        rider, venue = chance.choice(["A", "B"]), chance.choice(["Ring", "Loop", ""])
        day = dt.date(2026, 1, 1) + dt.timedelta(days=chance.randrange(300))
        told = chance.choice([WIDE, DIVES])
        settings, verdicts = [START], ["not_said"]
        for _ in range(chance.randrange(1, 5)):
            before = settings[-1]
            turned = chance.choice([-2.0, -1.0, 0.0, 1.0, 2.0])
            also = chance.random() < 0.3
            now = put(before, rear__rebound__now=(before.rear.rebound.now or 0.0) + turned)
            if also:
                other = before.front.left.compression.now or 0.0
                now = put(now, front__left__compression__now=other + (1.0 if other < 20.0 else -1.0))
            verdict = chance.choice(["better", "same", "worse", "not_said"])
            settings.append(now)
            verdicts.append(verdict)
            if told != WIDE or verdict == "not_said" or turned <= 0.0:
                continue
            place = "others" if rider != "A" else "here" if venue == "Ring" else "elsewhere"
            of = by_hand[place]
            if also:
                by_hand[place] = replace(of, unclear=of.unclear + 1)
            else:
                by_hand[place] = replace(of, **{verdict: getattr(of, verdict) + 1})
                last = day if last is None else max(last, day)
        job = of_runs(settings, verdicts, told)
        job = replace(job, job=replace(job.job, rider=rider, venue=venue, date=day))
        past += past_verdicts(f"{number}.toml", job)
    found = helped(past, OUT, [WIDE], "a", "ring")
    assert {name: getattr(found, name) for name in by_hand} == by_hand
    assert found.last == last
    assert found.here.judged > 5
    assert found.others.unclear > 0
