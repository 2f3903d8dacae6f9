"""The guided round that finds the height of the centre of mass: scales level, suspension blocked, front on blocks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stanchion.bench.guided_measuring import GuideStep, guide_step
from stanchion.job.balance import Lift
from stanchion.job.edit import spec_at
from stanchion.job.model import Job, Path
from stanchion.job.spec import Rows
from stanchion.wording import lifting_guide_sentences as rows
from stanchion.wording.american import worded

LIFTS: Path = ("balance", "lifts")
LEAST_BLOCKS = 2
"""Heights asked for: two with the level reading make a line that shows whether one of them is wrong. Common practice,
no published source."""


def lifting_steps(job: Job) -> tuple[GuideStep, ...]:
    """The readings in the order of the work: the machine is blocked once, and lifted no more often than it must be.

    Args:
        job: the job: one block more is asked for than it has readings.
    """
    level = (guide_step(row, row.path, worded(row.state), (row.do, row.read)) for row in rows.LEVEL)
    blocked = guide_step(rows.BLOCKED, rows.BLOCKED.path, rows.BLOCKED.state, (rows.BLOCKED.do, rows.BLOCKED.read))
    return (*level, replace(blocked, confirms=rows.BLOCKED_VALUE), *_blocks(job))


def _blocks(job: Job) -> Iterator[GuideStep]:
    spec = spec_at(LIFTS)
    most = spec.most if isinstance(spec, Rows) else LEAST_BLOCKS
    for at in range(min(most, len(job.balance.lifts) + 1)):
        lift = job.balance.lifts[at] if at < len(job.balance.lifts) else Lift()
        state = rows.BLOCK.format(number=at + 1)
        spared = at >= LEAST_BLOCKS and lift == Lift()
        for row in (rows.RAISED, rows.ALONE, rows.ABOARD):
            step = guide_step(row, (*LIFTS, at, *row.path), state, (row.do, row.read))
            optional = spared or row.optional or (row is rows.ALONE and lift.aboard_kg is not None)
            yield replace(step, optional=optional)
