"""Everything that is found at one end, in one list with a run: no two sentences of it ask for opposite work."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

from stanchion.job.model import ENDS, End, Job, Run
from stanchion.judgement.assess import assess
from stanchion.judgement.results.findings import Finding
from stanchion.wording.finding_words import sentence
from true_machines.asks import OPPOSITE, advice_at, target_at
from true_machines.judged import PROFILES, Contradiction, Judged

_FORBIDS = (
    ("more", r"(do not fit|never) a longer spacer|do not add preload"),
    ("less", r"do not reduce preload|(do not fit|never) a shorter spacer"),
    ("softer", r"do not fit softer springs|(do not fit|never) a softer spring"),
    ("stiffer", r"do not fit stiffer springs|(do not fit|never) a stiffer spring|no stiffer spring"),
    ("spring", r"springs and preload suit|springs can stay|no other spring comes|neither another spring"),
)
_ASKS = (
    ("stiffer", r"\bstiffer\b|\btoo soft\b"),
    ("softer", r"\bsofter\b|\btoo stiff\b"),
    ("more", r"\blonger spacer\b|\bspacer longer\b|\badd preload\b|\bmore preload\b|\bcollar in\b|\bturns in\b"),
    (
        "less",
        r"\bshorter spacer\b|\bspacer shorter\b|\btake off preload\b|\bless preload\b|\bcollar out\b|\bturns out\b",
    ),
)
_SPRING = frozenset({"stiffer", "softer"})
_ASIDE = re.compile(
    # what a new spring is fitted with; on what condition; what would only be so; what a position is called
    r"with (less|more|little) preload|(if|unless|where) [^.;:]*[.;:,][^.;:]*|has little preload|would only[^.]*\.|"
    r"that needs (more|less) preload[^.:;]*|this needs (more|less) preload[^:]*:|adjuster [0-9.]+ turns in|[^.]* last\.|"
    r"do not force it:[^.]*\.|towards (more|less) preload|keep the collar[^.;]*",
    re.IGNORECASE,
)


def asked(words: str) -> frozenset[str]:
    """Which ways a sentence sends the reader, whatever part of the machine's judgement it comes from.

    >>> sorted(asked("Run: 1 mm left, and the adjuster is fully in: the spring is too soft. Fit a stiffer one."))
    ['stiffer']
    >>> sorted(asked("Fork: close to the limit. Do not fit a longer spacer; if more is needed, fit a stiffer spring."))
    []
    """
    left = _ASIDE.sub(" ", words)
    for _, pattern in _FORBIDS:
        left = re.sub(pattern, " ", left, flags=re.IGNORECASE)
    return frozenset(way for way, pattern in _ASKS if re.search(pattern, left, re.IGNORECASE))


def forbidden(words: str) -> frozenset[str]:
    """Which ways a sentence tells the reader not to go; "spring" is any other spring.

    >>> sorted(forbidden("Fork: close to the limit. Do not fit a longer spacer; if more is needed, fit a stiffer spring."))
    ['more']
    """
    return frozenset(way for way, pattern in _FORBIDS if re.search(pattern, words, re.IGNORECASE))


def the_whole_list(judged: Judged) -> Iterator[Contradiction]:
    """Two sentences of one end that ask for opposite work, or one that asks for what another says not to do."""
    if judged.case.seed % 2:
        return
    job = with_run(judged.case.job, judged.case.seed)
    assessment = assess(job, PROFILES)
    for end in ENDS:
        at_end = [one for one in assessment.findings if _of(end, one)]
        for extra in (advice_at(assessment, end), target_at(assessment, end)):
            if extra is not None and extra not in at_end:
                at_end.append(extra)
        yield from opposed([sentence(one) for one in at_end], end)


def with_run(job: Job, seed: int) -> Job:
    """The job with a run ridden as it stands: full travel used, most of it, or half of it, at either end."""
    used = (1.0, 0.98, 0.93, 0.5)
    front, rear = job.front.travel_mm or 120.0, (job.rear.stroke_mm or (job.rear.wheel_travel_mm or 120.0) * 0.4)
    run = Run(
        front_marker_mm=round(front * used[seed // 2 % 4], 1),
        rear_marker_mm=round(rear * used[seed // 8 % 4], 1),
        marker_from="hanging",
        front=job.front,
        rear=job.rear,
    )
    return replace(job, runs=(run,))


def _of(end: End, finding: Finding) -> bool:
    """Whether a finding is about that end and no other: a part of it, its sag, or its marker on a run."""
    return any(str(step).startswith(end) for step in finding.where[:3] if not isinstance(step, int))


def opposed(found: list[str], end: End) -> Iterator[Contradiction]:
    """Every two of the sentences that ask for opposite work, or of which one asks for what the other forbids."""
    now = [words for words in found if "ride again to judge" not in words]  # of other settings than these
    for one, other in combinations(now, 2):
        ways, others = asked(one), asked(other)
        if any(OPPOSITE[way] in others for way in ways):
            yield Contradiction(
                f"m opposite: {'/'.join(sorted(ways))} beside {'/'.join(sorted(others))}", end, f"{one} / {other}"
            )
        for of_one, of_other in ((ways, forbidden(other)), (others, forbidden(one))):
            against = (of_one & of_other) or ("spring" in of_other and of_one & _SPRING)
            if against:
                yield Contradiction("m asked for and forbidden", end, f"{one} / {other}")
