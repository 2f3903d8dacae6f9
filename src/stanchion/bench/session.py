"""Editing one open job: typed text becomes an edit, the edit a new job, the job an assessment. No screen, no file."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Mapping
from typing import Any, ParamSpec, TypeVar

from stanchion.base.errors import BadEdit, BadQuantity
from stanchion.bench.edit_session import Draft, EditSession, without_row
from stanchion.bench.field_edits import removes_item, step_edits, swap_edits, typed_value
from stanchion.job.aboard import RIDERS_NAME, renamed_rider
from stanchion.job.correction import Reread, corrected, reread
from stanchion.job.edit import Edit, apply, spec_at, value_at
from stanchion.job.measured import noted
from stanchion.job.model import Job, Path, Run
from stanchion.job.runs import as_set, changes_between
from stanchion.job.spec import Leaf, Spec
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.parts import Fault, FaultyPart, Parts
from stanchion.units.known_units import METRIC, Units
from stanchion.wording.reasons import refusal_words

P = ParamSpec("P")
T = TypeVar("T")

READ_ONLY = "this job is open read-only and cannot be changed"
TYPED_BEFORE = "typed before the program was last closed, and not accepted: type it again"


class Session(EditSession[Job]):
    """The open job while it is edited, with its assessment.

    Args:
        job: the job as opened.
        profiles: bands and targets to judge by.
        previous: the job it was carried from, if known.
        units: display units, in which bare numbers are read.
        read_only: refuse every edit.
    """

    def __init__(
        self,
        job: Job,
        profiles: Profiles,
        previous: Job | None = None,
        *,
        units: Units = METRIC,
        read_only: bool = False,
    ) -> None:
        super().__init__(job, units, read_only=read_only)
        self.profiles = profiles
        self.previous = previous
        self.on_edit: Callable[[Job], None] = lambda job: None
        """Called with the new job after each accepted change, so that it can be saved."""
        self.on_fault: Callable[[Fault], None] = lambda fault: None
        """Called with each error of the program because of which a part of the job was not judged."""
        self.tried = False
        """Whether this is a trial on a copy: its values were not measured, and no question about them is asked."""
        self.renamed_rider = ""
        """The rider's name before, until somebody has said whether the new one is another rider."""
        self.asked: Reread | None = None
        """A number that has replaced another, while the user has not said whether the first one was misread."""
        self.clock: Callable[[], dt.datetime] = dt.datetime.now
        self.changed_at: dt.datetime | None = None
        """When fork or shock was last changed, local time; None: not since the job was opened."""
        self._visited: tuple[Path, Job] | None = None
        """The current field, if it was changed, and the job before that change."""
        self._assessed: tuple[Job, Assessment] | None = None
        self._assessed_before: tuple[Job, Assessment] | None = None

    @property
    def assessment(self) -> Assessment:
        """The assessment of the job, computed when it is first needed."""
        if self._assessed is None or self._assessed[0] is not self.job:
            self._assessed = (self.job, assess(self.job, self.profiles, self.previous))
            for fault in self._assessed[1].faults:
                self.on_fault(fault)
        return self._assessed[1]

    @property
    def assessment_before(self) -> Assessment | None:
        """The assessment of the job this one was carried from, computed when it is first needed; None: not known."""
        if self.previous is None:
            return None
        if self._assessed_before is None or self._assessed_before[0] is not self.previous:
            self._assessed_before = (self.previous, assess(self.previous, self.profiles))
        return self._assessed_before[1]

    def judged(self, part: FaultyPart, unjudged: T, judge: Callable[P, T], /, *args: P.args, **kwargs: P.kwargs) -> T:
        """The result of another function of judgement. An error of the program is passed to on_fault.

        Args:
            part: the part of judging it belongs to, for the report.
            unjudged: the result if the function fails.
            judge: the function.
            args: its arguments.
            kwargs: its arguments by name.
        """
        parts = Parts()
        found = parts.judged(part, unjudged, judge, *args, **kwargs)
        for fault in parts.faults:
            self.on_fault(fault)
        return found

    @property
    def job(self) -> Job:
        """The job as it is now."""
        return self._state

    def spec(self, path: Path) -> Spec:
        """What a field may hold."""
        return spec_at(path)

    def value(self, path: Path) -> Any:
        """The value at a path."""
        return value_at(self.job, path)

    # --- typing ---------------------------------------------------------------------------------------------------

    def type(self, path: Path, text: str) -> None:
        """Process the text of a field after a key.

        Text that can be read becomes an edit. Other text stays as a draft with its reason, and the job keeps the last
        good value. All keys of one visit to a field are one step of undo.
        """
        try:
            value = typed_value(path, text, self.units)
        except (BadQuantity, BadEdit) as refused:
            self.drafts[path] = Draft(text, refusal_words(path, text, str(refused)))
            self._undo_beginning(path)
            self._unread_at = path
            return
        if removes_item(self.job, path, value):
            # The item is removed when the field is left, not while the user retypes it.
            self.drafts[path] = Draft(text, "")
            return
        refusal = self.put(path, value, visit=("typing", path))
        if refusal:
            self.drafts[path] = Draft(text, refusal)
        else:
            self.drafts.pop(path, None)

    def _undo_beginning(self, path: Path) -> None:
        """Undo what earlier keys of this visit changed: they were only the beginning of a text that cannot be read."""
        start = self._steps.forget(("typing", path))
        if start is not None:
            self._set_job(start)

    def leave(self, path: Path) -> None:
        """End the visit to a field: drop unfinished text, and let the next edit begin a new step of undo."""
        draft = self.drafts.get(path)
        if draft is not None and not draft.reason:
            del self.drafts[path]
            if value_at(self.job, path) not in (None, ""):
                self.put(path, typed_value(path, "", self.units))
        self._steps.leave()
        visited, self._visited = self._visited, None
        if visited is not None and visited[0] == path and not self.tried:
            self.asked = reread(visited[1], self.job, path) or self.asked
            if path == RIDERS_NAME:
                self.renamed_rider = renamed_rider(visited[1], self.job)

    @property
    def settled(self) -> Job:
        """The job as it was before the current field was changed."""
        return self.job if self._visited is None else self._visited[1]

    def correct(self) -> str:
        """Answer that the first number was misread, and that the new one holds for everything measured before.

        This is one step of undo. Without this answer the change counts as another part fitted.

        Returns:
            Why the change is refused; empty if it is made.
        """
        asked = self.asked
        if self.read_only:
            return READ_ONLY
        if asked is None:
            return "there is nothing to correct"
        self._replace_as_step(corrected(self.job, asked))
        self.asked = None  # also where nothing else had to be corrected
        return ""

    # --- other ways to change the job -----------------------------------------------------------------------------

    def put(self, path: Path, value: Any, visit: object = None) -> str:
        """Put a value at a path.

        Args:
            path: the field.
            value: its new value.
            visit: changes with an equal `visit` are one step of undo; None: this is a step of its own.

        Returns:
            Why the change is refused; empty if it is made.
        """
        if self.read_only:
            return READ_ONLY
        try:
            before = self._steps.start_of(visit) or self.job
            changed = noted(apply(self.job, Edit(path, value)), path, before, tried=self.tried)
        except BadEdit as refused:
            return str(refused)
        if changed == self.job:
            self._steps.stay(visit)
        else:
            visited = self._visited if self._visited is not None and self._visited[0] == path else (path, self.job)
            self._steps.change(self.job, visit)
            self._set_job(changed)
            self._visited = visited
        return ""

    def nudge(self, path: Path, direction: int) -> bool:
        """Step a number by its natural step, a choice to its next word, yes to no.

        Args:
            path: the field.
            direction: +1 or -1; other whole numbers take as many steps at once.

        Returns:
            False if the field cannot be stepped, or the change is refused; the reason of a refusal is in a draft.
        """
        edits = step_edits(self.job, path, direction, self.options(path), self.units)
        if not edits:
            return False
        self.drafts.pop(path, None)
        refused = self.put_all(edits) if len(edits) > 1 else self.put(path, edits[0].value, ("nudge", path))
        if refused:
            self.drafts[path] = Draft(self.text_of(path), refused)
        return not refused

    def options(self, path: Path) -> tuple[str, ...]:
        """The words a field may hold; empty for a field that takes typing."""
        if path == ("job", "use"):
            return self.profiles.names
        return super().options(path)

    def remove_row(self, rows: Path, at: int, along: Iterable[Edit] = ()) -> str:
        """Remove one row of a list and its unread text, with edits that belong to it, as one step of undo.

        Returns:
            Why the change is refused; empty if it is made.
        """
        items = value_at(self.job, rows)
        if not 0 <= at < len(items):
            return "there is no such row"
        refused = self.put_all((Edit(rows, (*items[:at], *items[at + 1 :])), *along))
        if refused:
            return refused
        self.drafts = without_row(self.drafts, rows, at)
        return ""

    def split_legs(self) -> str:
        """Split the legs, so that the right one starts as a copy of the left; if they are split, join them again.

        Returns:
            Why the change is refused; empty if it is made.
        """
        right = None if self.job.front.split else self.job.front.left
        if right is None:
            for path in [p for p in self.drafts if p[:2] == ("front", "right")]:
                del self.drafts[path]
        return self.put(("front", "right"), right)

    def swap_readings(self, path: Path) -> str:
        """Take the pushed-down readings of a state as the lifted-up ones and the other way round, as one step of undo.

        Args:
            path: any reading of that state.

        Returns:
            Why it cannot be done; empty if it is.
        """
        try:
            edits = swap_edits(self.job, path)
        except BadEdit as refused:
            return str(refused)
        return self.put_all(edits)

    def put_all(self, edits: Iterable[Edit], *, tried: bool = False) -> str:
        """Make several edits as one step of undo, or none of them.

        Args:
            edits: the edits.
            tried: whether they come from a trial, so that none of their values was measured.

        Returns:
            Why one of them is refused; empty if all are made.
        """
        if self.read_only:
            return READ_ONLY
        job = self.job
        try:
            for edit in edits:
                job = noted(apply(job, edit), edit.path, self.job, tried=tried or self.tried)
        except BadEdit as refused:
            return str(refused)
        self._replace_as_step(job)
        return ""

    def replace(self, job: Job, *, save: bool = False) -> None:
        """Replace the job by another state of it; undo brings the present one back.

        Args:
            job: the other state.
            save: whether to write it; False if it was read from disk.
        """
        self._steps.change(self.job)
        self._set_job(job, save=save)

    def bring_back(self, job: Job) -> str:
        """Replace the job by an earlier state of it, as one step of undo.

        Returns:
            Why the change is refused; empty if it is made.
        """
        if self.read_only:
            return READ_ONLY
        self._replace_as_step(job)
        return ""

    @property
    def unread(self) -> dict[Path, str]:
        """Text that cannot be read, by field, as it was typed."""
        if self.read_only:
            return {}
        return {path: draft.text for path, draft in self.drafts.items() if draft.reason}

    def recall(self, unread: Mapping[Path, str]) -> list[str]:
        """Put text that could not be read when the job was last open back into its fields.

        Returns:
            The texts whose field does not exist in this version.
        """
        lost = []
        for path, text in unread.items():
            try:
                value_at(self.job, path)
                typed_value(path, text, self.units)
            except BadQuantity as refused:
                self.drafts[path] = Draft(text, refusal_words(path, text, str(refused)))
            except BadEdit as refused:
                if self._is_field(path):
                    self.drafts[path] = Draft(text, str(refused))
                else:
                    lost.append(text)
            else:
                self.drafts[path] = Draft(text, TYPED_BEFORE)
        return lost

    def _is_field(self, path: Path) -> bool:
        try:
            return isinstance(spec_at(path), Leaf)
        except BadEdit:
            return False

    def _restore(self, state: Job) -> None:
        changed_at = self.changed_at  # what undo brings back was set before
        self._set_job(state)
        self.changed_at = changed_at

    def _replace_as_step(self, job: Job) -> None:
        """Replace the job as one step of undo, if the new one differs."""
        if job != self.job:
            self._steps.change(self.job)
            self._set_job(job)

    def before_last_change(self) -> Job | None:
        """The job before the last change of a setting, as far as it can be undone; None if there is none."""
        now = self.job

        def differs(state: Job) -> bool:
            same = state.front is now.front and state.rear is now.rear
            return not same and bool(changes_between(now, Run(front=state.front, rear=state.rear), as_set(now)))

        return self._steps.latest(differs)

    def _set_job(self, job: Job, *, save: bool = True) -> None:
        if job.front is not self._state.front or job.rear is not self._state.rear:
            self.changed_at = self.clock()
        self._state = job
        self.asked = self._visited = self._unread_at = None
        if save:
            self.on_edit(job)
