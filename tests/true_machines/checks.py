"""Where what is said of a job contradicts itself, or the machine as it truly is.

Each check gives contradictions: a kind that can be counted, and the words that show it. A check that a machine's job
does not meet the conditions of gives none.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, is_dataclass, replace
from functools import cached_property
from itertools import combinations, pairwise
from typing import Any, cast

from stanchion.job.edit import apply
from stanchion.job.model import ENDS, SIDES, STATES, End, Front, Job, Leg, Run, Side
from stanchion.judgement.assess import assess
from stanchion.judgement.assessment import Assessment
from stanchion.judgement.choice import choose
from stanchion.judgement.choice_edits import as_edits
from stanchion.judgement.figures import Figure
from stanchion.judgement.findings import Finding, Severity
from stanchion.judgement.option import Option
from stanchion.judgement.profiles import load_profiles
from stanchion.judgement.whatif import compare
from stanchion.judgement.wording import sentence
from stanchion.report.check import as_text
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_text import sheet_text
from true_machines.asks import BAND, OPPOSITE, Ask, advice_at, ask_of, asks_at, ends_of, said, target_at
from true_machines.machines import Case, sag_of
from true_machines.physics import TrueRear, as_read, fork_of, loads_of, rear_of, top_out_of
from true_machines.remedies import CLOSE, SURE, WORK, Truth

PROFILES = load_profiles()
LASTING = 6
"""After so many remedies a machine must be right, or nothing more be asked for."""


@dataclass(frozen=True)
class Contradiction:
    """One thing that cannot be."""

    kind: str
    where: str
    shown: str


class Judged:
    """A machine with what the program says of its job."""

    def __init__(self, case: Case) -> None:
        self.case = case

    @cached_property
    def assessment(self) -> Assessment:
        """What the program says."""
        return assess(self.case.job, PROFILES)

    def truth(self, end: str) -> Truth:
        """What is true of an end."""
        return self._truths[end]

    @cached_property
    def _truths(self) -> dict[str, Truth]:
        return truths(self.case.true, self.case)

    @property
    def believable(self) -> bool:
        """Whether the job has readings that can be used and nothing plainly false."""
        return self.case.mode in ("exact", "noise", "drift")


def truths(true: Job, case: Case) -> dict[str, Truth]:
    """What is true of both ends."""
    loads = loads_of(true)
    return {
        "front": Truth(fork_of(true), loads["front"], case.use),
        "rear": Truth(rear_of(true), loads["rear"], case.use),
    }


def _line(ask: Ask) -> str:
    return f"[{ask.finding.code}] {ask.words}"


# --- (a) (b) (c): one voice ---------------------------------------------------------------------------------------


def opposite_work(judged: Judged) -> Iterator[Contradiction]:
    """Two sentences that send the reader opposite ways at one end."""
    for end in ENDS:
        for one, other in combinations(asks_at(judged.assessment, end), 2):
            kind = _opposed(one, other)
            if kind:
                yield Contradiction(f"a {kind}", end, f"{_line(one)} / {_line(other)}")


def _opposed(one: Ask, other: Ask) -> str:
    if not one.way or not other.way:
        return ""
    if OPPOSITE[one.way] == other.way:
        return f"opposite: {' / '.join(sorted((one.way, other.way)))}"
    ways = {one.way, other.way}
    if ways == {"stiffer", "more"}:
        return "stiffer spring beside more preload"
    return "softer spring beside less preload" if ways == {"softer", "less"} else ""


def opposite_words(judged: Judged) -> Iterator[Contradiction]:
    """The same, read in the words of everything found at an end."""
    for end in ENDS:
        told = [one for one in judged.assessment.findings if ends_of(one) == (end,) and one.code not in BAND]
        for extra in (advice_at(judged.assessment, end), target_at(judged.assessment, end)):
            if extra is not None and extra not in told:
                told.append(extra)
        by_words = [(sentence(one), said(sentence(one))) for one in told]
        for (one, ways), (other, others) in combinations(by_words, 2):
            if any(OPPOSITE[way] in others for way in ways):
                yield Contradiction("a words of opposite ways", end, f"{one} / {other}")


def advice_and_target(judged: Judged) -> Iterator[Contradiction]:
    """The advice on the sags and the sentence for the target, of different work or different numbers."""
    for end in ENDS:
        advice, target = advice_at(judged.assessment, end), target_at(judged.assessment, end)
        one = ask_of(advice) if advice is not None else None
        other = ask_of(target) if target is not None else None
        if one is None or other is None:
            continue
        shown = f"{_line(one)} / {_line(other)}"
        if one.work in ("measure", "inputs") and other.predicted:
            continue  # nothing is measured, and the target does not say it were
        if (one.work, one.way) != (other.work, other.way):
            yield Contradiction(f"b advice {one.work} {one.way}, target {other.work} {other.way}", end, shown)
            continue
        for name in one.numbers.keys() & other.numbers.keys():
            if abs(one.numbers[name] - other.numbers[name]) > 0.05:
                yield Contradiction("b other numbers in advice and target", end, shown)
                break


def suits_beside_work(judged: Judged) -> Iterator[Contradiction]:
    """ "Springs and preload suit" beside a fault or work on the springs of that end."""
    for end in ENDS:
        advice = advice_at(judged.assessment, end)
        ask = ask_of(advice) if advice is not None else None
        if ask is None or ask.work != "none" or "suit" not in ask.words:
            continue
        for finding in judged.assessment.findings:
            if ends_of(finding) != (end,) or finding is advice or finding.severity is Severity.NOTE:
                continue
            asked = ask_of(finding)
            if finding.code in BAND or (asked is not None and asked.work in WORK[1:]):
                yield Contradiction("c suits beside work", end, f"{_line(ask)} / [{finding.code}] {sentence(finding)}")


# --- (d): every remedy does what it promises ----------------------------------------------------------------------


def applied(job: Job, end: str, ask: Ask) -> Job | None:
    """The job, or the machine, after the work an advice asks for; None where it does not say how much."""
    numbers, sign = ask.numbers, 1.0 if ask.way == "more" else -1.0
    turned = {"in": 1.0, "out": -1.0}.get(str(ask.finding.values.get("turned_way")), sign)
    turns, mm = (numbers.get(name) for name in ("turns", "preload_mm"))
    if ask.work == "spacer" and end == "front":
        change = numbers.get("spacer_change_mm")
        if change is None:
            return None
        job = _with_spacer(job, sign * change)
        if turns is None and mm is None:
            return job
    if ask.work in ("turns", "spacer"):
        return _turned(job, end, turns and turned * turns, mm and turned * mm)
    return None


def _turned(job: Job, end: str, turns: float | None, mm: float | None) -> Job | None:
    if end == "rear":
        collar = job.rear.collar
        if turns is None:
            if mm is None or not collar.pitch_mm:
                return None
            turns = mm / collar.pitch_mm
        return replace(job, rear=replace(job.rear, collar=replace(collar, now=(collar.now or 0.0) + turns)))
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
        yield from _followed(judged, end, CLOSE if exact else 3.0)


def _followed(judged: Judged, end: End, allowed: float) -> Iterator[Contradiction]:
    true, job, assessment = judged.case.true, judged.case.job, judged.assessment
    truth = judged.truth(end)
    done: list[Ask] = []
    for _ in range(LASTING):
        ask = _asked(assessment, end)
        if ask is None or ask.work in ("none", "measure", "inputs"):
            return
        if done and ask.way and OPPOSITE[ask.way] == done[-1].way and ask.work == done[-1].work:
            yield Contradiction("d there and back", end, f"{_line(done[-1])} / then {_line(ask)}")
            return
        done.append(ask)
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
                    "d preload on the collar leaves its band", end, f"{_line(ask)} / then {after.installed}"
                )
        elif out > 0.02 or fully_in < -0.02:
            yield Contradiction(
                "d adjuster beyond its range", end, f"{_line(ask)} / room then {out:.2f} to {fully_in:.2f}"
            )
            return
        yield from _kept(ask, truth, after, allowed)
        yield from _expected(ask, after, allowed)
        truth = after
        job = replace(job, sag=sag_of(true))
        assessment = assess(job, PROFILES)
    yield Contradiction("d no end of work", end, " / then ".join(map(_line, done)))


def _asked(assessment: Assessment, end: End) -> Ask | None:
    """What is asked for at an end: by its sags, or without readings by what is predicted."""
    advice = advice_at(assessment, end) or target_at(assessment, end)
    return None if advice is None else ask_of(advice)


def _expected(ask: Ask, after: Truth, allowed: float) -> Iterator[Contradiction]:
    """The sags it says to expect, against those it brings."""
    for state, sag in zip(STATES, after.sags, strict=True):
        told = cast("float | None", ask.finding.values.get(f"{state}_after_mm"))
        if told is not None and abs(told - sag) > (0.3 if allowed == CLOSE else allowed):
            yield Contradiction(
                "d another sag than it says to expect", after.end, f"{_line(ask)} / {state} is {sag:.2f}"
            )


def _kept(ask: Ask, before: Truth, after: Truth, allowed: float) -> Iterator[Contradiction]:
    static, rider = after.sags
    found = f"{_line(ask)} / truly {before.sags[0]:.2f}, {before.sags[1]:.2f} before, {static:.2f}, {rider:.2f} after"
    if ask.work == "spacer" and after.out_of_band() > 0.05 and after.out_of_band() > before.out_of_band():
        yield Contradiction("d spacer leaves the band", after.end, f"{found}; installed {after.installed}")
    if after.now <= allowed:
        return
    low, high = after.use.target(after.end, "rider")
    rider_in = low - allowed <= rider <= high + allowed
    if before.lightest is None:
        return  # nothing brings both sags in: what comes nearest is as good as any
    if ask.work == "spring" and not after.works("turns", -allowed) and not after.works("spacer", -allowed):
        yield Contradiction("d spring that does not do", after.end, found)
    elif ask.work != "spring" and before.lightest in WORK[: WORK.index(ask.work) + 1]:
        kind = "static" if rider_in else "rider"
        yield Contradiction(f"d {ask.work}: {kind} sag not in target though it could be", after.end, found)
    elif ask.work != "spring":
        yield Contradiction(f"d {ask.work} where only {before.lightest} does", after.end, found)


def _best_spring(job: Job, true: Job, assessment: Assessment, end: End, ask: Ask) -> tuple[Job, Job] | None:
    """Both with the spring that the list puts first of those the advice asks for, and its adjuster set."""
    now = _rate(job, end)
    choice = choose(job, assessment, PROFILES, end)
    stiffer = ask.way == "stiffer"
    for option in choice.options:
        if not option.fitted_now and (option.mean_rate_n_per_mm > now) == stiffer:
            return _fitted(job, option, job, end), _fitted(true, option, job, end)
    return None


def _fitted(into: Job, option: Option, job: Job, end: End) -> Job:
    """A job, or the machine, with the springs of a row put in and the adjuster set to their target."""
    for edit in as_edits(option, job, set_adjuster=True):
        into = apply(into, edit)
    if end == "rear" and option.position is None and option.turns_for_target.value is not None:
        into = _turned(into, end, option.turns_for_target.value, None) or into  # a collar whose end nobody counted
    return into


def _rate(job: Job, end: End) -> float:
    if end == "rear":
        return job.rear.spring.rate_n_per_mm or 0.0
    rates = [job.front.leg(s).spring.rate_n_per_mm or 0.0 for s in SIDES if job.front.leg(s).spring_fitted]
    return sum(rates) / len(rates)


# --- (e) (f): against the truth -----------------------------------------------------------------------------------


def lightest_work(judged: Judged) -> Iterator[Contradiction]:
    """Heavier work than would do; work at a sound end; an unsound end that is passed."""
    for one in _against_the_truth(judged):
        made = judged.truth(one.where).made
        bare = isinstance(made, TrueRear) and made.reach is None
        yield replace(one, kind=f"{one.kind} (bare collar)") if bare else one


def _against_the_truth(judged: Judged) -> Iterator[Contradiction]:
    if not judged.believable and judged.case.mode != "unread":
        return
    exact = judged.case.mode in ("exact", "unread")
    sure = SURE if exact else 2.5
    for end in ENDS:
        truth = judged.truth(end)
        ask = _asked(judged.assessment, end)
        lightest = truth.lightest_by(sure)
        told = f"truly {truth.sags[0]:.2f}, {truth.sags[1]:.2f}; installed {'; '.join(f'{mm:.2f}' for mm in truth.installed)}"
        if ask is not None and ask.work in WORK and lightest is not None:
            shown = f"{_line(ask)} / {told}; {lightest} would do"
            if lightest == "none" and ask.work != "none":
                yield Contradiction(f"f sound, yet {ask.work}", end, shown)
            elif WORK.index(ask.work) > WORK.index(lightest):
                yield Contradiction(f"e {ask.work} where {lightest} does", end, shown)
            elif ask.work == lightest and _way_needed(truth, lightest) not in ("", ask.way):
                yield Contradiction("e the wrong way", end, shown)
        if not exact and lightest != "none":
            continue
        if ask is not None and ask.work == "none" and truth.ruled_out("none"):
            yield Contradiction("f unsound, yet passed", end, f"{_line(ask)} / {told}")
        if ask is not None and ask.work == "none" and truth.out_of_band() > CLOSE:
            yield Contradiction("f out of band, yet passed", end, f"{_line(ask)} / {told}")
        if lightest == "none":
            for finding in judged.assessment.findings:
                asked = ask_of(finding)
                if end in ends_of(finding) and asked and asked.work != "none" and ask and finding != ask.finding:
                    yield Contradiction(f"f sound, yet {asked.work} asked for", end, f"{_line(asked)} / {told}")
                elif ends_of(finding) == (end,) and finding.code in BAND:
                    shown = f"[{finding.code}] {sentence(finding)} / {told}"
                    yield Contradiction("f sound, yet preload found wrong", end, shown)


def _way_needed(truth: Truth, kind: str) -> str:
    """Which way the lightest work goes; what either way would do is taken as the asked one."""
    low, high = truth.use.target(truth.end, "rider")
    static_low, static_high = truth.use.target(truth.end, "static")
    if kind in ("turns", "spacer"):
        if truth.sags[1] > high or truth.sags[0] > static_high:
            return "more"
        if truth.sags[1] < low or truth.sags[0] < static_low:
            return "less"
    return ""


# --- (g): the names of the legs -----------------------------------------------------------------------------------


def legs_by_another_name(judged: Judged) -> Iterator[Contradiction]:
    """With the legs' names swapped, nothing else is said."""
    front = judged.case.job.front
    if front.right is None:
        return
    swapped = replace(judged.case.job, front=replace(front, left=front.right, right=front.left))
    swapped = replace(swapped, sag=_notes_swapped(judged.case.job))
    other = assess(swapped, PROFILES)
    one_side, other_side = sorted(map(_told, judged.assessment.findings)), sorted(map(_told, other.findings))
    if one_side != other_side:
        apart = [str(a) for a in one_side if a not in other_side] + [
            f"swapped: {b}" for b in other_side if b not in one_side
        ]
        code = next((a[0] for a in one_side + other_side if (a in one_side) != (a in other_side)), "?")
        yield Contradiction(f"g {code} changes with the legs' names", "front", "; ".join(apart)[:400])
    pairs = [(judged.assessment.front.left, other.front.right), (judged.assessment.front.right, other.front.left)]
    pairs += [(judged.assessment.predicted, other.predicted), (judged.assessment.sag, other.sag)]  # type: ignore[list-item]
    for one, another in pairs:
        mine, theirs = list(_figures(one)), list(_figures(another))
        if any(not _same(a, b) for a, b in zip(mine, theirs, strict=True)):
            yield Contradiction("g figures change with the legs' names", "front", type(one).__name__)


def _notes_swapped(job: Job) -> Any:
    sag = job.sag

    def turned(readings: Any) -> Any:
        return replace(
            readings,
            preload_at=readings.preload_at[::-1],
            rates_n_per_mm=readings.rates_n_per_mm[::-1],
            stacks_mm=readings.stacks_mm[::-1],
        )

    return replace(sag, front=replace(sag.front, static=turned(sag.front.static), rider=turned(sag.front.rider)))


def _told(finding: Finding) -> tuple[Any, ...]:
    words = re.sub(r"\b([Ll]eft|[Rr]ight)\b", "leg", sentence(finding))
    return finding.code, finding.severity.word, " ".join(sorted(re.split(r"[\s,]+", words)))


def _figures(node: object) -> Iterator[float | None]:
    if isinstance(node, Figure):
        yield node.value
    elif is_dataclass(node):
        for one in fields(node):
            yield from _figures(getattr(node, one.name))


def _same(a: float | None, b: float | None) -> bool:
    return a is b is None or (a is not None and b is not None and abs(a - b) < 1e-6)


# --- (h): travel and the top-out spring ---------------------------------------------------------------------------


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
    told = [f for f in assessment.findings if f.values.get("unloaded_mm") is not None]
    for finding in told:
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
            and not any(("rear" if "rear" in finding.where else "front") == end for finding in told)
        ):
            yield Contradiction("h top-out spring not told of", end, f"sag reads {true:.2f} lower")


# --- (i): measured and predicted ----------------------------------------------------------------------------------


def measured_or_predicted(judged: Judged) -> Iterator[Contradiction]:
    """A predicted figure spoken of as measured; readings that cannot be used spoken of as if they could."""
    case, assessment = judged.case, judged.assessment
    if case.mode not in ("doubtful", "unread"):
        return
    why = case.doubt or "no readings"
    for end in ENDS:
        told = [one for one in assessment.findings if end in ends_of(one)]
        told += [
            one
            for one in (advice_at(assessment, end), target_at(assessment, end))
            if one is not None and one not in told
        ]
        for finding in told:
            words = sentence(finding)
            if finding.code in ("stiction_fault", "rider_above_static", "topped_out", "down_only"):
                continue
            if "orrected by the captured" in words or "orrected by the measured" in words:
                yield Contradiction(f"i corrected by readings of no use ({why})", end, words)
            if _quotes_sag(words) and "predict" not in words.lower():
                yield Contradiction(f"i sag spoken of as measured ({why})", end, f"[{finding.code}] {words}")
            ask = ask_of(finding)
            if case.doubt and ask is not None and ask.work in WORK[1:] and not ask.predicted:
                yield Contradiction(f"i {ask.work} asked for by readings of no use ({why})", end, _line(ask))


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
        told = [*judged.assessment.findings, advice_at(judged.assessment, end), target_at(judged.assessment, end)]
        for state, sag in zip(STATES, judged.truth(end).sags, strict=True):
            if sag > 0.0:
                continue
            for words in dict.fromkeys(sentence(one) for one in told if one is not None and ends_of(one) == (end,)):
                if re.search(rf"{state}( sag)? -?[01]\.\d mm", words):
                    yield Contradiction("i a sag said of a topped-out end", end, words)
    if case.mode != "exact":
        return
    for end in ENDS:
        top_out = case.job.front.top_out if end == "front" else case.job.rear.top_out
        if top_out.fitted == "yes":
            continue
        more = _turned(case.job, end, None, 40.0)
        true = _turned(case.true, end, None, 40.0)
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
    more = _turned(case.job, "front", 2.0, 2.0) or case.job
    more = _turned(more, "rear", 1.0, 1.0) or more
    true = _turned(case.true, "front", 2.0, 2.0) or case.true
    true = _turned(true, "rear", 1.0, 1.0) or true
    told, after = compare(case.job, more, PROFILES), truths(true, case)
    for end in ENDS:
        if after[end].room[1] < 0.0:
            continue
        for at, state in enumerate(("static", "rider")):
            shown = told.row((end,), f"{state}_captured").changed.value
            sag = after[end].sags[at]
            if shown is not None and abs(shown - sag) > 0.3:
                yield Contradiction("i forecast", end, f"{state}: said {shown:.2f}, truly {sag:.2f}")


# --- (j): inputs in doubt -----------------------------------------------------------------------------------------


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
                yield Contradiction("j inputs doubted that are right", end, _line(doubts[0]))
            continue
        others = [ask for ask in asks if ask.work in ("turns", "spacer", "spring", "none")]
        shown = f"off by {max(off):.1f} of {travel:.0f} mm: " + " / ".join(map(_line, [*doubts, *others]))
        if not doubts:
            yield Contradiction("j inputs not doubted", end, shown)
        if len({ask.finding.code + str(ask.finding.where) for ask in doubts}) > 1:
            yield Contradiction("j doubted in more than one finding", end, shown)
        if others:
            yield Contradiction("j concluded from inputs in doubt", end, shown)


# --- the choice of springs ----------------------------------------------------------------------------------------


def the_list_of_springs(judged: Judged) -> Iterator[Contradiction]:
    """The first row is never labelled worse than one below it; a row that suits does; a rate above the one needed is
    not called too soft."""
    case = judged.case
    if case.mode != "exact" or case.seed % 2:
        return
    for end in ENDS:
        choice = choose(case.job, judged.assessment, PROFILES, end)
        if not choice.options:
            continue
        labels = [_good(option.verdict) for option in choice.options]
        if max(labels) > labels[0]:
            shown = ", ".join(f"{o.mean_rate_n_per_mm:g} {o.verdict}" for o in choice.options[:4])
            yield Contradiction("k first row labelled worse", end, shown)
        alike = [option for option in choice.options if not option.other_length]
        alike = [one for one in alike if len({f.spring.rate_n_per_mm for f in one.fittings}) == 1]
        ordered = sorted(alike, key=lambda option: option.mean_rate_n_per_mm)
        for soft, stiff in pairwise(ordered):
            if _stiffness(soft.verdict) > _stiffness(stiff.verdict):
                shown = f"{soft.mean_rate_n_per_mm:g} {soft.verdict}, {stiff.mean_rate_n_per_mm:g} {stiff.verdict}"
                yield Contradiction("k softer row called stiffer", end, shown)
        needed = choice.needed_n_per_mm.value
        for option in choice.options:
            rate = option.mean_rate_n_per_mm
            if needed is not None and _stiffness(option.verdict) * (rate - needed) < 0.0:
                yield Contradiction(
                    f"k {option.verdict} against the rate needed", end, f"{rate:g}, needed {needed:.2f}"
                )
                break
        for option in choice.options[:6]:
            if option.verdict.startswith("too_s"):
                after = truths(_fitted(case.true, option, case.job, end), case)[end]
                if after.works("turns", SURE):
                    shown = f"{option.mean_rate_n_per_mm:g}: truly {after.sags[0]:.2f}, {after.sags[1]:.2f}"
                    yield Contradiction(f"k {option.verdict}, yet suits", end, shown)
                    break
        best = choice.options[0]
        after = truths(_fitted(case.true, best, case.job, end), case)[end]
        if labels[0] == 1 and (after.now > CLOSE or after.out_of_band() > 0.05):
            yield Contradiction(
                "k suits, yet does not",
                end,
                f"{best.mean_rate_n_per_mm:g} {best.verdict}: truly {after.sags[0]:.2f}, {after.sags[1]:.2f}, "
                f"installed {after.installed}",
            )


def _stiffness(verdict: str) -> int:
    return {"too_soft": -1, "too_stiff": 1}.get(verdict, 0)


def _good(verdict: str) -> int:
    return 1 if verdict.startswith("suits") else 0


# --- the printed text ---------------------------------------------------------------------------------------------


def the_text(judged: Judged) -> Iterator[Contradiction]:
    """The text of `check` says what the findings say, and nothing the other way."""
    case = judged.case
    if case.seed % 8:
        return
    text = " ".join(as_text("a", case.job, judged.assessment).split())
    sheet = " ".join(sheet_text(make_sheet(case.job, judged.assessment)).split())
    for end in ENDS:
        advice = advice_at(judged.assessment, end)
        if advice is not None and " ".join(sentence(advice).split()) not in text:
            yield Contradiction("l advice is not in the text", end, sentence(advice))
        for finding in (advice, target_at(judged.assessment, end)):
            # The sheet may leave a sentence out where there is no room; what it does say of an end is the same.
            ask = None if finding is None else ask_of(finding)
            if ask is None or ask.work not in WORK:
                continue
            for other in re.findall(rf"{end.capitalize()}[^:]*: [^.]*\.[^.]*\.", sheet):
                if any(OPPOSITE[way] in said(other) for way in said(ask.words)):
                    yield Contradiction("l the sheet says otherwise", end, f"{ask.words} / {other}")


CHECKS: tuple[Callable[[Judged], Iterator[Contradiction]], ...] = (
    opposite_work,
    opposite_words,
    advice_and_target,
    suits_beside_work,
    remedies_keep_their_promise,
    lightest_work,
    legs_by_another_name,
    travel_used,
    measured_or_predicted,
    topped_out_is_topped_out,
    forecasts,
    inputs_in_doubt,
    the_list_of_springs,
    the_text,
)
