"""A machine with what the program says of its job, and what a check gives."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from stanchion.job.model import End, Job
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import load_profiles
from stanchion.judgement.results.assessment import Assessment
from true_machines.asks import Ask, advice_at, ask_of, target_at
from true_machines.machines import Case
from true_machines.physics import fork_of, loads_of, rear_of
from true_machines.remedies import Truth

PROFILES = load_profiles()


@dataclass(frozen=True)
class Contradiction:
    """One thing that cannot be."""

    kind: str
    where: str
    shown: str


class Judged:
    """A machine with what the program says of its job."""

    def __init__(self, case: Case) -> None:
        self.case = case

    @cached_property
    def assessment(self) -> Assessment:
        """What the program says."""
        return assess(self.case.job, PROFILES)

    def truth(self, end: str) -> Truth:
        """What is true of an end."""
        return self._truths[end]

    @cached_property
    def _truths(self) -> dict[str, Truth]:
        return truths(self.case.true, self.case)

    @property
    def believable(self) -> bool:
        """Whether the job has readings that can be used and nothing plainly false."""
        return self.case.mode in ("exact", "noise", "drift")


def truths(true: Job, case: Case) -> dict[str, Truth]:
    """What is true of both ends."""
    loads = loads_of(true)
    return {
        "front": Truth(fork_of(true), loads["front"], case.use),
        "rear": Truth(rear_of(true), loads["rear"], case.use),
    }


def line(ask: Ask) -> str:
    return f"[{ask.finding.code}] {ask.words}"


def asked_at(assessment: Assessment, end: End) -> Ask | None:
    """What is asked for at an end: by its sags, or without readings by what is predicted."""
    advice = advice_at(assessment, end) or target_at(assessment, end)
    return None if advice is None else ask_of(advice)
