"""Which targets count for a job: its own where both ends of one are entered, else those of its profile."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stanchion.job.model import ENDS, EndTargets, Job
from stanchion.judgement.criteria.profiles import FALLBACK, EndProfile, PreloadBand, Profile, Profiles, Target
from stanchion.judgement.results.findings import Finding, Severity

ROWS = ("static", "rider", "preload")


def profile_for(job: Job, profiles: Profiles) -> Profile:
    """What a job is judged by: the profile that it names, or the fallback, with the job's own targets in it."""
    profile = profiles.get(job.job.use) or profiles.by_name[FALLBACK]
    ends = {end: _with_own(profile.end(end), job.targets.end(end)) for end in ENDS}
    return replace(profile, front=ends["front"], rear=ends["rear"])


def _with_own(profile: EndProfile, own: EndTargets) -> EndProfile:
    if own == EndTargets():
        return profile
    static, rider, preload = (_whole(own, row) for row in ROWS)
    if static is not None:
        profile = replace(profile, static_sag=Target(low=static[0], high=static[1], source=own.source))
    if rider is not None:
        profile = replace(profile, rider_sag=Target(low=rider[0], high=rider[1], source=own.source))
    if preload is not None:
        profile = replace(profile, installed_preload=_band(profile.installed_preload, preload, own.source))
    return profile


def _band(standard: PreloadBand | None, own: tuple[float, float], source: str) -> PreloadBand:
    """The own band. A limit of the profile stays, but not below the band; so does the least that is not loose."""
    low, high = own
    limit = None if standard is None or standard.limit is None else max(standard.limit, high)
    loose = None if standard is None or standard.loose_below is None else min(standard.loose_below, low)
    return PreloadBand(low=low, high=high, limit=limit, loose_below=loose, source=source)


def _ends(own: EndTargets, row: str) -> tuple[float | None, float | None]:
    return getattr(own, f"{row}_low_mm"), getattr(own, f"{row}_high_mm")


def _whole(own: EndTargets, row: str) -> tuple[float, float] | None:
    """Both ends of one target; None where one is not entered, or they are the wrong way round."""
    low, high = _ends(own, row)
    return None if low is None or high is None or low > high else (low, high)


def own_target_findings(job: Job) -> Iterator[Finding]:
    """A warning for each own target that does not count as it stands."""
    for end in ENDS:
        own = job.targets.end(end)
        for row in ROWS:
            low, high = _ends(own, row)
            if low is not None and high is not None and low > high:
                values = {"low_mm": low, "high_mm": high}
                yield Finding("own_target_order", Severity.WARNING, ("targets", end, f"{row}_low_mm"), values)
            elif (low is None) != (high is None):
                missing = f"{row}_{'low' if low is None else 'high'}_mm"
                yield Finding("own_target_half", Severity.WARNING, ("targets", end, missing), {})
