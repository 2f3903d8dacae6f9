"""Returning to an earlier setup: choose which, then tick off the work on the machine."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from typing import ClassVar

from textual import events
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.message import Message
from textual.widget import Widget
from textual.widgets import OptionList, Static
from textual.worker import get_current_worker

from stanchion.base.errors import StanchionError
from stanchion.base.progress import Throttle
from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.job.edit import Edit
from stanchion.job.model import Job, Occasion
from stanchion.job.name_match import match_key
from stanchion.job.proof import listed, stamps_after, without_unmade
from stanchion.job.returning import AT
from stanchion.judgement.work.work import Item, WorkList
from stanchion.judgement.work.work_list import ticked, unticked, work_list
from stanchion.planning.work_targets import WorkTarget, as_found, begin, runs_of, targets_of, work_to
from stanchion.store.listing import JobRow, matching
from stanchion.ui import keys
from stanchion.ui.screens.job_screen import JobScreen
from stanchion.ui.space import cut
from stanchion.ui.widgets.choices import Choices, Choosable
from stanchion.ui.widgets.live_text import LiveText
from stanchion.ui.widgets.panes import Drawn
from stanchion.ui.worklist_lines import HEAD, MUTED, closing_lines, item_line, row_lines, target_line, wrapped_words
from stanchion.wording.american import worded
from stanchion.wording.finding_words import caution
from stanchion.wording.work_sentences import (
    GROUPS,
    UNTITLED,
    groups_of,
    instead_words,
    not_done_words,
    progress_words,
    target_about,
    target_title,
    unrecorded_words,
)

MOST_SHOWN = 200


class WorkListScreen(JobScreen):
    """The work list of the open job, or what it could return to."""

    CSS_PATH = "../styles/worklist.tcss"
    name_of = "worklist"
    AUTO_FOCUS = "#work-list"
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("worklist")]

    class JobsRead(Message):
        """The jobs one could return to have been read, or some of them."""

        def __init__(self, rows: Sequence[JobRow], problem: str = "", words: str = "") -> None:
            self.rows = rows
            self.problem = problem
            self.words = words
            """How far reading is; empty: it has ended."""
            super().__init__()

    def __init__(self) -> None:
        super().__init__()
        self._filter = ""
        self._rows: Sequence[JobRow] = ()
        self._reading = ""
        """How far reading the other jobs is."""
        self._other: tuple[str, Job] | None = None
        """The job whose runs are offered; None: the runs of this one and the other jobs."""
        self._shown_for: object = None
        self._listed = False
        """Whether what is shown is the work list; what one could return to otherwise."""

    def body(self) -> Iterable[Widget]:
        """Title, list, the current line in full."""
        yield Vertical(
            LiveText(id="work-title"),
            Choices(id="work-list", markup=False),
            Drawn(id="work-detail"),
        )

    def hints(self) -> list[str]:
        """Ticking while there is a list, choosing while there is none."""
        if self._list(self.session) is not None:
            undo = keys.shown(self.program.key("undo").keys)
            return [worded("Space or Enter ticks"), *super().hints(), f"{undo} undo"]
        return ["type to filter", "Enter chooses", "Backspace back"]

    def on_screen_resume(self) -> None:
        """Read the jobs again, which may have changed."""
        super().on_screen_resume()
        self.program.run_worker(self._read_jobs, thread=True, exclusive=True, group="offering", exit_on_error=False)

    def on_screen_suspend(self) -> None:
        """Stop reading; the jobs are read again when this screen is shown again."""
        self.program.workers.cancel_group(self.program, "offering")

    # --- the jobs one could return to -----------------------------------------------------------------------------

    def _read_jobs(self) -> None:
        """On a thread of its own: the nearest first, and the newest first of those alike."""
        worker, throttle = get_current_worker(), Throttle()
        workspace = self.program.workspace

        def progress(done: int, of: int) -> None:
            if throttle.due() and not worker.is_cancelled:
                self.post_message(self.JobsRead((), words=f"{done} of {of} jobs read …"))

        try:
            rows = workspace.library.rows(judged=False, progress=progress, cancelled=lambda: worker.is_cancelled)
        except (StanchionError, OSError) as error:
            self.post_message(self.JobsRead((), str(error)))
            return
        if workspace.session is not None and not worker.is_cancelled:
            others = [row for row in rows if row.name != workspace.open_name and not row.problem]
            here = workspace.session.job.job
            others.sort(key=lambda row: _distance(row, here))
            self.post_message(self.JobsRead(others))

    def on_work_list_screen_jobs_read(self, message: JobsRead) -> None:
        """Show the jobs one could return to, as far as they are read."""
        self._rows, self._reading = message.rows, message.words
        self.show_derived()
        if message.problem:
            self.program.say(message.problem)

    def _list(self, session: Session | None) -> WorkList | None:
        return None if session is None else session.judged("work_list", None, work_list, session.job)

    # --- showing --------------------------------------------------------------------------------------------------

    def another_job(self) -> None:
        """Forget what was typed to find a setup for the job before."""
        self._filter, self._other = "", None

    def show_figures(self, session: Session) -> None:
        """Show the list, or what to choose from, where anything of it has changed."""
        found = self._list(session)
        other = self._other[0] if self._other else ""
        subject = (session.job, session.units, tuple(self._rows), self._reading, self._filter, other, self.size)
        if subject == self._shown_for:
            return
        self._shown_for = subject
        if found is not None:
            self._other, self._filter = None, ""
            self._show_list(session, found)
        else:
            self._show_targets(session)

    def _fill(self, options: Sequence[tuple[Content, WorkTarget | JobRow | Item | None]], at: int | None) -> None:
        choices = self.query_one(Choices)
        choices.clear_options()
        choices.add_options(Choosable(words, what, disabled=what is None) for words, what in options)
        choices.highlighted = at
        self.query_one("#work-detail", Drawn).draw(lambda width, height: ())
        self._show_detail()

    def _show_list(self, session: Session, found: WorkList) -> None:
        returning = session.job.returning
        title = (returning.title if returning is not None else "") or UNTITLED
        progress = f" {progress_words(found)}"
        what = "CHANGE" if listed(session.job) else "BACK TO"
        back = cut(f"   {what} {clean(title, 200)}", max(0, self.size.width - len(progress) - 1))
        words = Content.styled(progress, "bold") + Content.styled(back, HEAD)
        self.query_one("#work-title", Static).update(words)
        width = max(20, self.size.width - 5)
        options: list[tuple[Content, WorkTarget | JobRow | Item | None]] = []
        for group, items in groups_of(found.items):
            options.append((wrapped_words(worded(GROUPS[group]), width, HEAD), None))
            options += [(item_line(item, session, width), item) for item in items]
        options += [(line, None) for line in closing_lines(found, width)]
        self._fill(options, None if found.finished else self._next(options))
        self._listed = True
        if found.finished:
            self.query_one(Choices).scroll_end(animate=False)

    def _next(self, options: Sequence[tuple[Content, WorkTarget | JobRow | Item | None]]) -> int:
        """The line for the bar: the next one still to do, from where the bar is; in a new list the first."""
        before = (self.query_one(Choices).highlighted or 0) if self._listed else 0
        to_do = [at for at, (_, what) in enumerate(options) if isinstance(what, Item) and what.to_do]
        return next((at for at in to_do if at >= before), to_do[0])

    def _show_targets(self, session: Session) -> None:
        typed = f" Filter: {clean(self._filter)}" if self._filter else ""
        title = cut(" WORK LIST: which setup is the machine to return to?", self.size.width - len(typed))
        self.query_one("#work-title", Static).update(Content.styled(title, HEAD) + Content(typed))
        options: list[tuple[Content, WorkTarget | JobRow | Item | None]] = []
        job = session.job
        self._listed = False
        if self._other is not None:
            name, other = self._other
            offered = list(targets_of(other, name, job.job.machine))
            options.append((Content.styled(clean(f"{target_about(offered[0])} ({name})", 200), HEAD), None))
            options += [target_line(session, target) for target in offered]
        else:
            options.append((Content.styled("Runs of this job", HEAD), None))
            own = list(runs_of(job))
            options += [target_line(session, target) for target in own]
            if not own:
                runs, log = (keys.shown(self.program.key(name).keys) for name in ("screen.runs", "run.log"))
                options.append((Content.styled(f"  none logged yet: {runs} and {log} log one", MUTED), None))
            options += [target_line(session, target) for target in as_found(job)]
            found = matching(self._rows, self._filter)[:MOST_SHOWN]
            if not found:
                options.append((Content.styled("Other jobs", HEAD), None))
                options.append((Content.styled(f"  {self._reading or 'none found'}", MUTED), None))
            heading = ""
            for line, row in zip(row_lines(found, self.size.width - 6), found, strict=True):
                if heading != (heading := _group(row, job.job)):
                    options.append((Content.styled(heading, HEAD), None))
                options.append((line, row))
        first_row = next((at for at, (_, what) in enumerate(options) if isinstance(what, JobRow)), 0)
        first = next((at for at, (_, what) in enumerate(options) if what is not None), 0)
        self._fill(options, first_row if self._filter else first)

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Show what belongs to the line that the bar has moved to."""
        event.stop()
        self._show_detail()

    def _show_detail(self) -> None:
        """Show what to mind with the current item."""
        what, session = self._current_line(), self.session
        found = self._list(session)
        if session is None or found is None:
            return
        lines: list[str] = []
        if found.finished and what is None:
            end = keys.shown(self.program.key("worklist.leave").keys)
            lines = [f"All that can be done is done. Read the notes above; then {end} puts the list away."]
        elif isinstance(what, Item):
            instead = instead_words(what, session.units)
            lines = [instead] if instead else []
            lines += [caution(code) for code in what.cautions]

        def drawing(width: int, height: int) -> list[Content]:
            wrapped = [part for line in lines for part in textwrap.wrap(line, max(1, width - 2))]
            if len(wrapped) > height > 0:
                wrapped[height - 1] = cut(f"{wrapped[height - 1]} {wrapped[height]}", width - 2)
            return [Content(f" {line}") for line in wrapped[:height]]

        self.query_one("#work-detail", Drawn).draw(drawing)

    def _current_line(self) -> WorkTarget | JobRow | Item | None:
        line = self.query_one(Choices).highlighted_option
        return line.what if isinstance(line, Choosable) else None

    # --- keys -----------------------------------------------------------------------------------------------------

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Tick an item, or take what is to be returned to. A tick is taken back by Space alone."""
        event.stop()
        what = event.option.what if isinstance(event.option, Choosable) else None
        if isinstance(what, Item) and what.done:
            self.program.say("This is done. Space undoes it.")
        else:
            self._choose(what)

    def _choose(self, what: WorkTarget | JobRow | Item | None) -> None:
        if isinstance(what, Item):
            if what.problem:
                words = "This cannot be ticked: it cannot be set as it was. What to do instead is below."
                self.program.say(worded(words))
            else:
                self._tick(what)
        elif isinstance(what, WorkTarget):
            self._begin(what)
        elif what is not None:
            try:
                other = self.program.workspace.read(what.name)
            except StanchionError as error:
                self.program.say(str(error))
                return
            self._other = (what.name, other)
            self._filter = ""
            self.query_one(Choices).highlighted = None
            self.show_derived()

    def _begin(self, target: WorkTarget) -> None:
        """Take a target: its setup is kept in the job, and what differs is the list."""
        session = self.session
        if session is None:
            return
        title = target_title(target)
        found = session.judged("work_list", None, work_to, session.job, target)
        if found is not None and not found.items:
            said = f"Nothing differs from {title}: there is nothing to do."
            if found.unrecorded:
                said = f"Nothing recorded differs from {title}. {unrecorded_words(found)}"
            self.program.say(said)
            return

        def answered(answer: str | None) -> None:
            edits = (Edit(AT, begin(session.job, target, title)), *without_unmade(session.job))
            self.program.refresh_after(session.put_all(edits) if answer == "take" else "")

        if not target.machine:
            answered("take")
            return
        text = f"{clean(target.machine, 60)}: its springs, lengths and clicks may not suit this machine."
        answers = (("back", "Back: choose another setup"), ("take", "Take its setup all the same"))
        self.program.ask("This is the setup of another machine", text, answers, answered)

    def _tick(self, item: Item) -> None:
        """Tick an item done on the machine: the job takes its values; or take the tick back, and the values with it."""
        session = self.session
        if session is None:
            return
        edits = unticked(session.job, item) if item.done else ticked(session.job, item)
        self.program.refresh_after(session.put_all((*edits, *stamps_after(session.job, edits, self.program.now()))))

    def action_leave_work_list(self) -> None:
        """Put the list away; ask first where something of it is not done. Undo brings it back."""
        session, found = self.session, self._list(self.session)
        if session is None or session.job.returning is None:
            return

        def answered(answer: str | None) -> None:
            if answer == "away":
                refused = session.put_all((Edit(AT, None), *without_unmade(session.job)))
                self.program.refresh_after(refused or "The work list is put away. Undo brings it back.")

        if found is None or found.finished or not any(item.done for item in found.items):
            answered("away")
            return
        answers = (("back", "Back: finish the list"), ("away", "Put it away: those stay as they are now"))
        self.program.ask("The work list is not finished", not_done_words(found, session.units), answers, answered)

    def on_key(self, event: events.Key) -> None:
        """Filter the jobs by letters, while there is no list.

        Blank and backspace come the same way: as bindings they would overtake letters that arrive with them.
        """
        if event.key in ("space", "backspace"):
            event.stop()
            (self._space if event.key == "space" else self._back)()
        elif event.is_printable and event.character and self._choosing():
            event.stop()
            self._narrow(self._filter + event.character)

    def _space(self) -> None:
        """Tick the current item; while choosing, add a blank to the filter."""
        if not self._choosing():
            self._choose(self._current_line())
        elif self._filter:
            self._narrow(self._filter + " ")

    def _back(self) -> None:
        """Delete a letter of the filter; or go back from another job's runs."""
        if self._other is not None:
            self._other = None
            self.show_derived()
        elif self._choosing():
            self._narrow(self._filter[:-1])

    def _choosing(self) -> bool:
        return self._list(self.session) is None

    def _narrow(self, text: str) -> None:
        if self._other is None:
            self._filter = text[:60]
            self.show_derived()


def _group(row: JobRow, here: Occasion) -> str:
    """The heading of the jobs that are as far from the one in hand."""
    another_machine, another_venue, _ = _distance(row, here)
    if another_machine:
        return "Other machines"
    if not here.venue.strip():
        return "Other jobs of this machine"
    return "This machine elsewhere" if another_venue else "This machine at this venue"


def _distance(row: JobRow, here: Occasion) -> tuple[bool, bool, bool]:
    """How far a job is from the one in hand, for sorting: another machine, another venue, not where it came from."""
    another_machine = match_key(row.machine) != match_key(here.machine)
    another_venue = not here.venue.strip() or match_key(row.venue) != match_key(here.venue)
    return another_machine, another_venue, row.name != here.carried_from
