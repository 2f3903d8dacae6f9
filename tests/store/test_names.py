from __future__ import annotations

import datetime as dt
import re
from pathlib import Path, PureWindowsPath

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stanchion.job.model import Job, Occasion
from stanchion.store.library import Library
from stanchion.store.names import SUFFIX, file_name, is_job, is_plain, slug, unique
from stanchion.store.sources import previous

HOSTILE = [
    "",
    " ",
    ".",
    "..",
    "../../etc/passwd",
    "..\\..\\windows",
    "/etc/passwd",
    "C:\\job",
    "\\\\server\\share",
    "a\x00b",
    "\x1b[2J",
    "CON",
    "nul",
    "com1.toml",
    "a" * 300,
    "é" * 300,
    "🏍️",
    "...hidden",
    "-rf",
    "trailing. ",
    "a:b",
    '*?<>|"',
    "$(rm -rf ~)",
    "\u202egnp.exe",
    "日本",
    "%2e%2e%2f",
    "~root",
]


def safe(name: str) -> bool:
    return re.fullmatch(r"\d{4}-\d{2}-\d{2}-[a-z0-9]+(-[a-z0-9]+)*\.toml", name) is not None and len(name) <= 120


@pytest.mark.parametrize("machine", HOSTILE)
def test_no_text_in_a_field_leads_out_of_the_folder(machine: str) -> None:
    for rider in ("A. Venn", "../x", ""):
        name = file_name(Occasion(machine=machine, rider=rider, date=dt.date(2026, 5, 31)))
        assert safe(name), rider
        assert is_plain(name), rider
        assert is_job(name), rider


@given(machine=st.text(max_size=60), rider=st.text(max_size=60), date=st.dates())
def test_any_job_has_a_name_every_system_takes(machine: str, rider: str, date: dt.date) -> None:
    name = file_name(Occasion(machine=machine, rider=rider, date=date))
    assert safe(name)
    assert PureWindowsPath(name).name == name
    assert not PureWindowsPath(name).is_reserved()


def test_the_name_says_when_what_and_who() -> None:
    occasion = Occasion(machine="Grüne Ødegård №2", rider="A. Venn", date=dt.date(2026, 5, 31))
    assert file_name(occasion) == "2026-05-31-grune-odegard-no2-a-venn.toml"


@given(st.text())
def test_a_slug_of_a_slug_is_itself(text: str) -> None:
    assert slug(slug(text)) == slug(text)


def test_a_name_in_use_gets_the_next_number() -> None:
    taken = {"a.toml"} | {f"a-{n}.toml" for n in range(2, 40)}
    assert unique("a.toml", taken.__contains__) == "a-40.toml"


def test_when_every_number_is_in_use_a_name_is_still_found() -> None:
    assert unique("a.toml", lambda name: len(name) < 20).endswith(SUFFIX)


@pytest.mark.parametrize(
    "name",
    [
        *HOSTILE,
        "../x.toml",
        "a/b.toml",
        "a\\b.toml",
        "/x.toml",
        "C:x.toml",
        ".x.toml",
        "..toml",
        "x.toml\x00",
        "x\n.toml",
        "CON.toml",
        "com1.x.toml",
        "nul .toml",
        "x" * 300 + ".toml",
        "x.tom",
        "\ud800.toml",
        None,
        7,
    ],
)
def test_what_is_no_plain_name_is_not_taken_for_one(name: object) -> None:
    assert not is_plain(name)


@pytest.mark.parametrize(
    "name", ["2026-05-31-grey-mule-2.toml", "Sunday at the lake.TOML", "Möwe.toml", "console.toml"]
)
def test_names_given_by_hand_are_taken(name: str) -> None:
    assert is_plain(name)


def test_the_job_before_is_only_looked_for_in_the_folder(library: Library, job: Job, tmp_path: Path) -> None:
    folder = library.places.jobs
    source = library.create(job)
    outside = tmp_path / "outside.toml"
    outside.write_bytes(source.data)
    (folder / "link.toml").symlink_to(outside)
    (folder / "inner.toml").symlink_to(source.path.name)

    def found(carried_from: str) -> Job | None:
        return previous(Job(job=Occasion(carried_from=carried_from)), folder)

    assert found(source.path.name) == job
    assert found("inner.toml") == job
    assert found("") is found("missing.toml") is None
    assert found("link.toml") is found("../outside.toml") is found(str(outside)) is None
    assert outside.exists()
