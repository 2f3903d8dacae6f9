"""Tyre pressure from cold to hot: the air inside keeps its volume, so pressure follows absolute temperature."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.model import ENDS, End, Job, Path, Run
from stanchion.judgement.figures import Figure, derive, first_known, recorded
from stanchion.judgement.findings import Finding, Severity
from stanchion.judgement.ridden import RunFigures, TyreFigures
from stanchion.mechanics.gas import cold_tyre_pressure, tyre_pressure_at

HOT_OFF_BAR = 0.05
"""A hot pressure this far from the wanted one is worth a word (common practice, no published source)."""
READING_BAR = 0.02
"""What a gauge may be read wrong by (common practice, no published source)."""


def tyre_figures(job: Job, at: int, end: End) -> TyreFigures:
    """Pressures of one tyre on one run.

    Where cold and hot pressure were both read, the cold pressure to set comes from how far they lie apart; otherwise
    from the temperatures. A cold tyre whose temperature was not read is taken to be as warm as the air, which makes
    the figure an estimate.

    Args:
        job: the job; upkeep holds the hot pressure that is wanted.
        at: which run.
        end: which tyre.
    """
    run = job.runs[at]
    wanted = _wanted(job, end)
    cold, hot = (_of(run, at, f"{end}_{state}_bar") for state in ("cold", "hot"))
    cold_c, hot_c = _cold_c(run, at, end), _of(run, at, f"{end}_hot_c")
    return TyreFigures(
        expected_hot_bar=derive(tyre_pressure_at, cold, cold_c, hot_c),
        cold_to_set_bar=first_known(
            derive(cold_tyre_pressure, wanted, cold, hot), derive(tyre_pressure_at, wanted, hot_c, cold_c)
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
    return derive(tyre_pressure_at, there, _cold_c(job.runs[at], at, end), Figure(cold_c))


def tyre_findings(job: Job, figures: RunFigures) -> Iterator[Finding]:
    """What the pressures of the latest run ask for.

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
        if cold is not None and hot is not None and hot < cold - READING_BAR:
            yield Finding("tyre_hot_below_cold", Severity.WARNING, where, {"cold_bar": cold, "hot_bar": hot})
        elif off is not None and abs(off) > HOT_OFF_BAR:
            values: dict[str, object] = {
                "hot_bar": hot,
                "wanted_bar": hot - off,
                "set_bar": figures.tyre(end).cold_to_set_bar.value,
            }
            yield Finding("tyre_hot_off", Severity.NOTE, where, values)


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
