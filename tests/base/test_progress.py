"""Long work reports its progress in a terminal, and ^C stops it between two steps."""

from __future__ import annotations

import io
import os
import signal
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from driving import a_job
from stanchion.base import progress
from stanchion.base.errors import Stopped
from stanchion.base.progress import CommandProgress
from stanchion.commands import command_line
from stanchion.job.codec import dumps, loads


class Clock:
    def __init__(self) -> None:
        self.at = 0.0

    def __call__(self) -> float:
        return self.at


class Stream(io.StringIO):
    def __init__(self, *, terminal: bool) -> None:
        super().__init__()
        self.terminal = terminal

    def isatty(self) -> bool:
        return self.terminal


def press_ctrl_c() -> None:
    os.kill(os.getpid(), signal.SIGINT)


@pytest.fixture(autouse=True)
def usual_ctrl_c() -> Iterator[None]:
    """^C as a program finds it."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


class TestTelling:
    def test_work_of_half_a_second_is_reported_at_most_ten_times_a_second_and_the_line_is_removed(self) -> None:
        clock, stream = Clock(), Stream(terminal=True)
        with CommandProgress(stream, clock) as work:
            for done in range(1, 101):  # 20 ms each
                clock.at += 0.02
                work.report("files read", done, 100)
        shown = stream.getvalue().split("\r")
        assert shown[1] == "25 of 100 files read (^C stops)"
        assert len([line for line in shown if "of 100" in line]) == 16
        assert shown[-2].strip() == ""
        assert len(shown[-2]) == len(shown[-3])

    def test_what_is_quick_is_not_worth_a_word(self) -> None:
        clock, stream = Clock(), Stream(terminal=True)
        with CommandProgress(stream, clock) as work:
            clock.at += 0.4
            work.report("files read", 1, 2)
        assert stream.getvalue() == ""

    def test_no_progress_is_written_to_a_file_or_a_pipe(self) -> None:
        clock, stream = Clock(), Stream(terminal=False)
        with CommandProgress(stream, clock) as work:
            clock.at += 5
            work.report("files read", 1, 2)
        assert stream.getvalue() == ""


class TestStopping:
    def test_the_first_ctrl_c_is_heard_between_two_steps_and_the_next_ends_it_at_once(self) -> None:
        with CommandProgress(Stream(terminal=False)) as work:
            work.report("files read", 3, 9)
            assert not work.stopped()
            press_ctrl_c()
            assert work.stopped()
            with pytest.raises(KeyboardInterrupt):
                press_ctrl_c()
        with pytest.raises(Stopped, match="stopped at 3 of 9 files read: nothing was printed"):
            work.end("nothing was printed.")
        assert signal.getsignal(signal.SIGINT) is signal.default_int_handler

    def test_work_that_ended_by_itself_was_not_stopped(self) -> None:
        with CommandProgress(Stream(terminal=False)) as work:
            work.report("files read", 9, 9)
        work.end("nothing was printed.")

    def test_where_ctrl_c_is_not_to_be_heard_it_stays_so(self) -> None:
        signal.signal(signal.SIGINT, signal.SIG_IGN)  # as a shell starts what runs in the background
        with CommandProgress(Stream(terminal=False)) as work:
            press_ctrl_c()
            assert not work.stopped()
        assert signal.getsignal(signal.SIGINT) is signal.SIG_IGN


# --- the verbs ----------------------------------------------------------------------------------------------------------


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Six jobs to work on."""
    monkeypatch.setenv("STANCHION_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("STANCHION_JOBS", raising=False)
    jobs = tmp_path / "stick"
    jobs.mkdir()
    for number in range(6):
        (jobs / f"{number}.toml").write_bytes(dumps(a_job(rider=f"Rider {number}")))
    return jobs


def stopped_at(monkeypatch: pytest.MonkeyPatch, what: str, count: int) -> None:
    """^C is pressed when so many are done."""
    printed = CommandProgress.report

    def tell(self: CommandProgress, doing: str, done: int, of: int) -> None:
        printed(self, doing, done, of)
        if doing == what and done == count:
            press_ctrl_c()

    monkeypatch.setattr(progress.CommandProgress, "report", tell)


def status(*arguments: str | Path) -> int:
    with pytest.raises(SystemExit) as end:
        command_line.main([str(argument) for argument in arguments])
    return int(end.value.code or 0)


@pytest.mark.parametrize(
    ("verb", "what"),
    [
        (lambda jobs: ("list", "--jobs", jobs), "judged"),
        (lambda jobs: ("check", *sorted(jobs.glob("*.toml"))), "checked"),
        (lambda jobs: ("check", jobs / "0.toml"), "others scanned"),
        (lambda jobs: ("export", "--jobs", jobs), "scanned"),
        (lambda jobs: ("export", "--jobs", jobs), "worked out"),
        (lambda jobs: ("story", "--jobs", jobs), "scanned"),
        (lambda jobs: ("story", "--jobs", jobs), "read"),
        (lambda jobs: ("story", "--jobs", jobs), "worked out"),
    ],
)
def test_a_verb_that_is_stopped_prints_nothing_half_and_leaves_with_130(
    folder: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    verb: Callable[[Path], tuple[str | Path, ...]],
    what: str,
) -> None:
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    stopped_at(monkeypatch, what, 2)
    assert status(*verb(folder)) == 130
    printed = capsys.readouterr()
    assert printed.out == ""
    assert printed.err.startswith(f"stanchion: stopped at 2 of 6 {what}: ")
    assert len(printed.err.splitlines()) == 1
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before


def test_a_stopped_export_writes_no_file(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    stopped_at(monkeypatch, "worked out", 2)
    assert status("export", "--jobs", folder, "-o", folder.parent / "all.csv") == 130
    assert not (folder.parent / "all.csv").exists()


@pytest.mark.parametrize("what", ["judged", "checked"])
def test_doctor_is_stopped_while_it_looks_over_the_files(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], what: str
) -> None:
    stopped_at(monkeypatch, what, 2)
    assert status("doctor", "--no-keys", "--jobs", folder) == 130
    assert "Job files" not in capsys.readouterr().out


def test_a_stopped_import_tells_what_is_in_leaves_it_whole_and_goes_on_when_asked_again(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    sources = sorted(folder.glob("*.toml"))
    with monkeypatch.context() as patch:
        stopped_at(patch, "imported", 4)
        assert status("import", *sources) == 130
    printed = capsys.readouterr()
    assert [line.split(": ")[1][:11] for line in printed.out.splitlines()] == ["imported as"] * 4
    assert "The same command goes on" in printed.err
    taken = list((tmp_path / "home" / "jobs").iterdir())
    assert len(taken) == 4
    assert all(not loads(path.read_bytes()).edited_by_hand for path in taken)
    assert status("import", *sources) == 0
    assert capsys.readouterr().out.count("is in the jobs folder already") == 4
    assert len(list((tmp_path / "home" / "jobs").iterdir())) == 6


def test_an_import_stopped_while_the_files_are_looked_into_takes_nothing_in(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stopped_at(monkeypatch, "scanned", 2)
    assert status("import", *folder.glob("*.toml")) == 130
    assert not (tmp_path / "home" / "jobs").exists()


def test_what_a_stopped_list_has_judged_need_not_be_judged_again(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from stanchion.bench.judged_library import library_of

    for path in folder.iterdir():
        os.utime(path, (1_700_000_000, 1_700_000_000))
    monkeypatch.setattr("stanchion.store.index.UNSETTLED_S", -1e6)  # written just now, and sure to stay as they are
    with monkeypatch.context() as patch:
        stopped_at(patch, "judged", 4)
        assert status("list", "--jobs", folder) == 130
    capsys.readouterr()
    judged: list[object] = []
    library = library_of(str(folder))
    library.listing.judge = lambda job, before: judged.append(job) or ("", "")  # type: ignore[func-returns-value]
    assert len(library.rows()) == 6
    assert len(judged) == 2


def test_ctrl_c_anywhere_else_ends_without_a_trace(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def interrupted(argv: object) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr(command_line, "run", interrupted)
    assert status("path") == 130
    assert capsys.readouterr().err == "stanchion: stopped\n"
