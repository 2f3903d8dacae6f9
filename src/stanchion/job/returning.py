"""Returning a machine to an earlier setup: the setup of a job or run, and the record that a work list is begun."""

from __future__ import annotations

from stanchion.job.model import Drive, Job, Path, Returning, Run, Setup, Upkeep
from stanchion.job.spec import Text, specs_of

AT: Path = ("returning",)
"""The path of the current work list."""

CHAIN_AND_TYRES = (
    "front_teeth",
    "rear_teeth",
    "axle_mark_mm",
    "wheelbase_mm",
    "front_tyre",
    "rear_tyre",
    "front_wanted_bar",
    "rear_wanted_bar",
)
"""The fields of upkeep that are part of a setup; oil changes, hours and torques are not."""


def setup_of(job: Job) -> Setup:
    """The setup of a job."""
    kept = {name: getattr(job.upkeep, name) for name in CHAIN_AND_TYRES}
    drive = Drive(chain=job.drive.chain, links=job.drive.links)
    return Setup(front=job.front, rear=job.rear, upkeep=Upkeep(**kept), drive=None if drive == Drive() else drive)


def setup_ridden(run: Run) -> Setup:
    """The setup that was stamped on a run; chain and tyres are not stamped."""
    return Setup(front=run.front, rear=run.rear)


def returning(start: Job, to: Setup, *, job: str, run: int | None, title: str) -> Returning:
    """The record of a work list that is begun.

    Args:
        start: the job as the machine is now.
        to: the setup to return to.
        job: file name of the job with the target; empty: the same one.
        run: which run of it, counted from 0; None: the job itself.
        title: what it is, in words.
    """
    name, words = (_cut(field, text) for field, text in (("job", job), ("title", title)))
    return Returning(job=name, run=None if run is None else run + 1.0, title=words, to=to, start=setup_of(start))


def _cut(field: str, text: str) -> str:
    spec = specs_of(Returning)[field]
    return text[: spec.longest] if isinstance(spec, Text) else text
