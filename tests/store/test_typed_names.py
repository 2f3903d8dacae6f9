"""A mistyped name is reported with the names most like it."""

from __future__ import annotations

from pathlib import Path

import pytest

from stanchion.base.errors import BadFile
from stanchion.commands.command_line import main
from stanchion.store.samples import samples
from stanchion.store.typed_names import existing_file, most_like, nearest_words


@pytest.fixture
def jobs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A jobs folder with one job of three occasions and another, gone into from an empty folder."""
    folder = tmp_path / "home" / "jobs"
    folder.mkdir(parents=True)
    for name in ("2026-05-16-grey-mule", "2026-05-30-grey-mule", "2026-06-13-grey-mule", "2026-06-14-nettle"):
        (folder / f"{name}.toml").write_bytes(samples()[0].data)
    (tmp_path / "here").mkdir()
    monkeypatch.chdir(tmp_path / "here")
    monkeypatch.setenv("STANCHION_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("STANCHION_JOBS", raising=False)
    return folder


def test_a_part_of_a_name_offers_the_newest_files_that_contain_it(jobs: Path) -> None:
    assert most_like(Path("grey-mule"), jobs) == [
        "2026-06-13-grey-mule.toml",
        "2026-05-30-grey-mule.toml",
        "2026-05-16-grey-mule.toml",
    ]


def test_a_wrong_letter_offers_the_name_it_was_meant_for(jobs: Path) -> None:
    assert most_like(Path("2026-06-14-netle.toml"), jobs)[0] == "2026-06-14-nettle.toml"
    assert most_like(jobs / "2026-06-14-Netle.toml")[0] == str(jobs / "2026-06-14-nettle.toml")
    assert most_like(Path("zzz"), jobs) == []


def test_what_is_there_is_found_and_a_name_with_a_folder_is_not_looked_for_elsewhere(jobs: Path) -> None:
    assert existing_file(Path("2026-06-14-nettle.toml")) == jobs / "2026-06-14-nettle.toml"
    with pytest.raises(BadFile, match="There is no folder 'gone' either"):
        existing_file(Path("gone/2026-06-14-nettle.toml"))


@pytest.mark.parametrize(
    "arguments",
    [
        ["check", "{}"],
        ["sheet", "{}"],
        ["export", "{}"],
        ["compare", "{}", "2026-06-14-nettle.toml"],
        ["compare", "2026-06-14-nettle.toml", "{}"],
        ["compare", "{}:2", "2026-06-14-nettle.toml"],
        ["worklist", "{}"],
        ["worklist", "2026-06-14-nettle.toml", "--to", "{}"],
        ["worklist", "2026-06-14-nettle.toml", "--to", "{}:2"],
        ["earlier", "{}"],
        ["earlier", "{}", "--bring-back", "1", "-o", "new.toml"],
    ],
)
def test_every_verb_says_so_and_offers_it(jobs: Path, arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as end:
        main([one.format("2026-06-14-netle.toml") for one in arguments])
    printed = capsys.readouterr()
    assert end.value.code == 2
    words = printed.out + printed.err
    assert "no such file or job: '2026-06-14-netle.toml'. Most like it: 2026-06-14-nettle.toml" in words
    assert "disk" not in words


@pytest.mark.parametrize("verb", ["import", "merge"])
def test_verbs_that_take_files_from_anywhere_offer_those_beside(
    jobs: Path, verb: str, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = str(jobs / "2026-06-14-netle.toml")
    with pytest.raises(SystemExit) as end:
        main([verb, asked] + ([asked, "-o", "new.toml"] if verb == "merge" else []))
    printed = capsys.readouterr()
    assert end.value.code == 2
    assert f"Most like it: {jobs / '2026-06-14-nettle.toml'}" in printed.out + printed.err


def test_a_jobs_folder_that_is_gone_is_said(tmp_path: Path) -> None:
    with pytest.raises(BadFile, match="The jobs folder is not there either"):
        existing_file(Path("nettle.toml"), str(tmp_path / "stick"))


def test_words_have_their_nearest() -> None:
    assert nearest_words("untis", ("units", "theme")) == "The nearest is 'units'."
    assert nearest_words("zzz", ("units", "theme")) == ""
