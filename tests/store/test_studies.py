"""Studies of how well readings repeat are kept in the config folder, and nothing in that file is ever lost."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from stanchion.base.errors import NotSaved
from stanchion.job.study import Study
from stanchion.store.paths import Places
from stanchion.store.studies import NAME, add_study, load_studies

READINGS = tuple(tuple(tuple(500.0 + place + n for n in range(3)) for _ in range(2)) for place in range(4))
STUDY = Study(of="alone", on=dt.date(2026, 3, 7), by="A", helper="B", tape_mm=0.5, readings=READINGS)


def places(folder: Path) -> Places:
    return Places(jobs=folder / "jobs", config=folder / "config", state=folder / "state", cache=folder / "cache")


def test_what_is_kept_comes_back_in_its_order(tmp_path: Path) -> None:
    where = places(tmp_path)
    assert load_studies(where).studies == ()
    add_study(STUDY, where)
    second = Study(of="aboard", on=dt.date(2026, 3, 8), by="A", readings=READINGS)
    assert add_study(second, where).studies == (STUDY, second)
    assert load_studies(where).studies == (STUDY, second)


def test_a_table_that_cannot_be_used_is_named_and_stays(tmp_path: Path) -> None:
    where = places(tmp_path)
    where.config.mkdir()
    spoilt = 'other = 1\n\n[[study]]\nof = "alone"\non = 2026-01-01\nby = "A"\nreadings = [[[1.0, 2.0]]]\n'
    (where.config / NAME).write_text(spoilt)
    assert "study 1 is not used" in load_studies(where).problems[0]
    assert add_study(STUDY, where).studies == (STUDY,)
    text = (where.config / NAME).read_text()
    assert "other = 1" in text
    assert text.count("[[study]]") == 2


@pytest.mark.parametrize(
    "line",
    [
        "of = 'odd'",
        "on = 3",
        "by = 4",
        "readings = [[[nan]]]",
        "readings = 3",
        "tape_mm = 'x'",
        "readings = [[[true]]]",
    ],
)
def test_no_value_makes_reading_fail(tmp_path: Path, line: str) -> None:
    where = places(tmp_path)
    add_study(STUDY, where)
    name = line.partition(" ")[0]
    text = (where.config / NAME).read_text()
    kept = [one for one in text.splitlines() if not one.startswith(name + " ")]
    if name == "readings":
        kept = kept[: next(at for at, one in enumerate(kept) if one.startswith("    ["))]
    (where.config / NAME).write_text("\n".join([*kept, line]))
    found = load_studies(where)
    assert found.studies == ()
    assert found.problems


@pytest.mark.parametrize("text", ["format = 2\n", "format = 1\n[[study", "\x00"])
def test_a_damaged_file_or_one_of_a_later_version_is_never_written(tmp_path: Path, text: str) -> None:
    where = places(tmp_path)
    where.config.mkdir()
    (where.config / NAME).write_text(text)
    assert load_studies(where).problems
    with pytest.raises(NotSaved):
        add_study(STUDY, where)
    assert (where.config / NAME).read_text() == text
