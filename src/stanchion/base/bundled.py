"""Locating the files that ship with the program: themes, sample jobs and data."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from stanchion.base.errors import BadFile

Folder = Literal["themes", "sample_jobs"]

PACKAGE = Path(__file__).parents[1]


def bundled(folder: Folder) -> Path:
    """The folder that ships: inside the package in a wheel, at the project's top level in a working tree.

    Raises:
        BadFile: the folder is in neither place; the message says to install the program again.
    """
    # The project keeps both folders where people look for them, at its top level; only the wheel moves them inside.
    # Not by importlib.resources, which takes longer to load than the files; a wheel is always unpacked.
    for place in (PACKAGE / folder, PACKAGE.parents[1] / folder):
        if place.is_dir():
            return place
    raise BadFile(f"the folder '{folder}' that comes with the program is missing: install the program again")


def shipped_data(name: str) -> bytes:
    """A file of the package's own data."""
    return (PACKAGE / "data" / name).read_bytes()


def bundled_files(folder: Folder) -> tuple[tuple[str, bytes], ...]:
    """Name and content of each TOML file in the folder, by name.

    >>> [name for name, _ in bundled_files("themes")]
    ['clear.toml', 'daylight.toml', 'night.toml']
    """
    found = (file for file in bundled(folder).iterdir() if file.name.endswith(".toml"))
    return tuple((file.name, file.read_bytes()) for file in sorted(found, key=lambda file: file.name))
