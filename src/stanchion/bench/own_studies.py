"""The technician's own studies while the program runs, with their file, and what of them a job has noted."""

from __future__ import annotations

from stanchion.bench.study_round import StudyRound
from stanchion.job.edit import Edit, apply
from stanchion.job.model import Job, Path
from stanchion.job.repeatability import Repeatability
from stanchion.job.study import Study
from stanchion.judgement.sag.own_reading import repeatability_of
from stanchion.store.paths import Places
from stanchion.store.studies import Studies, add_study, load_studies

AT: Path = ("repeatability",)
"""Where a job has it noted."""


class OwnStudies:
    """The studies of this computer. Reading and writing them waits for the disk.

    Args:
        where: the folders.
    """

    def __init__(self, where: Places) -> None:
        self._places = where
        self.kept: Studies = load_studies(where)
        self.going: StudyRound | None = None
        """A study that was begun and left."""

    @property
    def own(self) -> Repeatability:
        """What is used from now on: the latest studies of the person who made the last one."""
        return repeatability_of(self.kept.studies)

    def add(self, study: Study) -> None:
        """Keep a study.

        Raises:
            NotSaved: it could not be written.
            ChangedOnDisk: another program has just written the file: it can be tried again.
        """
        self.kept = add_study(study, self._places)
        self.going = None

    def noted_in(self, job: Job) -> Job:
        """A job just begun, with the technician's own studies noted where there are any."""
        own = self.own
        return job if own == Repeatability() else apply(job, Edit(AT, own))
