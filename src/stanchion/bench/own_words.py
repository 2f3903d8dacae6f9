"""The rows that answer the rider's words: the program's, and those of the user's riders_words.toml in the config
folder, read once."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from stanchion.base.errors import BadFile
from stanchion.judgement.criteria.riders_words import RidersWords, load_riders_words, shipped_riders_words
from stanchion.store.atomic import read
from stanchion.store.disk import cause
from stanchion.store.paths import Places

FILE = "riders_words.toml"


@cache
def riders_words_of(where: Places) -> tuple[RidersWords, tuple[str, ...]]:
    """The rows, and problems with the user's file: its path, and the line.

    Args:
        where: the folders.
    """
    path: Path = where.config / FILE
    try:
        text = read(path)
    except FileNotFoundError:
        return shipped_riders_words(), ()
    except OSError as error:
        return shipped_riders_words(), (f"{path} cannot be read: {cause(error)}.",)
    except BadFile as error:
        return shipped_riders_words(), (f"{path}: {error}",)
    words = load_riders_words(text)
    return words, tuple(f"{path}, {problem}" for problem in words.problems)
