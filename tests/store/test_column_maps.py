"""How the files of a folder are read is kept in the config folder, and never in the files' own."""

from __future__ import annotations

from pathlib import Path

import pytest

from stanchion.base.errors import ChangedOnDisk
from stanchion.job.damper_columns import DamperColumns
from stanchion.store.column_maps import MOST_FOLDERS, NAME, ColumnMaps, folder_of, load_column_maps, save_column_maps
from stanchion.store.paths import Places

SHOCKS = DamperColumns(speed="1 Velocity", force="3 Force", speed_unit="m/s", signs="minus_plus", position_all=8.0)
FORKS = DamperColumns(damper="left", speed="v", force="F")


def places(folder: Path) -> Places:
    return Places(jobs=folder / "jobs", config=folder / "config", state=folder / "state", cache=folder / "cache")


def test_what_is_kept_comes_back_for_its_folder(tmp_path: Path) -> None:
    where = places(tmp_path)
    nothing = load_column_maps(where)
    assert (nothing.folders, nothing.of("/a"), nothing.problem) == ((), None, "")
    save_column_maps(nothing.with_folder("/a", SHOCKS), nothing.seen, where)
    one = load_column_maps(where)
    save_column_maps(one.with_folder("/b", FORKS), one.seen, where)
    both = load_column_maps(where)
    assert both.folders == (("/a", SHOCKS), ("/b", FORKS))
    assert both.with_folder("/a", FORKS) == (("/b", FORKS), ("/a", FORKS))
    assert (both.of("/a"), both.of("/b"), both.of("/c")) == (SHOCKS, FORKS, None)


def test_the_folders_used_last_are_kept() -> None:
    maps = ColumnMaps(tuple((f"/{n}", SHOCKS) for n in range(MOST_FOLDERS)))
    kept = maps.with_folder("/new", FORKS)
    assert len(kept) == MOST_FOLDERS
    assert (kept[0][0], kept[-1][0]) == ("/1", "/new")


@pytest.mark.parametrize(
    "text",
    [
        "folder = 3",
        "[[folder]]\nspeed = '1'",
        "[[folder]]\npath = '/a'\nspeed = 4",
        "[[folder]]\npath = '/a'\nsigns = 'odd'",
        "[[folder]]\npath = '/a'\nposition_all = nan",
        "format = 2",
        "not toml",
        "[" * 5000,
    ],
)
def test_a_spoilt_file_says_so_and_is_left_alone(text: str, tmp_path: Path) -> None:
    where = places(tmp_path)
    where.config.mkdir(parents=True)
    (where.config / NAME).write_text(text, "utf-8")
    maps = load_column_maps(where)
    assert maps.folders == ()
    assert maps.problem.startswith(str(where.config / NAME))
    assert maps.problem.endswith("Correct it or delete it.")


def test_what_another_program_has_written_is_not_overwritten(tmp_path: Path) -> None:
    where = places(tmp_path)
    save_column_maps((("/a", SHOCKS),), None, where)
    with pytest.raises(ChangedOnDisk):
        save_column_maps((("/b", FORKS),), None, where)
    assert load_column_maps(where).of("/a") == SHOCKS


def test_a_folder_has_one_name_however_its_file_was_named(tmp_path: Path) -> None:
    assert folder_of(tmp_path / "a.csv") == folder_of(tmp_path / "b.csv") == tmp_path.as_posix()
