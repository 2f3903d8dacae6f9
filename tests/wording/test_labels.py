"""The tables of field names: one of each name, and none wider than its column."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path as File

import stanchion
from stanchion.wording import labels

TABLES = sorted((File(stanchion.__file__).parent / "wording").glob("*_labels.py"))


def test_no_field_has_a_name_in_two_tables() -> None:
    named = [
        field for file in TABLES for field in vars(import_module(f"stanchion.wording.{file.stem}"))[file.stem.upper()]
    ]
    assert sorted(named) == sorted(labels._FIELDS), "a table is not joined, or a field is named twice"


def test_every_name_fits_the_column() -> None:
    assert not {name for name in labels._FIELDS.values() if len(name) > 22}
