"""Checks of what a job's file holds besides the job: values of unknown keys that cannot be kept."""

from __future__ import annotations

import datetime as dt
import math
from typing import Any

from stanchion.base.errors import BadFile
from stanchion.base.text import clean
from stanchion.base.toml import DEEPEST

LONGEST_KEY = 200
"""Characters of a key at most."""
LONGEST_TEXT = 5_000
"""Characters of a text at most, where the format sets no closer limit."""

END_TABLE = b"[end]"
CUT_SHORT = "the file is cut short: its end mark is missing; take an earlier copy of it"


def check_foreign(value: Any, key: str, where: str, depth: int) -> None:
    """Check that a value of an unknown key can be kept and written back unchanged.

    Args:
        value: as parsed.
        key: its name.
        where: the dotted path of it.
        depth: tables and lists around it.

    Raises:
        BadFile: nested too deeply, a number that cannot be kept, or a text or key that is too long.
    """
    shown = clean(where, 120)
    if len(key) > LONGEST_KEY:
        raise BadFile(f"{shown}: the name is too long: {len(key)} characters, at most {LONGEST_KEY}")
    if depth > DEEPEST:
        raise BadFile(f"{shown}: more than {DEEPEST} tables or lists within one another; take some out")
    if isinstance(value, dict):
        for name, inner in value.items():
            check_foreign(inner, name, f"{where}.{name}", depth + 1)
    elif isinstance(value, list):
        for at, inner in enumerate(value):
            check_foreign(inner, "", f"{where}[{at}]", depth + 1)
    elif isinstance(value, str) and len(value) > LONGEST_TEXT:
        raise BadFile(f"{shown}: the text is too long: {len(value)} characters, at most {LONGEST_TEXT}")
    elif isinstance(value, int) and not -(2**63) <= value < 2**63:
        raise BadFile(f"{shown}: the whole number is too large; a TOML file holds at most 19 digits")
    elif isinstance(value, float) and not math.isfinite(value):
        raise BadFile(f"{shown}: an ordinary number is needed, not infinity or 'not a number'")
    elif not isinstance(value, str | int | float | dt.date | dt.time):
        raise BadFile(f"{shown}: a value of a sort this program cannot keep")
