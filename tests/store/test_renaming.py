"""The file of a job follows who, what and when; nothing that belongs to it is lost on the way."""

from __future__ import annotations

import contextlib
import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from stanchion.job.carry import carried
from stanchion.job.model import Attached, Job
from stanchion.store.autosave import Autosave
from stanchion.store.disk import Disk
from stanchion.store.drafts import Kept
from stanchion.store.jobfile import JobFile
from stanchion.store.library import Library, Opened
from stanchion.store.names import file_name
from stanchion.store.open_jobs import OpenJob

TODAY = dt.date(2026, 11, 28)


def made(library: Library, job: Job, **occasion: object) -> Opened:
    """A job with a file and an id."""
    about = replace(job.job, id="a1", machine="Grey Mule", rider="A. Venn", **occasion)  # type: ignore[arg-type]
    return library.create(replace(job, job=about))


def ridden_by(job: Job, rider: str) -> Job:
    return replace(job, job=replace(job.job, rider=rider))


def names(library: Library) -> list[str]:
    return sorted(one.name for one in library.places.jobs.iterdir())


def test_the_file_follows_with_its_earlier_states_and_is_whole(library: Library, job: Job) -> None:
    opened = made(library, job)
    file = JobFile(library, opened)
    file.save(other := ridden_by(opened.job, "N. N."))
    before = library.history.states(opened.path)
    assert file.follow() == (opened.path.name, file_name(other.job))
    assert names(library) == [file_name(other.job)] == [file.path.name]
    assert library.open(file.path).job == other
    assert [one.path.name for one in library.history.states(file.path)] == [one.path.name for one in before]
    assert not library.history.states(opened.path)
    assert file.follow() is None
    file.save(third := ridden_by(other, "A. Venn"))  # work goes on under the new name
    assert library.open(file.path).job == third


def test_a_name_that_is_taken_stays_with_its_file(library: Library, job: Job) -> None:
    theirs = made(library, ridden_by(job, "x"), notes="theirs")
    mine = library.create(replace(theirs.job, job=replace(theirs.job.job, id="b2", rider="N. N.", notes="mine")))
    file = JobFile(library, mine)
    file.save(now := ridden_by(mine.job, "A. Venn"))
    assert file.follow() is not None
    assert file.path.name == theirs.path.name.replace(".toml", "-2.toml")
    assert library.open(theirs.path).job == theirs.job
    assert library.open(file.path).job == now


@pytest.mark.parametrize("case", ["named by a person", "no id", "outside", "read-only", "a link", "changed by another"])
def test_other_files_keep_their_names(library: Library, job: Job, tmp_path: Path, case: str) -> None:
    opened = made(library, job)
    path = opened.path
    if case == "no id":
        path.unlink()
        opened = library.create(replace(opened.job, job=replace(opened.job.job, id="")))
    if case in ("named by a person", "outside"):
        path = path.rename(tmp_path / path.name if case == "outside" else path.with_name("sunday.toml"))
    if case == "a link":
        aside = path.rename(tmp_path / "aside.toml")
        path.symlink_to(aside)
    file = JobFile(library, library.open(path))
    file.save(ridden_by(opened.job, "N. N."))
    if case == "read-only":
        path.chmod(0o400)
        file = JobFile(library, library.open(path))
    if case == "changed by another":
        path.write_bytes(path.read_bytes() + b"# theirs\n")
    assert file.follow() is None
    assert file.path == path
    assert path.exists()


def test_a_name_from_an_earlier_session_that_was_killed_is_caught_up(library: Library, job: Job) -> None:
    opened = made(library, job)
    JobFile(library, opened).save(ridden_by(opened.job, "N. N."))  # and killed before it followed
    again = JobFile(library, library.open(opened.path))
    again.save(replace(again.opened.job, job=replace(again.opened.job.job, notes="on")))
    assert again.follow() is not None
    assert names(library) == [file_name(again.opened.job.job)]


class Cut(RuntimeError):
    """The program is killed."""


class Killed(Disk):
    """Kills the program at one of the calls that change something."""

    def __init__(self, after: int) -> None:
        self.left = after

    def _count(self) -> None:
        if not self.left:
            raise Cut
        self.left -= 1

    def settle(self, source: Path, target: Path) -> None:
        self._count()
        super().settle(source, target)

    def unlink(self, path: Path) -> None:
        self._count()
        super().unlink(path)

    def replace(self, source: Path, target: Path) -> None:
        self._count()
        super().replace(source, target)

    def mkdir(self, path: Path) -> None:
        self._count()
        super().mkdir(path)

    def link(self, source: Path, target: Path) -> None:
        self._count()
        super().link(source, target)


@pytest.mark.parametrize("calls", range(6))
@pytest.mark.parametrize("start", ["old", "new"])
def test_killed_on_the_way_there_is_one_whole_file_and_the_next_renaming_ends_it(
    library: Library, job: Job, calls: int, start: str
) -> None:
    opened = made(library, job)
    file = JobFile(library, opened)
    file.save(now := ridden_by(opened.job, "N. N."))
    kept = {one.path.name for one in library.history.states(file.path)}
    disk = Killed(calls)
    file.disk = library.disk = library.history.disk = disk
    with contextlib.suppress(Cut):
        file.follow()
    file.disk = library.disk = library.history.disk = Disk()
    found = sorted(library.places.jobs.glob("*.toml"))
    assert len({one.stat().st_ino for one in found}) == 1
    assert all(library.open(one).job == now for one in found)
    wanted = library.places.jobs / (opened.path.name if start == "old" else file_name(now.job))
    again = JobFile(library, library.open(wanted if wanted in found else found[0]))
    again.follow()
    assert names(library) == [file_name(now.job)]
    assert {one.path.name for one in library.history.states(again.path)} == kept


PHOTO = b"\xff\xd8photo"


def with_copy_and_sheets(library: Library, job: Job) -> Opened:
    """A job with an attached copy beside it, and with sheets."""
    opened = made(library, job)
    stem = opened.path.stem
    copy = library.places.jobs / "files" / stem / "fork.jpg"
    copy.parent.mkdir(parents=True)
    copy.write_bytes(PHOTO)
    library.places.sheets.mkdir()
    for ending in ("txt", "html"):
        (library.places.sheets / f"{stem}.{ending}").write_text(ending)
    file = JobFile(library, opened)
    file.save(replace(opened.job, attached=(Attached(path=f"files/{stem}/fork.jpg"), Attached(path="../else.pdf"))))
    return file.opened


def copies(library: Library) -> list[str]:
    return sorted(one.relative_to(library.places.jobs).as_posix() for one in library.places.jobs.glob("files/*/*"))


def test_copies_of_attached_files_and_sheets_follow_with_their_links(library: Library, job: Job) -> None:
    file = JobFile(library, with_copy_and_sheets(library, job))
    file.save(edited := ridden_by(file.opened.job, "N. N."))
    assert file.follow() is not None
    stem = file.path.stem
    assert copies(library) == [f"files/{stem}/fork.jpg"]
    assert [one.name for one in library.places.jobs.glob("files/*")] == [stem]
    assert library.open(file.path).job.attached == (Attached(path=copies(library)[0]), Attached(path="../else.pdf"))
    assert sorted(one.name for one in library.places.sheets.iterdir()) == [f"{stem}.html", f"{stem}.txt"]
    file.save(replace(edited, job=replace(edited.job, notes="typed meanwhile")))  # still with the links of before
    assert library.open(file.path).job.attached[0].path == copies(library)[0]


def test_a_copy_that_another_job_leads_to_keeps_its_old_name_too(library: Library, job: Job) -> None:
    opened = with_copy_and_sheets(library, job)
    other = library.copy_beside(replace(opened.job, job=replace(opened.job.job, id="b2")), opened.path, ())
    file = JobFile(library, opened)
    file.save(ridden_by(opened.job, "N. N."))
    assert file.follow() is not None
    assert copies(library) == sorted([f"files/{opened.path.stem}/fork.jpg", f"files/{file.path.stem}/fork.jpg"])
    assert (library.places.jobs / library.open(other.path).job.attached[0].path).read_bytes() == PHOTO


def test_a_copy_or_sheet_whose_new_name_is_taken_stays_where_the_job_leads(library: Library, job: Job) -> None:
    file = JobFile(library, with_copy_and_sheets(library, job))
    file.save(now := ridden_by(file.opened.job, "N. N."))
    stem = file_name(now.job).removesuffix(".toml")
    theirs = library.places.jobs / "files" / stem / "fork.jpg"
    theirs.parent.mkdir()
    theirs.write_bytes(b"theirs")
    (library.places.sheets / f"{stem}.txt").write_text("theirs")
    assert file.follow() is not None
    assert (library.places.jobs / library.open(file.path).job.attached[0].path).read_bytes() == PHOTO
    assert theirs.read_bytes() == b"theirs"
    assert (library.places.sheets / f"{stem}.txt").read_text() == "theirs"
    assert len(list(library.places.sheets.iterdir())) == 3


@pytest.mark.parametrize("calls", range(14))
def test_killed_on_the_way_every_link_leads_to_its_copy(library: Library, job: Job, calls: int) -> None:
    opened = with_copy_and_sheets(library, job)
    file = JobFile(library, opened)
    file.save(ridden_by(opened.job, "N. N."))
    file.disk = library.disk = library.history.disk = Killed(calls)
    with contextlib.suppress(Cut):
        file.follow()
    file.disk = library.disk = library.history.disk = Disk()
    for one in library.places.jobs.glob("*.toml"):
        assert (library.places.jobs / library.open(one).job.attached[0].path).read_bytes() == PHOTO
    assert {one.suffix for one in library.places.sheets.iterdir()} == {".txt", ".html"}
    again = JobFile(library, library.open(next(library.places.jobs.glob("*.toml"))))
    again.follow()
    assert f"files/{again.path.stem}/fork.jpg" in copies(library)
    assert library.open(again.path).job.attached[0].path == f"files/{again.path.stem}/fork.jpg"


def test_another_program_that_has_the_job_open_goes_on_under_the_new_name(library: Library, job: Job) -> None:
    opened = made(library, job)
    mine, theirs = JobFile(library, opened), None
    mine.save(now := ridden_by(opened.job, "N. N."))
    theirs = JobFile(library, library.open(opened.path))
    assert mine.follow() is not None
    theirs.save(later := replace(now, job=replace(now.job, notes="theirs")))
    assert names(library) == [mine.path.name]
    assert library.open(mine.path).job == later


def test_a_job_carried_from_it_finds_it_by_its_id(library: Library, job: Job) -> None:
    opened = made(library, job)
    file = JobFile(library, opened)
    next_one = carried(opened.job, opened.path.name, TODAY)
    file.save(now := ridden_by(opened.job, "N. N."))
    assert file.follow() is not None
    assert library.previous(next_one) == now
    made_of_it = library.create(next_one)
    judged: list[Job | None] = []

    def judge(job: Job, before: Job | None) -> tuple[str, str]:
        if job.job.carried_from == opened.path.name:
            judged.append(before)
        return "", ""

    theirs = library.create(replace(opened.job, job=replace(opened.job.job, id="z9")))
    assert theirs.path == opened.path  # another job has the name by now
    assert len(Library(library.places, judge).rows()) == 3
    assert judged == [now]
    theirs.path.unlink()
    assert len(Library(library.places, judge).rows()) == 2
    assert judged[1:] in ([now], [])  # the list knows it by its index, or has judged it anew, not without it
    made_of_it.path.unlink()
    stranger = replace(next_one, job=replace(next_one.job, carried_id="c3"))
    assert library.previous(stranger) is None


def test_closing_an_open_job_lets_the_name_follow_and_unread_text_goes_along(library: Library, job: Job) -> None:
    opened = made(library, job)
    said: list[tuple[str, str]] = []
    one = OpenJob(library, opened, lambda job, state: None, on_renamed=lambda *both: said.append(both))
    one.keep(kept := Kept({("front", "travel_mm"): "12x"}))
    one.saver.submit(now := ridden_by(opened.job, "N. N."))
    assert one.close()
    assert said == [(opened.path.name, file_name(now.job))]
    again = OpenJob(library, library.open(one.file.path), lambda job, state: None)
    assert again.kept() == kept
    assert again.close()


def test_a_resting_autosave_calls_once_all_is_written_and_goes_on_saving(library: Library, job: Job) -> None:
    file = JobFile(library, made(library, job))
    quiet: list[str] = []
    saver = Autosave(file, on_quiet=lambda: quiet.append(file.opened.job.job.rider))
    saver.submit(ridden_by(file.opened.job, "N. N."))
    saver.rest()
    assert saver.flush()
    saver.submit(ridden_by(file.opened.job, "O. O."))
    assert saver.close()
    assert quiet == ["N. N.", "O. O."]
