"""Other copies of the open job as the user meets them: said, set side by side, merged."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from textual.worker import get_current_worker

from stanchion.base.errors import StanchionError
from stanchion.base.text import clean
from stanchion.bench.workspace import Workspace
from stanchion.job.model import Job
from stanchion.ui.core import CoreApp
from stanchion.ui.idle import Leisure
from stanchion.ui.screens.job_screen import JobScreen

if TYPE_CHECKING:
    from stanchion.bench.joining import Beside
    from stanchion.store.other_copies import OtherCopies

LOOK_AFTER_S = 0.3
"""The figures come first: so long after a job was opened."""
LOOK_EVERY_S = 20.0
MOST_ASKED = 6


class MergingApp(CoreApp):
    """Finds other copies of the open job, and merges."""

    def __init__(self, workspace: Workspace, today: Callable[[], dt.date]) -> None:
        super().__init__(workspace, today)
        self.copies: tuple[str, ...] = ()
        """File names of the other copies of the open job."""
        self._finder: OtherCopies | None = None
        """What finds the copies and knows which other files were read; only for the screen's thread."""

    # --- finding --------------------------------------------------------------------------------------------------

    def look_for_copies(self) -> None:
        """See whether there are other copies of the open job, off this thread."""
        if self.session is None:
            return
        finder = self._finder
        if finder is not None and finder.name != self.workspace.open_name:
            finder = None
        self.run_worker(lambda: self._look(finder), thread=True, exclusive=True, group="copies", exit_on_error=False)

    def _look(self, finder: OtherCopies | None) -> None:
        """On a thread of its own: look with this finder, or with a new one."""
        worker = get_current_worker()
        if finder is None:
            from stanchion.bench.joining import copies_of_open  # noqa: PLC0415 - not needed to start

            finder = copies_of_open(self.workspace)
            if finder is None:
                return
            self.call_from_thread(self._take_finder, finder)
        try:
            found = finder.look(Leisure(worker).given_up)
        except OSError:
            return  # the list says why the folder cannot be read
        if found is not None and not worker.is_cancelled:
            self.call_from_thread(self.take_copies, finder.name, found)

    def _take_finder(self, finder: OtherCopies) -> None:
        """Look with this finder the next time."""
        if finder.name == self.workspace.open_name:
            self._finder = finder

    def take_copies(self, name: str, found: Sequence[str]) -> None:
        """Other copies of the job of that name have been found, or there are none any more."""
        if name != self.workspace.open_name or tuple(found) == self.copies:
            return
        self.copies = tuple(found)
        if isinstance(self.screen, JobScreen) and self.screen.stands:
            self.screen.show_derived()

    def job_opened(self) -> None:
        """Another job is open: look anew."""
        self.copies = ()
        self._finder = None
        self.set_timer(LOOK_AFTER_S, self.look_for_copies)

    def copies_words(self) -> str:
        """That there are other copies, and what to do; empty for none."""
        if not self.copies:
            return ""
        more = f" and {len(self.copies) - 1} more" if len(self.copies) > 1 else ""
        return f"Another copy of this job exists: {clean(self.copies[0], 80)}{more}. Esc g merges them field by field."

    def ask_copies(self) -> None:
        """Offer to merge one of the other copies into the open job."""
        answers = [("", "Not now: all copies stay as they are; Esc g asks again")]
        answers += [(name, f"Merge with {clean(name, 100)}") for name in self.copies[:MOST_ASKED]]
        text = "A sync tool or a file manager left it. Only what differs is shown; the copy goes to the bin afterwards."

        def answered(name: str | None) -> None:
            if name:
                self.merge_copy(name)

        self.ask("Another copy of this job exists", text, answers, answered)

    # --- merging --------------------------------------------------------------------------------------------------

    def merge_copy(self, name: str) -> None:
        """Show the open job beside another copy of it."""
        from stanchion.bench.joining import beside_copy  # noqa: PLC0415 - not needed to start

        self.leave_fields()
        self._read_beside(lambda: beside_copy(self.workspace, name))

    def merge_disk(self) -> None:
        """Show the open job beside what somebody else wrote into its file."""
        from stanchion.bench.joining import beside_disk  # noqa: PLC0415 - not needed to start

        self.leave_fields()
        self._read_beside(lambda: beside_disk(self.workspace))

    def merge_ended(self) -> None:
        """The merge screen was left, one way or the other."""
        self.look_for_copies()

    def _read_beside(self, reading: Callable[[], Beside]) -> None:
        def work() -> None:
            try:
                if self.session is not None and self.session.read_only:
                    raise StanchionError("This job must not be written, so nothing can be merged into it.")
                beside = reading()
            except StanchionError as error:
                self.call_from_thread(self.say, str(error))
                self.call_from_thread(self.merge_ended)
            else:
                self.call_from_thread(self._show_merge, beside)

        self.run_worker(work, thread=True, exclusive=True, group="settling")

    def _show_merge(self, beside: Beside) -> None:
        from stanchion.ui.screens.merge import MergeScreen  # noqa: PLC0415 - not needed to start

        def answered(merge: bool | None) -> None:
            if merge:
                self.run_worker(lambda: self._merge(beside), thread=True, exclusive=True, group="settling")
            else:
                self.say("Nothing was merged: both stay as they are.")
                self.merge_ended()

        other = beside.other.path.name if beside.is_copy else "what another program wrote into this file"
        heads = (f"{self.workspace.open_name}, on this screen", other)
        self.push_screen(MergeScreen(beside.merging, heads), answered)

    def _merge(self, beside: Beside) -> None:
        """On a thread of its own: the merged job is on disk before anything is put away."""
        from stanchion.bench.joining import keep_before, put_away  # noqa: PLC0415 - not needed to start

        merged = beside.merging.merged.job
        try:
            if self.session is None or self.session.job != beside.merging.left:
                raise StanchionError("Nothing was merged: the job was changed meanwhile. Merge once more.")
            if beside.is_copy:
                keep_before(self.workspace)
                self.call_from_thread(self._take_merged, merged, save=True)
                where = put_away(self.workspace, beside.other)
                told = f"Merged and saved. The copy lies in the bin: {where}"
            else:
                self.workspace.merge_with_theirs(merged, beside.other)
                self.call_from_thread(self._take_merged, merged, save=False)
                told = "Merged and saved. Both states from before are kept; Undo leads back to mine."
        except StanchionError as error:
            told = str(error)
        self.call_from_thread(self.say, told)
        self.call_from_thread(self.merge_ended)

    def _take_merged(self, job: Job, *, save: bool) -> None:
        if self.session is not None:
            self.session.replace(job, save=save)
        self.refresh_bench()
