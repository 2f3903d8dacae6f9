"""Lap times and days: typed text to a value. A lap is typed and shown as minutes and seconds, and kept in seconds."""

from __future__ import annotations

import datetime as dt
import re

from stanchion.base.errors import BadEdit, BadQuantity

LAP_DECIMALS = 3
"""Of the seconds of a lap, at most."""

_ON_A_NUMBER_PAD = re.compile(r"([0-9]{1,2})[.,]([0-9]{2}[.,][0-9]{1,3})", re.ASCII)
_SPOKEN = re.compile(r"([0-9]{1,2})[:.']([0-9]{2}(?:[.,][0-9]{1,3})?)", re.ASCII)
_WITHOUT_A_SIGN = re.compile(r"([0-9]{1,2})([0-5][0-9](?:[.,][0-9]{1,3})?)", re.ASCII)
"""Seconds from 100 on, which may as well be minutes and seconds run together."""


def read_lap(text: str) -> str:
    """A lap time as plain seconds; a text that is no lap time as it is.

    Minutes and seconds are parted by a colon, with two digits of seconds: 1:32.4. A number pad has no colon: two
    points do as well, 1.32.4. A bare 131.9 may be either, 1:31.9 or 2:11.9, and is not guessed at.

    Raises:
        BadQuantity: a colon, but no minutes and seconds about it; or no sign at all where one is needed.

    >>> read_lap("1:32.4"), read_lap("1.32.4"), read_lap("92.4"), read_lap("131.9 s")
    ('92.4', '92.4', '92.4', '131.9 s')
    >>> read_lap("131.9")
    Traceback (most recent call last):
    stanchion.base.errors.BadQuantity: minutes or seconds? Type 1:31.9 (or 1.31.9) or, for seconds, 131.9 s
    """
    bare = text.strip()
    run_together = _WITHOUT_A_SIGN.fullmatch(bare)
    if run_together is not None:
        minutes, seconds = run_together.groups()
        dotted = f" (or {minutes}.{seconds})" if len(seconds) > 2 else ""
        raise BadQuantity(f"minutes or seconds? Type {minutes}:{seconds}{dotted} or, for seconds, {bare} s")
    match = _ON_A_NUMBER_PAD.fullmatch(bare)
    if match is None:
        if ":" not in bare:
            return text
        match = _SPOKEN.fullmatch(bare)
    if match is None or float(match[2].replace(",", ".")) >= 60.0:
        raise BadQuantity("a lap time is typed as 1:32.4 (minutes:seconds) or in seconds, 92.4")
    seconds = match[2].replace(",", ".")
    decimals = len(seconds.partition(".")[2])
    return f"{60 * int(match[1]) + float(seconds):.{decimals}f}"


def spoken(seconds: float, decimals: int = 1) -> str:
    """A lap time as it is spoken.

    Args:
        seconds: the time [s].
        decimals: of the seconds, 1 or more.

    >>> spoken(92.4), spoken(59.96), spoken(8.0), spoken(131.954, 3)
    ('1:32.4', '1:00.0', '0:08.0', '2:11.954')
    """
    second = 10**decimals
    minutes, rest = divmod(round(seconds * second), 60 * second)
    return f"{minutes}:{rest // second:02d}.{rest % second:0{decimals}d}"


_CLOCK = re.compile(r"([0-9]{1,2})(?:[:.,h ]?)([0-9]{2})", re.ASCII)


def read_clock(text: str) -> str:
    """A typed time of day as hours and minutes; empty for an empty text.

    Raises:
        BadEdit: any other text, or a time that no clock shows.

    >>> read_clock("9.40"), read_clock("0940"), read_clock("09:40"), read_clock(" ")
    ('09:40', '09:40', '09:40', '')
    >>> read_clock("after lunch")
    Traceback (most recent call last):
    stanchion.base.errors.BadEdit: a time of day is typed as 09:40 (or 9.40, or 0940); a name goes into Session
    """
    bare = text.strip()
    match = _CLOCK.fullmatch(bare)
    if match is None and bare:
        raise BadEdit("a time of day is typed as 09:40 (or 9.40, or 0940); a name goes into Session")
    if match is None:
        return ""
    if int(match[1]) > 23 or int(match[2]) > 59:
        raise BadEdit(f"there is no time {match[1]}:{match[2]}: hours go to 23, minutes to 59")
    return f"{int(match[1]):02}:{match[2]}"


def read_day(text: str) -> dt.date:
    """A typed day: 2026-05-31, or 31.5.2026 and 31/5/2026 with the day first.

    Raises:
        BadEdit: any other text, or a day the calendar does not have.

    >>> read_day("31.5.2026")
    datetime.date(2026, 5, 31)
    """
    bare = text.strip()
    forms = ((r"(\d{4})-(\d{1,2})-(\d{1,2})", (0, 1, 2)), (r"(\d{1,2})[./](\d{1,2})[./](\d{4})", (2, 1, 0)))
    for pattern, order in forms:
        match = re.fullmatch(pattern, bare, re.ASCII)
        if match:
            year, month, day = (int(match.groups()[i]) for i in order)
            try:
                return dt.date(year, month, day)
            except ValueError:
                raise BadEdit(f"there is no day {bare}: check day and month") from None
    raise BadEdit("a day is typed as 2026-05-31 (year-month-day)")
