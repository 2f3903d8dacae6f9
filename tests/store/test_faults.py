"""Reports of faults hold no message of an exception and no folder of the user, and never pile up."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from stanchion.store.faults import MOST, FaultLog, fault_report, keep_report

NOON = dt.datetime(2026, 5, 16, 12, 0, 0)


def raised() -> BaseException:
    try:
        try:
            dict[str, str]()["rider A. Q."]
        except KeyError as error:
            raise ValueError("/private/jobs/a.toml") from error
    except ValueError as error:
        return error
    raise AssertionError


def test_it_says_what_was_raised_where_and_what_it_came_from() -> None:
    report = fault_report(raised(), {"screen": "sag"})
    assert "builtins.ValueError" in report
    assert "came from builtins.KeyError" in report
    assert "test_faults.py:" in report
    assert "screen: sag" in report


def test_it_says_nothing_that_was_typed_and_no_folder() -> None:
    report = fault_report(raised(), {})
    assert "A. Q." not in report
    assert "/private" not in report
    assert str(Path(__file__).parent) not in report


def test_an_exception_that_is_its_own_cause_ends() -> None:
    error = ValueError()
    error.__cause__ = error
    assert fault_report(error, {}).count("ValueError") == 1


def test_only_so_many_are_kept_and_the_newest_stay(tmp_path: Path) -> None:
    paths = [keep_report(tmp_path / "faults", "x", NOON + dt.timedelta(seconds=at)) for at in range(MOST + 3)]
    assert sorted((tmp_path / "faults").iterdir()) == paths[3:]


def test_a_log_looks_up_and_notes_a_report_in_one_step_so_that_two_threads_write_it_once(tmp_path: Path) -> None:
    log = FaultLog(tmp_path)

    class Watched(set[str]):
        def __contains__(self, report: object) -> bool:
            assert log._lock.locked()
            return super().__contains__(report)

        def add(self, report: str) -> None:
            assert log._lock.locked()
            super().add(report)

    log._known = Watched()
    log.note("sag", raised())
    log.note("sag", raised())
    assert len(list(tmp_path.iterdir())) == 1
