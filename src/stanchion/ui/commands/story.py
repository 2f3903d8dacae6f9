"""The story of one machine: reads it on another thread, and shows it as far as it is read."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from textual.message import Message

from stanchion.base.errors import StanchionError
from stanchion.base.progress import Stop, Stoppable, Throttle
from stanchion.ui.core import CoreApp

if TYPE_CHECKING:
    from stanchion.bench.story_reading import Story


class StoryProgressed(Message):
    """A story was read further, to its end, or could not be read."""

    def __init__(self, reading: Stop, words: str = "", story: Story | None = None, problem: str = "") -> None:
        self.reading = reading
        """The reading it belongs to."""
        self.words = words
        self.story = story
        self.problem = problem
        super().__init__()


class StoryCommands(Stoppable):
    """Follows one machine.

    Args:
        app: the application.
    """

    def __init__(self, app: CoreApp) -> None:
        super().__init__()
        self._app = app
        self._machine = ("", "")
        """The machine, and file name of the job from which it was asked for."""
        self._from_list = False
        self.story: Story | None = None
        """What was read; None while nothing has been yet."""
        self.on_progress: Callable[[str], None] = lambda words: None
        """Called with how far reading is, or why it failed; empty when it has ended."""

    @property
    def reading(self) -> bool:
        """Whether a story is being read."""
        return self._reading is not None

    @property
    def stopping(self) -> bool:
        """Whether reading was asked to stop."""
        return self._reading is not None and self._reading.asked

    def follow_open(self) -> None:
        """Show all occasions and runs of the open job's machine."""
        session = self._app.session
        if session is None:
            self._app.action_go("jobs")
            return
        self.follow(session.job.job.machine, self._app.workspace.open_name)

    def follow(self, machine: str, name: str, *, from_list: bool = False) -> None:
        """Show all occasions and runs of a machine.

        Args:
            machine: its name.
            name: file name of a job of it.
            from_list: whether to go back to the list of jobs afterwards.
        """
        self._machine, self._from_list = (machine, name), from_list
        self.read_again()

    def read_again(self) -> None:
        """Read the story of the same machine."""
        self._app.action_go("story")
        self._read(*self._machine)

    def leave(self) -> None:
        """Go back to where it was asked for."""
        self._app.action_go("jobs" if self._from_list or self._app.session is None else self._app.last_part)

    def take(self, message: StoryProgressed) -> None:
        """Show what was read, unless another machine was asked for meanwhile."""
        if message.reading is not self._reading:
            return
        if message.story is not None or message.problem:
            self.story, self._reading = message.story, None
            self._say_faults(message.story)
        self.on_progress(message.words or message.problem)

    def _read(self, machine: str, name: str) -> None:
        from stanchion.bench.story_reading import story_of  # noqa: PLC0415 - not needed to start

        self.drop()
        stop = self._reading = Stop()
        self.story = None
        app, workspace = self._app, self._app.workspace
        open_job = {workspace.open_name: app.session.job} if app.session is not None and workspace.open_name else {}
        throttle = Throttle()

        def progress(what: str, done: int, of: int) -> None:
            if throttle.due():
                app.post_message(StoryProgressed(stop, f"{done} of {of} files {what} …"))

        def work() -> None:
            library, profiles = workspace.library, workspace.profiles
            try:
                story = story_of(library, profiles, machine, name, instead=open_job, progress=progress, stop=stop)
            except StanchionError as error:
                app.post_message(StoryProgressed(stop, problem=str(error)))
            else:
                app.post_message(StoryProgressed(stop, story=story))

        self.on_progress("reading …")
        app.run_worker(work, thread=True, group="story")

    def _say_faults(self, story: Story | None) -> None:
        """Record errors of the program because of which figures of a story are missing, and say so."""
        rows = [row for row in story.rows if row.faults] if story is not None else []
        for row in rows:
            for fault in row.faults:
                self._app.workspace.note_fault(fault)
        if rows:
            names = ", ".join(dict.fromkeys(row.file for row in rows))
            self._app.say(f"Some figures are left out because of a fault in the program; please report it: {names}")
