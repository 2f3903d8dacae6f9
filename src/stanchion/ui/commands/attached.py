"""The command for the files attached to a job: what is there and missing, opening one, copying one beside the job."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import PurePath
from typing import TYPE_CHECKING

from stanchion.base.errors import StanchionError
from stanchion.base.text import clean
from stanchion.bench.pasted_pairs import SUFFIXES
from stanchion.job.edit import Edit
from stanchion.job.model import SIDES, Job, Path
from stanchion.ui.core import CoreApp
from stanchion.wording.labels import part_label, uncapitalised

if TYPE_CHECKING:
    from stanchion.bench.attached_files import AttachedFile
    from stanchion.bench.current_job import CurrentJob

GROUP = "attached"


def path_of(at: int) -> Path:
    """The field of one attached file."""
    return ("attached", at, "path")


def _testers(job: Job) -> Iterator[tuple[tuple[str, ...], str]]:
    """The lists of pairs of each spring's tester, and the name of the part each is of."""
    for at in (*(("front", side) for side in (SIDES if job.front.split else SIDES[:1])), ("rear",)):
        yield (*at, "spring", "coils", "tester"), uncapitalised(part_label(at, both_legs=not job.front.split))


class AttachedFiles:
    """Shows, opens and copies the files attached to the open job.

    Args:
        app: the application.
    """

    def __init__(self, app: CoreApp) -> None:
        self._app = app

    def show(self) -> None:
        """Look where the files are, and offer what can be done with each."""
        current = self._app.workspace.current
        if current is None:
            self._app.say("Open a job first: files are attached to a job.")
            return
        self._app.leave_fields()

        def look() -> None:
            from stanchion.bench.attached_files import look_at  # noqa: PLC0415 - not needed to start

            found = look_at(current.session.job, current.open_job.file.path)
            self._app.call_from_thread(self._offer, current, found)

        self._app.run_worker(look, thread=True, exclusive=True, group=GROUP)

    def question(self, at: int) -> None:
        """Say so if a file whose path was just typed is not there."""
        current = self._app.workspace.current
        if current is None or at >= len(current.session.job.attached):
            return
        job, file = current.session.job, current.open_job.file.path

        def look() -> None:
            from stanchion.bench.attached_files import look_at  # noqa: PLC0415 - not needed to start

            one = look_at(job, file)[at]
            if not one.there:
                words = f"There is no file '{clean(one.path, 80)}'. It stays on the list as typed."
                self._app.call_from_thread(self._app.say, words)

        self._app.run_worker(look, thread=True, exclusive=True, group=GROUP)

    def _offer(self, current: CurrentJob, found: list[AttachedFile]) -> None:
        if self._app.workspace.current is not current:
            return
        job = current.session.job
        if [path_of(one.at) for one in found] == [path_of(at) for at in range(len(job.attached))]:
            edits = [Edit(path_of(one.at), one.path) for one in found if one.path != job.attached[one.at].path]
            if edits and not current.session.read_only:
                self._app.refresh_after(current.session.put_all(edits))
        answers = [(f"open {one.at}", f"Open {clean(one.path, 60)}") for one in found if one.there]
        if not current.session.read_only:
            for one in (one for one in found if one.there and one.where.suffix.lower() in SUFFIXES):
                name = clean(one.where.name, 30)
                answers += [
                    (f"{'.'.join(rows)} {one.at}", f"Take {name} as pairs of the spring tester: {words}")
                    for rows, words in _testers(job)
                ]
            away = (one for one in found if one.there and not one.beside)
            answers += [(f"copy {one.at}", f"Copy {clean(one.where.name, 40)} beside the job") for one in away]
            answers.append(("add", "Attach a file: type its path on the machine screen, then give this command again"))
        answers.append(("", "Back"))
        missing = [clean(one.path, 60) for one in found if not one.there]
        text = f"MISSING: {'; '.join(missing)}. " if missing else ""
        text += "The files stay where they are; empty a line to take one off the list." if found else "None so far."
        self._app.ask("Attached files", text, answers, lambda answer: self._chosen(current, found, answer or ""))

    def _chosen(self, current: CurrentJob, found: list[AttachedFile], answer: str) -> None:
        what, _, at = answer.partition(" ")
        if what == "add":
            self._app.jump(path_of(len(current.session.job.attached)))
            return
        one = next((one for one in found if str(one.at) == at), None)
        if one is not None and what not in ("open", "copy"):
            rows = tuple(what.split("."))
            self._app.jump((*rows, 0, "length_mm"))
            self._app.take_pairs(rows, str(one.where))
        elif one is not None:
            work = self._opening(one) if what == "open" else self._copying(current, one)
            self._app.run_worker(work, thread=True, exclusive=True, group=GROUP)

    def _opening(self, one: AttachedFile) -> Callable[[], None]:
        def work() -> None:
            from stanchion.bench.attached_files import open_file  # noqa: PLC0415 - not needed to start

            try:
                open_file(one.where)
            except StanchionError as error:
                self._app.call_from_thread(self._app.say, str(error))

        return work

    def _copying(self, current: CurrentJob, one: AttachedFile) -> Callable[[], None]:
        def work() -> None:
            from stanchion.bench.attached_files import copy_beside  # noqa: PLC0415 - not needed to start

            file = current.open_job.file.path
            try:
                path = copy_beside(one.where, file.parent, PurePath(file.name).stem)
            except StanchionError as error:
                self._app.call_from_thread(self._app.say, str(error))
            else:
                self._app.call_from_thread(self._copied, current, one, path)

        return work

    def _copied(self, current: CurrentJob, one: AttachedFile, path: str) -> None:
        attached = current.session.job.attached
        if one.at < len(attached) and attached[one.at].path == one.path:
            refused = current.session.put(path_of(one.at), path)
            self._app.refresh_after(refused)
            if not refused:
                self._app.say(f"Copied to {path}, which moves with the jobs folder.")
