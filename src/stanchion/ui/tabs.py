"""The other screens on one line, as many as there is room for."""

from __future__ import annotations

from collections.abc import Sequence

from stanchion.base.record import record


@record
class Tab:
    """One screen to go to."""

    key: str
    """Its name in the table of keys."""
    name: str
    short: str = ""
    """A shorter name for where room is short; empty: the same."""


TABS = (
    Tab("screen.machine", "Machine", "Mach."),
    Tab("screen.front", "Front"),
    Tab("screen.rear", "Rear"),
    Tab("screen.sag", "Sag"),
    Tab("screen.adjusters", "Adjusters", "Adj."),
    Tab("screen.predict", "Predict", "Pred."),
    Tab("screen.trial", "Try"),
    Tab("screen.springs", "Springs", "Spr."),
    Tab("screen.runs", "Runs"),
    Tab("jobs", "Jobs"),
    Tab("screen.upkeep", "Upkeep", "Upk."),
    Tab("screen.worklist", "Work list", "Work"),
    Tab("screen.story", "Story"),
    Tab("screen.earlier", "Earlier"),
)
"""The most used first: where there is no room for all, the last are left out."""
DAILY = 10
"""How many of them are for the daily work."""


def tabs_that_fit(tabs: Sequence[Tab], keys: Sequence[str], width: int, daily: int = DAILY) -> list[str]:
    """Key and name of each tab there is room for, a space between them.

    Full names where the screens of the daily work all fit so, short ones otherwise.

    Args:
        tabs: the tabs, the most needed first.
        keys: the key of each, as it is shown.
        width: columns there are.
        daily: how many of the first must fit with their full names, for these to be shown.

    >>> sag, try_, springs = Tab("a", "Sag"), Tab("b", "Try"), Tab("c", "Springs", "Spr.")
    >>> tabs_that_fit((sag, try_, springs), ("F5", "^T", "^G"), 24, 3)
    ['F5 Sag', '^T Try', '^G Springs']
    >>> tabs_that_fit((sag, try_, springs), ("F5", "^T", "^G"), 21, 3)
    ['F5 Sag', '^T Try', '^G Spr.']
    >>> tabs_that_fit((sag, try_, springs), ("F5", "^T", "^G"), 20, 3)
    ['F5 Sag', '^T Try']
    """
    full = [f"{key} {tab.name}" for tab, key in zip(tabs, keys, strict=True)]
    short = [f"{key} {tab.short or tab.name}" for tab, key in zip(tabs, keys, strict=True)]
    fit = _first(full, width)
    return fit if len(fit) >= daily else _first(short, width)


def _first(words: list[str], width: int) -> list[str]:
    """As many of the words as fit."""
    fit: list[str] = []
    for word in words:
        if len(" ".join([*fit, word])) > width:
            break
        fit.append(word)
    return fit
