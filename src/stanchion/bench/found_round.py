"""The guided round that takes a machine as it was found: tyres, heights, dampers, preload, sag.

Each reading goes into the job, which so far said how the machine was left, and into the record of the machine as found.
Once a setting was changed after it was taken, the guide corrects the record alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stanchion.bench.guided_measuring import GuideStep, guide_step, leg_steps, sag_steps, shock_steps, state_of
from stanchion.job.edit import value_at
from stanchion.job.ends import STEPS
from stanchion.job.found import found_path, found_value
from stanchion.job.measured import changed_since_read
from stanchion.job.model import SIDES, Adjuster, Clicker, Job, Path
from stanchion.wording import found_sentences as rows
from stanchion.wording.air_guide_sentences import PRESSURES
from stanchion.wording.american import worded
from stanchion.wording.guide_sentences import Reading, bench_name


def found_steps(job: Job, *, alone: bool = False) -> tuple[GuideStep, ...]:
    """The readings of the machine as found, in an order in which none disturbs those after it.

    Args:
        job: the job: how adjusters are counted, which dampers it knows, whether the legs are apart.
        alone: sag is taken by one person alone.
    """
    own = [*_settings(job), *sag_steps(job, alone=alone)]
    return tuple(_of_the_record(job, step) for step in own)


def _of_the_record(job: Job, step: GuideStep) -> GuideStep:
    """The step, in the record alone once the job has gone on."""
    taken = found_value(job, step.path)
    state = state_of(step)
    gone_on = taken not in (None, ()) and (
        taken != value_at(job, step.path) or (state is not None and changed_since_read(job, step.end, state))
    )
    return replace(step, path=found_path(step.path) if gone_on else step.path, as_found=True)


def _settings(job: Job) -> Iterator[GuideStep]:
    for row in rows.TYRES:
        yield guide_step(row, row.path, worded(row.state), (row.do, row.read))
    fork, shock = bench_name(("front",)), bench_name(("rear",))
    sides = SIDES if job.front.split else SIDES[:1]
    parts: list[tuple[Path, str]] = [
        (("front", side), bench_name(("front", side), split=job.front.split)) for side in sides
    ]
    height = rows.FORK_HEIGHT
    yield guide_step(height, height.path, fork, (height.do, height.read))
    for at, name in parts:
        yield from (_damper(job, row, at, name) for row in rows.FORK_DAMPERS)
    yield from leg_steps(job, PRESSURES)
    for at, name in parts:
        if job.front.leg("left" if at[1] == "left" else "right").coil_fitted:
            yield from _preload(job, (*at, "adjuster"), name)
    length = rows.SHOCK_LENGTH
    yield guide_step(length, length.path, shock, (length.do, length.read))
    yield from (_damper(job, row, ("rear",), shock) for row in rows.SHOCK_DAMPERS)
    if job.rear.air.fitted:
        yield from shock_steps(job, PRESSURES)
    else:
        yield from _preload(job, ("rear", "collar"), shock)


def _damper(job: Job, row: Reading, part: Path, state: str) -> GuideStep:
    """A damper; one of which the job knows nothing may be left out."""
    path = (*part, *row.path)
    clicker = value_at(job, path[:-1])
    known = isinstance(clicker, Clicker) and (clicker.now, clicker.total) != (None, None)
    unit = clicker.unit if isinstance(clicker, Clicker) else ""
    step = guide_step(row, path, state, (row.do, row.read.format(unit=unit)), unit)
    return replace(step, optional=not known)


def _preload(job: Job, part: Path, state: str) -> Iterator[GuideStep]:
    adjuster = value_at(job, part)
    if not isinstance(adjuster, Adjuster) or adjuster.counting == "none":
        return
    row, unit = rows.PRELOAD, adjuster.counting
    words = (row.do, row.read.format(unit=unit)) if unit in STEPS else (rows.SHOWING.format(unit=unit), "")
    yield guide_step(row, (*part, *row.path), state, words, unit)
