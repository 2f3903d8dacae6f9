"""The guided round at swingarm, sprockets and chain, for anti-squat and the way of the axle."""

from __future__ import annotations

from stanchion.bench.guided_measuring import GuideStep, guide_step
from stanchion.job.model import Job
from stanchion.wording.swingarm_guide_sentences import CHAIN, STOOD, SWINGARM


def swingarm_steps(job: Job) -> tuple[GuideStep, ...]:
    """The readings in the order of the work: all with the tape first, then what is counted.

    Args:
        job: the job: sags are asked for where it says that the machine did not stand as when the geometry was measured.
    """
    stood = STOOD if job.swingarm.measured != "geometry" else ()
    rows = (*SWINGARM, *stood, *CHAIN)
    return tuple(guide_step(row, row.path, row.state, (row.do, row.read)) for row in rows)
