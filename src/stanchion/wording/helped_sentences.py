"""The words of what helped before."""

from __future__ import annotations

from stanchion.planning.what_helped import EarlierChange, Helped, Tally
from stanchion.units.known_units import METRIC, Units
from stanchion.wording.work_sentences import item_words

_PLACES = (("here", "here"), ("elsewhere", "at other venues"), ("others", "with other riders"))


def helped_words(of: Helped) -> str:
    """How often a change was found better, where; empty where there is no verdict on it.

    >>> import datetime as dt
    >>> day = dt.date(2026, 5, 31)
    >>> helped_words(Helped(here=Tally(better=3, worse=1), elsewhere=Tally(better=5, same=2), last=day))
    'Better 3 of 4 here (worse 1), 5 of 7 at other venues; last on 2026-05-31.'
    >>> helped_words(Helped(others=Tally(unclear=2)))
    'Not alone, so nothing is known: 2.'
    >>> helped_words(Helped())
    ''
    """
    parts = []
    unclear = 0
    for name, words in _PLACES:
        tally: Tally = getattr(of, name)
        unclear += tally.unclear
        if tally.judged:
            worse = f" (worse {tally.worse})" if tally.worse else ""
            parts.append(f"{tally.better} of {tally.judged} {words}{worse}")
    alone = f"Better {', '.join(parts)}" if parts else ""
    if of.last is not None:
        alone += f"; last on {of.last.isoformat()}"
    if not unclear:
        return f"{alone}." if alone else ""
    mixed = f"together with other changes, so not known: {unclear}"
    return f"{alone}; {mixed}." if alone else f"Not alone, so nothing is known: {unclear}."


def helped_in_brief(of: Helped) -> str:
    """The same in a few characters, for a list; empty where nothing was judged by itself.

    >>> helped_in_brief(Helped(here=Tally(better=3, worse=1), others=Tally(same=1)))
    'better 3 of 4 here'
    >>> helped_in_brief(Helped(elsewhere=Tally(better=1)))
    'better 1 of 1'
    >>> helped_in_brief(Helped(here=Tally(worse=1)))
    'worse 1 of 1 here'
    """
    place, tallies = (" here", [of.here]) if of.here.judged else ("", [of.elsewhere, of.others])
    better, worse, judged = (sum(getattr(one, name) for one in tallies) for name in ("better", "worse", "judged"))
    if not judged:
        return ""
    return f"worse {worse} of {judged}{place}" if worse and not better else f"better {better} of {judged}{place}"


def earlier_words(of: EarlierChange, units: Units = METRIC) -> str:
    """What was done the last time such a change was made."""
    return "; ".join(item_words(item, units) for item in of.work)
