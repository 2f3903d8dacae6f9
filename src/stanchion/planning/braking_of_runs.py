"""Which deceleration the fork's marker of each run stands for, with the settings of that run."""

from __future__ import annotations

from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.model import Job
from stanchion.job.runs import as_ridden
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.predict.brakes import braking_for_travel, entered_or_usual
from stanchion.judgement.results.balance import Braking
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.mechanics.statistics import mean, standard_deviation

LATEST = 4
"""Marked runs that are looked at, the latest ones: each is judged anew with its own settings."""


@record(kw_only=True)
class RunBraking:
    """The braking that one run's fork marker stands for."""

    at: int
    """Which run, from 0."""
    slow_g: Figure
    """With the fork's air squeezed slowly [g]."""
    fast_g: Figure
    """So fast that it keeps its heat [g]."""

    @property
    def middle_g(self) -> Figure:
        """Halfway between both."""
        return derive(lambda slow, fast: (slow + fast) / 2.0, self.slow_g, self.fast_g)


@record(kw_only=True)
class BrakingOfRuns:
    """The braking that the markers of the latest runs stand for."""

    runs: tuple[RunBraking, ...]
    """Runs with a fork marker, in the order ridden."""
    mean_g: Figure
    """Mean of the runs for which it is known; an estimate. Absent for the reason of the latest run."""
    spread_g: Figure
    """Standard deviation of a run about it; absent for fewer than two."""

    @property
    def known(self) -> tuple[RunBraking, ...]:
        """The runs for which it is known."""
        return tuple(run for run in self.runs if run.middle_g.known)


def braking_of_runs(job: Job, profiles: Profiles) -> BrakingOfRuns:
    """The braking that the fork markers of the latest runs stand for.

    Args:
        job: the job.
        profiles: bands and targets.
    """
    marked = [at for at, run in enumerate(job.runs) if run.front_marker_mm is not None]
    runs = tuple(_of_run(job, at, profiles) for at in marked[-LATEST:])
    known = [run.middle_g.value for run in runs if run.middle_g.value is not None]
    unknown = runs[-1].middle_g if runs else absent("no_run")
    return BrakingOfRuns(
        runs=runs,
        mean_g=Figure(mean(known), estimate=True) if known else unknown,
        spread_g=Figure(standard_deviation(known)) if len(known) > 1 else absent("single_reading"),
    )


def braking_to_look_at(job: Job, profiles: Profiles, ridden: BrakingOfRuns | None = None) -> Braking:
    """The deceleration that every figure on the brakes is for: as entered, else as ridden by the fork markers, else the
    usual one of the use.

    Args:
        job: the job.
        profiles: bands and targets.
        ridden: the braking that the markers stand for, where that was worked out already.
    """
    own = entered_or_usual(job)
    if own.source == "entered":
        return own
    by_markers = _kept(job, profiles) if ridden is None else ridden
    if not by_markers.mean_g.known:
        return own
    slow_g, fast_g = (
        Figure(mean([one.value or 0.0 for one in of]), estimate=True)
        for of in ([run.slow_g for run in by_markers.known], [run.fast_g for run in by_markers.known])
    )
    return Braking(
        slow_g=slow_g,
        fast_g=fast_g,
        source="ridden",
        markers=len(by_markers.known),
        spread_g=by_markers.spread_g,
    )


_last: list[tuple[Job, Profiles, BrakingOfRuns]] = []
"""The latest answer: a trial and the search for what leaves some travel ask for the same job again and again."""


def _kept(job: Job, profiles: Profiles) -> BrakingOfRuns:
    for before, by, found in _last:
        if before == job and by == profiles:
            return found
    found = braking_of_runs(job, profiles)
    _last[:] = [(job, profiles, found)]
    return found


def _of_run(job: Job, at: int, profiles: Profiles) -> RunBraking:
    return RunAsRidden(job, at, profiles).braking()


class RunAsRidden:
    """A run judged with its own settings, so that its marker may be taken otherwise too."""

    def __init__(self, job: Job, at: int, profiles: Profiles) -> None:
        """Judge the run.

        Args:
            job: the job.
            at: which of its runs, from 0.
            profiles: bands and targets.
        """
        self.at = at
        self._ridden = replace(as_ridden(job, job.runs[at]), runs=(job.runs[at],))
        self._assessment = assess(self._ridden, profiles)
        run = self._assessment.run
        self._used = absent("no_run") if run is None else run.front.used_mm

    def braking(self, *, deeper_mm: float = 0.0, higher_mm: float = 0.0) -> RunBraking:
        """The braking that its marker stands for.

        Args:
            deeper_mm: how much deeper the fork is taken to have gone than its marker says; below 0: less deep.
            higher_mm: how much higher the centre of mass is taken to lie; below 0: lower.
        """
        used = self._used if deeper_mm == 0.0 else derive(lambda mm: mm + deeper_mm, self._used)
        slow, fast = braking_for_travel(self._ridden, self._assessment, used, higher_mm)
        return RunBraking(at=self.at, slow_g=slow, fast_g=fast)
