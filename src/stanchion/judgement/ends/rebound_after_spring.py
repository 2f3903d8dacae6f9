"""Whether another spring went in and rebound stayed as it was, or was turned the wrong way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stanchion.job.model import ENDS, End, Front, Job, Path, Rear
from stanchion.job.rebound import Earlier, Positions, earlier_settings, rebound_positions, spring_rates
from stanchion.job.spec import Rate, middle_rate
from stanchion.judgement.criteria.thresholds import DAMPING_CHANGE, DAMPING_CHANGE_LARGE
from stanchion.judgement.results.codes import DampingCode
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.vibration import damping_change


def rebound_findings(job: Job, previous: Job | None) -> Iterator[Finding]:
    """A finding for each end with another spring than it was last recorded with, and rebound where it stood then or
    turned the wrong way since.

    It holds until rebound is turned the way that the springs want, or confirmed for them. Springs and positions alone
    are compared, cheap enough for every keystroke; how much more damping is wanted, planning/damping_compared says.

    Args:
        job: the job.
        previous: the job it was carried from; None: not known.
    """
    for end in ENDS:
        part = job.front if end == "front" else job.rear
        rates, stands = spring_rates(part), rebound_positions(part)
        if not rates or not stands or job.damping.rates(end) == rates:
            continue
        before = with_other_springs(job, previous, end)
        if before is not None:
            yield from _finding(part, rates, *before)


def had_other_springs(job: Job, previous: Job | None) -> bool:
    """Whether an end was ever recorded with other springs than now, and where its rebound stood."""
    return any(
        spring_rates(now) != spring_rates(part) and all(map(rebound_positions, (now, part)))
        for end in ENDS
        for now in [job.front if end == "front" else job.rear]
        for _, part in earlier_settings(job, previous, end)
        if spring_rates(now) and spring_rates(part)
    )


def unconfirmed(job: Job, previous: Job | None) -> dict[End, tuple[Rate, ...]]:
    """The springs of each end for which rebound is still to be turned or confirmed."""
    ends = [end for end in ENDS for one in rebound_findings(job, previous) if one.where[0] == end]
    return {end: spring_rates(job.front if end == "front" else job.rear) for end in ends}


def with_other_springs(job: Job, previous: Job | None, end: End) -> tuple[Earlier, Front | Rear] | None:
    """The latest settings with other springs; None where there are none, or rebound was turned the right way since."""
    now = job.front if end == "front" else job.rear
    rates, stands = spring_rates(now), rebound_positions(now)
    turned = False
    for what, part in earlier_settings(job, previous, end):
        then, stood = spring_rates(part), rebound_positions(part)
        if not then or not stood:
            continue
        if then != rates:
            out = _turned_out(stood, stands)
            stiffer = _mean(rates) > _mean(then)
            wrong = out is not None and (out > 0.0 if stiffer else out < 0.0)
            return (what, part) if wrong or (stood == stands and not turned) else None
        turned = turned or stood != stands
    return None


def _turned_out(stood: Positions, stands: Positions) -> float | None:
    """How far rebound was turned out in all; None where it is counted otherwise since."""
    if [unit for _, unit in stood] != [unit for _, unit in stands]:
        return None
    pairs = zip(stood, stands, strict=True)
    return sum(now - then for (then, _), (now, _) in pairs if now is not None and then is not None)


def _finding(part: Front | Rear, rates: Sequence[Rate], what: Earlier, before: Front | Rear) -> Iterator[Finding]:
    now_rate, then_rate = _mean(rates), _mean(spring_rates(before))
    factor = damping_change(then_rate, 1.0, now_rate, 1.0)
    if abs(factor - 1.0) < DAMPING_CHANGE:
        return
    clicker, at = (part.left.rebound, ("front", "left")) if isinstance(part, Front) else (part.rebound, ("rear",))
    if isinstance(part, Front) and clicker.now is None:
        clicker, at = part.leg("right").rebound, ("front", "right")
    where: Path = (*at, "rebound", "now")
    stiffer = factor > 1.0
    at_end = clicker.now == (0.0 if stiffer else clicker.total)
    values: dict[str, object] = {
        "rate_now": now_rate,
        "rate_then": then_rate,
        "with_spring": what,
        "now": clicker.now,
        "unit": clicker.unit,
        "turn": ("closed" if at_end else "in") if stiffer else ("open" if at_end else "out"),
    }
    if isinstance(part, Front) and not part.split:
        values["both_legs"] = True
    code: DampingCode = "rebound_for_stiffer" if stiffer else "rebound_for_softer"
    if rebound_positions(before) != rebound_positions(part):
        code = "rebound_out_for_stiffer" if stiffer else "rebound_in_for_softer"
    large = abs(factor - 1.0) >= DAMPING_CHANGE_LARGE
    yield Finding(
        code,
        Severity.WARNING if large else Severity.NOTE,
        where,
        values,
    )


def _mean(rates: Sequence[Rate]) -> float:
    return sum(map(middle_rate, rates)) / len(rates)
