"""Readings and predictions: which is spoken of, whether they can be used, and travel counted from the right place."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from typing import cast

from stanchion.job.model import ENDS, STATES, Run
from stanchion.judgement.assess import assess
from stanchion.planning.whatif import compare
from stanchion.wording.finding_words import sentence
from true_machines.asks import advice_at, ask_of, asks_at, ends_of, target_at
from true_machines.judged import PROFILES, Contradiction, Judged, line, truths
from true_machines.remedies import WORK
from true_machines.work_done import turned


def travel_used(judged: Judged) -> Iterator[Contradiction]:
    """Travel available, used and left by the marker of a run, and by how much sag reads lower, against the truth."""
    case = judged.case
    if case.mode not in ("exact", "unread"):
        return
    fork, rear = case.fork, case.rear
    deepest = 0.9 * fork.travel - fork.hanging
    shock_hanging = float(rear.shock(rear.hanging))
    shock_end = float(rear.shock(rear.travel))
    run = Run(front_marker_mm=deepest, rear_marker_mm=0.9 * (shock_end - shock_hanging), marker_from="hanging")
    job = replace(case.job, runs=(run,), rear=replace(case.job.rear, stroke_mm=shock_end))
    job = replace(job, runs=(replace(run, front=job.front, rear=job.rear),))
    assessment = assess(job, PROFILES)
    if assessment.run is None:
        return
    for end, whole, used in (
        ("front", fork.travel - fork.hanging, deepest),
        ("rear", shock_end - shock_hanging, run.rear_marker_mm or 0.0),
    ):
        figures = assessment.run.front if end == "front" else assessment.run.rear
        for name, figure, true in (
            ("available", figures.available_mm, whole),
            ("used", figures.used_mm, used),
            ("left", figures.left_mm, whole - used),
        ):
            if figure.value is not None and abs(figure.value - true) > 0.05:
                yield Contradiction(f"h travel {name}", end, f"said {figure.value:.2f}, truly {true:.2f}")
    found_ones = [f for f in assessment.findings if f.values.get("unloaded_mm") is not None]
    for finding in found_ones:
        end = "rear" if "rear" in finding.where else "front"
        at, true = cast(float, finding.values["unloaded_mm"]), fork.hanging if end == "front" else rear.hanging
        if abs(at - true) > 0.05:
            yield Contradiction("h sag reads lower by", end, f"said {at:.2f}, truly {true:.2f}")
    for end, true in (("front", fork.hanging), ("rear", rear.hanging)):
        top_out = case.job.front.top_out if end == "front" else case.job.rear.top_out
        known = case.job.sag.front.static.down_mm
        if (
            top_out.fitted == "yes"
            and known
            and true > 0.5
            and not any(("rear" if "rear" in finding.where else "front") == end for finding in found_ones)
        ):
            yield Contradiction("h top-out spring not told of", end, f"sag reads {true:.2f} lower")


def measured_or_predicted(judged: Judged) -> Iterator[Contradiction]:
    """A predicted figure spoken of as measured; readings that cannot be used spoken of as if they could."""
    case, assessment = judged.case, judged.assessment
    if case.mode not in ("doubtful", "unread"):
        return
    why = case.doubt or "no readings"
    for end in ENDS:
        found_ones = [one for one in assessment.findings if end in ends_of(one)]
        found_ones += [
            one
            for one in (advice_at(assessment, end), target_at(assessment, end))
            if one is not None and one not in found_ones
        ]
        for finding in found_ones:
            words = sentence(finding)
            if finding.code in ("stiction_fault", "rider_above_static", "topped_out", "down_only"):
                continue
            if "orrected by the captured" in words or "orrected by the measured" in words:
                yield Contradiction(f"i corrected by readings of no use ({why})", end, words)
            if _quotes_sag(words) and "predict" not in words.lower():
                yield Contradiction(f"i sag spoken of as measured ({why})", end, f"[{finding.code}] {words}")
            ask = ask_of(finding)
            if case.doubt and ask is not None and ask.work in WORK[1:] and not ask.predicted:
                yield Contradiction(f"i {ask.work} asked for by readings of no use ({why})", end, line(ask))


def _quotes_sag(words: str) -> bool:
    return (
        re.search(
            r"sags? (too|in target)|sag (is |now |comes )?\(?(now )?-?\d|\(now |(from|is) -?\d+\.\d mm (to|is)", words
        )
        is not None
    )


def topped_out_is_topped_out(judged: Judged) -> Iterator[Contradiction]:
    """An end that stands topped out, or would, is not given a millimetre or two of sag."""
    case = judged.case
    for end in ENDS if case.mode in ("exact", "unread") else ():
        found_ones = [*judged.assessment.findings, advice_at(judged.assessment, end), target_at(judged.assessment, end)]
        for state, sag in zip(STATES, judged.truth(end).sags, strict=True):
            if sag > 0.0:
                continue
            for words in dict.fromkeys(
                sentence(one) for one in found_ones if one is not None and ends_of(one) == (end,)
            ):
                # What a change is said to bring is held against what it brings by remedies_keep_their_promise.
                if re.search(rf"{state}( sag)? -?[01]\.\d mm", words.partition("; expect ")[0]):
                    yield Contradiction("i a sag said of a topped-out end", end, words)
    if case.mode != "exact":
        return
    for end in ENDS:
        top_out = case.job.front.top_out if end == "front" else case.job.rear.top_out
        if top_out.fitted == "yes":
            continue
        more = turned(case.job, end, None, 40.0)
        true = turned(case.true, end, None, 40.0)
        if more is None or true is None:
            continue
        static = truths(true, case)[end].sags[0]
        row = compare(case.job, more, PROFILES).row((end,), "static_captured")
        if static < 1e-6 and row.changed.value is not None and row.changed.value > 0.05:
            yield Contradiction("i topped out, yet a sag", end, f"static {row.changed.value:.2f}")


def forecasts(judged: Judged) -> Iterator[Contradiction]:
    """What a change is said to bring, against what it brings."""
    case = judged.case
    if case.mode != "exact" or case.seed % 4:
        return
    more = turned(case.job, "front", 2.0, 2.0) or case.job
    more = turned(more, "rear", 1.0, 1.0) or more
    true = turned(case.true, "front", 2.0, 2.0) or case.true
    true = turned(true, "rear", 1.0, 1.0) or true
    found_ones, after = compare(case.job, more, PROFILES), truths(true, case)
    for end in ENDS:
        if after[end].room[1] < 0.0:
            continue
        for at, state in enumerate(("static", "rider")):
            shown = found_ones.row((end,), f"{state}_captured").changed.value
            sag = after[end].sags[at]
            if shown is not None and abs(shown - sag) > 0.3:
                yield Contradiction("i forecast", end, f"{state}: said {shown:.2f}, truly {sag:.2f}")


def inputs_in_doubt(judged: Judged) -> Iterator[Contradiction]:
    """A prediction far from the measured sag: one finding doubts the inputs, and nothing else is concluded there."""
    case, assessment = judged.case, judged.assessment
    if case.mode not in ("false", "exact"):
        return
    for end in ENDS:
        travel = (case.job.front.travel_mm if end == "front" else case.job.rear.wheel_travel_mm) or 0.0
        predicted, measured = assessment.predicted.end(end), assessment.sag.end(end)
        off = [
            abs((predicted.state(s).sag_mm.value or 0.0) - (measured.state(s).sag_mm.value or 0.0))
            for s in ("static", "rider")
            if predicted.state(s).sag_mm.known and measured.state(s).sag_mm.known
        ]
        asks = asks_at(assessment, end)
        doubts = [ask for ask in asks if ask.work == "inputs"]
        if not off or max(off) <= 0.27 * travel:
            if case.mode == "exact" and doubts:
                yield Contradiction("j inputs doubted that are right", end, line(doubts[0]))
            continue
        others = [ask for ask in asks if ask.work in ("turns", "spacer", "spring", "none")]
        shown = f"off by {max(off):.1f} of {travel:.0f} mm: " + " / ".join(map(line, [*doubts, *others]))
        if not doubts:
            yield Contradiction("j inputs not doubted", end, shown)
        if len({ask.finding.code + str(ask.finding.where) for ask in doubts}) > 1:
            yield Contradiction("j doubted in more than one finding", end, shown)
        if others:
            yield Contradiction("j concluded from inputs in doubt", end, shown)
