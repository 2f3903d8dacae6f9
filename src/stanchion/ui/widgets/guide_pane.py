"""The current reading: what to do, the figure in large digits, where it is typed, what the last one gave."""

from __future__ import annotations

import textwrap
from typing import Protocol

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widgets import Static

from stanchion.base.record import record
from stanchion.bench.guided_measuring import GuideStep, StepGroup, taken
from stanchion.bench.session import Session
from stanchion.job.edit import spec_at
from stanchion.job.model import Job, Path
from stanchion.job.spec import Number
from stanchion.judgement.results.assessment import Assessment
from stanchion.ui import guide_lines
from stanchion.ui.big_digits import ascii_digits, big_digits
from stanchion.ui.lifting_lines import lifting_outcome, of_lifting
from stanchion.ui.paging import pages_of
from stanchion.ui.swingarm_lines import of_swingarm, swingarm_outcome
from stanchion.ui.widgets.editor import CellEditor, Owner
from stanchion.ui.widgets.live_text import LiveText
from stanchion.ui.widgets.pages import Pages
from stanchion.ui.widgets.panes import Drawn
from stanchion.units.quantity import readback
from stanchion.wording.guide_sentences import WHOLE
from stanchion.wording.lifting_guide_sentences import CONFIRMED, NOT_CONFIRMED

EMPTY = "---"
LOW_DIGITS = 3
"""Lines from which the figure is in digits of three lines, where larger ones have no room."""
ANY_WIDTH = 500
"""Columns in which any number has room."""


class Guide(Owner, Protocol):
    """What the editor calls, beside the calls to a sheet."""

    def repeat(self) -> None:
        """The same reading again."""


class ReadingEditor(CellEditor):
    """The line editor, with the two keys of a number pad that no number begins with: * repeats, / goes back."""

    def __init__(self, owner: Guide) -> None:
        super().__init__(owner)
        self._guide = owner

    async def acts_on(self, event: events.Key) -> bool:
        """Repeat or go back; what any other key does, as in every line editor."""
        back = event.character == "/" and (self._untouched or not self.value)
        if back or event.character == "*":
            event.stop()
            event.prevent_default()
            if back:
                self._guide.action_move(-1)
            else:
                self._guide.repeat()
            return True
        return await super().acts_on(event)


@record(kw_only=True)
class ShownStep:
    """The current reading and what is shown around it."""

    step: GuideStep
    number: int
    """Which of the readings it is, from 1."""
    repeat_at: int
    """Which of its repeats or pieces, from 0."""
    note: str
    """What is to be said of the last key; empty for nothing."""
    ordered: tuple[GuideStep, ...]
    outcome_of: GuideStep
    """The reading whose outcome is shown."""
    settled: Assessment
    """As of the reading last taken."""
    settled_job: Job
    """The job it is of."""
    not_found: frozenset[Path] = frozenset()
    """States of sag that the machine as found still lacks readings of; the job's own are not shown."""
    asked: str = ""
    """Whether the number just entered over another corrects it; empty where that is not asked."""


class GuidePane(Vertical):
    """The left of the guide; after the last reading, the results."""

    def __init__(self, owner: Guide) -> None:
        super().__init__(id="guide-hand")
        self._owner = owner

    def compose(self) -> ComposeResult:
        """Title, instruction, figure, entry, outcome; the end."""
        yield LiveText(id="guide-title")
        yield Drawn(id="guide-do")
        yield Drawn(id="guide-figure")
        yield Horizontal(ReadingEditor(self._owner), LiveText(id="guide-after"), id="guide-entry")
        yield LiveText(id="guide-outcome")
        yield Pages(id="guide-end")

    def show_step(self, session: Session, shown: ShownStep, *, plain: bool) -> None:
        """Show the current reading, its figure perhaps in ASCII."""
        self.remove_class("-end")
        step = shown.step
        nth = ""
        if step.again:
            word = "reading" if step.again == "repeat" else "piece"
            nth = f", {word} {shown.repeat_at + 1}" if shown.repeat_at or step.again == "piece" else ""
        title = Content.styled(f"{shown.number} of {len(shown.ordered)} ", "$text-muted")
        title += Content.styled(f"{step.state.upper()} · {step.title}{nth}", "$primary bold")
        self.query_one("#guide-title", Static).update(title)
        self.query_one("#guide-do", Drawn).draw(lambda width, height: guide_lines.instruction(step, width, height))
        typed = "" if step.confirms else session.text_of(step.field(shown.repeat_at)).strip()

        def figure(width: int, height: int) -> list[Content]:
            if step.confirms:
                return []
            drawn = big_digits(typed or EMPTY, width, height if typed else min(height, 5), plain=plain)
            if not drawn and height >= LOW_DIGITS and big_digits(typed, ANY_WIDTH, 20):
                drawn = [line[:width] for line in ascii_digits(typed)]
            return [Content.styled(line, "$figure" if typed else "$text-muted") for line in drawn]

        self.query_one("#guide-figure", Drawn).draw(figure)
        self.query_one("#guide-after", Static).update(_after(session, shown, typed))
        if of_lifting(shown.outcome_of):
            outcome = lifting_outcome(session, shown.settled_job, shown.settled)
        elif of_swingarm(shown.outcome_of):
            outcome = swingarm_outcome(session, shown.settled_job, shown.settled)
        else:
            outcome = guide_lines.outcome_lines(
                shown.outcome_of, shown.ordered, shown.settled, session.units, shown.not_found
            )
        if shown.asked:
            outcome = [Content.styled(shown.asked, "$warn bold"), *outcome]
        self.query_one("#guide-outcome", Static).update(Content("\n").join(outcome))

    def show_end(self, session: Session, part: StepGroup, ordered: tuple[GuideStep, ...], asked: str = "") -> None:
        """Show the results of all readings, what is missing, what comes next."""
        self.add_class("-end")
        title = Content.styled(f"{WHOLE[part].upper()}: THE END OF THE LIST", "$primary bold")
        self.query_one("#guide-title", Static).update(title)

        def pages(width: int, height: int) -> list[list[Content]]:
            question = [Content.styled(line, "$warn bold") for line in textwrap.wrap(asked, width)]
            return pages_of([*question, *guide_lines.end_lines(session, part, ordered, width)], width, height)

        self.query_one("#guide-end", Pages).draw_pages(pages, asked)


def _after(session: Session, shown: ShownStep, typed: str) -> Content:
    """The unit, and what is to be known of what is typed."""
    step = shown.step
    field = step.field(shown.repeat_at)
    if step.confirms:
        return Content.styled(CONFIRMED if taken(step, session.job) else NOT_CONFIRMED, "$figure bold")
    unit = Content.styled(f" {guide_lines.unit_of(step, session.units)} ", "$figure bold")
    draft, spec = session.drafts.get(field), spec_at(field)
    if shown.note:
        return Content.styled(f" {shown.note}", "$warn bold")
    if draft is not None and draft.reason:
        return unit + Content.styled("✖ cannot be read: see below", "$fault bold")
    if isinstance(spec, Number) and typed and not big_digits(typed, ANY_WIDTH, 20):
        return Content.styled(f" = {readback(typed, spec, session.units)}", "$figure bold")
    return unit + Content(guide_lines.before_words(step, shown.repeat_at, session.job, session.units))
