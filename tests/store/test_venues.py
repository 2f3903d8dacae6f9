"""Notes on venues: written safely, by two programs at a time, and by hand."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from driving import workspace_in
from stanchion.base.errors import NotSaved
from stanchion.job.venue import VenueNotes
from stanchion.store import venues as stored
from stanchion.store.atomic import Written, write
from stanchion.store.disk import Disk
from stanchion.store.paths import Places
from stanchion.store.venues import MOST_VENUES, load_venues, save_notes, venues_file

LOOP = VenueNotes(
    name="Gravel Loop",
    surface="loose over hard",
    bumps="braking into 3",
    altitude_m=320.0,
    conditions="dusty from noon on",
    more="gate shuts at six",
)


@pytest.fixture
def places(tmp_path: Path) -> Places:
    return workspace_in(tmp_path).places


def saved(places: Places, after: VenueNotes) -> None:
    save_notes(VenueNotes(name=after.name), after, places)


def test_every_field_comes_back_under_any_spelling_of_the_name(places: Places) -> None:
    assert load_venues(places).of("Gravel Loop") == VenueNotes(name="Gravel Loop")
    saved(places, LOOP)
    saved(places, VenueNotes(name="Lake Ring", surface="new tarmac"))
    found = load_venues(places)
    assert found.of(" gravel  LOOP ") == LOOP
    assert found.of("Lake Ring").surface == "new tarmac"
    assert found.of("") == VenueNotes(), "without a name there is no venue"


def test_two_programs_change_each_its_own_field_and_neither_is_lost(places: Places) -> None:
    saved(places, LOOP)
    one = other = load_venues(places).of("Gravel Loop")
    save_notes(one, replace(one, surface="wet clay"), places)
    save_notes(other, replace(other, bumps="none left"), places)
    assert load_venues(places).of("Gravel Loop") == replace(LOOP, surface="wet clay", bumps="none left")


def test_a_file_written_in_between_is_read_again(places: Places, monkeypatch: pytest.MonkeyPatch) -> None:
    saved(places, LOOP)
    others = iter(["new tarmac"])

    def after_another(path: Path, data: bytes, seen: str | None, disk: Disk) -> Written:
        for surface in others:
            save_notes(VenueNotes(name="Lake Ring"), VenueNotes(name="Lake Ring", surface=surface), places)
        return write(path, data, seen, disk)

    monkeypatch.setattr(stored, "write", after_another)
    save_notes(LOOP, replace(LOOP, more=""), places)
    found = load_venues(places)
    assert found.of("Gravel Loop").more == ""
    assert found.of("Lake Ring").surface == "new tarmac"


def test_comments_and_unknown_keys_of_a_file_edited_by_hand_stay(places: Places) -> None:
    places.config.mkdir(parents=True)
    venues_file(places).write_text(
        '# ours\nformat = 1\nlater = "kept"\n\n[[venue]]\nname = "Gravel Loop"  # the old one\ngrip = 3\n', "utf-8"
    )
    notes = load_venues(places).of("gravel loop")
    save_notes(notes, replace(notes, surface="dry"), places)
    text = venues_file(places).read_text("utf-8")
    for kept in ("# ours", 'later = "kept"', "# the old one", "grip = 3", 'surface = "dry"'):
        assert kept in text, kept


@pytest.mark.parametrize(
    "text",
    [
        "venue = 3",
        "[[venue]]\nsurface = 'wet'",
        "[[venue]]\nname = 'a'\naltitude_m = 90000",
        "[[venue]]\nname = 'a'\nsurface = 4",
        "format = 2",
        "not toml",
        "[" * 5000,
    ],
)
def test_a_spoilt_file_says_so_and_is_never_overwritten(text: str, places: Places) -> None:
    places.config.mkdir(parents=True)
    venues_file(places).write_text(text, "utf-8")
    assert load_venues(places).problem
    with pytest.raises(NotSaved):
        saved(places, LOOP)
    assert venues_file(places).read_text("utf-8") == text


def test_a_failing_disk_leaves_the_old_notes(places: Places, monkeypatch: pytest.MonkeyPatch) -> None:
    saved(places, LOOP)
    before = venues_file(places).read_bytes()

    def full(*args: object) -> None:
        raise NotSaved("the disk is full")

    monkeypatch.setattr(stored, "write", full)
    with pytest.raises(NotSaved):
        save_notes(LOOP, replace(LOOP, surface="wet"), places)
    assert venues_file(places).read_bytes() == before


def test_no_more_venues_than_a_file_is_read_with(places: Places) -> None:
    places.config.mkdir(parents=True)
    rows = "".join(f"[[venue]]\nname = 'venue {n}'\n" for n in range(MOST_VENUES))
    venues_file(places).write_text(rows, "utf-8")
    with pytest.raises(NotSaved):
        saved(places, LOOP)
    saved(places, VenueNotes(name="venue 7", surface="wet"))
    assert load_venues(places).of("Venue 7").surface == "wet"
