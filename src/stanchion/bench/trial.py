"""Trying a change on a copy of the job; the job itself changes only when the trial is applied."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from stanchion.bench.session import Session
from stanchion.job.diff import Difference, differences
from stanchion.job.edit import Edit
from stanchion.job.kept_trial import KeptTrial
from stanchion.job.measured import is_note
from stanchion.job.model import End, Job
from stanchion.judgement.results.findings import Finding

if TYPE_CHECKING:
    from stanchion.judgement.springs.spring_option import Option


class Trial:
    """A trial of changes on a copy of a job.

    Args:
        session: the open job.
    """

    def __init__(self, session: Session) -> None:
        self.session = session
        self._start = session.job
        self._copy: Session | None = None
        self._applied: tuple[Job, ...] = ()
        self._seen: tuple[Job, Job, tuple[Difference, ...]] = (session.job, session.job, ())
        """Two jobs and what differs between them: it is asked for several times after each key."""
        self._chosen: Option | None = None
        self.chosen_before: tuple[End, tuple[int, ...]] | None = None
        """The end and the rows of the stock of springs that were chosen in an earlier run."""

    @property
    def copy(self) -> Session:
        """The session of the copy, made when it is first needed."""
        if self._copy is None:
            of = self.session
            self._copy = Session(self._start, of.profiles, of.previous, units=of.units)
            self._copy.on_fault = of.on_fault
            self._copy.tried = True
        return self._copy

    def _begin(self) -> None:
        """Start from the present job."""
        self._start = self.session.job
        self._copy = None

    def own_first(self, findings: Sequence[Finding]) -> list[Finding]:
        """Findings worst first; among equals those that the trial brings before those that the job has as it is."""
        known = {(one.code, one.where) for one in self.session.assessment.findings}
        return sorted(findings, key=lambda one: (-one.severity, (one.code, one.where) in known))

    @property
    def changes(self) -> tuple[Difference, ...]:
        """Differences from the job at the start of the trial, without notes that follow from them."""
        start, job, found = self._seen
        if start is not self._start or job is not self.copy.job:
            start, job = self._start, self.copy.job
            found = tuple(one for one in differences(start, job) if not is_note(one.path))
            self._seen = start, job, found
        return found

    @property
    def tried(self) -> bool:
        """Whether anything was changed or typed in the trial."""
        copy = self._copy
        if copy is None:
            return False
        return bool(copy.drafts) or (copy.job != self._start and bool(self.changes))

    @property
    def just_applied(self) -> bool:
        """Whether nothing was changed in the job since what was tried became part of it, or was taken back again."""
        return self.session.job in self._applied

    def kept(self) -> KeptTrial | None:
        """What to keep until the job is opened again; None if nothing is tried."""
        if not self.tried:
            return None
        option = self.chosen
        springs = self.chosen_before
        if option is not None:
            springs = ("rear" if option.fittings[0].place == "rear" else "front", option.used)
        return KeptTrial(self._start, self.copy.job, self.copy.unread, springs)

    def recall(self, kept: KeptTrial) -> int:
        """Restore the trial that was kept when the job was last open.

        Returns:
            How many changes the job can no longer take.
        """
        changes = [one for one in differences(kept.start, kept.tried) if not is_note(one.path)]
        edits = [Edit(one.path, one.new) for one in changes]
        lost = 0
        if self.copy.put_all(edits):
            lost = sum(bool(self.copy.put_all((edit,))) for edit in edits)
        self.copy.recall(kept.texts)
        self.chosen_before = kept.springs
        return lost

    def choose(self, option: Option) -> None:
        """Remember the springs that are tried, to take them off the stock once they are fitted."""
        self._chosen, self.chosen_before = option, None

    @property
    def springs_chosen(self) -> bool:
        """Whether springs were chosen from the list for this trial, also in an earlier run."""
        return self._chosen is not None or self.chosen_before is not None

    @property
    def chosen(self) -> Option | None:
        """The choice of springs that is tried; None if there is none, or its springs were changed since."""
        option, job = self._chosen, self.copy.job
        if option is None:
            return None
        from stanchion.judgement.springs.candidates import spring_at  # noqa: PLC0415 - not needed to start

        for fitting in option.fittings:
            tried = spring_at(job, fitting.place)
            if (tried.rate_n_per_mm, tried.free_length_mm) != (fitting.spring.rate_n_per_mm, fitting.free_length_mm):
                return None
        return option

    def follow(self) -> None:
        """Apply to the copy what was changed in the job meanwhile, and keep what is tried.

        What the job can no longer take is dropped from the trial.
        """
        self.copy.units = self.session.units
        if self.session.job == self._start:
            return
        edits = self.edits
        self._begin()
        for edit in edits:
            self.copy.put_all((edit,))

    def apply(self, along: Iterable[Edit] = ()) -> str:
        """Apply the trial to the job, as one step of undo.

        Args:
            along: edits to make with it.

        Returns:
            Why the job refuses it; empty if it is done.
        """
        self.follow()
        before = self.session.job
        refused = self.session.put_all((*self.edits, *along), tried=True)
        if refused:
            return refused
        self._applied = (before, self.session.job)
        self._chosen = self.chosen_before = None
        self._begin()
        return ""

    def drop(self) -> bool:
        """Reset the copy to the present job, as one step of undo; False if nothing was tried."""
        self.follow()
        tried = self.tried
        self._chosen = self.chosen_before = None
        self.copy.drafts.clear()
        self.copy.bring_back(self._start)
        return tried

    @property
    def edits(self) -> list[Edit]:
        """The edits that make in a job what is tried."""
        return [Edit(change.path, change.new) for change in self.changes]
