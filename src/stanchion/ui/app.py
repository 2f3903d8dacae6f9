"""The application: which screen is shown, which job is open, and what happens when the world interrupts."""

from __future__ import annotations

import asyncio
import contextlib
import datetime as dt
import os
import signal
import sys
from collections.abc import Callable
from typing import ClassVar, Literal, cast

from textual.binding import Binding, BindingType
from textual.events import Event, Key
from textual.screen import Screen
from textual.worker import get_current_worker

from stanchion.base.errors import StanchionError
from stanchion.bench.workspace import Workspace
from stanchion.ui.commands.merging import LOOK_EVERY_S
from stanchion.ui.commands.story import FollowingApp
from stanchion.ui.commands.work_list import ReturningApp
from stanchion.ui.core import PARTS
from stanchion.ui.idle import Leisure, Rest
from stanchion.ui.keys import KEYS, bindings
from stanchion.ui.screens.modal import Over
from stanchion.ui.screens.parts import FrontScreen, MachineScreen, RearScreen, SagScreen
from stanchion.ui.theme import Themes, theme_problem

TIDY_AFTER_S = 2.0
"""What is not needed to start waits so long."""
HANGUP_STATUS = 128
MOST_SAID = 3
"""Messages at the start at most, so that something of the screen is left."""
SWITCH_S = 0.0005
"""How long the thread that saves may keep the one that draws from running [s]; Python's own 5 ms can be felt."""
FAULT_STATUS = 3
"""The program failed by a fault of its own."""
_Later = Literal["predict", "trial", "runs", "upkeep", "springs", "earlier", "worklist", "story", "jobs"]
"""Screens that are not needed to start."""


def _screen(name: _Later) -> Screen[None]:
    """A screen that is not needed to start, loaded when it is first shown."""
    match name:
        case "predict":
            from stanchion.ui.screens.predict import PredictScreen  # noqa: PLC0415

            return PredictScreen()
        case "trial":
            from stanchion.ui.screens.trial import TrialScreen  # noqa: PLC0415

            return TrialScreen()
        case "runs":
            from stanchion.ui.screens.runs import RunsScreen  # noqa: PLC0415

            return RunsScreen()
        case "upkeep":
            from stanchion.ui.screens.upkeep import UpkeepScreen  # noqa: PLC0415

            return UpkeepScreen()
        case "springs":
            from stanchion.ui.screens.springs import SpringsScreen  # noqa: PLC0415

            return SpringsScreen()
        case "earlier":
            from stanchion.ui.screens.earlier import EarlierScreen  # noqa: PLC0415

            return EarlierScreen()
        case "worklist":
            from stanchion.ui.screens.worklist import WorkListScreen  # noqa: PLC0415

            return WorkListScreen()
        case "story":
            from stanchion.ui.screens.story import StoryScreen  # noqa: PLC0415

            return StoryScreen()
        case "jobs":
            from stanchion.ui.screens.jobs import JobsScreen  # noqa: PLC0415

            return JobsScreen()


def _open_last(workspace: Workspace) -> tuple[str, str]:
    """Open the job that was open last; the screen to begin with, and what stood in the way, in words."""
    place = workspace.preferences.last_place()
    if not place.job:
        return "jobs", ""
    if place.faulted:
        return "jobs", (
            f"A fault of the program ended it while '{place.job}' was open, so that job was not opened again by "
            "itself. To open it all the same, choose it in the list and press Enter. "
            f"Please report the fault: what happened is written in {workspace.places.faults}"
        )
    try:
        workspace.open(place.job)
    except StanchionError as error:
        return "jobs", f"The last job could not be opened: {error}"
    except Exception as error:
        told = workspace.report_fault(error, {})
        return "jobs", f"'{place.job}' was not opened, by a fault of the program ({type(error).__name__}). {told}"
    return (place.screen if place.screen in PARTS else "machine"), ""


class StanchionApp(FollowingApp, ReturningApp):
    """The full-screen program.

    Args:
        workspace: files, settings and the open job.
        sample: name of a sample job to start from; None opens where it was left.
        today: gives the day a new job is dated.
    """

    TITLE = "stanchion"
    ENABLE_COMMAND_PALETTE = False
    CSS_PATH = "styles/bench.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        *cast("list[BindingType]", bindings()),
        Binding("ctrl+c", "nothing", show=False),
    ]
    MODES: ClassVar[dict[str, str | Callable[[], Screen[None]]]] = {
        "machine": MachineScreen,
        "front": FrontScreen,
        "rear": RearScreen,
        "sag": SagScreen,
        "predict": lambda: _screen("predict"),
        "trial": lambda: _screen("trial"),
        "runs": lambda: _screen("runs"),
        "upkeep": lambda: _screen("upkeep"),
        "springs": lambda: _screen("springs"),
        "earlier": lambda: _screen("earlier"),
        "worklist": lambda: _screen("worklist"),
        "story": lambda: _screen("story"),
        "jobs": lambda: _screen("jobs"),
    }

    def __init__(
        self, workspace: Workspace, sample: str | None = None, today: Callable[[], dt.date] = dt.date.today
    ) -> None:
        # Known before the application is built, so that the first screen it builds is the one that is wanted.
        first, trouble = _open_last(workspace) if sample is None else ("", "")
        if first:
            self.DEFAULT_MODE = first  # type: ignore[misc]
        super().__init__(workspace, today)
        if trouble:
            self.messages.append(trouble)
        self._sample = sample
        self._events: asyncio.AbstractEventLoop | None = None
        self._rest: Rest | None = None
        self._themes = Themes(workspace.places.config / "themes")
        self.messages += self._themes.problems
        self.theme_names = self._themes.names
        self.messages += theme_problem(workspace.preferences.settings.theme, self.theme_names)[:1]
        self.take_theme(
            workspace.preferences.settings.theme
            if workspace.preferences.settings.theme in self.theme_names
            else self.theme_names[0]
        )
        self.stylesheet.set_variables(self.get_css_variables())

    def on_mount(self) -> None:
        """Open where it was left, and be ready to be interrupted."""
        self._events = asyncio.get_running_loop()
        for name in ("SIGTERM", "SIGHUP", "SIGINT"):
            number = getattr(signal, name, None)
            if number is not None:
                with contextlib.suppress(NotImplementedError, ValueError, RuntimeError):
                    self._events.add_signal_handler(number, self._interrupted, int(number))
        changed = {key.id: key.keys for key, old in zip(self.keys, KEYS, strict=True) if key.keys != old.keys}
        self.set_keymap(changed)
        self._open_first()
        self.begun = True
        self.screen.refresh(layout=True)
        self.set_interval(2.0, self._watch_terminal)
        self.set_interval(LOOK_EVERY_S, self.look_for_copies)
        self.set_timer(TIDY_AFTER_S, lambda: self.run_worker(self._tidy, thread=True, group="tidying"))
        if not self.is_headless:  # what is collected belongs to the whole process, and not to one of many tests in it
            self._rest = Rest(self._events)
            self._rest.disturb()

    def _tidy(self) -> None:
        """On a thread of its own: what a killed run left half-written goes, and earlier states stay within bounds."""
        self.workspace.library.tidy()
        self.workspace.library.tidy_history(Leisure(get_current_worker()).given_up)

    async def on_event(self, event: Event) -> None:
        """Take an event; a key is also told to what waits for the keys to rest."""
        if self._rest is not None and isinstance(event, Key):
            self._rest.disturb()
        await super().on_event(event)

    def _open_first(self) -> None:
        if self._sample is not None:
            self.start_from_sample(self._sample)
            self._say_messages()
        elif self.session is not None:
            self.action_go(self.current_mode)
            self.job_opened()
            self.say_notes()
            self._say_messages()
        else:
            self.action_go("jobs")

    def _say_messages(self) -> None:
        """What was wrong with the user's own files, where no list of jobs has room for it."""
        for message in self.messages[:MOST_SAID]:
            self.say(message)
        if len(self.messages) > MOST_SAID:
            self.say(f"{len(self.messages) - MOST_SAID} more things cannot be used: `stanchion doctor` says which.")
        self.messages.clear()

    def fault_words(self, error: BaseException) -> str:
        """Save and write the fault down; what to print of it at the end."""
        size = self.size
        facts = {
            "screen": self.current_mode,
            "terminal": f"{size.width} by {size.height}, {os.environ.get('TERM', '')[:40]}",
        }
        told = self.workspace.report_fault(error, facts)
        return f"stanchion stopped: a fault of the program ({type(error).__name__}). {told}"

    def _interrupted(self, number: int) -> None:
        """The terminal went away or we were told to end: save, give the terminal back, leave with the usual status."""
        self.workspace.close()
        self.exit(HANGUP_STATUS + number, return_code=HANGUP_STATUS + number)

    def _watch_terminal(self) -> None:
        """Without a terminal there is nobody to work for, even where nobody said so."""
        if not self.is_headless and not os.isatty(0):
            self._interrupted(signal.SIGTERM)

    async def action_quit_saved(self) -> None:
        """Quit, from a dialog too; what is still unsaved is written first, and only a failure to do so asks."""
        if not await self._dialogs_closed():
            return
        self.leave_fields()
        if self.workspace.flush():
            self.exit(0, return_code=0)
            return
        self.ask(
            "Not saved",
            f"The last edits could not be written. {self.save_trouble()} {self.workspace.closing_unsaved()}".rstrip(),
            (("stay", "Stay here"), ("quit", "Quit all the same")),
            lambda answer: self.exit(1, return_code=1) if answer == "quit" else None,
        )

    async def _dialogs_closed(self) -> bool:
        """Close every dialog, and wait until its answer has been taken; False where one stays, or another one opens."""
        dialogs = [screen for screen in self.screen_stack if isinstance(screen, Over)]
        for dialog in reversed(dialogs):
            if not dialog.close_to_quit():
                return False
            await self.take_results()
            await self._typed_before()
        return not isinstance(self.screen, Over)

    async def action_quit(self) -> None:
        """Textual's own way out is ours too."""
        await self.action_quit_saved()

    def on_unmount(self) -> None:
        """However it ended: write what is pending."""
        self.workspace.close()

    def action_nothing(self) -> None:
        """A key that must do no harm."""

    # --- settings -------------------------------------------------------------------------------------------------

    def action_cycle_rates(self) -> None:
        """N/mm, kg/mm, lb/in."""
        self._set(lambda: self.workspace.next_unit("rates"))

    def action_cycle_lengths(self) -> None:
        """Millimetres or inches."""
        self._set(lambda: self.workspace.next_unit("lengths"))

    def action_cycle_theme(self) -> None:
        """The next theme, remembered."""
        at = self.theme_names.index(self.theme) if self.theme in self.theme_names else -1
        self.take_theme(self.theme_names[(at + 1) % len(self.theme_names)])
        self._set(lambda: self.workspace.preferences.choose_theme(self.theme))

    def take_theme(self, name: str) -> None:
        """Show by the theme of this name, read when it is first taken."""
        if name not in self.available_themes:
            self.register_theme(self._themes[name])
        self.theme = name

    def _set(self, change: Callable[[], None]) -> None:
        change()
        self.refresh_bench()
        self.write_aside(self.workspace.preferences.save, "settings")


def run_app(jobs: str | None, sample: str | None) -> int:
    """Run the full-screen program and give its exit status."""
    sys.setswitchinterval(SWITCH_S)
    workspace = Workspace.at(jobs)
    app = StanchionApp(workspace, sample)
    app.run(mouse=False)
    return FAULT_STATUS if app.faulted else app.return_code or 0
