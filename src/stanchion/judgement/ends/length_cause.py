"""A spring of another length than its pair, or than last time, or a spacer of another than the other leg's, and the
findings that follow from it.

Such a spring is one cause: installed preload that it takes out of its band, and a difference between the legs that it
makes, ask for no other work. Both are put right with the length. So is what a spacer of the wrong length does in one
leg, and a spring that is loose only by a set length read with another spacer stack: that is read again before a longer
spacer is cut.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import cast

from stanchion.job.model import End
from stanchion.judgement.criteria.thresholds import LEG_PRELOADS_DIFFER_MM, SLACK
from stanchion.judgement.results.findings import Finding

_CAUSES = ("free_lengths_differ", "shorter_than_before", "longer_than_before")
_STALE = "set_length_stale"
_SHORTER = ("free_lengths_differ", "shorter_than_before")


def ends_out_by_length(findings: Sequence[Finding]) -> dict[End, str]:
    """The ends whose installed preload is out of its band only because a spring has another length.

    Args:
        findings: on spring lengths and on installed preload.

    Returns:
        For each of these ends, what a spring is: "shorter", so that it lacks preload, or "longer".
    """
    causes = [finding for finding in findings if finding.code in _CAUSES]
    ends: dict[End, str] = {}
    others: set[End] = set()
    for out in (finding for finding in findings if finding.code in _OUT_OF_BAND):
        cause = next((cause for cause in causes if _takes_out_of_band(cause, out)), None)
        if cause is None:
            others.add(_end(out))
        else:
            ends[_end(out)] = "shorter" if cause.code in _SHORTER else "longer"
    return {end: way for end, way in ends.items() if end not in others}


def with_causes_alone(findings: Sequence[Finding]) -> list[Finding]:
    """The findings without those that follow from the length of a spring.

    The finding on the length names the preload that it takes out of its band, and is as severe as what followed.
    """
    causes = [finding for finding in findings if _is_cause(finding)]
    causes = [cause for cause in causes if not any(_is_put_right_by(spacer, cause) for spacer in causes)]
    causes = [cause for cause in causes if not any(_sets_apart(length, cause) for length in causes)]
    following = [finding for finding in findings if any(_follows(cause, finding) for cause in causes)]
    following += [finding for finding in findings if any(_is_put_right_by(cause, finding) for cause in causes)]
    return [
        _with_preload(finding, following) if finding in causes else finding
        for finding in findings
        if finding not in following
    ]


def _is_cause(finding: Finding) -> bool:
    return finding.code in (*_CAUSES, _STALE) or (
        finding.code == "installed_preload_differs" and finding.values.get("of_leg") is not None
    )


def _is_put_right_by(spacer: Finding, length: Finding) -> bool:
    """Whether the spacer of one leg makes up for the lengths of the springs as well, and for more than they do."""
    if spacer.code != "installed_preload_differs" or spacer.values.get("of_leg") is None:
        return False
    return length.code in ("free_lengths_differ", "free_lengths_made_up") and not _sets_apart(length, spacer)


def _with_preload(cause: Finding, left_out: Sequence[Finding]) -> Finding:
    following = [finding for finding in left_out if _follows(cause, finding)]
    severity = max([cause.severity, *(finding.severity for finding in following)])
    out = next((finding for finding in following if finding.code in (*_OUT_OF_BAND, "spring_loose")), None)
    if out is None:
        return Finding(cause.code, severity, cause.where, cause.values)
    names = ("preload_mm",) if cause.code == _STALE else ("preload_mm", "low_mm", "high_mm")
    band = {name: out.values[name] for name in names}
    length = next((finding for finding in left_out if _is_put_right_by(cause, finding)), None)
    if length is not None:
        band |= {name: length.values[name] for name in ("short", "difference_mm")}
    return Finding(cause.code, severity, cause.where, {**cause.values, **band})


def _follows(cause: Finding, finding: Finding) -> bool:
    if cause.code == _STALE:
        return finding.code == "spring_loose" and finding.where == cause.where[:-2]
    return _takes_out_of_band(cause, finding) or _sets_apart(cause, finding) or _is_told_between_legs(cause, finding)


def _takes_out_of_band(cause: Finding, finding: Finding) -> bool:
    """Whether installed preload would be in its band with a spring of the other length, or the spacer put right."""
    if cause.code == "installed_preload_differs":
        return finding.code in _OUT_OF_BAND and finding.where == ("front", cause.values["of_leg"])
    if finding.code not in _OUT_OF_BAND or finding.where != cause.where[:-2]:
        return False
    shorter = cause.code in _SHORTER
    if shorter is not (finding.code == "preload_low"):
        return False
    installed, low, high, difference = _numbers(finding, "preload_mm", "low_mm", "high_mm") + _difference(cause)
    put_right = installed + difference if shorter else installed - difference
    return low - SLACK <= put_right <= high + SLACK


def _sets_apart(cause: Finding, finding: Finding) -> bool:
    """Whether installed preload differs between the legs by no more than the lengths of their springs do."""
    if cause.code != "free_lengths_differ" or finding.code != "installed_preload_differs":
        return False
    left, right, difference = _numbers(finding, "left_mm", "right_mm") + _difference(cause)
    less = right - left if cause.values["short"] == "left" else left - right
    return abs(less - difference) <= LEG_PRELOADS_DIFFER_MM + SLACK


def _is_told_between_legs(cause: Finding, finding: Finding) -> bool:
    """Whether a spring that is shorter than last time is told already as shorter than the other leg's."""
    return (
        cause.code == "free_lengths_differ"
        and finding.code == "shorter_than_before"
        and finding.where == cause.where
        and abs(_difference(cause)[0] - _difference(finding)[0]) <= SLACK
    )


_OUT_OF_BAND = ("preload_low", "preload_high", "preload_over_limit")


def _difference(cause: Finding) -> tuple[float, ...]:
    return _numbers(cause, "difference_mm")


def _numbers(finding: Finding, *names: str) -> tuple[float, ...]:
    return tuple(cast("float", finding.values[name]) for name in names)


def _end(finding: Finding) -> End:
    return "rear" if finding.where[0] == "rear" else "front"
