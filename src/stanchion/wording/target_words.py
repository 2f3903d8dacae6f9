"""Where own targets and bands are from, in words."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.base.text import clean
from stanchion.job.model import ENDS, STATES, End
from stanchion.judgement.results.assessment import Assessment, EndSagFigures
from stanchion.wording.verdicts import STATE_WORDS

NOT_NOTED = "source not noted"


def own_note(source: str | None) -> str:
    """What follows a target or band: where an own one is from; nothing after one of the profile.

    >>> own_note("maker's manual, p. 31"), own_note(""), own_note(None)
    (", own: maker's manual, p. 31", ', own: source not noted', '')
    """
    return "" if source is None else f", own: {clean(source) or NOT_NOTED}"


def own_sag_targets(figures: EndSagFigures, *, brief: bool = False) -> str:
    """Which sag targets of an end are own ones, and where they are from; empty where none is.

    Args:
        figures: both sags of the end.
        brief: without saying which.
    """
    own = [state for state in STATES if figures.state(state).target_source is not None]
    if not own:
        return ""
    source = clean(figures.state(own[0]).target_source or "") or NOT_NOTED
    if brief:
        return f"own: {source}"
    which = "Own targets" if len(own) == len(STATES) else f"Own {own[0]} target"
    return f"{which}: {source}"


def own_rows(a: Assessment) -> Iterator[tuple[str, str]]:
    """Each own target and band that counts, by name, and where it is from."""
    for end in ENDS:
        for state in STATES:
            yield from _row(f"{end.capitalize()}, {STATE_WORDS[state]}", a.sag.end(end).state(state).target_source)
        yield from _row(f"{end.capitalize()}, preload band", _band_source(a, end))


def _row(name: str, source: str | None) -> Iterator[tuple[str, str]]:
    if source is not None:
        yield name, clean(source) or NOT_NOTED


def _band_source(a: Assessment, end: End) -> str | None:
    return a.front.left.band_source if end == "front" else a.rear.spring.band_source
