"""A trial on a job, as it is kept until the job is opened again."""

from __future__ import annotations

from collections.abc import Mapping

from stanchion.base.record import EMPTY, record
from stanchion.job.model import End, Job, Path


@record
class KeptTrial:
    """What is being tried on a job."""

    start: Job
    """The job as it was when the trial began."""
    tried: Job
    """The same with the changes that are tried."""
    texts: Mapping[Path, str] = EMPTY
    """What was typed to be tried and cannot be read."""
    springs: tuple[End, tuple[int, ...]] | None = None
    """The end whose springs were chosen from the stock, and the rows of the stock they come from."""
