"""Notes on the venue of the open job, and the setup that this machine was ridden best with there."""

from __future__ import annotations

import textwrap
import threading
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.events import Key
from textual.message import Message
from textual.widgets import Static
from textual.worker import get_current_worker

from stanchion.base.errors import StanchionError
from stanchion.base.text import clean
from stanchion.bench.venue_session import BestThere, VenueSession, best_there
from stanchion.job.edit import Edit
from stanchion.job.proof import without_unmade
from stanchion.job.returning import AT
from stanchion.job.spec import Kind
from stanchion.planning.work_targets import begin, work_to
from stanchion.store.paths import Places
from stanchion.store.venues import FoundVenues, save_notes
from stanchion.ui.form_lines import FormLine, Row
from stanchion.ui.screens.job_screen import WorkScreen
from stanchion.ui.space import fitting
from stanchion.ui.widgets.panes import Drawn
from stanchion.ui.widgets.sheet import FormSheet
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, unit_name
from stanchion.wording.work_sentences import target_title

FIELDS = {
    "surface": "Surface",
    "bumps": "Bumps",
    "altitude_m": "Altitude",
    "conditions": "Conditions",
    "more": "More",
}
"""The fields of the notes, in the order they are asked."""
MUTED = "$text-muted"


def notes_form(notes: object, units: Units) -> tuple[FormLine, ...]:
    """A line for each field."""
    del notes
    metres = unit_name(Kind.ALTITUDE, units)
    return tuple(Row(label, ((name,),), unit=metres if name == "altitude_m" else "") for name, label in FIELDS.items())


class VenueFile:
    """The notes while they are edited, and the file they go to.

    Args:
        session: the notes as they are edited.
        places: the folders.
    """

    def __init__(self, session: VenueSession, places: Places) -> None:
        self._session, self._places = session, places
        self._written = session.notes
        self._lock = threading.Lock()

    def save(self) -> None:
        """Write what was changed. Waits for the disk.

        Raises:
            NotSaved: why it could not be written.
        """
        with self._lock:
            notes = self._session.notes
            if notes != self._written:
                save_notes(self._written, notes, self._places)
                self._written = notes


class VenueScreen(WorkScreen):
    """The notes; every field that is left is saved.

    Args:
        found: the notes as read.
        venue: the venue of the open job.
        places: the folders.
        units: display units.
    """

    CSS_PATH = "../styles/venue.tcss"
    AUTO_FOCUS: ClassVar[str | None] = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "done", show=False),
        Binding("f7", "return_to_best", show=False, priority=True),
        Binding("ctrl+k", "compare_best", show=False, priority=True),
    ]

    class BestWasRead(Message):
        """The jobs of this machine at this venue have been read."""

        def __init__(self, best: BestThere | None) -> None:
            self.best = best
            super().__init__()

    def __init__(self, found: FoundVenues, venue: str, places: Places, units: Units) -> None:
        super().__init__()
        self._venue, self._problem = venue, found.problem
        self._session = VenueSession(found.of(venue), units, read_only=bool(found.problem))
        self._file = VenueFile(self._session, places)
        self._best: BestThere | None = None
        self._words = "reading the jobs …"

    @property
    def edited(self) -> VenueSession:
        """The notes."""
        return self._session

    def compose(self) -> ComposeResult:
        """Title, notes, the best run there, message, keys."""
        title = f" VENUE: {clean(self._venue, 60)}"
        yield Static(Content.styled(title, "$primary bold"), id="venue-title", markup=False)
        yield VerticalScroll(FormSheet(notes_form, label_width=14, cell_width=8), can_focus=False)
        yield Drawn(id="venue-best")
        yield Static(id="venue-message", markup=False)
        yield Static(id="keys", markup=False)

    def on_mount(self) -> None:
        """Show the notes, and read who was fastest."""
        self.reload()
        self.program.run_worker(self._read_best, thread=True, exclusive=True, group="venue-best", exit_on_error=False)

    def on_unmount(self) -> None:
        """Stop reading."""
        self.program.workers.cancel_group(self.program, "venue-best")

    def on_resize(self) -> None:
        """As many keys are named as there is room for."""
        hints = ["Enter next", "F7 work list of best run", "^K compare", "^Z undo"]
        foot = fitting(hints, ["Esc saves and goes back"], self.size.width - 1)
        self.query_one("#keys", Static).update(Content.styled(f" {foot}", MUTED))

    async def on_key(self, event: Key) -> None:
        """Give the sheet a key that came before it had the focus."""
        await self.query_one(FormSheet).on_key(event)

    # --- the best run there ---------------------------------------------------------------------------------------

    def _read_best(self) -> None:
        """On a thread of its own."""
        worker, current = get_current_worker(), self.program.workspace.current
        if current is None:
            return
        job, name = current.session.job, current.open_job.name
        library = self.program.workspace.library
        try:
            best = best_there(library, job, name, instead={name: job}, cancelled=lambda: worker.is_cancelled)
        except StanchionError:
            best = None  # the list of jobs says why the folder cannot be read
        if not worker.is_cancelled:
            self.post_message(self.BestWasRead(best))

    def on_venue_screen_best_was_read(self, message: BestWasRead) -> None:
        """Show the run with the best lap."""
        self._best, self._words = message.best, "no lap of this machine is recorded here"
        self._show_best()

    def _show_best(self) -> None:
        words = self._words
        if self._best is not None:
            lap = show(self._best.best_lap_s, Kind.TIME, self._session.units)
            who = f", {clean(self._best.rider, 40)}" if self._best.rider else ""
            words = f"{lap}{who}: {target_title(self._best.target)}"

        def drawing(width: int, height: int) -> list[Content]:
            wrapped = textwrap.wrap(clean(words, 300), max(20, width - 2))
            return [Content.styled(" RIDDEN BEST HERE", "$primary bold"), *(Content(f" {one}") for one in wrapped)][
                :height
            ]

        self.query_one("#venue-best", Drawn).draw(drawing)

    # --- editing --------------------------------------------------------------------------------------------------

    def leave_field(self) -> None:
        """Accept what is in the current field, and save the notes before anything else is shown."""
        sheet = self.query_one(FormSheet)
        if sheet.at is not None:
            self._session.leave(sheet.at)
        try:
            self._file.save()
        except StanchionError as error:
            self.program.say(str(error))

    def reload(self) -> None:
        """Show the notes again."""
        sheet = self.query_one(FormSheet)
        sheet.show(self._session)
        self._show_best()
        self._say()
        self.call_after_refresh(sheet.take_focus)

    def _say(self) -> None:
        """Show what cannot be read, of the file or of what was typed."""
        unread = next(((path, draft) for path, draft in self._session.drafts.items() if draft.reason), None)
        trouble = self._problem
        if unread is not None and not trouble:
            trouble = f"{FIELDS[str(unread[0][0])]}: {unread[1].reason}"
        self.query_one("#venue-message", Static).update(Content.styled(clean(trouble, 300), "$fault bold"))

    def on_form_sheet_changed(self, message: FormSheet.Changed) -> None:
        """Say what cannot be read."""
        message.stop()
        self._say()

    def on_form_sheet_entered(self, message: FormSheet.Entered) -> None:
        """A field was left: what is there is saved."""
        message.stop()
        self.program.write_aside(self._file.save, "venue")
        self._say()

    def action_return_to_best(self) -> None:
        """Put on the work list what returns the machine to the setup ridden best here."""
        best, session, program = self._best, self.program.session, self.program
        if best is None or session is None:
            program.say("There is no best run to return to yet.")
            return
        if not work_to(session.job, best.target).items:
            program.say("Nothing differs from the setup of that run: there is nothing to do.")
            return
        self.leave_field()

        def answered(answer: str | None) -> None:
            if answer != "take":
                return
            title = target_title(best.target)
            edits = (Edit(AT, begin(session.job, best.target, title)), *without_unmade(session.job))
            refused = session.put_all(edits)
            self.dismiss(None)
            program.refresh_after(refused)
            if not refused:
                program.action_go("worklist")

        if not any(one.code == "work_list_open" for one in session.assessment.findings):
            answered("take")
            return
        answers = (("back", "Back: finish that list first"), ("take", "Put the best run's setup in its place"))
        program.ask("The work list is not finished", "There is one work list at a time.", answers, answered)

    def action_compare_best(self) -> None:
        """Show where the present setup differs from the run ridden best here."""
        best, session, program = self._best, self.program.session, self.program
        if best is None or session is None:
            program.say("There is no best run to compare with yet.")
            return
        self.leave_field()
        from stanchion.planning.machine_story import row_of  # noqa: PLC0415 - seldom needed
        from stanchion.report.comparison import compared  # noqa: PLC0415
        from stanchion.ui.screens.side_by_side import CompareScreen  # noqa: PLC0415

        workspace = program.workspace
        ridden = row_of(best.file, best.job, best.target.run, workspace.profiles)
        now = row_of(workspace.open_name, session.job, None, workspace.profiles)
        program.push_screen(CompareScreen(compared(ridden, now, workspace.units)))

    def action_done(self) -> None:
        """Save and go back."""
        self.leave_field()
        self.dismiss(None)
