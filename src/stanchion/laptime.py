"""Lap times: minutes and seconds as they are spoken, seconds as they are kept."""

from __future__ import annotations

import re

from stanchion.errors import BadQuantity

_ON_A_NUMBER_PAD = re.compile(r"([0-9]{1,2})[.,]([0-9]{2}[.,][0-9]{1,3})", re.ASCII)
_SPOKEN = re.compile(r"([0-9]{1,2})[:.']([0-9]{2}(?:[.,][0-9]{1,3})?)", re.ASCII)


def read_lap(text: str) -> str:
    """A lap time as plain seconds; a text that is no lap time as it is.

    Minutes and seconds are parted by a colon, with two digits of seconds: 1:32.4. A number pad has no colon: two
    points do as well, 1.32.4.

    Raises:
        BadQuantity: a colon, but no minutes and seconds about it.

    >>> read_lap("1:32.4"), read_lap("1.32.4"), read_lap("92.4")
    ('92.4', '92.4', '92.4')
    """
    bare = text.strip()
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


def spoken(seconds: float) -> str:
    """A lap time as it is spoken.

    >>> spoken(92.4), spoken(59.96), spoken(8.0)
    ('1:32.4', '1:00.0', '0:08.0')
    """
    tenths = round(seconds * 10)
    return f"{tenths // 600}:{tenths % 600 // 10:02d}.{tenths % 10}"
