"""Editing the notes on a venue: typed text in, notes out; and the run ridden best there."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from stanchion.base.errors import BadEdit, BadQuantity
from stanchion.base.progress import NEVER
from stanchion.base.record import record
from stanchion.bench.edit_session import Draft, EditSession
from stanchion.job.model import Job, Path
from stanchion.job.name_match import match_key
from stanchion.job.spec import Leaf, Number, specs_of
from stanchion.job.venue import VenueNotes
from stanchion.planning.work_targets import WorkTarget, runs_of
from stanchion.store.library import Library
from stanchion.store.listing import JobRow
from stanchion.store.machines import jobs_of, same_machine
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import read


class VenueSession(EditSession[VenueNotes]):
    """The notes on one venue while they are edited. A path is (field,).

    Args:
        notes: the notes as read.
        units: display units, in which bare numbers are read.
        read_only: refuse every edit.
    """

    def __init__(self, notes: VenueNotes, units: Units = METRIC, *, read_only: bool = False) -> None:
        super().__init__(notes, units, read_only=read_only)

    @property
    def notes(self) -> VenueNotes:
        """The notes as they are now."""
        return self._state

    def spec(self, path: Path) -> Leaf:
        """What a field may hold."""
        spec = specs_of(VenueNotes)[str(path[0])]
        if not isinstance(spec, Leaf):
            raise TypeError(f"{path} is no single field")
        return spec

    def value(self, path: Path) -> Any:
        """The value at a path."""
        return getattr(self.notes, str(path[0]))

    def type(self, path: Path, text: str) -> None:
        """Process the text of a field after a key; text that cannot be read stays as a draft."""
        spec = self.spec(path)
        if self.read_only:
            self.drafts[path] = Draft(text, "the file cannot be written; the message below says why")
            return
        try:
            value: Any = None
            if not isinstance(spec, Number):
                value = spec.check(text)
            elif text.strip():
                value = read(text, spec, self.units)
        except (BadQuantity, BadEdit) as refused:
            self.drafts[path] = Draft(text, str(refused))
            return
        self.drafts.pop(path, None)
        changed = replace(self.notes, **{str(path[0]): value})
        if changed == self.notes:
            self._steps.stay(path)
        else:
            self._steps.change(self.notes, path)
            self._state = changed

    def leave(self, path: Path) -> None:
        """End the visit to a field: the next edit begins a new step of undo."""
        del path
        self._steps.leave()

    def nudge(self, path: Path, direction: int) -> bool:
        """Nothing here is stepped."""
        del path, direction
        return False

    def _restore(self, state: VenueNotes) -> None:
        self._state = state
        self.drafts.clear()


@record
class BestThere:
    """The run with the best lap of a machine at a venue."""

    target: WorkTarget
    """Its setup, to return to."""
    file: str
    job: Job
    """The job of that run, to compare with."""
    best_lap_s: float
    rider: str


def best_there(
    library: Library, job: Job, name: str, *, instead: Mapping[str, Job], cancelled: Callable[[], bool] = NEVER
) -> BestThere | None:
    """The best lap that the machine of a job was ridden at its venue, in any job, with the setup it was ridden with.

    Reads files: call it on a thread of its own.

    Args:
        library: the jobs.
        job: the job.
        name: its file name.
        instead: open jobs by file name, used in place of their files.
        cancelled: asked between files; once it is true, nothing is returned.

    Raises:
        BadFile: the folder cannot be listed.
    """
    venue = match_key(job.job.venue)
    if not venue:
        return None

    def there(rows: list[JobRow]) -> list[JobRow]:
        return [
            row
            for row in same_machine(rows, job.job.machine, name)
            if not row.problem and match_key(row.venue) == venue
        ]

    found = jobs_of(library, there, instead=instead, cancelled=cancelled)
    if cancelled():
        return None
    best: BestThere | None = None
    in_hand = () if any(file == name for file, _ in found.jobs) else ((name, job),)  # a file of another folder
    for file, other in (*found.jobs, *in_hand):
        for target in runs_of(other, "" if file == name else file, None if file == name else other.job):
            lap = target.ridden.best_lap_s if target.ridden is not None else None
            if lap is not None and (best is None or lap < best.best_lap_s):
                best = BestThere(target, file, other, lap, other.job.rider)
    return best
