"""The sample jobs that come with the program: invented machines, riders and readings, to look at and to copy."""

from __future__ import annotations

from stanchion.base.bundled import bundled_files
from stanchion.base.record import record
from stanchion.job.codec import header


@record
class Sample:
    """One sample job."""

    name: str
    """Its file's name without the ending."""
    data: bytes
    """Its file's content."""
    title: str
    """What it shows, in a line: the first line of its notes."""


def samples() -> tuple[Sample, ...]:
    """Every sample job, the well-set machine first, then by name.

    >>> samples()[0].title
    'A well-set machine (invented)'
    """
    found = [
        Sample(name.removesuffix(".toml"), data, header(data).job.notes.partition("\n")[0])
        for name, data in bundled_files("sample_jobs")
    ]
    return tuple(sorted(found, key=lambda sample: (sample.name != FIRST, sample.name)))


FIRST = "well_set"
"""The sample to show if none is named."""
