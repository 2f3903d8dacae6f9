"""One open job: what is typed becomes an edit, the edit a new job, the job an assessment. No screen, no file."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any, ParamSpec, TypeVar

from stanchion.base.errors import BadEdit, BadQuantity
from stanchion.base.record import record
from stanchion.bench.undo_steps import Steps
from stanchion.job.correction import Reread, corrected, reread
from stanchion.job.edit import Edit, apply, spec_at, value_at
from stanchion.job.measured import noted
from stanchion.job.model import Job, Path
from stanchion.job.spec import Choice, Day, Flag, Leaf, Number, Spec, Text
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.codes import FaultyPart
from stanchion.judgement.results.parts import Fault, Parts
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import editable, nudge, parse

P = ParamSpec("P")
T = TypeVar("T")

READ_ONLY = "this job is open read-only and cannot be changed"
TYPED_BEFORE = "typed before the program was last left, and not taken in: type it again"


@record
class Draft:
    """Text as it was typed, where it is not (or not yet) what the job holds."""

    text: str
    reason: str
    """Why it cannot be read; empty for a text that is merely unfinished."""


class Session:
    """The job in hand, its assessment, what was typed but cannot be read, and the way back.

    Args:
        job: the job as opened.
        profiles: bands and targets to judge by.
        previous: the job it was carried from, where that is to hand.
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
        self.job = job
        self.profiles = profiles
        self.previous = previous
        self.units = units
        self.read_only = read_only
        self.drafts: dict[Path, Draft] = {}
        self.on_edit: Callable[[Job], None] = lambda job: None
        """Called with the new job after each accepted change, so that it can be saved."""
        self.on_fault: Callable[[Fault], None] = lambda fault: None
        """Called with each error of the program that kept a part of the job from being judged."""
        self.tried = False
        """Whether it is a copy on which something is tried: nothing there was measured, and nothing is asked."""
        self.asked: Reread | None = None
        """A number that was entered over another: whether that was read wrongly is not known yet."""
        self._visited: tuple[Path, Job] | None = None
        """The field that is being changed, and the job before."""
        self._steps: Steps[Job] = Steps()
        self._assessed: tuple[Job, Assessment] | None = None

    @property
    def assessment(self) -> Assessment:
        """All that follows from the job; judged when it is first asked for."""
        if self._assessed is None or self._assessed[0] is not self.job:
            self._assessed = (self.job, assess(self.job, self.profiles, self.previous))
            for fault in self._assessed[1].faults:
                self.on_fault(fault)
        return self._assessed[1]

    def judged(self, part: FaultyPart, unjudged: T, judge: Callable[P, T], /, *given: P.args, **named: P.kwargs) -> T:
        """What a function of judgement gives beside the assessment; where it meets an error of the program, that is
        told to on_fault.

        Args:
            part: what it is a part of, for the report.
            unjudged: what stands instead.
            judge: the function.
            given: its arguments.
            named: its arguments by name.
        """
        parts = Parts()
        found = parts.judged(part, unjudged, judge, *given, **named)
        for fault in parts.faults:
            self.on_fault(fault)
        return found

    @property
    def subject(self) -> Job:
        """What the form is made for."""
        return self.job

    def spec(self, path: Path) -> Spec:
        """What a field may hold."""
        return spec_at(path)

    def value(self, path: Path) -> Any:
        """What stands at a path."""
        return value_at(self.job, path)

    # --- typing ---------------------------------------------------------------------------------------------------

    def type(self, path: Path, text: str) -> None:
        """Take the text of a field as it stands after a key.

        Text that can be read becomes an edit. Text that cannot stays as a draft with its reason; the job keeps the
        last good value. All keys of one visit to a field are one step of undo.
        """
        try:
            value = self.read(path, text)
        except (BadQuantity, BadEdit) as refused:
            self.drafts[path] = Draft(text, str(refused))
            self._forget_beginnings(path)
            return
        if self._would_go(path, value):
            # An item of a list goes away when the field is left, not while it is being retyped.
            self.drafts[path] = Draft(text, "")
            return
        if self.put(path, value, visit=("typing", path)):
            self.drafts.pop(path, None)
        else:
            self.drafts[path] = Draft(text, self.refusal)

    def _would_go(self, path: Path, value: Any) -> bool:
        """Whether a list would lose an item, and the later ones move up, if this value were put here now."""
        if value not in (None, ""):
            return False
        if isinstance(path[-1], int):
            return value is None
        row = value_at(self.job, path[:-1]) if len(path) > 1 and isinstance(path[-2], int) else None
        return row is not None and replace(row, **{str(path[-1]): value}) == type(row)()

    def _forget_beginnings(self, path: Path) -> None:
        """What was typed so far could be read and now cannot: it was no value, only the beginning of this text."""
        start = self._steps.forget(("typing", path))
        if start is not None:
            self._take(start)

    def leave(self, path: Path) -> None:
        """The field has been left: what was merely unfinished is settled, and the next edit is a new undo step."""
        draft = self.drafts.get(path)
        if draft is not None and not draft.reason:
            del self.drafts[path]
            if value_at(self.job, path) not in (None, ""):
                self.put(path, self.read(path, ""))
        self._steps.leave()
        visited, self._visited = self._visited, None
        if visited is not None and visited[0] == path and not self.tried:
            self.asked = reread(visited[1], self.job, path) or self.asked

    @property
    def settled(self) -> Job:
        """The job without what is being typed into the field in hand."""
        return self.job if self._visited is None else self._visited[1]

    def correct(self) -> bool:
        """What was asked is answered: the number was read wrongly, and the one entered since was true all along.

        It is one step of undo; False where nothing is asked. Without this answer another part is in now.
        """
        asked = self.asked
        if asked is None or self.read_only:
            return False
        self._take_step(corrected(self.job, asked))
        self.asked = None  # also where nothing else had to be corrected
        return True

    def read(self, path: Path, text: str) -> Any:
        """The value a text stands for at a path.

        Raises:
            BadQuantity: a number that cannot be read, or lies outside the field's limits.
            BadEdit: any other text the field refuses.
        """
        spec = spec_at(path)
        if isinstance(spec, Number):
            return parse(text, spec, self.units) if text.strip() else None
        if isinstance(spec, Day):
            return read_day(text) if text.strip() or not spec.optional else None
        if isinstance(spec, Text | Choice):
            return spec.check(text)
        raise BadEdit("this field takes no text")

    def text_of(self, path: Path) -> str:
        """What the field at a path shows: the draft where there is one, else the value."""
        draft = self.drafts.get(path)
        if draft is not None:
            return draft.text
        value = value_at(self.job, path)
        spec = spec_at(path)
        if value is None:
            return ""
        if isinstance(spec, Number):
            return editable(value, spec.kind, self.units)
        return value.isoformat() if isinstance(spec, Day) else str(value)

    # --- other ways to change the job -----------------------------------------------------------------------------

    refusal = ""
    """Why the last put() was refused."""

    def put(self, path: Path, value: Any, visit: object = None) -> bool:
        """Put a value at a path; False and a reason in `refusal` where that is refused."""
        if self.read_only:
            self.refusal = READ_ONLY
            return False
        try:
            before = self._steps.start_of(visit) or self.job
            changed = noted(apply(self.job, Edit(path, value)), path, before, tried=self.tried)
        except BadEdit as refused:
            self.refusal = str(refused)
            return False
        if changed == self.job:
            self._steps.stay(visit)
        else:
            visited = self._visited if self._visited is not None and self._visited[0] == path else (path, self.job)
            self._steps.change(self.job, visit)
            self._take(changed)
            self._visited = visited
        return True

    def nudge(self, path: Path, direction: int) -> bool:
        """Step a number by its natural step, a choice to the next word, a yes to a no; a refusal stays as a draft."""
        edits = self._stepped(path, direction)
        if not edits:
            return False
        self.drafts.pop(path, None)
        done = self.put_all(edits) if len(edits) > 1 else self.put(path, edits[0].value, ("nudge", path))
        if not done:
            self.drafts[path] = Draft(self.text_of(path), self.refusal)
        return done

    def _stepped(self, path: Path, direction: int) -> list[Edit]:
        """What a step makes of a field and of those that are counted by it; nothing where it cannot be stepped."""
        spec = spec_at(path)
        value = value_at(self.job, path)
        if isinstance(spec, Number):
            return [Edit(path, nudge(value, spec, direction, self.units))]
        if isinstance(spec, Flag):
            return [Edit(path, not value)]
        options = self.options(path)
        if not options:
            return []
        at = options.index(value) if value in options else -1
        word = options[(at + direction) % len(options)]
        counted = _counted_by(path) if path[-1] == "counting" else ()
        return [Edit(path, word), *(Edit(other, None) for other in counted)]

    def options(self, path: Path) -> tuple[str, ...]:
        """The words a field may hold; empty for a field that takes typing."""
        if path == ("job", "use"):
            return self.profiles.names
        spec = spec_at(path)
        return spec.options if isinstance(spec, Choice) else ()

    def remove_row(self, rows: Path, at: int) -> bool:
        """Take one row out of a list, as one step of undo; what was typed in it and could not be read goes too."""
        items = value_at(self.job, rows)
        if not 0 <= at < len(items) or not self.put(rows, (*items[:at], *items[at + 1 :])):
            return False
        depth = len(rows)
        moved: dict[Path, Draft] = {}
        for path, draft in self.drafts.items():
            step = path[depth] if path[:depth] == rows and len(path) > depth else None
            if not isinstance(step, int) or step < at:
                moved[path] = draft
            elif step > at:
                moved[(*rows, step - 1, *path[depth + 1 :])] = draft
        self.drafts = moved
        return True

    def split_legs(self) -> bool:
        """Enter the right leg apart, starting as the left one; or, when split, let the left serve for both again."""
        right = None if self.job.front.split else self.job.front.left
        if right is None:
            for path in [p for p in self.drafts if p[:2] == ("front", "right")]:
                del self.drafts[path]
        return self.put(("front", "right"), right)

    def undo(self, at: Path | None = None) -> bool:
        """Go back one step; False where there is none.

        Args:
            at: the field in hand; text there that cannot be read is what goes first.
        """
        if at is not None and self.drafts.pop(at, None) is not None:
            return True
        return self._go(self._steps.back)

    def redo(self) -> bool:
        """Take the last undo back; False where there is none."""
        return self._go(self._steps.forward)

    def put_all(self, edits: Iterable[Edit], *, tried: bool = False) -> bool:
        """Make several edits as one step of undo; False and a reason in `refusal` where one of them is refused.

        Args:
            edits: the edits.
            tried: whether they were tried out before, and nothing of them was measured.
        """
        if self.read_only:
            self.refusal = READ_ONLY
            return False
        job = self.job
        try:
            for edit in edits:
                job = noted(apply(job, edit), edit.path, self.job, tried=tried or self.tried)
        except BadEdit as refused:
            self.refusal = str(refused)
            return False
        self._take_step(job)
        return True

    def replace(self, job: Job, *, save: bool = False) -> None:
        """Take another state of the same job; undo leads back to mine.

        Args:
            job: the other state.
            save: whether it is to be written; not where it was found on disk.
        """
        self._steps.change(self.job)
        self._take(job, save=save)

    def bring_back(self, job: Job) -> bool:
        """Take an earlier state of this job as one step of undo; False and a reason in `refusal` where read-only."""
        if self.read_only:
            self.refusal = READ_ONLY
            return False
        self._take_step(job)
        return True

    @property
    def unread(self) -> dict[Path, str]:
        """What was typed and cannot be read, as it was typed."""
        if self.read_only:
            return {}
        return {path: draft.text for path, draft in self.drafts.items() if draft.reason}

    def recall(self, unread: Mapping[Path, str]) -> list[str]:
        """Put back what could not be read when the job was last open, each text into its field.

        Returns:
            The texts whose field is no field of a job in this version.
        """
        lost = []
        for path, text in unread.items():
            try:
                value_at(self.job, path)
                self.read(path, text)
            except BadQuantity as refused:
                self.drafts[path] = Draft(text, str(refused))
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

    def _go(self, way: Callable[[Job], Job | None]) -> bool:
        job = None if self.read_only else way(self.job)
        if job is not None:
            self._take(job)
        return job is not None

    def _take_step(self, job: Job) -> None:
        """Take another state as one step of undo; none where nothing differs."""
        if job != self.job:
            self._steps.change(self.job)
            self._take(job)

    def _take(self, job: Job, *, save: bool = True) -> None:
        self.job = job
        self.asked = self._visited = None
        if save:
            self.on_edit(job)


def _counted_by(path: Path) -> tuple[Path, ...]:
    """The readings that mean something else once an adjuster is counted another way."""
    part = path[:-2]
    return ((*path[:-1], "now"), (*part, "spring", "set_length_at"))


def read_day(text: str) -> dt.date:
    """A typed day: 2026-05-31, or 31.5.2026 and 31/5/2026 with the day first.

    Raises:
        BadEdit: any other text, or a day the calendar does not have.

    >>> read_day("31.5.2026")
    datetime.date(2026, 5, 31)
    """
    bare = text.strip()
    forms = ((r"(\d{4})-(\d{1,2})-(\d{1,2})", (0, 1, 2)), (r"(\d{1,2})[./](\d{1,2})[./](\d{4})", (2, 1, 0)))
    for pattern, order in forms:
        match = re.fullmatch(pattern, bare, re.ASCII)
        if match:
            year, month, day = (int(match.groups()[i]) for i in order)
            try:
                return dt.date(year, month, day)
            except ValueError:
                raise BadEdit(f"there is no day {bare}: check day and month") from None
    raise BadEdit("a day is typed as 2026-05-31 (year-month-day)")
