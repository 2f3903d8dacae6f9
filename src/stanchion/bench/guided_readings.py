"""Guided measuring: the current reading, and taking, repeating and going back. No screen."""

from __future__ import annotations

import datetime as dt
from typing import Literal

from stanchion.base.text import clean
from stanchion.bench.found_round import found_steps
from stanchion.bench.guided_measuring import (
    GuideStep,
    StepGroup,
    alone_so_far,
    doubts,
    first_open,
    outdated,
    steps,
    taken,
)
from stanchion.bench.lifting_round import lifting_steps
from stanchion.bench.session import Session
from stanchion.bench.swingarm_round import swingarm_steps
from stanchion.job.edit import Edit, value_at
from stanchion.job.found import AT as FOUND
from stanchion.job.found import found_value, with_taken
from stanchion.job.model import Job, Path
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.findings import Finding

Hindrance = Literal["", "doubtful", "unread", "nothing_yet", "once", "dropped", "nothing_to_drop"]
"""What is to be said of the last key: why it did not lead on, or that a reading was dropped."""


class Guided:
    """The readings of sag, fork or shock in the order of the work.

    Typed text goes into the job as on the sheet. Figures and findings do not change while a reading is typed, only
    when it is taken, because half a number swaps readings and breaks limits.

    Args:
        session: the open job.
        part: what is measured.
        chosen: the field to begin at where no reading is to be taken; None, or a field the guide does not ask for: the
            end of the list.
        today: the date of a new record of the machine as found.
    """

    def __init__(
        self, session: Session, part: StepGroup, chosen: Path | None = None, *, today: dt.date | None = None
    ) -> None:
        self.session = session
        self.part: StepGroup = part
        self._today = today or dt.datetime.now().astimezone().date()
        self.alone = self.asks_sag and alone_so_far(session.job)
        """Whether one person measures sag with a travel marker, instead of two with a tape."""
        self.at = 0
        """Index of the current step; the number of steps after the last."""
        self.repeat_at = 0
        """Index of the repeat or piece within the current reading."""
        self.hindrance: Hindrance = ""
        self.reported: GuideStep | None = None
        """The reading taken last, whose result is shown."""
        self.settled: Assessment = session.assessment
        """The assessment after the reading taken last."""
        self.settled_job: Job = session.job
        """The job it is of."""
        self._known: set[tuple[str, Path]] = set()
        """Code and place of every finding before the current reading was typed."""
        self._seen: Job = session.job
        if not (self.complete and chosen is not None and self.go_to(chosen)):
            self.first_missing()

    @property
    def asks_sag(self) -> bool:
        """Whether sag is among what is measured."""
        return self.part in ("sag", "found")

    @property
    def steps(self) -> tuple[GuideStep, ...]:
        """The readings that the job asks for at present."""
        if self.part == "found":
            return found_steps(self.session.job, alone=self.alone)
        if self.part == "lifting":
            return lifting_steps(self.session.job)
        if self.part == "swingarm":
            return swingarm_steps(self.session.job)
        return steps(self.part, self.session.job, alone=self.alone)

    @property
    def step(self) -> GuideStep | None:
        """The current step; None after the last."""
        ordered = self.steps
        return ordered[self.at] if self.at < len(ordered) else None

    @property
    def field(self) -> Path | None:
        """The field that typing changes."""
        step = self.step
        return step.field(self.repeat_at) if step is not None else None

    @property
    def complete(self) -> bool:
        """Whether every reading is taken."""
        return first_open(self.steps, self.session.job) == len(self.steps)

    @property
    def unread(self) -> bool:
        """Whether the typed text cannot be read."""
        draft = self.session.drafts.get(self.field) if self.field is not None else None
        return draft is not None and bool(draft.reason)

    @property
    def fresh_doubts(self) -> tuple[Finding, ...]:
        """Findings that the current reading raised."""
        step = self.step
        found = doubts(step, self.session.assessment.findings) if step is not None else ()
        return tuple(finding for finding in found if (finding.code, finding.where) not in self._known)

    # --- moving ---------------------------------------------------------------------------------------------------

    def go(self, at: int, repeat: int = 0) -> None:
        """Go to another reading, ending the current one."""
        self.leave()
        self.at = max(0, min(at, len(self.steps)))
        step = self.step
        count = len(value_at(self.session.job, step.path)) if step is not None and step.again else 0
        self.repeat_at = min(repeat, count, step.most - 1) if step is not None else 0
        self.hindrance = ""
        self.settled, self.settled_job = self.session.assessment, self.session.job
        self._seen = self.session.job
        self._known = {(finding.code, finding.where) for finding in self.settled.findings}

    def go_to(self, path: Path) -> bool:
        """Go to the reading of a field; False if the guide does not ask for it."""
        at = next((n for n, step in enumerate(self.steps) if step.covers(path)), None)
        if at is not None:
            last = path[-1]
            self.go(at, last if isinstance(last, int) else 0)
        return at is not None

    def first_missing(self) -> None:
        """Go to the first reading to be taken."""
        self.go(first_open(self.steps, self.session.job))

    def follow(self) -> bool:
        """After a change from outside, such as undo, go to the reading it changed; True if there was one."""
        seen, job = self._seen, self.session.job
        if seen == job:
            return False
        changed = (n for n, s in enumerate(self.steps) if _differs(s, seen, job))
        self.go(next(changed, min(self.at, len(self.steps))), self.repeat_at)
        return True

    def leave(self) -> None:
        """End the visit to the current field: drop unfinished text."""
        if self.field is not None:
            self.session.leave(self.field)

    def take(self) -> None:
        """Take the reading and go on; a doubtful one only when asked twice, an unreadable one not at all."""
        step, path = self.step, self.field
        if step is None or path is None:
            return
        if step.confirms:
            self.session.put(path, step.confirms)
            self.reported = step
            self.go(self.at + 1)
        elif self.unread:
            self.hindrance = "unread"
        elif self.fresh_doubts and self.hindrance != "doubtful":
            self.hindrance = "doubtful"
            self.reported, self.settled, self.settled_job = step, self.session.assessment, self.session.job
        else:
            if value_at(self.session.job, path) is not None:
                self.reported = step
                self._keep(step, path)
            self.go(self.at + 1)

    def repeat(self) -> None:
        """Go to another repeat or piece of this reading; after the last, to the first."""
        step, path = self.step, self.field
        if step is None or path is None:
            return
        if not step.again:
            self.hindrance = "once"
        elif self.unread:
            self.hindrance = "unread"
        elif value_at(self.session.job, path) is None:
            self.hindrance = "nothing_yet"
        else:
            self.reported = step
            self._keep(step, path)
            self.go(self.at, (self.repeat_at + 1) % step.most)

    def drop(self) -> None:
        """Remove the current repeat or piece; of a repeat that is not there yet, the one before it."""
        step = self.step
        if step is None:
            return
        values = value_at(self.session.job, step.path)
        count = len(values) if isinstance(values, tuple) else int(values is not None)
        at, known = min(self.repeat_at, count - 1), self._kept_with_each_key(step)
        if at < 0:
            self.hindrance = "nothing_to_drop"
            return
        for field in {step.field(self.repeat_at), step.field(at)}:
            self.session.drafts.pop(field, None)
        self.session.put(step.field(at), None, visit=("drop", step.field(at)))
        if known:
            self._keep(step, step.field(at), "drop")
        self.reported = step
        self.go(self.at, at)
        self.hindrance = "dropped"

    def back(self) -> None:
        """Go back to the reading before, whatever is typed in this one."""
        if self.repeat_at:
            self.reported = self.step
            self.go(self.at, self.repeat_at - 1)
        elif self.at:
            self.reported = self.steps[self.at - 1]
            self.go(self.at - 1, max(0, len(taken(self.reported, self.session.job)) - 1))

    def turn_alone(self) -> None:
        """Measure alone or with a helper; the current reading stays if both ways ask for it."""
        path = self.field
        self.leave()
        self.alone = not self.alone
        self.reported = None
        if path is None or not self.go_to(path):
            self.first_missing()

    # --- typing ---------------------------------------------------------------------------------------------------

    def type(self, text: str) -> bool:
        """Take the typed text of the current reading after a key; True if the value changed."""
        path = self.field
        if path is None or text == clean(self.session.text_of(path)):
            return False
        step, anew = self.step, self._anew(path)
        known = step is not None and self._kept_with_each_key(step)
        self.session.type(anew, text)
        if step is not None and known:
            self._keep(step, anew)
        self._changed()
        return True

    def nudge(self, direction: int) -> None:
        """Step the number, as on the sheet."""
        path = self.field
        if path is None:
            return
        value = value_at(self.session.job, path)
        step, anew = self.step, self._anew(path)
        known = step is not None and self._kept_with_each_key(step)
        if anew != path or value_at(self.session.job, anew) is None:
            self.session.put(anew, value)
        self.session.nudge(anew, direction)
        if step is not None and known:
            self._keep(step, anew, "nudge")
        self._changed()

    def _kept_with_each_key(self, step: GuideStep) -> bool:
        """Whether a change of a reading goes into the record of the machine as found at once: it is in it already."""
        return step.as_found and (step.path[:1] == FOUND or found_value(self.session.job, step.path) not in (None, ()))

    def _keep(self, step: GuideStep, path: Path, way: str = "typing") -> None:
        """Record a reading of the machine as found, with its entry as one step of undo; not one that is out of date."""
        if step.as_found and not outdated(step, self.session.job):
            self.session.put(FOUND, with_taken(self.session.job, step.path, self._today), visit=(way, path))
            self._seen = self.session.job

    def _anew(self, path: Path) -> Path:
        """Clear readings that were taken with other springs or preload, because they are not averaged with new ones."""
        step = self.step
        if step is None or not outdated(step, self.session.job):
            return path
        self.session.put_all([Edit((*step.path[:-1], name), ()) for name in ("down_mm", "up_mm")])
        self.repeat_at = 0
        return step.field(0)

    def _changed(self) -> None:
        self._seen = self.session.job
        self.hindrance = ""


def _differs(step: GuideStep, seen: Job, job: Job) -> bool:
    """Whether a reading of a step, or what is recorded of it as found, is another one."""
    pairs = [(value_at(one, step.path), found_value(one, step.path) if step.as_found else None) for one in (seen, job)]
    return pairs[0] != pairs[1]
