"""Forces of the hand-over sheet: at full travel, and the curves as set now and as the job before left it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stanchion.job.model import ENDS, End, Job
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.predicted import FullTravelFigures
from stanchion.planning.on_travel import force_changed, predicted_curve
from stanchion.report.lines import NONE, figure
from stanchion.report.sheet_shape import ForceCurve, Mark
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.wording.prediction_sentences import parts_words

POINTS = 40
NAMES: dict[End, str] = {"front": "Force along the fork", "rear": "Force at the rear wheel"}


def force_curves(
    job: Job, a: Assessment, previous: Job | None, before: Assessment | None, units: Units
) -> Iterator[ForceCurve]:
    """The curve of each end whose force was changed since the job before.

    Args:
        job: the job.
        a: what assess() gave for it.
        previous: the job it was carried from; None: not known.
        before: what assess() gave for that one.
        units: units to show.
    """
    if previous is None or before is None:
        return
    for end in ENDS:
        now, then = predicted_curve(job, a, end, POINTS), predicted_curve(previous, before, end, POINTS)
        if now is not None and then is not None and force_changed(now, then):
            yield ForceCurve(
                name=NAMES[end],
                now=now.points,
                before=then.points,
                full=_full(now.points[-1][0], units, whole=now.whole),
                at_full=show(now.points[-1][1], Kind.FORCE, units),
                at_full_before=show(then.points[-1][1], Kind.FORCE, units),
                since=previous.job.date.isoformat(),
            )


def force_rows(figures: FullTravelFigures, units: Units) -> Iterator[tuple[str, Sequence[str]]]:
    """The force at full travel in a slow stroke and what it consists of, where a bump rubber or an air spring has a
    part in it: two pages must hold the sheet."""
    parts, words = figures.slow_parts, parts_words(figures, "slow", units)
    told = parts is not None and (parts.rubber_n is not None or parts.air_spring_n is not None)
    yield "At full travel", [f"{figure(figures.slow_n, Kind.FORCE, units)}: {words}" if told else NONE]


def _full(mm: float, units: Units, *, whole: bool) -> Mark:
    return Mark("full travel" if whole else "end of tester's pairs", mm, show(mm, Kind.LENGTH, units))
