"""Comparing a job with the same job changed: the effect on sag, height, adjusters and geometry."""

from __future__ import annotations

from collections.abc import Iterable

from stanchion.base.record import record
from stanchion.job.diff import Difference, differences
from stanchion.job.measured import is_note, noted
from stanchion.job.model import ENDS, Job, Path, State
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.ends.other_rider import converted_from
from stanchion.judgement.predict.geometry import state_for_geometry
from stanchion.judgement.predict.loaded_machine import loaded_machine
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.findings import Finding
from stanchion.planning.axle_in_trial import axle_in_trial
from stanchion.planning.both_jobs import BothJobs
from stanchion.planning.braking_of_runs import braking_to_look_at
from stanchion.planning.preload_effect import PreloadEffect, preload_effects
from stanchion.planning.whatif_rows import WhatifRow, whatif_rows


@record(kw_only=True)
class WhatIf:
    """A job and the same job changed, side by side."""

    differences: tuple[Difference, ...]
    """The changes."""
    rows: tuple[WhatifRow, ...]
    state: str
    """The state for which the change of height and the geometry are given: "rider", "static" or "extended"."""
    preload: tuple[PreloadEffect, ...]
    """Effects of a change of preload, by end and state; only where nothing else was changed at the springs of that
    end."""
    present: Assessment
    changed: Assessment
    appeared: tuple[Finding, ...]
    """Findings that the change brings, worst first."""
    gone: tuple[Finding, ...]
    """Findings that the change removes."""
    rider_by_scales_kg: float | None = None
    """Mass taken for the rider who was on the scales, where the change is to another rider."""

    @property
    def worst(self) -> tuple[Finding | None, Finding | None]:
        """The worst finding now and after the change."""
        return next(iter(self.present.findings), None), next(iter(self.changed.findings), None)

    def row(self, where: Path, code: str) -> WhatifRow:
        """One row."""
        return next(row for row in self.rows if (row.where, row.code) == (where, code))


def compare(job: Job, changed: Job, profiles: Profiles, previous: Job | None = None) -> WhatIf:
    """Compare a job with the same job changed. Pure, and fast enough to run at every keystroke.

    The sag to expect is what the job says once the change is part of it: the measured one where that stands, else what
    the changed springs give under the loads as the old sags correct them. Heights are worked out from where the springs
    come to rest, not from sag: on a top-out spring the machine rises while its sag stays the same.

    Args:
        job: the job.
        changed: the same job with something changed.
        profiles: bands and targets.
        previous: the job it was carried from.
    """
    found = tuple(one for one in differences(job, changed) if not is_note(one.path))
    changed = _as_tried(job, changed, found)
    present, after = assess(job, profiles, previous), assess(changed, profiles, previous)
    springs, springs_after = loaded_machine(job, present), loaded_machine(changed, after)
    braking = braking_to_look_at(job, profiles)
    then = braking if changed.balance == job.balance else braking_to_look_at(changed, profiles)
    compared = BothJobs(
        job, changed, present, after, springs, springs_after, found, (braking, then), axle_in_trial(job, changed)
    )
    geometry_state = state_for_geometry(present.sag, present.predicted.sag)
    state: State = "static" if geometry_state.state == "static" else "rider"
    return WhatIf(
        differences=found,
        rows=tuple(whatif_rows(compared, state)),
        state=geometry_state.state,
        preload=tuple(
            effect
            for end in ENDS
            if not compared.inputs_doubted(end)
            for effect in preload_effects(end, compared.springs, compared.springs_after)
        ),
        present=present,
        changed=after,
        appeared=_only_in(after.findings, present.findings),
        gone=_only_in(present.findings, after.findings),
        rider_by_scales_kg=converted_from(changed),
    )


def _as_tried(job: Job, changed: Job, found: Iterable[Difference]) -> Job:
    """The changed job with notes of what was fitted, and who was aboard, when something was measured."""
    for one in found:
        changed = noted(changed, one.path, job, tried=True)
    return changed


def _only_in(findings: tuple[Finding, ...], others: tuple[Finding, ...]) -> tuple[Finding, ...]:
    known = {(finding.code, finding.where) for finding in others}
    return tuple(finding for finding in findings if (finding.code, finding.where) not in known)
