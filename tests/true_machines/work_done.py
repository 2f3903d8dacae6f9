"""Work done to a machine as an advice asks for it, and whether it brings what it promises."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import cast

import numpy as np
from scipy.stats import t as student_t

from rates import one_rate
from stanchion.job.edit import apply
from stanchion.job.model import ENDS, SIDES, STATES, End, Front, Job, Leg, Readings, SagEnd, Side, State
from stanchion.judgement.assess import assess
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.springs.spring_option import Option
from stanchion.planning.spring_choice import choose
from stanchion.planning.spring_edits import as_edits
from true_machines.asks import OPPOSITE, Ask
from true_machines.judged import PROFILES, Contradiction, Judged, asked_at, line, truths
from true_machines.machines import TAPE_SPREAD_MM, Case, sag_of
from true_machines.physics import G, TrueFork, TrueRear, as_read, fork_of, top_out_of
from true_machines.remedies import CLOSE, SURE, WORK, Truth

ROUGH = 3.0
"""By how much sags may stay out of target that rough readings, or springs off their label, told [mm]."""
TAPE_OFF = 3.5
"""So many standard deviations a mean of readings may be off: one in two thousand is further off."""
LABEL_LEFT_MM = 0.5
"""What a label 4 % off leaves of an expected sag once the sag itself corrects the load: top-out spring, air and gas are not
off with it."""
STEP = {"front": 0.25, "rear": 2.5}
"""Between rates that are sold [N/mm] (common practice, no published source)."""
AIMED_INSIDE_MM = 1.1
"""Preload is set this far inside what suits, and to a tenth of a turn."""
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
    measured_again: Ask | None = None
    for _ in range(LASTING):
        ask = asked_at(assessment, end)
        if ask is None or ask.work in ("none", "measure", "inputs"):
            return
        rough = not exact and not done and measured_again is None
        back = bool(done and ask.way and OPPOSITE[ask.way] == done[-1].way and ask.work == done[-1].work)
        if back and (exact or len(done) > 1 or not _sets_right(done[-1], ask, truth, true, judged)):
            yield Contradiction("d there and back", end, f"{line(done[-1])} / then {line(ask)}")
            return
        if measured_again is not None and not done and _other_spring(measured_again, ask):
            yield Contradiction("d another way once measured again", end, f"{line(measured_again)} / {line(ask)}")
        if ask.finding.values.get("again") is True and measured_again is None:
            # It says to measure again before one is bought or cut; so it is, finely and three times.
            if not _open_to_doubt(ask, truth, assessment, CLOSE if exact or done else ROUGH):
                yield Contradiction("d measure again where nothing is in doubt", end, line(ask))
            measured_again = ask
            job = replace(job, sag=sag_of(true))
            assessment = assess(job, PROFILES)
            continue
        done.append(ask)
        if ask.work == "spring":
            changed = _best_spring(job, true, assessment, end, ask)
            if changed is None:
                yield Contradiction("d spring that the list has none of", end, line(ask))
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
        # A spring is chosen by the load that the old one's label tells; turns and spacers only move the sag that was
        # read.
        close_to = allowed if rough or ask.work == "spring" else CLOSE
        open_mm = close_to
        if rough and ask.finding.code.endswith("measure_again"):
            open_mm = max(close_to, left_open(judged.case.job.sag.end(end)))
        yield from _kept(ask, truth, after, close_to, open_mm)
        new_spring = ask.work == "spring"
        told_within = _told_within(
            judged.case, assessment, truth, after, rough=rough, exact=exact, new_spring=new_spring
        )
        yield from _expected(ask, after, told_within)
        truth = after
        job = replace(job, sag=sag_of(true))
        assessment = assess(job, PROFILES)
    yield Contradiction("d no end of work", end, " / then ".join(map(line, done)))


def _sets_right(first: Ask, back: Ask, truth: Truth, true: Job, judged: Judged) -> bool:
    """Whether going back only sets right what rough readings told wrongly.

    A sag is then truly out of its target, and is moved by no more than the readings were off: by how much other sags
    came than the first work was said to bring, and by what preload is set inside the target. A spring was
    chosen by what the sags of the one before told of the loads, with its label: it goes back by no more than those were
    off, and a step of rates.
    """
    if truth.now <= 0.0:
        return False
    if back.work == "spring":
        end: End = "front" if truth.end == "front" else "rear"
        named = (back.finding.values.get(name) for name in ("rate_n_per_mm", "new_rate_n_per_mm"))
        nearest = next((cast("float", rate) for rate in named if rate is not None), None)
        now = _rate(true, end)
        before, read = judged.truth(end), judged.case.job.sag.end(end)
        off = (
            0.04 + max(load_off(before, "rider", read.rider), load_off(before, "static", read.static)) / before.loads[1]
        )
        return nearest is not None and abs(nearest - now) <= off * now + STEP[end]
    turned_back = applied(true, truth.end, back)
    if back.work != "turns" or turned_back is None:
        return False
    after_mm = [cast("float | None", first.finding.values.get(f"{state}_after_mm")) for state in STATES]
    off = max((abs(mm - sag) for mm, sag in zip(after_mm, truth.sags, strict=True) if mm is not None), default=0.0)
    then = truths(turned_back, judged.case)[truth.end].sags
    moved = max(abs(one - other) for one, other in zip(then, truth.sags, strict=True))
    preload_mm = back.numbers.get("preload_mm")
    return preload_mm is not None and moved <= off + AIMED_INSIDE_MM * moved / preload_mm


def _other_spring(before: Ask, now: Ask) -> bool:
    return before.work == now.work == "spring" and OPPOSITE[before.way] == now.way


def _open_to_doubt(ask: Ask, truth: Truth, assessment: Assessment, margin: float) -> bool:
    """Whether it can be doubted that another spring, or spacer, brings both sags in: a state was not read, or none brings
    them so far inside their targets that readings off by the margin would leave them in."""
    sag = assessment.sag.end(truth.end)  # type: ignore[arg-type]
    unread = ask.predicted or sag.static.topped_out or sag.rider.topped_out
    return unread or not truth.works(ask.work, margin)


def left_open(of: SagEnd) -> float:
    """What repeated readings leave open by themselves, at 95 % [mm]: two that lie 3 mm apart leave 9.5.

    Student's t for one less than there are repeats (JCGM 100:2008, G.3): advice that says to measure again cannot be
    asked to name a heavier work before.
    """
    most = 0.0
    for readings in (of.static, of.rider):
        count = min(len(readings.down_mm), len(readings.up_mm))
        if count < 2:
            continue
        spread = sum(float(np.var(mm, ddof=1)) / count for mm in (readings.down_mm, readings.up_mm)) ** 0.5 / 2.0
        most = max(most, float(student_t.ppf(0.975, count - 1)) * spread)
    return most


def reading_off(of: Readings) -> float:
    """By how much a sag read with a tape may be off [mm]: its readings spread by 0.7 mm and go to whole mm."""
    return TAPE_OFF * math.sqrt((TAPE_SPREAD_MM**2 + 1.0 / 12.0) / max(1, len(of.down_mm) + len(of.up_mm)))


def read_off(before: Truth, after: Truth, state: State, of: Readings) -> float:
    """By how much a sag that was read with a tape may come otherwise than expected [mm].

    The sag tells the load, and on a top-out spring a little sag is much load: once off it, that is much sag.
    """
    at, off_n = STATES.index(state), load_off(before, state, of)
    moved = (abs(after.made.sag(after.loads[at] + n) - after.sags[at]) for n in (-off_n, off_n))
    return max(reading_off(of), *moved)


def label_off(after: Truth, state: State) -> float:
    """By how much a sag on another spring may come otherwise, where the load was told by the label of the one before [mm].

    The label is off by up to 4 %, and so is every load that a sag on that spring tells.
    """
    at = STATES.index(state)
    sags = (after.made.sag(after.loads[at] * factor) for factor in (0.96, 1.04))
    return max(abs(sag - after.sags[at]) for sag in sags)


def load_off(truth: Truth, state: State, of: Readings) -> float:
    """By how much a sag read with a tape may tell the load wrongly [N]."""
    made, reading_mm = truth.made, reading_off(of)
    at_mm = truth.hanging + truth.sags[STATES.index(state)]
    ends = (made.force(min(max(at_mm + mm, 0.0), made.travel)) for mm in (-reading_mm, reading_mm))
    off_n = max(abs(force - made.force(at_mm)) for force in ends)
    return off_n / (made.cosine if isinstance(made, TrueFork) else 1.0)


def unread_off(case: Case, before: Truth, after: Truth, state: State, *, rider_read: bool) -> float:
    """By how much a sag that was topped out, and so never read, may come otherwise than expected [mm].

    Shares are written down wrong by up to 1 % of the machine and 2 % of the rider, springs by up to 4 % of their rate.
    Where rider sag was read, static load gets its share of the correction: then the springs' label has no part in it, and
    of the shares' errors only what lies between the machine's part and the rider's.
    """
    machine_n = G * 0.01 * (case.true.weights.machine_kg or 0.0)
    rider_n = G * 0.02 * (case.true.job.rider_mass_kg or 0.0)
    static, aboard = before.loads
    if state == "static" and rider_read:
        off_n = (1.0 - static / aboard) * machine_n + static / aboard * rider_n
    elif state == "static":
        off_n = machine_n + 0.04 * static
    else:
        off_n = machine_n + rider_n + 0.04 * aboard
    at = STATES.index(state)
    return max(abs(after.made.sag(after.loads[at] + n) - after.sags[at]) for n in (-off_n, off_n))


def _told_within(
    case: Case, assessment: Assessment, before: Truth, after: Truth, *, rough: bool, exact: bool, new_spring: bool
) -> dict[State, float]:
    """By how much each sag may come otherwise than expected [mm]; on a new spring also by the label of the old one, where
    the sag read on that told the load."""
    end: End = "front" if after.end == "front" else "rear"
    found: dict[State, float] = {}
    for state in STATES:
        read, rider = case.job.sag.end(end), assessment.sag.end(end).rider
        figures = assessment.sag.end(end).static if state == "static" else rider
        if exact:
            found[state] = 0.3
            continue
        found[state] = LABEL_LEFT_MM
        if figures.topped_out:
            found[state] += unread_off(case, before, after, state, rider_read=not rider.topped_out)
            found[state] += reading_off(read.rider) if rough and not rider.topped_out else 0.0
            continue
        if rough:
            found[state] += read_off(before, after, state, read.static if state == "static" else read.rider)
        if new_spring:
            found[state] += label_off(after, state)
    return found


def _expected(ask: Ask, after: Truth, allowed: Mapping[State, float]) -> Iterator[Contradiction]:
    """The sags it says to expect, against those it brings."""
    for state, sag in zip(STATES, after.sags, strict=True):
        after_mm = cast("float | None", ask.finding.values.get(f"{state}_after_mm"))
        if after_mm is not None and abs(after_mm - sag) > allowed[state]:
            yield Contradiction(
                "d another sag than it says to expect",
                after.end,
                f"{line(ask)} / {state} is {sag:.2f}, to be within {allowed[state]:.2f}",
            )


def _kept(ask: Ask, before: Truth, after: Truth, allowed: float, open_mm: float) -> Iterator[Contradiction]:
    """What the work brought, against the targets: within what is allowed, or where heavier work would be needed, within
    what the readings leave open."""
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
            # Turning alone is no remedy where installed preload is out of its band.
            by_work = [before.by_spacer, *([before.by_turns] if before.out_of_band() <= 0.0 else [])]
            by_preload = min(float(before.off(sags).min()) for sags in by_work)
            if after.now > by_preload - SURE:
                yield Contradiction(
                    "d spring that comes no nearer than preload", after.end, f"{found}; {by_preload:.2f}"
                )
        return
    # Another spring of the same length on a shock leaves installed preload out of its band, where it is.
    by_sags = isinstance(after.made, TrueRear) and 0.0 < after.out_of_band() <= before.out_of_band() + 0.05
    turned = bool(np.any(after.off(after.by_turns) <= allowed)) if by_sags else after.works("turns", -allowed)
    if ask.work == "spring" and not turned and not after.works("spacer", -allowed):
        yield Contradiction("d spring that does not do", after.end, found)
    elif ask.work != "spring" and before.lightest in WORK[: WORK.index(ask.work) + 1]:
        kind = "static" if rider_in else "rider"
        yield Contradiction(f"d {ask.work}: {kind} sag not in target though it could be", after.end, found)
    elif ask.work != "spring" and after.now > open_mm:
        sags = np.array([[static], [rider]])
        if before.static_hidden(allowed) and float(after.off_rider(sags)[0]) <= allowed:
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
        return one_rate(job.rear.spring.rate_n_per_mm)
    rates = [one_rate(job.front.leg(s).spring.rate_n_per_mm) for s in SIDES if job.front.leg(s).spring_fitted]
    return sum(rates) / len(rates)
