from __future__ import annotations

from pathlib import Path

import pytest

from stanchion.store.paths import places


@pytest.fixture(autouse=True)
def _no_environment(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.delenv("STANCHION_JOBS", raising=False)
    monkeypatch.delenv("STANCHION_HOME", raising=False)
    monkeypatch.setenv("HOME", str(tmp_path))


def test_the_folders_are_apart_and_none_is_made_by_asking(tmp_path: Path) -> None:
    found = places()
    folders = [found.jobs, found.config, found.state, found.cache, found.history, found.bin, found.spill]
    assert len(set(folders)) == len(folders)
    assert all(folder.is_absolute() for folder in folders)
    assert list(tmp_path.iterdir()) == []


def test_the_option_wins_over_the_environment_and_that_over_the_usual_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    usual = places()
    monkeypatch.setenv("STANCHION_JOBS", str(tmp_path / "env"))
    assert places().jobs == tmp_path / "env"
    assert places(str(tmp_path / "option")).jobs == tmp_path / "option"
    assert places().state == usual.state


def test_one_variable_moves_all_four(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("STANCHION_HOME", str(tmp_path / "stick"))
    found = places()
    assert {found.jobs.parent, found.config.parent, found.state.parent, found.cache.parent} == {tmp_path / "stick"}
    assert places(str(tmp_path / "x")).jobs == tmp_path / "x"


def test_a_relative_folder_means_the_same_after_the_current_folder_changes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    found = places("bench")
    monkeypatch.chdir("/")
    assert found.jobs == tmp_path / "bench"
