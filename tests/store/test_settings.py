from __future__ import annotations

import errno
import tomllib

import pytest
from hypothesis import HealthCheck, given
from hypothesis import settings as hypothesis_settings
from hypothesis import strategies as st

from stanchion.base.errors import NotSaved
from stanchion.store.paths import Places
from stanchion.store.settings import (
    LastPlace,
    Settings,
    config_file,
    load_last_place,
    load_settings,
    save_last_place,
    save_settings,
)
from stanchion.units.known_units import DISPLAY_UNITS, UNIT_SETTINGS, Units
from store.faulty import Faulty

MINE = Settings(
    units=Units(lengths="in", rates="lb/in", pressures="psi", masses="lb"), theme="daylight", keys={"undo": "ctrl+z"}
)


def config(places: Places, text: str | bytes) -> None:
    places.config.mkdir(exist_ok=True)
    config_file(places).write_bytes(text.encode() if isinstance(text, str) else text)


def test_without_a_file_the_usual_settings_hold(places: Places) -> None:
    found = load_settings(places)
    assert found.settings == Settings()
    assert found.problems == ()


def test_settings_come_back_as_they_were_saved(places: Places) -> None:
    save_settings(MINE, places)
    assert load_settings(places).settings == MINE
    assert load_settings(places).problems == ()
    save_settings(Settings(), places)
    assert load_settings(places).settings == Settings()


def test_the_letters_to_draw_with_are_read_and_outlive_a_saving(places: Places) -> None:
    config(places, 'letters = "ascii"\n')
    assert load_settings(places).settings.letters == "ascii"
    save_settings(MINE, places)
    assert load_settings(places).settings.letters == "ascii"
    config(places, 'letters = "braille"\n')
    assert load_settings(places).settings.letters == Settings().letters
    assert "letters must be one of" in load_settings(places).problems[0]


def test_each_bad_key_is_skipped_and_named_and_the_others_hold(places: Places) -> None:
    config(
        places,
        'theme = 7\nfuture = true\n[units]\nlengths = "furlong"\nrates = "lb/in"\n'
        '[keys]\nundo = "ctrl+z"\nredo = 3\n"bad name" = "x"\nback = "a b"\n',
    )
    found = load_settings(places)
    assert found.settings == Settings(units=Units(rates="lb/in"), keys={"undo": "ctrl+z"})
    text = "\n".join(found.problems)
    for named in ("theme", "units.lengths", "'future'", "'redo'", "'bad name'", "'back'"):
        assert named in text
    assert len(found.problems) == 6


def test_keys_of_another_version_stay_when_settings_are_saved(places: Places) -> None:
    config(places, 'future = [1, 2]\n[units]\nforces = "kgf"\n[later]\nx = 2026-05-31\n')
    save_settings(MINE, places)
    table = tomllib.loads(config_file(places).read_text())
    assert table["future"] == [1, 2]
    assert table["units"]["forces"] == "kgf"
    assert str(table["later"]["x"]) == "2026-05-31"
    assert load_settings(places).settings == MINE


@pytest.mark.parametrize(
    "damage",
    [
        b"\xff\xfe",
        b"theme = ",
        b"x" * 400_000,
        b"a = " + b"[" * 4000,
        b"units = 3\nkeys = 4\n",
        b"\xef\xbb\xbftheme = 'x'\r\n",
    ],
    ids=["bytes", "cut", "huge", "deep", "wrong types", "byte order mark"],
)
def test_a_damaged_file_never_stops_the_program_and_is_said(places: Places, damage: bytes) -> None:
    config(places, damage)
    found = load_settings(places)
    assert found.settings.units.lengths == "mm"
    assert found.problems or found.settings.theme == "x"


def test_saving_over_a_damaged_file_keeps_the_damaged_one_beside_it(places: Places) -> None:
    config(places, "theme = 'my long work\n")
    save_settings(MINE, places)
    assert load_settings(places).settings == MINE
    assert config_file(places).with_name("config.damaged.toml").read_text() == "theme = 'my long work\n"


@pytest.mark.parametrize("call", ["read", "write", "sync", "replace", "open"])
def test_settings_that_cannot_be_saved_are_said_and_the_old_ones_stay(places: Places, call: str) -> None:
    save_settings(MINE, places)
    with pytest.raises(NotSaved, match="the disk reports a fault"):
        save_settings(Settings(), places, Faulty(errno.EIO, only=call, for_good=True))
    assert load_settings(places).settings == MINE


def test_settings_that_cannot_be_read_are_said(places: Places) -> None:
    save_settings(MINE, places)
    found = load_settings(places, Faulty(errno.EACCES, only="open"))
    assert found.settings == Settings()
    assert "the system does not allow it" in found.problems[0]


@hypothesis_settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    text=st.recursive(
        st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=10), inner, max_size=3),
    )
)
def test_no_wrong_type_under_any_key_is_raised(places: Places, text: object) -> None:
    import json

    value = json.dumps(text).replace("null", "0").replace("NaN", "nan").replace("Infinity", "inf").replace(": ", " = ")
    config(places, f"theme = {value}\nkeys = {value}\nunits = {value}\n")
    found = load_settings(places)
    for name, kind in UNIT_SETTINGS.items():
        assert getattr(found.settings.units, name) in DISPLAY_UNITS[kind]


def test_the_last_job_and_screen_are_read_back(places: Places) -> None:
    assert load_last_place(places) == LastPlace()
    save_last_place(LastPlace("2026-05-31-grey-mule.toml", "sag"), places)
    assert load_last_place(places) == LastPlace("2026-05-31-grey-mule.toml", "sag")


@pytest.mark.parametrize(
    "damage",
    [b"", b"a.toml", b"\n", b"\xff\nsag\n", b"x" * 20_000, b"../x.toml\nsag\n", b".a.toml\nsag\n", b"a\nsag\n"],
)
def test_a_damaged_place_is_no_place(places: Places, damage: bytes) -> None:
    places.state.mkdir()
    (places.state / "last").write_bytes(damage)
    assert load_last_place(places) == LastPlace()


def test_a_screen_that_no_screen_is_called_is_left_out(places: Places) -> None:
    places.state.mkdir()
    (places.state / "last").write_bytes(b"a.toml\na b\n")
    assert load_last_place(places) == LastPlace("a.toml", "")


def test_failing_to_remember_the_place_is_not_worth_a_word(places: Places) -> None:
    save_last_place(LastPlace("a.toml", "sag"), places, Faulty(errno.ENOSPC, for_good=True))
    assert load_last_place(places) == LastPlace()


@pytest.mark.parametrize(
    ("text", "shared", "problems"), [("", False, 0), ("shared_folder = true", True, 0), ("shared_folder = 1", False, 1)]
)
def test_a_shared_folder_is_said_with_true_or_false(places: Places, text: str, shared: bool, problems: int) -> None:
    places.config.mkdir()
    config_file(places).write_text(text, encoding="utf-8")
    found = load_settings(places)
    assert (found.settings.shared_folder, len(found.problems)) == (shared, problems)
    save_settings(found.settings, places)
    assert load_settings(places).settings.shared_folder == shared


def test_comments_stay_beside_their_keys(places: Places) -> None:
    config(
        places,
        '# the bench laptop\ntheme = "night"  # for the van\nletters = "unicode"\n\n[units]\n# as the gauge\nlengths = "mm"\n',
    )
    save_settings(Settings(units=Units(lengths="in"), theme="daylight"), places)
    saved = config_file(places).read_text("utf-8")
    assert '# the bench laptop\ntheme = "daylight"  # for the van\n' in saved
    assert '# as the gauge\nlengths = "in"\n' in saved
    save_settings(Settings(units=Units(lengths="in"), theme="daylight"), places)
    assert config_file(places).read_text("utf-8") == saved


def test_where_comments_cannot_be_kept_the_file_as_it_was_stays_beside(places: Places) -> None:
    before = 'theme = "night"\n' + "# too many of these\n" * 12_000
    config(places, before)
    save_settings(Settings(), places)
    assert config_file(places).with_name("config.damaged.toml").read_text("utf-8") == before
    assert load_settings(places).settings == Settings()
