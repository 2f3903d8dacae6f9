"""The application: it puts screens and commands together, and starts, quits and is interrupted."""

from __future__ import annotations

import asyncio
import contextlib
import datetime as dt
import os
import signal
import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import ClassVar, cast

from textual.binding import Binding, BindingType
from textual.events import Event, Key
from textual.worker import get_current_worker

from stanchion.base.errors import StanchionError
from stanchion.base.exit_status import BROKEN
from stanchion.bench.workspace import Workspace
from stanchion.ui.commands.jobs import Jobs
from stanchion.ui.commands.merging import LOOK_EVERY_S, Merging
from stanchion.ui.commands.saving import ClosingJobNotSaved, JobRenamed, Saving
from stanchion.ui.commands.story import StoryCommands, StoryProgressed
from stanchion.ui.commands.undo import Undoing
from stanchion.ui.commands.units_and_theme import UnitsAndTheme
from stanchion.ui.core import PARTS, CoreApp
from stanchion.ui.idle import IdleCollector, LowPriority
from stanchion.ui.keys import KEYS, bindings
from stanchion.ui.messages import MOST_SHOWN
from stanchion.ui.saved_words import save_trouble
from stanchion.ui.screens.all_screens import SCREENS, make_screen
from stanchion.ui.screens.app_screen import Dialog

TIDY_AFTER_S = 2.0
"""How long after the start work that is not needed to start begins [s]."""
HANGUP_STATUS = 128
SWITCH_S = 0.0005
"""How long the thread that saves may keep the one that draws from running [s]; Python's own 5 ms can be felt."""


def _open_last(workspace: Workspace) -> tuple[str, str]:
    """Open the last job, if none is open yet.

    Returns:
        The screen to begin with, and why the job could not be opened; empty where it was, or there is none.
    """
    if workspace.session is not None:
        return "machine", ""
    place = workspace.last_place()
    if not place.job:
        return "jobs", ""
    if place.faulted:
        return "jobs", (
            f"A fault in the program ended it while '{place.job}' was open, so that job was not opened again by "
            "itself. To open it all the same, choose it in the list and press Enter. "
            f"Please report the fault: what happened is written in {workspace.places.faults}"
        )
    try:
        workspace.open(place.job)
    except StanchionError as error:
        return "jobs", f"The last job could not be opened: {error}"
    except Exception as error:  # noqa: BLE001 - the program starts all the same
        words = workspace.report_fault(error, {})
        return (
            "jobs",
            f"'{place.job}' was not opened, because of a fault in the program ({type(error).__name__}). {words}",
        )
    return (place.screen if place.screen in PARTS else "machine"), ""


class StanchionApp(CoreApp):
    """The full-screen program.

    Args:
        workspace: files, settings and the open job.
        sample: name of a sample job to start from; None opens the job and screen of the last run.
        today: returns the date for a new job.
    """

    TITLE = "stanchion"
    ENABLE_COMMAND_PALETTE = False
    CSS_PATH = "styles/bench.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        *cast("list[BindingType]", bindings()),
        Binding("ctrl+c", "nothing", show=False),
    ]

    def __init__(
        self, workspace: Workspace, sample: str | None = None, today: Callable[[], dt.date] = dt.date.today
    ) -> None:
        # Settled before the application is built, so that it builds this screen first and no other.
        first, trouble = _open_last(workspace) if sample is None else ("", "")
        if first:
            self.DEFAULT_MODE = first  # type: ignore[misc]
        super().__init__(workspace, today)
        if trouble:
            self.messages.append(trouble)
        self._sample = sample
        self.merging = Merging(self)
        self.saving = Saving(self, self.merging)
        self.undoing = Undoing(self)
        self.jobs = Jobs(self, self.merging)
        self.story = StoryCommands(self)
        for name in SCREENS:
            self.add_mode(name, partial(make_screen, name, self, self.jobs, self.story))
        self._events: asyncio.AbstractEventLoop | None = None
        self._collector: IdleCollector | None = None
        self.units_and_theme = UnitsAndTheme(self)
        self.stylesheet.set_variables(self.get_css_variables())

    def on_mount(self) -> None:
        """Show the job and screen of the last run, and handle signals."""
        self._events = asyncio.get_running_loop()
        for name in ("SIGTERM", "SIGHUP", "SIGINT"):
            number = getattr(signal, name, None)
            if number is not None:
                with contextlib.suppress(NotImplementedError, ValueError, RuntimeError):
                    self._events.add_signal_handler(number, self._interrupted, int(number))
        changed = {key.id: key.keys for key, old in zip(self.keys, KEYS, strict=True) if key.keys != old.keys}
        self.set_keymap(changed)
        self._open_first()
        self.started = True
        self.screen.refresh(layout=True)
        self.set_interval(2.0, self._watch_terminal)
        self.set_interval(LOOK_EVERY_S, self.merging.look_for_copies)
        self.set_timer(TIDY_AFTER_S, lambda: self.run_worker(self._tidy, thread=True, group="tidying"))
        if not self.is_headless:  # garbage is collected for the whole process, which many tests share
            self._collector = IdleCollector(self._events)
            self._collector.disturb()

    def _tidy(self) -> None:
        """On a worker thread: delete half-written files of a killed run, and earlier states beyond the limits."""
        path = self.workspace.opened_in_place
        self.workspace.library.tidy([path.parent] if path is not None else [])
        self.workspace.library.tidy_history(LowPriority(get_current_worker()).given_up)

    async def on_event(self, event: Event) -> None:
        """Process an event; a key also postpones the work that waits for a pause in typing."""
        if self._collector is not None and isinstance(event, Key):
            self._collector.disturb()
        await super().on_event(event)

    def _open_first(self) -> None:
        if self._sample is not None:
            self.jobs.start_from_sample(self._sample)
            self._say_messages(MOST_SHOWN)
        elif self.session is not None:
            self.action_go(self.current_mode)
            self.merging.job_opened()
            self._say_messages(MOST_SHOWN - len(self.workspace.notes))
            self.jobs.say_notes()
        else:
            self.action_go("jobs")

    def _say_messages(self, room: int) -> None:
        """Say what is wrong with the user's own files; where the list of jobs is shown, it says so instead.

        Args:
            room: how many messages may be shown.
        """
        most = len(self.messages) if len(self.messages) <= room else max(0, room - 1)
        for message in self.messages[:most]:
            self.say(message)
        if rest := len(self.messages) - most:
            things = f"{rest} {'more ' if most else ''}thing{'s' if rest != 1 else ''} cannot be used"
            self.say(f"{things}: `stanchion doctor` names them.")
        self.messages.clear()

    def fault_words(self, error: BaseException) -> str:
        """Save, write a report of the fault, and return the message to print when the program has ended."""
        size = self.size
        facts = {
            "screen": self.current_mode,
            "terminal": f"{size.width} by {size.height}, {os.environ.get('TERM', '')[:40]}",
        }
        words = self.workspace.report_fault(error, facts)
        return f"stanchion stopped: a fault in the program ({type(error).__name__}). {words}"

    def _interrupted(self, number: int) -> None:
        """Save, restore the terminal and quit, on a signal or because the terminal is gone."""
        self.workspace.close()
        self.exit(HANGUP_STATUS + number, return_code=HANGUP_STATUS + number)

    def _watch_terminal(self) -> None:
        """Quit if the terminal went away without a signal."""
        if not self.is_headless and not os.isatty(0):
            self._interrupted(signal.SIGTERM)

    async def action_quit_saved(self) -> None:
        """Write what is unsaved and quit, from any dialog too; ask only where writing fails."""
        if not await self._dialogs_closed():
            return
        self.leave_fields()
        if self.workspace.flush():
            self.exit(0, return_code=0)
            return
        of_jobs = (save_trouble(self.workspace, self.copies), self.workspace.closing_unsaved())
        reasons = [words for words in (*of_jobs, self.workspace.stock_trouble) if words]
        self.ask(
            "Not saved",
            " ".join(["The last edits could not be written.", *reasons]),
            (("stay", "Stay here"), ("quit", "Quit all the same")),
            lambda answer: self.exit(1, return_code=1) if answer == "quit" else None,
        )

    async def _dialogs_closed(self) -> bool:
        """Close every dialog and process its answer; False if one stays open, or an answer opens another."""
        dialogs = [screen for screen in self.screen_stack if isinstance(screen, Dialog)]
        for dialog in reversed(dialogs):
            if not dialog.close_to_quit():
                return False
            await self.take_results()
            await self.key_order.earlier_processed()
        return not isinstance(self.screen, Dialog)

    async def action_quit(self) -> None:
        """Quit as the program's own key does; Textual calls this."""
        await self.action_quit_saved()

    def on_unmount(self) -> None:
        """Write what is pending, whatever ended the program, without waiting for work that only reads."""
        self.story.drop()
        self.workspace.close()

    def action_nothing(self) -> None:
        """Do nothing: ^C must not end the program."""

    # --- what other threads report --------------------------------------------------------------------------------

    def on_save_state_changed(self) -> None:
        """Show the state of saving."""
        self.saving.show()

    def on_closing_job_not_saved(self, message: ClosingJobNotSaved) -> None:
        """Say that a closing job could not be written; no screen shows it."""
        if self.screen_stack:
            self.say(message.words)

    def on_job_renamed(self, message: JobRenamed) -> None:
        """Say what the file of a job is called now."""
        if self.screen_stack:
            self.workspace.remember_name()
            self.say(f"The file is now called '{message.after}', after who, what and when.")

    def on_story_progressed(self, message: StoryProgressed) -> None:
        """Show the story as far as it is read."""
        self.story.take(message)

    # --- commands of every screen ---------------------------------------------------------------------------------

    def action_undo(self) -> None:
        """Undo one step."""
        self.undoing.undo()

    def action_redo(self) -> None:
        """Redo one step."""
        self.undoing.redo()

    def action_new_job(self) -> None:
        """Begin a job from an empty sheet."""
        self.jobs.new()

    def action_carry_forward(self) -> None:
        """Begin a new job with the setup of the open one."""
        self.jobs.carry_forward(self.workspace.open_name)

    def action_write_sheet(self) -> None:
        """Write the hand-over sheet of the open job."""
        self.jobs.write_sheet()

    def action_print_sheet(self) -> None:
        """Write the hand-over sheet of the open job and print it."""
        self.jobs.print_sheet()

    def action_attached_files(self) -> None:
        """Show which files are attached to the open job, and open or copy one."""
        from stanchion.ui.commands.attached import AttachedFiles  # noqa: PLC0415 - not needed to start

        AttachedFiles(self).show()

    def action_save_copy(self) -> None:
        """Go on in a new file beside the present one."""
        self.saving.save_copy()

    def action_settle_file(self) -> None:
        """Ask what to do with a file that another program has changed, or with copies."""
        self.saving.settle_file()

    def action_story(self) -> None:
        """Show the story of the open job's machine."""
        self.story.follow_open()

    def action_help(self) -> None:
        """Show help on keys, figures, formulas and cautions, beginning with the current screen, and worked pages."""
        from stanchion.ui.commands.lessons import show_help  # noqa: PLC0415 - not needed to start

        show_help(self, self.jobs)

    def action_next_wording(self) -> None:
        """Use American trade words and spelling in place of British ones, or back."""
        self.units_and_theme.next_wording()

    def action_next_unit(self, what: str) -> None:
        """Show lengths, rates, pressures or masses in their next unit."""
        self.units_and_theme.next_unit(what)

    def action_cycle_theme(self) -> None:
        """Switch to the next theme."""
        self.units_and_theme.next_theme()


def run_app(jobs: str | None, sample: str | None, path: Path | None = None) -> int:
    """Run the full-screen program and give its exit status.

    Args:
        jobs: the jobs folder given on the command line.
        sample: name of a sample job to start from.
        path: a job file to open, wherever it is, or a folder that is the jobs folder of this start only; None opens
            where the last run ended.

    Raises:
        BadFile: the file cannot be read as a job.
    """
    sys.setswitchinterval(SWITCH_S)
    folder = path is not None and path.is_dir()
    workspace = Workspace.at(str(path) if folder else jobs, remembers=not folder)
    if path is not None and not folder:
        workspace.open_path(path)
    app = StanchionApp(workspace, sample)
    app.run(mouse=False)
    return BROKEN if app.faulted else app.return_code or 0
