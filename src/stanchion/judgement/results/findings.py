"""Findings as data. wording/finding_words.py puts them into words."""

from __future__ import annotations

from collections.abc import Mapping
from enum import IntEnum
from typing import get_args

from stanchion.base.record import EMPTY, record
from stanchion.job.model import Path
from stanchion.judgement.results.codes import FindingCode, ScaleCode


class Severity(IntEnum):
    """Severity of a finding; higher is worse."""

    NOTE = 1
    WARNING = 2
    FAULT = 3


@record
class Finding:
    """One finding: its code, severity, path and values."""

    code: FindingCode
    severity: Severity
    where: Path
    values: Mapping[str, object] = EMPTY
    """Numbers in base units, paths (shown as labels) and plain text, by the names the wording uses."""


DOUBTS: frozenset[FindingCode] = frozenset(
    {"sag_not_as_predicted", "working_rate_high", "working_rate_low", *get_args(ScaleCode)}
)
"""Findings that something entered may be wrong; they come before the advice on sag, which rests on it."""


def worst_first(findings: list[Finding]) -> tuple[Finding, ...]:
    """The findings in the order they are shown: worst first, otherwise as they were found."""
    return tuple(sorted(findings, key=lambda finding: -finding.severity))
