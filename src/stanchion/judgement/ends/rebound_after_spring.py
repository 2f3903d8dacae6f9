"""Whether another spring went in and rebound stayed as it was."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stanchion.job.model import ENDS, End, Front, Job, Path, Rear
from stanchion.job.rebound import Earlier, earlier_settings, rebound_positions, spring_rates
from stanchion.job.spec import Rate, middle_rate
from stanchion.judgement.criteria.thresholds import DAMPING_CHANGE, DAMPING_CHANGE_LARGE
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.vibration import damping_change


def rebound_findings(job: Job, previous: Job | None) -> Iterator[Finding]:
    """A finding for each end with another spring than it was last recorded with, and rebound where it stood then.

    It holds until rebound is turned, or confirmed for these springs. Only the springs are compared: cheap enough for
    every keystroke.

    Args:
        job: the job.
        previous: the job it was carried from; None: not known.
    """
    for end in ENDS:
        part = job.front if end == "front" else job.rear
        rates, stands = spring_rates(part), rebound_positions(part)
        if not rates or not stands or job.damping.rates(end) == rates:
            continue
        before = _with_other_springs(job, previous, end)
        if before is not None:
            yield from _finding(part, rates, *before)


def damping_with(job: Job, end: End, rate_n_per_mm: float) -> float | None:
    """Damping that springs of that mean rate want over what those fitted now want; None where either is not known.

    Args:
        job: the job.
        end: which end.
        rate_n_per_mm: the mean rate of the springs to fit.
    """
    rates = spring_rates(job.front if end == "front" else job.rear)
    return damping_change(_mean(rates), 1.0, rate_n_per_mm, 1.0) if rates else None


def unconfirmed(job: Job, previous: Job | None) -> dict[End, tuple[Rate, ...]]:
    """The springs of each end for which rebound is still to be turned or confirmed."""
    ends = [end for end in ENDS for one in rebound_findings(job, previous) if one.where[0] == end]
    return {end: spring_rates(job.front if end == "front" else job.rear) for end in ends}


def _with_other_springs(job: Job, previous: Job | None, end: End) -> tuple[Earlier, tuple[Rate, ...]] | None:
    """The latest settings with other springs; None where there are none, or rebound was turned since."""
    now = job.front if end == "front" else job.rear
    rates, stands = spring_rates(now), rebound_positions(now)
    for what, part in earlier_settings(job, previous, end):
        then, stood = spring_rates(part), rebound_positions(part)
        if not then or not stood:
            continue
        if stood != stands:
            return None
        if then != rates:
            return what, then
    return None


def _finding(part: Front | Rear, rates: Sequence[Rate], what: Earlier, then: Sequence[Rate]) -> Iterator[Finding]:
    now_rate, then_rate = _mean(rates), _mean(then)
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
        "percent": round(100.0 * abs(factor - 1.0)),
        "turn": ("closed" if at_end else "in") if stiffer else ("open" if at_end else "out"),
    }
    if isinstance(part, Front) and not part.split:
        values["both_legs"] = True
    large = abs(factor - 1.0) >= DAMPING_CHANGE_LARGE
    yield Finding(
        "rebound_for_stiffer" if stiffer else "rebound_for_softer",
        Severity.WARNING if large else Severity.NOTE,
        where,
        values,
    )


def _mean(rates: Sequence[Rate]) -> float:
    return sum(map(middle_rate, rates)) / len(rates)
