"""What the runs of a job say of one adjuster: where it was ridden, and what its last change went with."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.diff import Difference
from stanchion.job.model import Job, Path
from stanchion.job.runs import changes_before, first_ridden, ridden_at
from stanchion.judgement.criteria.thresholds import SLACK


@record(kw_only=True)
class LastChange:
    """The last time that runs were ridden with another position before and after."""

    run: int
    """The run after the change, from 0; the one before it was ridden before."""
    change: Difference
    """The position before and after."""
    others: tuple[Difference, ...]
    """What else was changed at fork and shock between the two runs; not the same adjuster in the other leg."""


@record(kw_only=True)
class Ridden:
    """One adjuster in the runs of a job."""

    first: float | None
    """Its position in the first run in which it was recorded; None: in none."""
    last: float | None
    """Its position in the latest run; None: not recorded there, or there is no run."""
    change: LastChange | None
    """None: no two runs were ridden with different positions."""


def ridden(job: Job, path: Path) -> Ridden:
    """What the runs say of an adjuster, or of a height.

    Args:
        job: the job.
        path: where its position is in the job.
    """
    positions = ridden_at(job, path)
    return Ridden(
        first=first_ridden(job, path),
        last=positions[-1] if positions else None,
        change=_last_change(job, path, positions),
    )


def _last_change(job: Job, path: Path, positions: tuple[float | None, ...]) -> LastChange | None:
    for at in range(len(positions) - 1, 0, -1):
        old, new = positions[at - 1], positions[at]
        if old is not None and new is not None and abs(new - old) > SLACK:
            same = _without_side(path)
            others = tuple(one for one in changes_before(job, at) if _without_side(one.path) != same)
            return LastChange(run=at, change=Difference(path, old, new), others=others)
    return None


def _without_side(path: Path) -> Path:
    return tuple(step for step in path if step not in ("left", "right"))
