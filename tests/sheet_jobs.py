"""Jobs that try what a hand-over sheet can bear: invented, full to the brim, or out to steer whoever shows them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from complete_job import complete_job
from judgement_jobs import PROFILES
from stanchion.job.codec import loads
from stanchion.job.model import Job, Run, Stack
from stanchion.job.spec import Part, Rows, Text, specs_of
from stanchion.judgement.assess import assess
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_shape import Sheet
from stanchion.store.samples import samples
from stanchion.units.known_units import METRIC, Units

HOSTILE = "x<script>alert(1)</script><img src=http://a/b onerror=alert(1)>\x1b]0;t\x07\x9b31m</style>&amp;\u202e"
JOBS = {sample.name: loads(sample.data).job for sample in samples()} | {"complete": complete_job(), "empty": Job()}


def hostile() -> Job:
    """A job whose texts would steer a terminal or a browser if they were let."""
    job = complete_job()
    texts = replace(job.job, machine=HOSTILE[:60], rider=HOSTILE[:60], venue=HOSTILE[:60], notes=HOSTILE * 8)
    return replace(job, job=texts, front=replace(job.front, oil=HOSTILE[:60]))


def brimful(letter: str) -> Job:
    """A job that looks worst on paper: every text as long as it may be, of one letter, in words or without a blank."""
    full: Job = _filled(ridden(complete_job()), letter)
    stack = Stack(spacer_mm=100.25, washers_mm=(10.25,) * 4, seats_mm=(10.25,) * 3)
    left = replace(full.front.left, stack=stack)
    right = replace(left, air_gap_mm=111.0, oil_volume_ml=1506.0)
    return replace(full, front=replace(full.front, left=left, right=right))


def ridden(job: Job) -> Job:
    """The job after one run."""
    run = Run(time="10:40", best_lap_s=98.4, front_marker_mm=110.0, rear_marker_mm=50.0, front=job.front, rear=job.rear)
    return replace(job, runs=(run,))


def _filled(part: Any, letter: str) -> Any:
    filled: dict[str, Any] = {}
    kind: type = type(part)
    for name, spec in specs_of(kind).items():
        value = getattr(part, name)
        if isinstance(spec, Text) and name != "carried_from":
            filled[name] = "\n".join([(letter * spec.longest)[: spec.longest // spec.lines - 1]] * spec.lines)
        elif isinstance(spec, Part) and value is not None:
            filled[name] = _filled(value, letter)
        elif isinstance(spec, Rows):
            filled[name] = tuple(_filled(row, letter) for row in value)
    return replace(part, **filled)


def sheet(job: Job, previous: Job | None = None, units: Units = METRIC) -> Sheet:
    """The sheet of a job."""
    return make_sheet(job, assess(job, PROFILES, previous), previous, units)
