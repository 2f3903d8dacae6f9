"""Commands on the work list: what there is to return to, beginning, ticking, leaving."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from textual.message import Message
from textual.worker import get_current_worker

from stanchion.base.errors import StanchionError
from stanchion.base.progress import Seldom
from stanchion.base.text import clean
from stanchion.job.model import Job
from stanchion.job.returning import AT
from stanchion.ui.commands.recovery import RecoveryApp

if TYPE_CHECKING:
    from stanchion.judgement.work.work import Item
    from stanchion.planning.work_targets import WorkTarget
    from stanchion.store.listing import JobRow


class ReturningApp(RecoveryApp):
    """Returning the machine to an earlier setup."""

    class Offered(Message):
        """The jobs one could return to have been listed."""

        def __init__(self, rows: Sequence[JobRow], problem: str = "", words: str = "") -> None:
            self.rows = rows
            self.problem = problem
            self.words = words
            """How far reading is; empty: it has ended."""
            super().__init__()

    def offer_jobs(self) -> None:
        """List the jobs off this thread: those of the same machine first."""
        self.run_worker(self._offer, thread=True, exclusive=True, group="offering", exit_on_error=False)

    def stop_offering(self) -> None:
        """Nobody waits for the jobs any more."""
        self.workers.cancel_group(self, "offering")

    def _offer(self) -> None:
        worker, seldom = get_current_worker(), Seldom()

        def progress(done: int, of: int) -> None:
            if seldom.now() and not worker.is_cancelled:
                self.post_message(self.Offered((), words=f"{done} of {of} jobs read …"))

        try:
            rows = self.workspace.library.rows(judged=False, progress=progress, cancelled=lambda: worker.is_cancelled)
        except (StanchionError, OSError) as error:
            self.post_message(self.Offered((), str(error)))
            return
        if self.session is not None and not worker.is_cancelled:
            here = self.session.job.job
            machine = here.machine.casefold()
            others = [row for row in rows if row.name != self.workspace.open_name and not row.problem]
            others.sort(key=lambda row: (row.name != here.carried_from, row.machine.casefold() != machine))
            self.post_message(self.Offered(others))

    def on_returning_app_offered(self, message: Offered) -> None:
        """Show them where the screen still asks."""
        from stanchion.ui.screens.worklist import WorkListScreen  # noqa: PLC0415 - not needed to start

        if isinstance(self.screen, WorkListScreen):
            self.screen.offer(message.rows, message.words)
        if message.problem:
            self.say(message.problem)

    def read_job(self, name: str) -> Job | None:
        """Another job, to return to; where it cannot be read, why is said."""
        try:
            return self.workspace.read(name)
        except StanchionError as error:
            self.say(str(error))
            return None

    def begin_work_list(self, target: WorkTarget) -> None:
        """Take a target: its setup is kept in the job, and what differs is the list."""
        session = self.session
        if session is None:
            return
        from stanchion.planning.work_targets import begin, how_far  # noqa: PLC0415 - not needed to start
        from stanchion.wording.work_sentences import target_title  # noqa: PLC0415 - not needed to start

        title = target_title(target)
        if session.judged("work_list", None, how_far, session.job, target) == 0:
            self.say(f"Nothing differs from {title}: there is nothing to do.")
            return

        def answered(answer: str | None) -> None:
            refused = session.put(AT, begin(session.job, target, title)) if answer == "take" else ""
            if refused:
                self.say(refused)
            self.refresh_bench()

        if not target.machine:
            answered("take")
            return
        told = f"{clean(target.machine, 60)}: its springs, lengths and clicks need not suit the machine in hand."
        answers = (("back", "Back: another machine was not meant"), ("take", "Take its setup all the same"))
        self.ask("This is the setup of another machine", told, answers, answered)

    def tick(self, item: Item) -> None:
        """An item is done on the machine: the job takes its values; or it was not, and they go back."""
        session = self.session
        if session is None:
            return
        from stanchion.judgement.work.work_list import ticked, unticked  # noqa: PLC0415 - not needed to start

        edits = unticked(session.job, item) if item.done else ticked(session.job, item)
        if refused := session.put_all(edits):
            self.say(refused)
        self.refresh_bench()

    def action_leave_work_list(self) -> None:
        """Finish the list, or leave it as far as it is; undo brings it back."""
        session = self.session
        if session is None or self.current_mode != "worklist" or session.job.returning is None:
            return
        self.say(session.put(AT, None) or "The work list is put away. Undo brings it back.")
        self.refresh_bench()
