"""What all verbs that print JSON have in common: the format number, nulls with their reasons, and the text itself."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Iterable
from dataclasses import fields, is_dataclass
from typing import Any

from stanchion.job.places import Comment
from stanchion.judgement.results.assessment import Band
from stanchion.judgement.results.figures import Figure, absent
from stanchion.judgement.results.problems import Problem
from stanchion.wording.finding_words import reason

JSON_FORMAT = 1
"""Of the data of every verb: raised when a key goes or means something else, not when one is added."""
NOT_RECORDED = "not recorded"
LISTED = ("machine", "rider", "venue", "date", "use", "sample")
"""What the list of jobs knows of one."""
OCCASION = (*LISTED, "session")
"""What is given of a job to say which it is."""


def json_text(data: object) -> str:
    """Plain data as JSON that ends with a line end; a number that JSON does not have is an error of the program."""
    return json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def plain_value(value: Any) -> Any:
    """A recorded value as plain data: a date as text, a list or a part of a job with what is in it.

    >>> plain_value((dt.date(2026, 5, 31), 1.5, None))
    ['2026-05-31', 1.5, None]
    """
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, tuple):
        return [plain_value(one) for one in value if not isinstance(one, Comment)]
    if is_dataclass(value):
        return {one.name: plain_value(getattr(value, one.name)) for one in fields(value) if one.name != "comments"}
    return value


class JsonData:
    """Turns records into plain data. By dotted path it gathers why each null is one, and every figure that is known."""

    def __init__(self) -> None:
        self.missing: dict[str, str] = {}
        self.numbers: dict[str, float] = {}

    def of(self, at: str, record: object, names: Iterable[str]) -> dict[str, Any]:
        """Fields of a record by name: numbers of figures, and recorded values as they are.

        Args:
            at: the path of the record.
            record: the record.
            names: its fields.
        """
        return {name: self.plain(f"{at}.{name}", getattr(record, name)) for name in names}

    def plain(self, at: str, value: Any) -> Any:
        """One value; the reason is noted where it is absent."""
        if isinstance(value, Figure):
            if value.value is None:
                self.missing[at] = reason(value)
            else:
                self.numbers[at] = value.value
            return value.value
        if value is None:
            self.missing[at] = NOT_RECORDED
        return value.isoformat() if isinstance(value, dt.date) else value

    def code(self, at: str, code: str, waits_for: Figure, otherwise: Problem) -> str | None:
        """A code, or None where it is empty.

        Args:
            at: its path.
            code: the code.
            waits_for: the figure it is made from, whose reason is given where that is absent.
            otherwise: why there is no code where that figure is known.
        """
        if not code:
            self.plain(at, absent(otherwise) if waits_for.known else waits_for)
        return code or None

    def band(self, at: str, band: Band | None, otherwise: Problem) -> list[float] | None:
        """Both ends of a band or target, or None where there is none, for the reason given."""
        if band is None:
            self.plain(at, absent(otherwise))
        return None if band is None else list(band)


def filled(recorded: dict[str, Any]) -> dict[str, Any]:
    """What was recorded, without what was left blank."""
    return {name: value for name, value in recorded.items() if value not in (None, "")}


def filled_throughout(recorded: Any) -> Any:
    """The same within its parts and rows, too.

    >>> filled_throughout({"name": "", "rows": [{"true_kg": 20.0, "read_kg": None}]})
    {'rows': [{'true_kg': 20.0}]}
    """
    if isinstance(recorded, dict):
        return {name: filled_throughout(value) for name, value in filled(recorded).items()}
    return [filled_throughout(value) for value in recorded] if isinstance(recorded, list | tuple) else recorded
