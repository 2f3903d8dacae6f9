"""Commands that follow one machine: read its story, mark a row, compare two, go to one."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.message import Message
from textual.screen import ModalScreen

from stanchion.base.errors import StanchionError
from stanchion.base.progress import Seldom, Stop
from stanchion.ui.commands.jobs import LibraryApp
from stanchion.ui.keys import shown

if TYPE_CHECKING:
    from stanchion.bench.story_reading import Story
    from stanchion.planning.machine_story import StoryRow
    from stanchion.ui.screens.story import StoryScreen


class FollowingApp(LibraryApp):
    """Which machine is followed."""

    story: Story | None = None
    """What was read; None while nothing has been yet."""
    _stopper: Stop | None = None
    _followed = ("", "")
    """The machine, and file name of the job gone out from."""
    _from_list = False

    class Told(Message):
        """How far reading is, or what came of it."""

        def __init__(self, stop: Stop, words: str = "", story: Story | None = None, problem: str = "") -> None:
            self.asked = stop
            self.words = words
            self.story = story
            self.problem = problem
            super().__init__()

    @property
    def reading(self) -> bool:
        """Whether a story is being read."""
        return self._stopper is not None

    def action_story(self) -> None:
        """All occasions and runs of the machine under the bar of the list, or of the open job's."""
        listed = self.list_shown
        if isinstance(self.screen, ModalScreen):
            return
        if listed is not None:
            row = listed.chosen_row()
            if row is None or row.problem:
                self.say("Choose a job that can be read; then its machine can be followed.")
                return
            self._followed = row.machine, row.name
        elif self.current_mode == "story":
            pass  # the same one again
        elif self.session is not None:
            self._followed = self.session.job.job.machine, self.workspace.open_name
        else:
            self.action_go("jobs")
            return
        if self.current_mode != "story":
            self._from_list = listed is not None
        self.action_go("story")
        self._read_story(*self._followed)

    def _read_story(self, machine: str, name: str) -> None:
        from stanchion.bench.story_reading import story_of  # noqa: PLC0415 - not needed to start

        self.drop_listing()  # judging a long list would only take time from this
        if self._stopper is not None:
            self._stopper.dropped = True
        stop = self._stopper = Stop()
        self.story = None
        held = (
            {self.workspace.open_name: self.session.job}
            if self.session is not None and self.workspace.open_name
            else {}
        )
        seldom = Seldom()

        def progress(what: str, done: int, of: int) -> None:
            if seldom.now():
                self.post_message(self.Told(stop, f"{done} of {of} files {what} …"))

        def work() -> None:
            library, profiles = self.workspace.library, self.workspace.profiles
            try:
                story = story_of(library, profiles, machine, name, instead=held, progress=progress, stop=stop)
            except StanchionError as error:
                self.post_message(self.Told(stop, problem=str(error)))
            else:
                self.post_message(self.Told(stop, story=story))

        self._show_story("reading …")
        self.run_worker(work, thread=True, group="story")

    def on_unmount(self) -> None:
        """Leaving waits for no reading."""
        if self._stopper is not None:
            self._stopper.dropped = True

    def stop_story(self) -> None:
        """Show what was read so far."""
        if self._stopper is not None:
            self._stopper.said = True

    def on_following_app_told(self, message: Told) -> None:
        """Show it, unless another machine was asked for meanwhile."""
        if message.asked is not self._stopper:
            return
        if message.story is not None or message.problem:
            self.story, self._stopper = message.story, None
            self._tell_faults(message.story)
        self._show_story(message.words or message.problem)

    def _tell_faults(self, story: Story | None) -> None:
        """Write down the errors of the program that left figures of a story out, and say so."""
        rows = [row for row in story.rows if row.faults] if story is not None else []
        for row in rows:
            for fault in row.faults:
                self.workspace.note_fault(fault)
        if rows:
            names = ", ".join(dict.fromkeys(row.file for row in rows))
            self.say(f"Some figures are left out by a fault of the program, please report it: {names}")

    def _show_story(self, words: str) -> None:
        screen = self._story_screen()
        if screen is not None:
            screen.show(words)

    def _story_screen(self) -> StoryScreen | None:
        from stanchion.ui.screens.story import StoryScreen  # noqa: PLC0415 - not needed to start

        return next((screen for screen in self.screen_stack if isinstance(screen, StoryScreen)), None)

    def leave_story(self) -> None:
        """Back to where it was asked for."""
        self.action_go("jobs" if self._from_list or self.session is None else self.last_part)

    def open_row(self, row: StoryRow) -> None:
        """Open the job of a row, at its run where it is one."""
        self.open_named(row.file)
        if row.at is not None and self.workspace.open_name == row.file:
            self.jump(("runs", row.at, "front_marker_mm"))

    def action_mark_row(self) -> None:
        """The row under the bar is the one to compare others with."""
        screen = self._story_screen()
        if screen is not None and screen is self.screen:
            screen.mark()

    def action_compare_rows(self) -> None:
        """From the marked row to the one under the bar; without a mark, from that one to the open job as it is now."""
        screen = self._story_screen()
        if screen is None or screen is not self.screen:
            return
        from stanchion.planning.machine_story import row_of  # noqa: PLC0415 - not needed to start

        chosen, marked = screen.chosen(), screen.marked
        if chosen is None:
            return
        if marked is not None:
            pair = marked, chosen
        elif chosen.at is None and chosen.file == self.workspace.open_name:
            mark = shown(self.key("story.mark").keys)
            self.say(f"This row is the open job itself: go to another, or mark one with {mark} first.")
            return
        elif self.session is not None:
            pair = chosen, row_of(self.workspace.open_name, self.session.job, None, self.workspace.profiles)
        else:
            self.say(f"Mark a row with {shown(self.key('story.mark').keys)} first, then go to the one to compare.")
            return
        self.show_comparison(*pair)
