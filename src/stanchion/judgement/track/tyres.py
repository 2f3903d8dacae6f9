"""Tyre pressure from cold to hot: the air inside keeps its volume, so pressure follows absolute temperature.

Gauges read above the pressure outside, which is that of the job's altitude or barometer.
"""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.base.record import record
from stanchion.job.model import ENDS, End, Job, Path, Run
from stanchion.judgement.criteria.thresholds import COLD_TYRE_STEP_C, HOT_PRESSURE_OFF_BAR, PRESSURE_READING_BAR
from stanchion.judgement.ends.outside import outside_mpa
from stanchion.judgement.results.figures import Figure, derive, first_known, recorded
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.results.ridden import RunFigures, TyreFigures
from stanchion.mechanics.gas import cold_tyre_pressure, tyre_pressure_at
from stanchion.mechanics.shock import BAR_MPA


def tyre_figures(job: Job, at: int, end: End) -> TyreFigures:
    """Pressures of one tyre on one run.

    Where cold and hot pressure were both read, the cold pressure to set comes from their difference; otherwise from the
    temperatures. A cold tyre whose temperature was not read is taken to be as warm as the air, which makes the figure
    an estimate.

    Args:
        job: the job; upkeep holds the hot pressure that is wanted.
        at: which run.
        end: which tyre.
    """
    run = job.runs[at]
    wanted = _wanted(job, end)
    cold, hot = (_of(run, at, f"{end}_{state}_bar") for state in ("cold", "hot"))
    cold_c, hot_c = _cold_c(run, at, end), _of(run, at, f"{end}_hot_c")
    outside = _outside_bar(job)
    return TyreFigures(
        expected_hot_bar=derive(tyre_pressure_at, cold, cold_c, hot_c, outside),
        cold_to_set_bar=first_known(
            derive(cold_tyre_pressure, wanted, cold, hot, outside),
            derive(tyre_pressure_at, wanted, hot_c, cold_c, outside),
        ),
        hot_less_wanted_bar=derive(lambda h, w: h - w, hot, wanted),
    )


def cold_to_set_at(job: Job, at: int, end: End, cold_c: float) -> Figure:
    """Cold pressure to set when the tyre is colder or warmer than it was before that run.

    Args:
        job: the job.
        at: the run to go by.
        end: which tyre.
        cold_c: temperature of the tyre now [°C].

    Returns:
        Gauge pressure [bar].
    """
    there = tyre_figures(job, at, end).cold_to_set_bar
    return derive(tyre_pressure_at, there, _cold_c(job.runs[at], at, end), Figure(cold_c), _outside_bar(job))


@record(kw_only=True)
class ColdTyre:
    """The cold pressures to set for the wanted hot ones, at one temperature of the cold tyres."""

    cold_c: float | None
    """Temperature of the front tyre [°C]; None: as on the run it is based on."""
    rear_cold_c: float | None
    """Temperature of the rear tyre [°C], which may differ after sun or a tyre warmer."""
    recorded: bool
    """Whether the temperature was recorded for the run in hand; otherwise it is assumed."""
    front_bar: Figure
    rear_bar: Figure

    def end(self, end: End) -> Figure:
        """Pressure to set at one end."""
        return self.front_bar if end == "front" else self.rear_bar


@record(kw_only=True)
class ColdPressures:
    """Cold pressures to set, based on one run: at its temperature, at that of the run in hand, and warmer or colder."""

    by: int
    """The run they are based on: the one in hand, or the latest before it with enough readings."""
    rows: tuple[ColdTyre, ...]


AROUND = (-2, -1, 0, 1, 2)
"""Steps of temperature around that of the run it is based on."""


def cold_pressures(job: Job, at: int) -> ColdPressures | None:
    """Cold pressures to set, based on the run in hand or the latest before it that shows how a tyre warms.

    Args:
        job: the job.
        at: the run in hand.

    Returns:
        The pressures; None where no run so far has enough readings, or no hot pressure is wanted.
    """
    for by in range(at, -1, -1):
        figures = {end: tyre_figures(job, by, end) for end in ENDS}
        if any(figures[end].cold_to_set_bar.known for end in ENDS):
            break
    else:
        return None
    rows = [
        ColdTyre(
            cold_c=None,
            rear_cold_c=None,
            recorded=True,
            front_bar=figures["front"].cold_to_set_bar,
            rear_bar=figures["rear"].cold_to_set_bar,
        )
    ]
    front, rear = (_cold_c(job.runs[at], at, end).value for end in ENDS)
    if by != at and (front is not None or rear is not None):
        # Where one tyre was read, the other is taken to be as warm.
        rows.append(_cold_tyre(job, by, _either(front, rear), _either(rear, front), recorded=True))
    then = next((c.value for end in ENDS if (c := _cold_c(job.runs[by], by, end)).known), None)
    if then is not None:
        middle = COLD_TYRE_STEP_C * round(then / COLD_TYRE_STEP_C)
        supposed = [middle + COLD_TYRE_STEP_C * step for step in AROUND]
        rows += [_cold_tyre(job, by, cold_c, cold_c, recorded=False) for cold_c in supposed]
    return ColdPressures(by=by, rows=tuple(rows))


def _either(own: float | None, other: float | None) -> float:
    """The first of two temperatures that was read; at least one was."""
    return own if own is not None else other or 0.0


def _cold_tyre(job: Job, by: int, front_c: float, rear_c: float, *, recorded: bool) -> ColdTyre:
    front = cold_to_set_at(job, by, "front", front_c)
    rear = cold_to_set_at(job, by, "rear", rear_c)
    return ColdTyre(cold_c=front_c, rear_cold_c=rear_c, recorded=recorded, front_bar=front, rear_bar=rear)


def tyre_findings(job: Job, figures: RunFigures) -> Iterator[Finding]:
    """Findings on the tyre pressures of the latest run.

    Args:
        job: the job, with at least one run.
        figures: of its latest run.
    """
    at = len(job.runs) - 1
    run = job.runs[at]
    for end in ENDS:
        where: Path = ("runs", at, f"{end}_hot_bar")
        cold, hot = getattr(run, f"{end}_cold_bar"), getattr(run, f"{end}_hot_bar")
        off = figures.tyre(end).hot_less_wanted_bar.value
        if cold is not None and hot is not None and hot < cold - PRESSURE_READING_BAR:
            yield Finding("tyre_hot_below_cold", Severity.WARNING, where, {"cold_bar": cold, "hot_bar": hot})
        elif off is not None and abs(off) > HOT_PRESSURE_OFF_BAR:
            values: dict[str, object] = {
                "hot_bar": hot,
                "wanted_bar": hot - off,
                "set_bar": figures.tyre(end).cold_to_set_bar.value,
            }
            yield Finding("tyre_hot_off", Severity.NOTE, where, values)


def _outside_bar(job: Job) -> Figure:
    return Figure(outside_mpa(job) / BAR_MPA)


def _wanted(job: Job, end: End) -> Figure:
    name = f"{end}_wanted_bar"
    return recorded(getattr(job.upkeep, name), ("upkeep", name))


def _of(run: Run, at: int, name: str) -> Figure:
    return recorded(getattr(run, name), ("runs", at, name))


def _cold_c(run: Run, at: int, end: End) -> Figure:
    own = _of(run, at, f"{end}_cold_c")
    if own.known or run.air_c is None:
        return own
    return Figure(run.air_c, estimate=True)
