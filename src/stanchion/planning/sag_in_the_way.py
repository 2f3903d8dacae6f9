"""What the sags of an end say against another spring or other preload there, by the rules of the advice itself."""

from __future__ import annotations

from stanchion.job.model import End
from stanchion.judgement.criteria.riders_words import ChangeKind, ChangeRow
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.findings import DOUBTS, Finding
from stanchion.judgement.sag.sag_advice import LEFT_AS_THEY_ARE, NO_ADVICE
from stanchion.judgement.track.run_by_sag import end_in_doubt
from stanchion.planning.change_edits import Hindered

_ASKS_MORE = ("add_preload", "longer_spacer", "too_soft", "stiffer_", "air_add", "no_spring_needs_more")
_ASKS_LESS = ("less_preload", "shorter_spacer", "too_stiff", "softer_", "air_release", "no_spring_needs_less")
_SUITS = ("pair_suits", "pair_close", "air_suits")


def moves_sag(do: ChangeKind) -> bool:
    """Whether a change is one of springs or preload, or of the pressure of an end that is sprung by air."""
    return do.split("_")[1] in ("preload", "spring")


def sag_in_the_way(of: Assessment, row: ChangeRow) -> Hindered | None:
    """Why a change of springs or preload is not to be made, by the sags of its end; None where nothing is against it.

    Preload that the sags ask for may be turned while something is in doubt, as the advice has it: it is turned back
    without cost.

    Args:
        of: what assess() gave for the job.
        row: the change.
    """
    if not moves_sag(row.do):
        return None
    advice = of.sag.end(row.end).advice
    code = "" if advice is None else advice.code
    if code in NO_ADVICE:
        return Hindered(why="sag_first", finding=advice)
    more, spring = row.do.endswith(("more", "stiffer")), "spring" in row.do
    in_doubt = end_in_doubt(row.end, of.sag, of.predicted)
    if in_doubt and (spring or advice is None or advice.values.get("work") == "none"):
        return Hindered(why="doubt_first", finding=doubt_of(of, row.end))
    if code in LEFT_AS_THEY_ARE:
        at_edge = code in ("pair_borderline", "pair_edge_recheck")
        return Hindered(why="sag_at_edge" if at_edge else "sag_first", finding=advice)
    if spring and code.startswith(_ASKS_MORE if more else _ASKS_LESS):
        return Hindered(why="sag_first", finding=advice)  # the advice names the rate, with its preload
    if code.startswith(_ASKS_LESS if more else _ASKS_MORE):
        return Hindered(why="sag_against", finding=advice)
    return None


def doubt_of(of: Assessment, end: End) -> Finding | None:
    """The worst finding that an end is in doubt by."""
    found = (one for one in of.findings if one.code in DOUBTS and one.where[:2] == ("sag", end))
    return next(found, None) or of.predicted.end(end).target


def springs_suit(of: Assessment, end: End) -> bool:
    """Whether the sags of an end ask for no other spring."""
    advice = of.sag.end(end).advice
    return advice is not None and advice.code in _SUITS
