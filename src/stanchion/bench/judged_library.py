"""The jobs of a user, judged by the profiles of that user."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from stanchion.base.errors import BadFile
from stanchion.job.model import Job
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles, load_profiles
from stanchion.store.atomic import fingerprint, read
from stanchion.store.library import Library
from stanchion.store.paths import Places, places
from stanchion.wording.finding_words import headline
from stanchion.wording.verdicts import severity_word

if TYPE_CHECKING:
    from stanchion.judgement.results.parts import Fault
    from stanchion.store.faults import FaultLog

PROFILES_FILE = "profiles.toml"


def library_of(jobs: str | None) -> Library:
    """The jobs of this user, judged by their profiles."""
    where = places(jobs)
    profiles, mark, _ = read_profiles(where)

    @cache
    def log() -> FaultLog:
        from stanchion.store.faults import FaultLog  # noqa: PLC0415 - seldom needed

        return FaultLog(where.faults)

    return Library(where, judge_by(profiles, lambda fault: log().note(fault.part, fault.error)), mark)


def read_profiles(where: Places) -> tuple[Profiles, str, list[str]]:
    """The profiles of the program and the user, a mark that changes with them, and problems with the user's file."""
    path: Path = where.config / PROFILES_FILE
    try:
        text = read(path)
    except FileNotFoundError:
        text = None
    except (OSError, BadFile) as error:
        return load_profiles(), "", [f"{path}: {error}"]
    profiles = load_profiles(text)
    return profiles, fingerprint(text or b""), [f"{path}: {problem}" for problem in profiles.problems]


def judge_by(
    profiles: Profiles, on_fault: Callable[[Fault], None] = lambda fault: None
) -> Callable[[Job, Job | None], tuple[str, str]]:
    """A function that judges a job for the list: its worst severity and that finding's headline.

    Args:
        profiles: bands and targets.
        on_fault: called with each error of the program because of which a part of a job was not judged.
    """

    def judge(job: Job, previous: Job | None) -> tuple[str, str]:
        assessment = assess(job, profiles, previous)
        for fault in assessment.faults:
            on_fault(fault)
        findings = assessment.findings
        return (severity_word(findings[0].severity), headline(findings[0])) if findings else ("", "")

    return judge
