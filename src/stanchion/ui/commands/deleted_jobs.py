"""Moving jobs to the bin, bringing them back, emptying the bin."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from stanchion.base.errors import StanchionError
from stanchion.ui.core import CoreApp
from stanchion.ui.keys import shown

if TYPE_CHECKING:
    from stanchion.store.deleted import Deleted


class DeletedJobs:
    """The bin, as the list of jobs uses it.

    Args:
        app: the application.
        list_again: reads the list again, called after every change.
    """

    def __init__(self, app: CoreApp, list_again: Callable[[], None]) -> None:
        self._app = app
        self._workspace = app.workspace
        self._list_again = list_again

    def ask_to_delete(self, name: str) -> None:
        """Move a job to the bin, after asking; the open job stays where it is."""
        if not name:
            self._app.say("No job is chosen: choose the one to move to the bin.")
            return
        if name == self._workspace.open_name:
            self._app.say("This job is open. Open another one first, then move this one to the bin.")
            return

        def answered(answer: str | None) -> None:
            if answer == "bin":
                self._change(lambda: self._delete(name))
            else:
                self._list_again()

        answers = (("keep", "Keep it"), ("bin", "Move it to the bin; it can be brought back"))
        self._app.ask("Move this job to the bin?", name, answers, answered)

    def open(self) -> None:
        """Show the deleted jobs: Enter brings one back."""
        from stanchion.ui.screens.bin import BinScreen  # noqa: PLC0415 - seldom needed

        deleted = self._workspace.library.bin.list()
        self._app.push_screen(BinScreen(deleted, self._app.today()), self._closed)

    def _delete(self, name: str) -> str:
        where = self._workspace.delete(name)
        return f"'{name}' is in the bin, as {where.name}. {shown(self._app.key('jobs.bin').keys)} shows the bin."

    def _closed(self, answer: Deleted | str | None) -> None:
        """Do what was chosen in the bin."""
        if answer == "empty":
            self._ask_to_empty()
        elif answer is None or isinstance(answer, str):
            self._list_again()
        else:
            library = self._workspace.library
            self._change(lambda: f"'{library.restore(answer).name}' is back among the jobs.")

    def _ask_to_empty(self) -> None:
        bin_ = self._workspace.library.bin
        count = len(bin_.list())
        jobs = f"{count} deleted job{'s' if count != 1 else ''}"

        def answered(answer: str | None) -> None:
            if answer == "empty":
                self._change(lambda: f"The bin is empty: {bin_.empty()} gone for good.")
            else:
                self._list_again()

        self._app.ask(
            "Empty the bin?",
            f"{jobs} will be gone for good and cannot be brought back.",
            (("keep", "Keep them"), ("empty", f"Destroy {jobs}")),
            answered,
        )

    def _change(self, change: Callable[[], str]) -> None:
        """Change the content of the jobs folder on a worker thread, then list it again.

        Args:
            change: waits for the disk, and returns what to say.
        """

        def work() -> None:
            try:
                words = change()
            except StanchionError as error:
                words = str(error)
            self._app.call_from_thread(self._changed, words)

        self._app.run_worker(work, thread=True, group="changing jobs")

    def _changed(self, words: str) -> None:
        self._app.say(words)
        self._list_again()
