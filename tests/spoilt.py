"""What reads foreign input, each with material to spoil and the promise that is checked on what comes back."""

from __future__ import annotations

import json
import math
import tempfile
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Any

from stanchion.base.errors import BadFile, BadQuantity
from stanchion.commands.check import check_bytes
from stanchion.job.codec import dumps, header, loads
from stanchion.job.model import Job
from stanchion.job.spec import Number, Part, Rows, middle_rate, specs_of
from stanchion.judgement.criteria.profiles import load_profiles
from stanchion.store.paths import Places
from stanchion.store.settings import Settings, config_file, load_settings
from stanchion.store.stock import load_stock, stock_file
from stanchion.ui.theme import parse_theme
from stanchion.units.known_units import DISPLAY_UNITS, UNIT_SETTINGS, Units
from stanchion.units.quantity import parse, readback

ROOT = Path(__file__).parents[1]

WORDS = [
    *(b"nan", b"-inf", b"1e400", b"-0.0", b"9" * 400, b"0x_1", b"1_0", b"true", b"1979-05-27T07:32:00Z", b"2026-02-30"),
    *(b"\xff", b"\x00", b"\xef\xbb\xbf", b"\r", b"\r\n", b"\n", b"\xc2\x9b", b"\xe2\x80\xae", b"\xed\xa0\x80"),
    *(b'"\\u001b[31m"', b'"\\ud800"', b"'''", b'"""', b"#", b"=", b" = ", b".", b",", b"[", b"]", b"{", b"}"),
    *(b"[[", b"]]", b"[" * 60, b"{a=" * 40, b"a." * 300 + b"a=1", b"[end]\ncomplete = true\n", b"format = 1\n"),
    *(b"format = 99999999999999999999\n", b"[job]\n", b"[[runs]]\n", b"[[rear.linkage]]\n", b"free_length_mm = "),
]
VALUES = [
    *(b"-1", b"0", b"1", b"7.25", b"1e9", b"9" * 400, b"-" + b"9" * 400, b"nan", b"inf", b"-inf", b"1e-400", b"true"),
    *(b'""', b'"x"', b'"\\u001b]0;x\\u0007"', b'"[/x]"', b'"' + b"x" * 300 + b'"', b"2026-05-31", b"07:32:00"),
    *(b"1979-05-27T07:32:00Z", b"[]", b"[1, 2.5]", b'["a", 1]', b"[[1]]", b"[true]", b"[{ }]", b"{ }", b"{ a = 1 }"),
]
PHRASES = [
    *(
        "9.5",
        "250",
        "-3",
        "0",
        "1e9",
        "1,250.5",
        "12,5",
        "7 1/2 in",
        "9 7/8 in",
        "½",
        "0.95 kg/mm",
        "54 lb/in",
        "175 lb",
    ),
    *(
        "5'",
        "5 Nm",
        "2.3 bar",
        "33 psi",
        "41 °C",
        "−5 mm",
        "1:32.4",
        "nan",
        "inf",
        "9**9**9",
        "mm**9",
        "5 mm mm",
        "٣٤",
        "９",
    ),
    *(
        "\x1b[31m",
        "\u202e5",
        "5\u200b",
        "a" * 300,
        "9" * 300,
        "",
        " ",
        "\t5",
        "5\n6",
        "\ud800",
        "[/x]",
        "{",
        "%s",
        "0x1F",
        "1_0",
    ),
]
SIGNS = "0123456789.,-+−/ eE_*^'\"inmkgflbNbarpsi°½:\x00\x1b\u202e٣９"


@dataclass(frozen=True, slots=True)
class Reader:
    """One reader of foreign input."""

    spoil: Callable[[Random], Any]
    """Makes an input."""
    read: Callable[[Any], bool]
    """Reads it, and asserts what is promised; a refusal that is documented is swallowed. Whether any of it was used."""


def spoilt(materials: Iterable[bytes]) -> Callable[[Random], bytes]:
    """Makes files out of sound ones: pieces cut, doubled, moved, replaced, bits flipped, other words and values put in.

    Half of them by one change only, or hardly any would get past the first look at a file.
    """
    sound = list(materials)

    def make(dice: Random) -> bytes:
        data = bytearray(dice.choice(sound))
        for _ in range(dice.choice((1, 1, 1, 2, 3, 5))):
            at, more = dice.randrange(len(data) + 1), dice.randrange(1, 80)
            match dice.randrange(10):
                case 0:
                    del data[at : at + more]
                case 1:
                    data[at:at] = data[dice.randrange(len(data) + 1) :][:more]
                case 2:
                    data[at:at] = dice.choice(WORDS)
                case 3 if data:
                    data[at % len(data)] ^= 1 << dice.randrange(8)
                case 4:
                    data[at : at + more] = dice.choice(WORDS)
                case 5:
                    lines = data.split(b"\n")
                    dice.shuffle(lines)
                    data = bytearray(b"\n".join(lines))
                case 6:
                    del data[at:]
                case _:  # another value for one key
                    begin = data.find(b" = ", at) + 3
                    end = data.find(b"\n", begin)
                    if 2 < begin < end:
                        data[begin:end] = dice.choice(VALUES)
        return bytes(data)

    return make


def _typed(dice: Random) -> tuple[str, Number, Units]:
    text = dice.choice(PHRASES)
    for _ in range(dice.randrange(4)):
        at = dice.randrange(len(text) + 1)
        put = dice.choice(PHRASES) if dice.random() < 0.2 else dice.choice(SIGNS)
        text = text[:at] + put + text[at + dice.randrange(2) :]
    return (
        text,
        dice.choice(NUMBERS),
        Units(**{name: dice.choice(DISPLAY_UNITS[kind]) for name, kind in UNIT_SETTINGS.items()}),
    )


def _numbers(kind: type = Job) -> Iterable[Number]:
    for spec in specs_of(kind).values():
        if isinstance(spec, Number):
            yield spec
        elif isinstance(spec, Part | Rows):
            yield from _numbers(spec.type)


NUMBERS = tuple(dict.fromkeys(_numbers()))


def _shown(refused: Exception) -> None:
    """A refusal is shown to the user, so it must hold nothing that a terminal obeys."""
    assert str(refused).replace("\n", "").isprintable()


def _read_typed(given: tuple[str, Number, Units]) -> bool:
    text, number, units = given
    try:
        value = parse(text, number, units)
    except BadQuantity as refused:
        _shown(refused)
        return False
    assert number.low <= value <= number.high
    assert readback(text, number, units).isprintable()
    return True


def _read_job(data: bytes) -> bool:
    for read in (header, loads):
        try:
            read(data)
        except BadFile as refused:
            _shown(refused)
    try:
        found = loads(data)
    except BadFile:
        return False
    if not found.read_only:
        assert loads(dumps(found.job)).job == found.job
    return True


def _check_job(data: bytes) -> bool:
    """As `check` does with a file: judged, told as text and as JSON."""
    try:
        report = check_bytes("spoilt", data)
    except BadFile as refused:
        _shown(refused)
        return False
    assert report.text.replace("\n", "").isprintable()
    json.dumps(report.data, allow_nan=False)
    assert "part_not_judged" not in [finding["code"] for finding in report.data["findings"]]
    return True


def _read_theme(data: bytes) -> bool:
    try:
        parse_theme(data)
    except BadFile as refused:
        _shown(refused)
        return False
    return True


def _read_profiles(data: bytes) -> bool:
    found = load_profiles(data)
    assert all(problem.isprintable() for problem in found.problems)
    return found.by_name != load_profiles().by_name


class Folder:
    """Files read through the functions that open them."""

    def __init__(self) -> None:
        self._kept = tempfile.TemporaryDirectory(prefix="stanchion-hostile-")
        base = Path(self._kept.name)
        self.places = Places(base / "jobs", base / "config", base / "state", base / "cache")
        self.places.config.mkdir(parents=True)

    def settings(self, data: bytes) -> bool:
        """The settings file."""
        config_file(self.places).write_bytes(data)
        found = load_settings(self.places)
        for name, kind in UNIT_SETTINGS.items():
            assert getattr(found.settings.units, name) in DISPLAY_UNITS[kind]
        assert all(problem.isprintable() for problem in found.problems)
        return found.settings != Settings()

    def stock(self, data: bytes) -> bool:
        """The stock of springs."""
        stock_file(self.places).write_bytes(data)
        found = load_stock(self.places)
        assert all(math.isfinite(middle_rate(row.rate_n_per_mm or 0.0)) for row in found.stock.rows)
        assert all(problem.isprintable() for problem in found.problems)
        return bool(found.stock.rows)


_CONFIG = b'theme = "night"\n[units]\nlengths = "in"\nrates = "kg/mm"\n[keys]\n"undo" = "ctrl+u"\n"jobs" = "f9"\n'
_STOCK = (
    b'format = 1\n[[spring]]\nfor = "front"\nlabel = "blue dot"\nrate_n_per_mm = 9.5\nfree_length_mm = 250.0\n'
    b'wire_mm = 4.6\nouter_mm = 36.6\ntotal_coils = 16.25\nends = "closed_ground"\ncount = 2\n'
    b'[[spring]]\nfor = "rear"\nrate_n_per_mm = 85.0\n'
)


def readers() -> dict[str, Reader]:
    """Every reader, by name."""
    folder = Folder()
    jobs = spoilt(path.read_bytes() for path in sorted((ROOT / "sample_jobs").glob("*.toml")))
    themes = spoilt(path.read_bytes() for path in sorted((ROOT / "themes").glob("*.toml")))
    profiles = spoilt([(ROOT / "src/stanchion/data/profiles.toml").read_bytes()])
    return {
        "quantities": Reader(_typed, _read_typed),
        "jobs": Reader(jobs, _read_job),
        "checks": Reader(jobs, _check_job),
        "themes": Reader(themes, _read_theme),
        "profiles": Reader(profiles, _read_profiles),
        "settings": Reader(spoilt([_CONFIG]), folder.settings),
        "stock": Reader(spoilt([_STOCK]), folder.stock),
    }
