"""Work done to a machine as an advice asks for it, and whether it brings what it promises."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import cast

import numpy as np
from scipy.stats import t as student_t

from stanchion.job.edit import apply
from stanchion.job.model import ENDS, SIDES, STATES, End, Front, Job, Leg, SagEnd, Side
from stanchion.judgement.assess import assess
from stanchion.judgement.results.assessment import Assessment
from stanchion.planning.spring_choice import choose
from stanchion.planning.spring_choice_edits import as_edits
from stanchion.planning.spring_option import Option
from true_machines.asks import OPPOSITE, Ask
from true_machines.judged import PROFILES, Contradiction, Judged, asked_at, line, truths
from true_machines.machines import Case, sag_of
from true_machines.physics import G, TrueRear, as_read, fork_of, top_out_of
from true_machines.remedies import CLOSE, SURE, WORK, Truth

ROUGH = 3.0
"""By how much sags may be off that rough readings told [mm]."""
LASTING = 6
"""After so many remedies a machine must be right, or nothing more be asked for."""


def applied(job: Job, end: str, ask: Ask) -> Job | None:
    """The job, or the machine, after the work an advice asks for; None where it does not say how much."""
    numbers, sign = ask.numbers, 1.0 if ask.way == "more" else -1.0
    way = {"in": 1.0, "out": -1.0}.get(str(ask.finding.values.get("turned_way")), sign)
    turns, mm = (numbers.get(name) for name in ("turns", "preload_mm"))
    if ask.work == "spacer" and end == "front":
        change = numbers.get("spacer_change_mm")
        if change is None:
            return None
        job = _with_spacer(job, sign * change)
        if turns is None and mm is None:
            return job
    if ask.work in ("turns", "spacer"):
        return turned(job, end, turns and way * turns, mm and way * mm)
    return None


def turned(job: Job, end: str, turns: float | None, mm: float | None) -> Job | None:
    if end == "rear":
        collar = job.rear.collar
        if turns is None:
            if mm is None or not collar.pitch_mm:
                return None
            turns = mm / collar.pitch_mm
        now, spring = (collar.now or 0.0) + turns, job.rear.spring
        if now < 0.0 and collar.total_turns is None and collar.pitch_mm:
            # Further out than where it was first counted from: the length is read again there, and counted from there.
            spring = replace(spring, set_length_mm=(spring.set_length_mm or 0.0) - now * collar.pitch_mm)
            now = 0.0
        return replace(job, rear=replace(job.rear, spring=spring, collar=replace(collar, now=now)))
    front = job.front
    for side in SIDES if front.split else SIDES[:1]:
        leg = front.leg(side)
        if not leg.spring_fitted or leg.adjuster.counting == "none":
            continue
        more = turns
        if more is None:
            whole = (leg.spring.set_length_mm or 0.0) - (leg.spring.set_length_in_mm or 0.0)
            if mm is None or not whole:
                return None
            more = mm * (leg.adjuster.total_turns or 0.0) / whole
        adjuster = replace(leg.adjuster, now=(leg.adjuster.now or 0.0) + more)
        front = _with_leg(front, side, replace(leg, adjuster=adjuster))
    return replace(job, front=front)


def _with_leg(front: Front, side: Side, leg: Leg) -> Front:
    return replace(front, left=leg) if side == "left" else replace(front, right=leg)


def _with_spacer(job: Job, more: float) -> Job:
    front = job.front
    made = fork_of(job)
    for at, side in enumerate(SIDES if front.split else SIDES[:1]):
        leg, of_leg = front.leg(side), made.legs[at]
        if not leg.spring_fitted:
            continue
        spring, top_out = leg.spring, top_out_of(front.top_out)
        free, at_stop = spring.free_length_mm or 0.0, of_leg.preload - of_leg.added + more
        spring = replace(spring, set_length_mm=free - as_read(top_out, leg.read_at, of_leg.rate, at_stop))
        if spring.set_length_in_mm is not None:
            fully_in = free - as_read(top_out, leg.read_at, of_leg.rate, at_stop + of_leg.reach)
            spring = replace(spring, set_length_in_mm=fully_in)
        stack = leg.stack
        if stack.spacer_mm is not None:
            stack = replace(stack, spacer_mm=stack.spacer_mm + more)
        front = _with_leg(front, side, replace(leg, spring=spring, stack=stack))
    return replace(job, front=front)


def remedies_keep_their_promise(judged: Judged) -> Iterator[Contradiction]:
    """Each remedy, done to the machine and measured again, brings what it promises, and the work comes to an end."""
    if judged.case.mode not in ("exact", "drift", "unread"):
        return
    exact = judged.case.mode != "drift"
    for end in ENDS:
        yield from _followed(judged, end, CLOSE if exact else ROUGH)


def _followed(judged: Judged, end: End, allowed: float) -> Iterator[Contradiction]:
    true, job, assessment, exact = judged.case.true, judged.case.job, judged.assessment, allowed < ROUGH
    truth = judged.truth(end)
    done: list[Ask] = []
    measured_again = False
    for _ in range(LASTING):
        ask = asked_at(assessment, end)
        if ask is None or ask.work in ("none", "measure", "inputs"):
            return
        if (
            done
            and ask.way
            and OPPOSITE[ask.way] == done[-1].way
            and ask.work == done[-1].work
            and not (
                # Turned by rough readings, set right by good ones: no more than the rough ones were off.
                ask.work == "turns" and not exact and len(done) == 1 and ask.numbers.get("preload_mm", 1e9) <= ROUGH
            )
        ):
            yield Contradiction("d there and back", end, f"{line(done[-1])} / then {line(ask)}")
            return
        if ask.finding.values.get("again") is True and not measured_again:
            # It says to measure again before one is bought; so it is, as exactly as a tape allows.
            measured_again = True
            job = replace(job, sag=sag_of(true))
            assessment = assess(job, PROFILES)
            continue
        done.append(ask)
        hidden = assessment.sag.end(end).static_hidden
        if ask.work == "spring":
            changed = _best_spring(job, true, assessment, end, ask)
            if changed is None:
                return
            job, true = changed
        else:
            written, changed_true = applied(job, end, ask), applied(true, end, ask)
            if written is None or changed_true is None:
                return
            job, true = written, changed_true
        after = truths(true, judged.case)[end]
        out, fully_in = after.room
        if isinstance(after.made, TrueRear) and after.made.reach is None:
            if after.out_of_band() > max(0.05, truth.out_of_band()):
                yield Contradiction(
                    "d preload on the collar leaves its band", end, f"{line(ask)} / then {after.installed}"
                )
        elif out > 0.02 or fully_in < -0.02:
            yield Contradiction(
                "d adjuster beyond its range", end, f"{line(ask)} / room then {out:.2f} to {fully_in:.2f}"
            )
            return
        close_to, unread = allowed, 0.0
        if not exact and len(done) == 1 and not measured_again:  # by the rough readings still
            if ask.finding.code.endswith("measure_again"):
                close_to = max(allowed, left_open(judged.case.job.sag.end(end)))
            if assessment.sag.end(end).static.topped_out:
                unread = static_left_open(judged.case, truth, after)
        yield from _kept(ask, truth, after, close_to, hidden=hidden)
        yield from _expected(ask, after, allowed, unread)
        truth = after
        job = replace(job, sag=sag_of(true))
        assessment = assess(job, PROFILES)
    yield Contradiction("d no end of work", end, " / then ".join(map(line, done)))


def left_open(of: SagEnd) -> float:
    """What repeated readings leave open by themselves, at 95 % [mm]: two that lie 3 mm apart leave 9.5.

    Student's t for one less than there are repeats (JCGM 100:2008, G.3): advice that says to measure again cannot be
    held to less.
    """
    most = 0.0
    for readings in (of.static, of.rider):
        count = min(len(readings.down_mm), len(readings.up_mm))
        if count < 2:
            continue
        spread = sum(float(np.var(mm, ddof=1)) / count for mm in (readings.down_mm, readings.up_mm)) ** 0.5 / 2.0
        most = max(most, float(student_t.ppf(0.975, count - 1)) * spread)
    return most


def static_left_open(case: Case, before: Truth, after: Truth) -> float:
    """By how much static sag may come otherwise than expected, where it was topped out and so never read [mm].

    Its load is then the machine's by its share, which is written down wrong by up to 1 %, and what the rider sag
    corrects of the load there is taken over: in that stand up to 2 % of the rider, by the rider's share, and 4 % of what
    the rider adds, by the springs' label.
    """
    weights, rider_kg = case.true.weights, case.true.job.rider_mass_kg or 0.0
    off_n = G * (0.01 * (weights.machine_kg or 0.0) + 0.02 * rider_kg) + 0.04 * (before.loads[1] - before.loads[0])
    static_n = after.loads[0]
    return max(abs(after.made.sag(static_n + n) - after.sags[0]) for n in (-off_n, off_n))


def _expected(ask: Ask, after: Truth, allowed: float, unread: float) -> Iterator[Contradiction]:
    """The sags it says to expect, against those it brings; static sag that was never read comes within so much more."""
    for state, sag in zip(STATES, after.sags, strict=True):
        told = cast("float | None", ask.finding.values.get(f"{state}_after_mm"))
        close_to = 0.3 if allowed == CLOSE else allowed + (unread if state == "static" else 0.0)
        if told is not None and abs(told - sag) > close_to:
            yield Contradiction(
                "d another sag than it says to expect", after.end, f"{line(ask)} / {state} is {sag:.2f}"
            )


def _kept(ask: Ask, before: Truth, after: Truth, allowed: float, *, hidden: bool) -> Iterator[Contradiction]:
    static, rider = after.sags
    found = f"{line(ask)} / truly {before.sags[0]:.2f}, {before.sags[1]:.2f} before, {static:.2f}, {rider:.2f} after"
    if ask.work == "spacer" and after.out_of_band() > 0.05 and after.out_of_band() > before.out_of_band():
        yield Contradiction("d spacer leaves the band", after.end, f"{found}; installed {after.installed}")
    if after.now <= allowed:
        return
    low, high = after.use.target(after.end, "rider")
    rider_in = low - allowed <= rider <= high + allowed
    if before.lightest is None:
        # Nothing brings both sags in: what comes nearest is as good as any, and no preload comes as near.
        if ask.work == "spring" and ask.finding.code.startswith("no_spring") and allowed == CLOSE:
            by_preload = min(float(before.off(sags).min()) for sags in (before.by_turns, before.by_spacer))
            if after.now > by_preload - SURE:
                yield Contradiction(
                    "d spring that comes no nearer than preload", after.end, f"{found}; {by_preload:.2f}"
                )
        return
    if ask.work == "spring" and not after.works("turns", -allowed) and not after.works("spacer", -allowed):
        yield Contradiction("d spring that does not do", after.end, found)
    elif ask.work != "spring" and before.lightest in WORK[: WORK.index(ask.work) + 1]:
        kind = "static" if rider_in else "rider"
        yield Contradiction(f"d {ask.work}: {kind} sag not in target though it could be", after.end, found)
    elif ask.work != "spring":
        sags = np.array([[static], [rider]])
        if hidden and float(after.off_rider(sags)[0]) <= allowed:
            return  # a top-out spring may keep static sag low for ever: no spring need be bought for that
        yield Contradiction(f"d {ask.work} where only {before.lightest} does", after.end, found)


def _best_spring(job: Job, true: Job, assessment: Assessment, end: End, ask: Ask) -> tuple[Job, Job] | None:
    """Both with the spring that the list puts first of those the advice asks for, and its adjuster set."""
    now = _rate(job, end)
    choice = choose(job, assessment, PROFILES, end)
    stiffer = ask.way == "stiffer"
    for option in choice.options:
        if not option.fitted_now and (option.mean_rate_n_per_mm > now) == stiffer:
            return fitted(job, option, job, end), fitted(true, option, job, end)
    return None


def fitted(into: Job, option: Option, job: Job, end: End) -> Job:
    """A job, or the machine, with the springs of a row put in and the adjuster set to their target."""
    for edit in as_edits(option, job, set_adjuster=True):
        into = apply(into, edit)
    if end == "rear" and option.position is None and option.turns_for_target.value is not None:
        into = turned(into, end, option.turns_for_target.value, None) or into  # a collar whose end nobody counted
    return into


def _rate(job: Job, end: End) -> float:
    if end == "rear":
        return job.rear.spring.rate_n_per_mm or 0.0
    rates = [job.front.leg(s).spring.rate_n_per_mm or 0.0 for s in SIDES if job.front.leg(s).spring_fitted]
    return sum(rates) / len(rates)
