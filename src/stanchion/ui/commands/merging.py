"""Other copies of the open job: finding them, showing two states side by side, merging."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from textual.worker import get_current_worker

from stanchion.base.errors import StanchionError
from stanchion.base.text import clean
from stanchion.job.model import Job
from stanchion.ui.core import CoreApp
from stanchion.ui.idle import LowPriority

if TYPE_CHECKING:
    from stanchion.bench.current_job import CurrentJob
    from stanchion.bench.settling import SideBySide
    from stanchion.store.library import Opened
    from stanchion.store.other_copies import OtherCopies

LOOK_AFTER_S = 0.3
"""How long after a job was opened to look for copies: the figures come first."""
LOOK_EVERY_S = 20.0
MOST_ASKED = 6
"""How many copies a question offers at most."""
CHANGED_MEANWHILE = "Nothing was merged: the job was changed meanwhile. Merge once more."


class Merging:
    """Finds other copies of the open job, and merges.

    Args:
        app: the application.
    """

    def __init__(self, app: CoreApp) -> None:
        self._app = app
        self._workspace = app.workspace
        self._finder: OtherCopies | None = None
        """The finder of copies, which knows the files it has read; only for the screen's thread."""
        self.on_ended: Callable[[], None] = lambda: None
        """Called when a merge has ended, with whatever result."""

    # --- finding --------------------------------------------------------------------------------------------------

    def look_for_copies(self) -> None:
        """Look for other copies of the open job, on another thread."""
        if self._app.session is None:
            return
        finder = self._finder
        if finder is not None and finder.name != self._workspace.open_name:
            finder = None
        self._app.run_worker(
            lambda: self._look(finder), thread=True, exclusive=True, group="copies", exit_on_error=False
        )

    def _look(self, finder: OtherCopies | None) -> None:
        """On a worker thread: look with this finder, or with a new one."""
        worker = get_current_worker()
        if finder is None:
            from stanchion.bench.settling import copies_of_open  # noqa: PLC0415 - not needed to start

            finder = copies_of_open(self._workspace)
            if finder is None:
                return
            self._app.call_from_thread(self._take_finder, finder)
        try:
            found = finder.look(LowPriority(worker).given_up)
        except OSError:
            return  # the list of jobs says why the folder cannot be read
        if found is not None and not worker.is_cancelled:
            self._app.call_from_thread(self.take_copies, finder.name, found)

    def _take_finder(self, finder: OtherCopies) -> None:
        """Look with this finder the next time."""
        if finder.name == self._workspace.open_name:
            self._finder = finder

    def take_copies(self, name: str, found: Sequence[str]) -> None:
        """Show that there are these other copies of the job of that name, or none any more."""
        if name != self._workspace.open_name or tuple(found) == self._app.copies:
            return
        self._app.copies = tuple(found)
        self._app.shown.show_derived()

    def job_opened(self) -> None:
        """Look again, because another job is open."""
        self._app.copies = ()
        self._finder = None
        self._app.set_timer(LOOK_AFTER_S, self.look_for_copies)

    def ask_copies(self) -> None:
        """Offer to merge one of the other copies into the open job."""
        answers = [("", "Not now: all copies stay as they are; Esc g asks again")]
        answers += [(name, f"Merge with {clean(name, 100)}") for name in self._app.copies[:MOST_ASKED]]
        text = "A sync tool or a file manager left it. Only what differs is shown; the copy goes to the bin afterwards."

        def answered(name: str | None) -> None:
            if name:
                self.merge_copy(name)

        self._app.ask("Another copy of this job exists", text, answers, answered)

    # --- merging --------------------------------------------------------------------------------------------------

    def merge_copy(self, name: str) -> None:
        """Show the open job beside another copy of it."""
        from stanchion.bench.settling import beside_copy  # noqa: PLC0415 - not needed to start

        self._app.leave_fields()
        self._read_beside(lambda: beside_copy(self._workspace, name))

    def merge_disk(self) -> None:
        """Show the open job beside what another program wrote into its file."""
        from stanchion.bench.settling import beside_disk  # noqa: PLC0415 - not needed to start

        self._app.leave_fields()
        self._read_beside(lambda: beside_disk(self._workspace))

    def _ended(self) -> None:
        self.on_ended()
        self.look_for_copies()

    def _read_beside(self, reading: Callable[[], SideBySide]) -> None:
        def work() -> None:
            try:
                if self._app.session is not None and self._app.session.read_only:
                    raise StanchionError("This job must not be written, so nothing can be merged into it.")
                beside = reading()
            except StanchionError as error:
                self._app.call_from_thread(self._app.say, str(error))
                self._app.call_from_thread(self._ended)
            else:
                self._app.call_from_thread(self._show, beside)

        self._app.run_worker(work, thread=True, exclusive=True, group="settling")

    def _show(self, beside: SideBySide) -> None:
        from stanchion.ui.screens.side_by_side import MergeScreen  # noqa: PLC0415 - not needed to start

        def answered(merge: bool | None) -> None:  # noqa: FBT001 - called by Textual
            if merge:
                self._app.run_worker(lambda: self._merge(beside), thread=True, exclusive=True, group="settling")
            else:
                self._app.say("Nothing was merged: both stay as they are.")
                self._ended()

        other = beside.other.path.name if beside.is_copy else "what another program wrote into this file"
        heads = (f"{self._workspace.open_name}, on this screen", other)
        self._app.push_screen(MergeScreen(beside.merging, heads), answered)

    def _merge(self, beside: SideBySide) -> None:
        """On a worker thread: write the merged job, then move the copy to the bin."""
        from stanchion.bench.settling import keep_before, put_away, write_merged  # noqa: PLC0415 - not needed to start

        merged, mine = beside.merging.merged.job, beside.merging.left
        try:
            current = self._workspace.current
            if current is None or current.session.job != mine:
                raise StanchionError(CHANGED_MEANWHILE)
            if beside.is_copy:
                keep_before(self._workspace, beside.other)
                if not self._app.call_from_thread(self._take_merged, current, mine, merged, beside.other):
                    raise StanchionError(CHANGED_MEANWHILE)
                where = put_away(self._workspace, beside.other)
                words = f"Merged and saved. The copy is in the bin: {where}"
            else:
                write_merged(current, merged, beside.other)
                self._app.call_from_thread(self._take_written, current, merged)
                words = "Merged and saved. Both states from before are kept; Undo leads back to mine."
        except StanchionError as error:
            words = str(error)
        self._app.call_from_thread(self._app.say, words)
        self._app.call_from_thread(self._ended)

    def _take_merged(self, current: CurrentJob, mine: Job, merged: Job, copy: Opened) -> bool:
        """Put the merged job in the place of mine, and save it; False if that is no longer the job on the screen."""
        if self._workspace.current is not current or current.session.job != mine:
            return False
        current.open_job.file.merges_in(copy)
        current.session.replace(merged, save=True)
        self._app.refresh_screens()
        return True

    def _take_written(self, current: CurrentJob, merged: Job) -> None:
        """Show the merged job, which its file holds already; another job opened meanwhile stays as it is."""
        current.session.replace(merged)
        self._app.refresh_screens()
