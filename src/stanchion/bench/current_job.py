"""The open job with all that belongs to it: its file, its session, and the trial on a copy of it."""

from __future__ import annotations

from pathlib import Path

from stanchion.bench.session import Session
from stanchion.bench.trial import Trial
from stanchion.job.kept_trial import KeptTrial
from stanchion.store.drafts import Kept
from stanchion.store.open_jobs import OpenJob


class CurrentJob:
    """The open job. File and session are one value, so that no thread can see parts of two jobs.

    Args:
        open_job: its file, with autosave.
        session: its session.
    """

    def __init__(self, open_job: OpenJob, session: Session) -> None:
        self.open_job = open_job
        self.session = session
        self.trial = Trial(session)
        """The trial on a copy of the job."""

    def keep_drafts(self) -> None:
        """Keep unreadable text and what is tried for the next time the job is opened. Never waits for the disk."""
        self.open_job.keep(Kept(self.session.unread, self.trial.kept()))

    def recall(self, kept: Kept) -> list[str]:
        """Restore the unreadable text and the trial that were kept when the job was last open.

        Returns:
            Messages for the user on what was restored, and on what could not be.
        """
        notes = []
        lost = self.session.recall(kept.texts)
        if self.session.unread:
            count = len(self.session.unread)
            typed = "1 value typed before" if count == 1 else f"{count} values typed before"
            stand = "It is still in its field" if count == 1 else "They are still in their fields"
            notes.append(f"{typed} could not be read. {stand}: see the warnings.")
        notes += [f"'{text}' was typed before into a field that this job no longer has." for text in lost]
        return notes + self._recall_trial(kept.trial)

    def _recall_trial(self, kept: KeptTrial | None) -> list[str]:
        notes = []
        lost = self.trial.recall(kept) if kept is not None else 0
        if self.trial.tried:
            count = len(self.trial.changes)
            what = f"{count} change{'s are' if count != 1 else ' is'} tried" if count else "Something is tried"
            notes.append(f"A trial is in hand: {what} and not part of the job yet.")
        if lost:
            notes.append(f"{lost} of the changes tried on this job before cannot be tried on it as it is now.")
        return notes

    def keep_present(self) -> None:
        """Keep the present state of the job among the earlier ones, before one of them is brought back.

        Raises:
            NotSaved: it could not be kept.
        """
        self.open_job.file.keep(self.session.job, "before-bringing-back")

    def write_sheets(self, folder: Path) -> None:
        """Write the hand-over sheet, as text and as HTML, under the name of the job file. Any thread may call this.

        Args:
            folder: where to; it is made if missing.

        Raises:
            NotSaved: it could not be written.
        """
        from stanchion.bench.handover import write_both_sheets  # noqa: PLC0415 - not needed to start

        write_both_sheets(self.session, folder, Path(self.open_job.name).stem)
