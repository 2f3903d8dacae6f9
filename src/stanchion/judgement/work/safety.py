"""What the rider reported of a run that is a matter of safety: the machine is to be inspected before it is ridden."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.complaint import SAFETY
from stanchion.job.model import Job
from stanchion.judgement.results.findings import Finding, Severity


def safety_findings(job: Job) -> Iterator[Finding]:
    """A warning for each kind of complaint that leads to an inspection.

    It stands until a later run was judged better, or the complaint is taken out: that a run was logged since does not
    say that the cause was found.
    """
    better = [at for at, run in enumerate(job.runs) if run.verdict == "better"]
    seen: set[str] = set()
    for at in reversed(range(len(job.runs))):
        if better and at < better[-1]:
            return
        for one in job.runs[at].complaints:
            if one.what in SAFETY and one.what not in seen:
                seen.add(one.what)
                place = None if one.where == "anywhere" else one.where
                values = {"run": at + 1, "what": one.what, "place": place}
                yield Finding("safety_reported", Severity.WARNING, ("runs", at, "complaints"), values)
