"""Says on opening a job that its machine has been set up differently since, in a newer job."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.worker import get_current_worker

from stanchion.base.text import clean
from stanchion.ui.core import CoreApp
from stanchion.ui.idle import LowPriority
from stanchion.ui.keys import shown

if TYPE_CHECKING:
    from stanchion.bench.newer_setup import NewerSetup

LOOK_AFTER_S = 1.0
"""How long after a job was opened to look: the figures and other copies come first."""


class MachineSetSince:
    """Looks for a newer job of the open job's machine.

    Args:
        app: the application.
    """

    def __init__(self, app: CoreApp) -> None:
        self._app = app
        self._workspace = app.workspace

    def job_opened(self) -> None:
        """Look in a moment, on another thread."""
        name = self._workspace.open_name
        self._app.set_timer(LOOK_AFTER_S, lambda: self._begin(name))

    def _begin(self, name: str) -> None:
        session = self._app.session
        if session is None or name != self._workspace.open_name or self._workspace.opened_in_place is not None:
            return
        job = session.job

        def look() -> None:
            from stanchion.bench.newer_setup import newer_setup  # noqa: PLC0415 - not needed to start

            worker = get_current_worker()
            try:
                found = newer_setup(self._workspace.library, name, job, LowPriority(worker).given_up)
            except OSError:
                return  # the list of jobs says why the folder cannot be read
            if found is not None and not worker.is_cancelled:
                self._app.call_from_thread(self._say, name, found)

        self._app.run_worker(look, thread=True, exclusive=True, group="set since", exit_on_error=False)

    def _say(self, name: str, found: NewerSetup) -> None:
        if name != self._workspace.open_name:
            return
        of = found.occasion
        whose = ", ".join(clean(part, 40) for part in (of.date.isoformat(), of.rider, of.venue) if part)
        things = "1 thing differs" if found.differences == 1 else f"{found.differences} things differ"
        self._app.say(
            f"This machine has been set up differently since: {whose}; {things}. To set it as here, open that job "
            f"({clean(found.name, 80)}) and choose this one under {shown(self._app.key('screen.worklist').keys)}."
        )
