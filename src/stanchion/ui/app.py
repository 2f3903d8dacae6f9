"""The application: which screen is shown, which job is open, and what happens when the world interrupts."""

from __future__ import annotations

import asyncio
import contextlib
import datetime as dt
import os
import signal
from collections.abc import Callable, Sequence
from importlib import import_module
from typing import TYPE_CHECKING, ClassVar, cast

from textual.app import App
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.worker import get_current_worker

from stanchion.desk import Desk
from stanchion.errors import StanchionError
from stanchion.job.edit import spec_at
from stanchion.job.model import Job, Occasion, Path
from stanchion.job.spec import Text
from stanchion.judgement.wording import label
from stanchion.samples import Sample, samples
from stanchion.session import Session
from stanchion.stock_session import StockSession
from stanchion.store.autosave import SaveState
from stanchion.store.listing import Row
from stanchion.text import clean
from stanchion.trial import Trial
from stanchion.ui.keys import KEYS, Key, bindings, with_changes
from stanchion.ui.present import on_screen
from stanchion.ui.screens.bench import BenchScreen
from stanchion.ui.screens.dialogs import CommandStrip, FindingsScreen, HelpScreen, Question, WriteText
from stanchion.ui.screens.job_screen import JobScreen, WorkScreen
from stanchion.ui.screens.jobs import JobsScreen
from stanchion.ui.screens.parts import FrontScreen, MachineScreen, RearScreen, SagScreen
from stanchion.ui.theme import load_themes
from stanchion.ui.widgets.sheet import Sheet

if TYPE_CHECKING:
    from stanchion.judgement.option import Option

PARTS = ("machine", "front", "rear", "sag", "predict", "trial", "springs")
HANGUP_STATUS = 128


def _screen(module: str, name: str) -> Screen[None]:
    """A screen that is not needed to start, loaded when it is first shown."""
    screen: Screen[None] = getattr(import_module(f"stanchion.ui.screens.{module}"), name)()
    return screen


class StanchionApp(App[int]):
    """The full-screen program.

    Args:
        desk: files, settings and the open job.
        sample: name of a sample job to start from; None opens where it was left.
        today: gives the day a new job is dated.
    """

    TITLE = "stanchion"
    ENABLE_COMMAND_PALETTE = False
    CSS_PATH = [  # noqa: RUF012 - Textual declares it without ClassVar
        "styles/bench.tcss",
        "styles/jobs.tcss",
        "styles/dialogs.tcss",
    ]
    BINDINGS: ClassVar[list[BindingType]] = [
        *cast("list[BindingType]", bindings()),
        Binding("ctrl+c", "nothing", show=False),
    ]
    MODES: ClassVar[dict[str, str | Callable[[], Screen[None]]]] = {
        "machine": MachineScreen,
        "front": FrontScreen,
        "rear": RearScreen,
        "sag": SagScreen,
        "predict": lambda: _screen("predict", "PredictScreen"),
        "trial": lambda: _screen("trial", "TrialScreen"),
        "springs": lambda: _screen("springs", "SpringsScreen"),
        "jobs": JobsScreen,
    }

    class Saving(Message):
        """How saving stands."""

        def __init__(self, state: SaveState) -> None:
            self.state = state
            super().__init__()

    class Listed(Message):
        """The jobs folder has been read."""

        def __init__(self, rows: Sequence[Row], problem: str) -> None:
            self.rows = rows
            self.problem = problem
            super().__init__()

    def __init__(self, desk: Desk, sample: str | None = None, today: Callable[[], dt.date] = dt.date.today) -> None:
        super().__init__()
        self.desk = desk
        self.today = today
        self.last_part = "machine"
        self.messages: list[str] = list(desk.problems)
        self._sample = sample
        self._events: asyncio.AbstractEventLoop | None = None
        self._save_state: SaveState | None = None
        self._asking = False
        self.keys, problems = with_changes(dict(desk.settings.keys))
        self.messages += problems
        themes, problems = load_themes(desk.places.config / "themes")
        self.messages += problems
        self.theme_names = tuple(themes)
        for theme in themes.values():
            self.register_theme(theme)
        self.theme = desk.settings.theme if desk.settings.theme in themes else self.theme_names[0]

    def key(self, identity: str) -> Key:
        """A row of the key table as the user has it."""
        return next(key for key in self.keys if key.id == identity)

    # --- start and end --------------------------------------------------------------------------------------------

    @property
    def session(self) -> Session | None:
        """The open job."""
        return self.desk.session

    @property
    def trial(self) -> Trial | None:
        """What is being tried on the open job."""
        return self.desk.trial

    @property
    def in_hand(self) -> Session | StockSession | None:
        """What the screen shown changes: the job, a copy on which something is tried, or the stock."""
        return self.screen.in_hand if isinstance(self.screen, WorkScreen) else self.session

    def on_mount(self) -> None:
        """Open where it was left, and be ready to be interrupted."""
        self._events = asyncio.get_running_loop()
        for name in ("SIGTERM", "SIGHUP"):
            number = getattr(signal, name, None)
            if number is not None:
                with contextlib.suppress(NotImplementedError, ValueError, RuntimeError):
                    self._events.add_signal_handler(number, self._interrupted, int(number))
        changed = {key.id: key.keys for key, old in zip(self.keys, KEYS, strict=True) if key.keys != old.keys}
        self.set_keymap(changed)
        self.desk.on_saved = self._saved_elsewhere
        self._open_first()
        self.set_interval(2.0, self._watch_terminal)

    def _open_first(self) -> None:
        if self._sample is not None:
            self.start_from_sample(self._sample)
            return
        place = self.desk.last_place()
        if place.job:
            try:
                self.desk.open(place.job)
            except StanchionError as error:
                self.messages.append(f"The last job could not be opened: {error}")
            else:
                self._save_state = self.desk.save_state()
                self.action_go(place.screen if place.screen in PARTS else "machine")
                return
        self.action_go("jobs")

    def _interrupted(self, number: int) -> None:
        """The terminal went away or we were told to end: save, give the terminal back, leave with the usual status."""
        self.desk.close()
        self.exit(HANGUP_STATUS + number, return_code=HANGUP_STATUS + number)

    def _watch_terminal(self) -> None:
        """Without a terminal there is nobody to work for, even where nobody said so."""
        if not self.is_headless and not os.isatty(0):
            self._interrupted(signal.SIGTERM)

    def action_quit_saved(self) -> None:
        """Leave; what is still unsaved is written first, and only a failure to do so asks."""
        self._leave_fields()
        if self.desk.flush():
            self.exit(0, return_code=0)
            return
        self.push_screen(
            Question(
                "Not saved",
                f"The last edits could not be written. {self.save_trouble()}",
                (("stay", "Stay here"), ("quit", "Quit all the same")),
            ),
            lambda answer: self.exit(1, return_code=1) if answer == "quit" else None,
        )

    async def action_quit(self) -> None:
        """Textual's own way out is ours too."""
        self.action_quit_saved()

    def on_unmount(self) -> None:
        """However it ended: write what is pending."""
        self.desk.close()

    def action_nothing(self) -> None:
        """A key that must do no harm."""

    # --- saving ---------------------------------------------------------------------------------------------------

    def _saved_elsewhere(self, state: SaveState) -> None:
        """Called on the saving thread, where nothing of the screen may be touched."""
        self.post_message(self.Saving(state))

    def on_stanchion_app_saving(self, message: Saving) -> None:
        """How saving stands has changed."""
        state = message.state
        self._save_state = state
        screen = self.screen
        if isinstance(screen, JobScreen) and screen.is_mounted:
            screen.show_derived()
        if state.status == "conflict" and not self._asking:
            self._ask_conflict()

    def saved_mark(self) -> Content:
        """Whether what is shown is on disk, in a word."""
        session, state = self.session, self._save_state
        if session is not None and session.read_only:
            return Content.styled("READ ONLY", "bold")
        if state is None:
            return Content("")
        if state.status == "conflict":
            return Content.styled("CHANGED ON DISK", "bold reverse")
        if state.status == "failed":
            return Content.styled("NOT SAVED", "bold reverse")
        if state.status == "pending":
            return Content("saving")
        return Content(f"saved {dt.datetime.fromtimestamp(state.at):%H:%M:%S}" if state.at else "saved")

    def save_trouble(self) -> str:
        """Why what is shown is not on disk, in plain words; empty where it is."""
        state = self._save_state
        return clean(state.cause or state.caution, 400) if state is not None and state.status != "pending" else ""

    def _ask_conflict(self) -> None:
        self._asking = True

        def answered(answer: str | None) -> None:
            if answer:
                # Each of these waits for the disk, which is not for the thread that draws the screen.
                self.run_worker(lambda: self._settle(answer), thread=True, exclusive=True, group="settling")
            else:
                self._asking = False

        self.push_screen(
            Question(
                "The file was changed by somebody else",
                "This job's file is no longer as it was read. Nothing has been overwritten.",
                (
                    ("mine", "Keep mine: write what is on this screen; the other state is kept as an earlier one"),
                    ("theirs", "Take theirs: show what is on disk; Undo leads back to mine"),
                    ("copy", "Save mine as a copy beside it and go on with the copy"),
                ),
            ),
            answered,
        )

    def _settle(self, answer: str) -> None:
        """On a thread of its own."""
        theirs: Job | None = None
        problem = ""
        try:
            if answer == "theirs":
                theirs = self.desk.take_theirs()
            elif answer == "mine":
                self.desk.keep_mine()
            else:
                self.desk.save_as_copy()
        except StanchionError as error:
            problem = str(error)
        self.call_from_thread(self._settled, theirs, problem)

    def _settled(self, theirs: Job | None, problem: str) -> None:
        self._asking = False
        if theirs is not None and self.session is not None:
            self.session.replace(theirs)
        if problem:
            self.say(problem)
        self.refresh_bench()

    # --- where to be ----------------------------------------------------------------------------------------------

    def action_go(self, name: str) -> None:
        """Show a part of the open job, or the list of jobs."""
        if name != "jobs" and self.session is None:
            return
        self._leave_fields()
        while isinstance(self.screen, CommandStrip | HelpScreen):
            self.pop_screen()
        if name in PARTS:
            self.last_part = name
            self.remember(name)
        if self.current_mode != name:
            self.switch_mode(name)

    def remember(self, part: str) -> None:
        """Note where we are, for the next start."""
        self.desk.remember(part)

    def _leave_fields(self) -> None:
        screen = self.screen
        if isinstance(screen, BenchScreen) and screen.session is not None and screen.is_mounted:
            at = screen.sheet.at
            if at is not None:
                screen.session.leave(at)

    def refresh_bench(self) -> None:
        """The job was changed from outside the sheet."""
        for screen in self.screen_stack:
            if isinstance(screen, WorkScreen):
                screen.reload()

    def say(self, message: str) -> None:
        """A message that needs no answer."""
        self.notify(clean(message, 300), markup=False, timeout=8)

    def action_commands(self) -> None:
        """Every command under one letter."""

        async def chosen(action: str | None) -> None:
            if action:
                await self.run_action(action)

        name = self.screen.name_of if isinstance(self.screen, JobScreen) else ""
        self.push_screen(CommandStrip(self.keys, name), chosen)

    def action_help(self) -> None:
        """Keys, figures, formulas, cautions."""
        if not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen(self.keys))

    def action_warnings(self) -> None:
        """Every finding in full; Enter goes to its field."""
        session = self.in_hand
        if not isinstance(session, Session) or isinstance(self.screen, FindingsScreen):
            return
        unread = [(path, f"{label(path)}: {d.reason}") for path, d in session.drafts.items() if d.reason]

        def chosen(path: Path | None) -> None:
            if path:
                self.jump(path)

        self.push_screen(FindingsScreen(session.assessment, session.units, unread), chosen)

    def jump(self, path: Path) -> None:
        """Take the field of a path in hand, on its screen."""
        self.action_go(on_screen(path))
        screen = self.screen
        if isinstance(screen, JobScreen):
            self.call_after_refresh(screen.go_to, path)

    # --- the job --------------------------------------------------------------------------------------------------

    def action_undo(self) -> None:
        """One step back."""
        sheets = self.screen.query(Sheet)
        at = sheets.first().at if sheets else None
        if self.in_hand is not None and not self.in_hand.undo(at):
            self.say("There is nothing to undo.")
        self.refresh_bench()

    def action_redo(self) -> None:
        """One step forward again."""
        if self.in_hand is not None and not self.in_hand.redo():
            self.say("There is nothing to redo.")
        self.refresh_bench()

    def action_split_legs(self) -> None:
        """Enter the legs apart, or as one again."""
        session = self.session
        if session is None or self.current_mode != "front":
            return
        was = session.job.front
        if session.split_legs() and was.right is not None and was.right != was.left:
            self.say("The left leg now stands for both. Undo brings the right leg's own values back.")
        self.refresh_bench()

    def action_apply_trial(self) -> None:
        """What is being tried becomes part of the job."""
        trial = self.trial
        if trial is None or self.current_mode != "trial":
            return
        self._leave_fields()
        count = len(trial.changes)
        if not trial.apply():
            self.say(trial.session.refusal)
        elif count:
            self.say(f"{count} change{'s' if count != 1 else ''} made in the job. Undo on any screen takes them back.")
        self.refresh_bench()

    def action_drop_trial(self) -> None:
        """Forget what is being tried."""
        if self.trial is not None and self.current_mode == "trial":
            self.trial.drop()
            self.refresh_bench()

    def try_springs(self, option: Option) -> None:
        """Put a choice of springs in as a trial, and show it beside what is fitted."""
        trial = self.trial
        if trial is None:
            return
        from stanchion.judgement.choice_edits import SETTABLE, as_edits  # noqa: PLC0415

        trial.follow()
        if not trial.copy.put_all(as_edits(option, trial.copy.job, set_adjuster=True, settable=SETTABLE)):
            self.say(trial.copy.refusal)
        self.action_go("trial")

    def action_edit_stock(self) -> None:
        """The springs in the van."""
        from stanchion.ui.screens.stock import StockScreen  # noqa: PLC0415

        if not isinstance(self.screen, StockScreen):
            self.push_screen(StockScreen(), lambda _: self.refresh_bench())

    def save_stock(self) -> None:
        """Write the stock, off the thread that draws the screen."""
        self.run_worker(self._save_stock, thread=True, group="stock")

    def _save_stock(self) -> None:
        try:
            self.desk.save_stock()
        except StanchionError as error:
            self.call_from_thread(self.say, str(error))

    def action_save_copy(self) -> None:
        """Go on in a new file beside the present one, which stays as it is."""
        if self.session is None:
            return
        if self.desk.newer:
            self.say("A later version wrote this job. A copy made here could lose what that version added.")
            return
        self._leave_fields()
        self.run_worker(lambda: self._settle("copy"), thread=True, exclusive=True, group="settling")

    def action_delete_job(self) -> None:
        """Move the job under the bar to the bin, after asking."""
        screen = self.screen
        name = screen.chosen_job() if isinstance(screen, JobsScreen) else ""
        if not name:
            return

        def answered(answer: str | None) -> None:
            if answer == "bin":
                try:
                    where = self.desk.delete(name)
                except StanchionError as error:
                    self.say(str(error))
                else:
                    self.say(f"'{name}' lies in the bin: {where}")
            self.list_jobs()

        question = Question(
            "Move this job to the bin?",
            name,
            (("keep", "Keep it"), ("bin", "Move it to the bin; it can be brought back")),
        )
        self.push_screen(question, answered)

    def write_text(self, path: Path) -> None:
        """Room for a text of several lines."""
        session = self.session
        if session is None:
            return
        spec = spec_at(path)

        def done(text: str | None) -> None:
            if text is not None and text != session.text_of(path) and not session.put(path, text):
                self.say(session.refusal)
            self.refresh_bench()

        longest = spec.longest if isinstance(spec, Text) else 80
        self.push_screen(WriteText(label(path), session.text_of(path), longest), done)

    def action_new_job(self) -> None:
        """A job from an empty sheet."""
        from stanchion.ui.screens.new_job import NewJobScreen  # noqa: PLC0415

        if isinstance(self.screen, NewJobScreen):
            return
        blank = Session(Job(job=Occasion(date=self.today())), self.desk.profiles, units=self.desk.units)

        def begin(job: Job | None) -> None:
            if job is not None:
                self._try(lambda: self.desk.create(job), "front")

        self.push_screen(NewJobScreen(blank), begin)

    def action_carry_forward(self) -> None:
        """A new job with the setup of the one chosen in the list, or of the one in hand."""
        name = self.screen.chosen_job() if isinstance(self.screen, JobsScreen) else self.desk.open_name
        if name:
            self._leave_fields()
            self._try(lambda: self.desk.carry_forward(name, self.today()), "sag")

    def start_from_sample(self, name: str) -> None:
        """A copy of a sample job."""
        sample = next((one for one in samples() if one.name == name), None)
        if sample is not None:
            self._try(lambda: self.desk.create_from(sample.data), "front")

    def open_named(self, name: str) -> None:
        """A job of the list."""
        if name == self.desk.open_name:
            self.action_go(self.last_part)
        else:
            self._try(lambda: self.desk.open(name), self.last_part)

    def _try(self, work: Callable[[], object], then: str) -> None:
        try:
            work()
        except StanchionError as error:
            if self.current_mode != "jobs":
                self.action_go("jobs")
            if isinstance(self.screen, JobsScreen):
                self.screen.say(str(error), bad=True)
            return
        self._save_state = self.desk.save_state()
        for note in self.desk.notes:
            self.say(note)
        self.action_go(then)

    def samples(self) -> tuple[Sample, ...]:
        """The samples to start from."""
        return samples()

    def list_jobs(self) -> None:
        """Read the folder off this thread and show what is in it."""
        self.run_worker(self._read_rows, thread=True, exclusive=True, group="listing", exit_on_error=False)

    def _read_rows(self) -> None:
        """On a thread of its own: first what the heads of the files say, then every job judged."""
        worker = get_current_worker()
        for judged in (False, True):
            try:
                rows = self.desk.library.rows(judged=judged, cancelled=lambda: worker.is_cancelled)
            except (StanchionError, OSError) as error:
                self.post_message(self.Listed((), str(error)))
                return
            if worker.is_cancelled:
                return
            self.post_message(self.Listed(rows, ""))
            if all(row.judged for row in rows):
                return

    def on_stanchion_app_listed(self, message: Listed) -> None:
        """The folder has been read."""
        screen = self.screen
        if isinstance(screen, JobsScreen):
            screen.take(message.rows)
            if message.problem or self.messages:
                screen.say(message.problem or " ".join(self.messages), bad=True)

    # --- settings -------------------------------------------------------------------------------------------------

    def action_cycle_rates(self) -> None:
        """N/mm, kg/mm, lb/in."""
        self._set(lambda: self.desk.next_unit("rates"))

    def action_cycle_lengths(self) -> None:
        """Millimetres or inches."""
        self._set(lambda: self.desk.next_unit("lengths"))

    def action_cycle_theme(self) -> None:
        """The next theme, remembered."""
        at = self.theme_names.index(self.theme) if self.theme in self.theme_names else -1
        self.theme = self.theme_names[(at + 1) % len(self.theme_names)]
        self._set(lambda: self.desk.choose_theme(self.theme))

    def _set(self, change: Callable[[], None]) -> None:
        try:
            change()
        except StanchionError as error:
            self.say(str(error))
        self.refresh_bench()


def run_app(jobs: str | None, sample: str | None) -> int:
    """Run the full-screen program and give its exit status."""
    desk = Desk.at(jobs)
    app = StanchionApp(desk, sample)
    app.run(mouse=False)
    return app.return_code or 0
