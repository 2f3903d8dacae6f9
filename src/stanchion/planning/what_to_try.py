"""What to try after a complaint of the rider: what the readings say already, what to feel by hand, then the changes
that can be made on this machine as it stands.

Worked out only when it is asked for. Each change is tried on a copy of the job, so that a trial of it says the same.
Nothing is offered against the job's own advice on sag, and nothing that brings a fault.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import cast

from stanchion.base.errors import BadEdit
from stanchion.base.record import record
from stanchion.job.complaint import SAFETY, Complaint
from stanchion.job.diff import Difference
from stanchion.job.edit import Edit, apply, value_at
from stanchion.job.model import ENDS, STATES, End, Job, Path
from stanchion.job.runs import changes_since
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.criteria.riders_words import (
    ChangeKind,
    ChangeRow,
    ComplaintRow,
    Condition,
    HandKind,
    RidersWords,
)
from stanchion.judgement.criteria.thresholds import NOT_SHOWN_MM, SLACK
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.codes import Caution, TravelVerdict
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.sag.sag_advice import NO_ADVICE
from stanchion.judgement.springs.stock import Stock
from stanchion.judgement.track.run_figures import latest_marked, run_figures
from stanchion.planning.change_edits import Hindered, Hindrance, change_edits
from stanchion.planning.change_order import in_order, opposite
from stanchion.planning.complaint_readings import ReadingState, reading_states
from stanchion.planning.sag_in_the_way import sag_in_the_way, springs_suit
from stanchion.planning.whatif import WhatIf, compare
from stanchion.planning.whatif_rows import WhatifRow

EFFECTS = ("static", "rider", "brakes_fork_mm", "rake_deg", "trail_mm", "gas_anti_squat_pct")
"""What is shown of a change: sags, travel used on the brakes, rake, trail, anti-squat."""


@record(kw_only=True)
class Suggestion:
    """One change that answers a complaint, on this machine as it stands."""

    complaint: Complaint
    row: ChangeRow
    """What it is, why, and what says that it went too far."""
    edits: tuple[Edit, ...] = ()
    changes: tuple[Difference, ...] = ()
    """The same with what is set now."""
    effects: tuple[WhatifRow, ...] = ()
    """What it does, as a trial of it shows; none: nothing that is computed."""
    appeared: tuple[Finding, ...] = ()
    """Warnings that it brings."""
    cautions: tuple[Caution, ...] = ()
    hindered: Hindered | None = None
    """Why it is not offered."""
    against: Complaint | None = None
    """Another complaint of this run that it makes worse."""
    then: Finding | None = None
    """Of another spring: what the job asks for with it."""
    last: bool = False
    """Another spring where the sags suit those fitted: only if nothing else helps."""
    opposite_of: ChangeKind | None = None
    """A change offered before it that goes the other way."""


@record(kw_only=True)
class WhatToTry:
    """What answers the complaints about a run."""

    complaints: tuple[Complaint, ...]
    unanswered: tuple[Complaint, ...]
    """Those for which there is no row."""
    inspection: bool
    """Whether one is a matter of safety: then nothing is to be set."""
    readings: tuple[ReadingState, ...]
    by_hand: tuple[HandKind, ...]
    offered: tuple[Suggestion, ...]
    not_offered: tuple[Suggestion, ...]
    changed_since: tuple[Difference, ...]
    """What was changed at fork and shock since that run."""


def what_to_try(
    job: Job,
    at: int,
    assessment: Assessment,
    profiles: Profiles,
    words: RidersWords,
    *,
    stock: Stock | None = None,
    previous: Job | None = None,
) -> WhatToTry:
    """What to check and what to try after the complaints about a run.

    Args:
        job: the job.
        at: which run, from 0.
        assessment: what assess() gave for the job.
        profiles: bands and targets.
        words: the rows that answer complaints.
        stock: the springs to hand.
        previous: the job it was carried from.
    """
    complaints = tuple(dict.fromkeys(job.runs[at].complaints))
    rows = [(complaint, row) for complaint in complaints if (row := words.row(complaint)) is not None]
    answered = {complaint for complaint, _ in rows}
    inspection = any(complaint.what in SAFETY for complaint in complaints)
    tried = _Tried(job, assessment, profiles, stock, previous)
    found: list[Suggestion] = []
    if not inspection:
        found = list(_without_twins(tried.suggestions(rows)))
        found = [replace(one, against=_worsened(one, complaints)) for one in found]
    offered = [one for one in found if one.hindered is None]
    return WhatToTry(
        complaints=complaints,
        unanswered=tuple(one for one in complaints if one not in answered),
        inspection=inspection,
        readings=tuple(reading_states(job, at, assessment, [row for _, row in rows])),
        by_hand=tuple(dict.fromkeys(kind for _, row in rows for kind in row.by_hand)),
        offered=tuple(_in_order(offered, tried.used, assessment)),
        not_offered=tuple(one for one in found if one.hindered is not None),
        changed_since=changes_since(job, at),
    )


def _without_twins(found: Iterable[Suggestion]) -> Iterator[Suggestion]:
    """Each change once: where several complaints ask for it, by the first."""
    seen: set[ChangeKind] = set()
    for one in found:
        if one.row.do not in seen:
            seen.add(one.row.do)
            yield one


def _in_order(
    offered: Iterable[Suggestion], used: Mapping[End, TravelVerdict], assessment: Assessment
) -> Iterator[Suggestion]:
    """The changes in the order to try them: another spring last where the sags suit, then what goes the other way than
    one before it."""
    by_do = {one.row.do: one for one in offered}
    order = in_order(by_do, [finding.code for finding in assessment.findings if _is_of_run(finding, "front")], "front")
    order = in_order(order, [finding.code for finding in assessment.findings if _is_of_run(finding, "rear")], "rear")
    order = sorted(order, key=lambda do: by_do[do].last)
    first = [do for do in order if not _gives_way(do, order, used)]
    yield from (by_do[do] for do in first)
    yield from (replace(by_do[do], opposite_of=opposite(do)) for do in order if do not in first)


def _is_of_run(finding: Finding, end: End) -> bool:
    return finding.where[:1] == ("runs",) and str(finding.where[-1]).startswith(end)


def _gives_way(do: ChangeKind, order: Sequence[ChangeKind], used: Mapping[End, TravelVerdict]) -> bool:
    """Whether the opposite of a change comes first: it stands before it, or travel that is never used asks for less."""
    other = opposite(do)
    if other not in order:
        return False
    end: End = "front" if do.startswith("front") else "rear"
    if used[end] == "kept_back" and (do in _LESS_SUPPORT) is not (other in _LESS_SUPPORT):
        return other in _LESS_SUPPORT
    return order.index(other) < order.index(do)


def _worsened(one: Suggestion, complaints: Iterable[Complaint]) -> Complaint | None:
    """The other complaint that says that this change goes too far."""
    return next((other for other in complaints if other.what == one.row.too_far and other != one.complaint), None)


# --- the changes --------------------------------------------------------------------------------------------------

_LESS_SUPPORT: frozenset[ChangeKind] = frozenset(
    {
        *("front_compression_less", "front_fast_compression_less", "front_preload_less", "front_spring_softer"),
        *("front_air_gap_more", "rear_compression_less", "rear_fast_compression_less", "rear_preload_less"),
        "rear_spring_softer",
    }
)
"""Changes with which an end goes deeper into its travel."""
_CAUTIONS: dict[str, tuple[Caution, ...]] = {
    "front_preload": ("adjuster_end",),
    "rear_preload": ("keep_clear",),
    "front_spring": ("fork_caps",),
    "rear_spring": ("shock_spring",),
    "front_air_gap": ("fork_caps",),
    "front_lower": ("fork_height",),
    "front_higher": ("fork_height",),
    "rear_higher": ("keep_clear",),
    "rear_lower": ("keep_clear",),
    "rear_compression": ("hot_shock",),
    "rear_fast_compression": ("hot_shock",),
    "rear_rebound": ("hot_shock",),
}


class _Tried:
    """Tries changes on copies of a job."""

    def __init__(
        self, job: Job, assessment: Assessment, profiles: Profiles, stock: Stock | None, previous: Job | None
    ) -> None:
        self._job, self._assessment, self._profiles = job, assessment, profiles
        self._stock, self._previous = stock, previous
        self.used = {end: self._travel(end) for end in ENDS}

    def suggestions(self, rows: Iterable[tuple[Complaint, ComplaintRow]]) -> Iterator[Suggestion]:
        """Every change of the rows that this machine has something for, in their order."""
        for complaint, row in rows:
            for change in row.changes:
                found = self._suggestion(complaint, change)
                if found is not None:
                    yield found

    def _suggestion(self, complaint: Complaint, row: ChangeRow) -> Suggestion | None:
        made = change_edits(self._job, self._assessment, row, self._stock)
        if made is None:
            return None
        plain = Suggestion(complaint=complaint, row=row)
        if isinstance(made, Hindered):
            return replace(plain, hindered=made)
        hindered = self._in_the_way(row)
        if hindered is not None:
            return replace(plain, hindered=hindered)
        found = replace(plain, hindered=Hindered(why="at_limit"))
        for smaller in _amounts(row):
            made = change_edits(self._job, self._assessment, smaller, self._stock)
            if isinstance(made, tuple):
                found = self._tried(plain, made)
                if found.hindered is None:
                    break
        return found

    def _tried(self, plain: Suggestion, edits: tuple[Edit, ...]) -> Suggestion:
        """What a change does; hindered where the job would then be worse off than it is."""
        changed = self._job
        try:
            for edit in edits:
                changed = apply(changed, edit)
        except BadEdit:
            return replace(plain, hindered=Hindered(why="at_limit"))
        seen = compare(self._job, changed, self._profiles, self._previous)
        fault = next((one for one in seen.appeared if one.severity is Severity.FAULT), None)
        if fault is not None:
            return replace(plain, hindered=Hindered(why="brings_fault", finding=fault))
        worse = _worse_sag(seen, plain.row.end)
        if worse is not None:
            return replace(plain, hindered=Hindered(why=worse, finding=self._assessment.sag.end(plain.row.end).advice))
        changes = tuple(
            Difference(edit.path, value_at(self._job, edit.path), edit.value)
            for edit in edits
            if edit.path[-1] != "coils"  # those of the spring taken out
        )
        return replace(
            plain,
            edits=edits,
            changes=changes,
            effects=tuple(effects_of(seen)),
            appeared=tuple(
                one for one in seen.appeared if one.severity is Severity.WARNING and one.code not in NO_ADVICE
            ),
            cautions=self._cautions(plain.row),
            then=seen.changed.predicted.end(plain.row.end).target if "_spring_" in plain.row.do else None,
            last="_spring_" in plain.row.do and springs_suit(self._assessment, plain.row.end),
        )

    def _cautions(self, row: ChangeRow) -> tuple[Caution, ...]:
        part = row.do.rpartition("_")[0]
        if part.endswith("_preload") and any(edit[-1] == "pressure_bar" for edit in self._paths(row)):
            return ("air_pump",)
        return _CAUTIONS.get(row.do, _CAUTIONS.get(part, ("adjuster_end",)))

    def _paths(self, row: ChangeRow) -> list[Path]:
        made = change_edits(self._job, self._assessment, row, self._stock)
        return [edit.path for edit in made] if isinstance(made, tuple) else []

    # --- what is in the way -------------------------------------------------------------------------------------------

    def _in_the_way(self, row: ChangeRow) -> Hindered | None:
        """What the markers and the sags say against a change before it is tried."""
        failed = next((one for one in row.when if not self._holds(one)), None)
        if failed is not None:
            return Hindered(why="condition", condition=failed)
        if row.do in _LESS_SUPPORT and self.used[row.end] in ("near_full", "beyond"):
            return Hindered(why="travel_used_up")
        return sag_in_the_way(self._assessment, row)

    def _holds(self, condition: Condition) -> bool:
        end, _, wanted = condition.partition("_")
        used = self.used[cast(End, end)]
        return used in ("near_full", "beyond") if wanted == "near_full" else used == wanted

    def _travel(self, end: End) -> TravelVerdict:
        """How much of its travel an end used by its latest marker; "" where it was set otherwise since."""
        job = self._job
        if not job.runs:
            return ""
        at = latest_marked(job)
        if any(change.path[0] == end for change in changes_since(job, at)):
            return ""
        return run_figures(job, at, self._assessment.marker_references).end(end).verdict


def _amounts(row: ChangeRow) -> Iterator[ChangeRow]:
    """The change as the row has it; of preload also by less, which may leave the sags in their targets."""
    yield row
    if row.do.split("_")[1] == "preload":
        yield from (replace(row, mm=row.mm * share, bar=row.bar * share) for share in (0.5, 0.25))


def _worse_sag(seen: WhatIf, end: End) -> Hindrance | None:
    """Whether a change takes a sag of that end out of its target, or further from it."""
    if end not in {change.path[0] for change in seen.differences}:
        return None
    for state in STATES:
        row = _sag_row(seen, end, state)
        target = seen.present.sag.end(end).behind.get(state) or seen.present.sag.end(end).state(state).target
        if row is None or target is None or row.present.value is None or row.changed.value is None:
            continue
        now, then = (_outside(value, target) for value in (row.present.value, row.changed.value))
        if then > now + NOT_SHOWN_MM:
            return "sag_leaves" if now <= SLACK else "sag_further"
    return None


def _outside(value: float, target: tuple[float, float]) -> float:
    return max(target[0] - value, value - target[1], 0.0)


def _sag_row(seen: WhatIf, end: End, state: str) -> WhatifRow | None:
    """Sag as measured where it is known before and after, else as predicted."""
    for basis in ("captured", "predicted"):
        row = seen.row((end,), f"{state}_{basis}")
        if row.present.known and row.changed.known:
            return row
    return None


def effects_of(seen: WhatIf) -> Iterator[WhatifRow]:
    """The rows of a comparison that say what a change does: only those that change."""
    for row in seen.rows:
        name = row.code.removesuffix("_captured").removesuffix("_predicted")
        if name not in EFFECTS:
            continue
        if name != row.code and row is not _sag_row(seen, cast(End, row.where[0]), name):
            continue
        if row.change is not None and abs(row.change) >= _least(row):
            yield row


_LEAST = {"rake_deg": 0.05, "brakes_fork_mm": 0.5, "gas_anti_squat_pct": 0.5}
"""[the figure's unit] A change below this is none; of a sag or the trail, less than is shown."""


def _least(row: WhatifRow) -> float:
    return _LEAST.get(row.code, NOT_SHOWN_MM)
