"""The words of what the rider complains of: where on the track, and what the machine does there."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from stanchion.job.complaint import Complaint, What, Where
from stanchion.job.model import Path, Run
from stanchion.wording.american import worded

COMPLAINT_LABELS: dict[Path, str] = {
    ("complaints", "where"): "Where on the track",
    ("complaints", "what"): "Complaint",
}

WHERE_WORDS: Mapping[Where, str] = {
    "anywhere": "anywhere",
    "straight_braking": "braking straight",
    "turn_in": "turning in",
    "middle": "mid-corner",
    "exit": "corner exit",
    "straight": "on the straight",
    "bumps": "over bumps",
    "jumps": "jumps and landings",
}
WHAT_WORDS: Mapping[What, str] = {
    "other": "something else",
    "dives": "dives",
    "will_not_turn": "will not turn",
    "runs_wide": "runs wide",
    "chatters": "chatters",
    "pumps": "pumps",
    "kicks": "kicks",
    "packs_down": "packs down",
    "tops_out": "tops out",
    "vague": "vague",
    "harsh": "harsh",
    "shakes": "shakes",
    "squats": "squats",
    "spins_up": "spins up",
    "brake": "brake is wrong",
    "bearing": "bearing has play",
    "loose": "something is loose",
}


def where_word(where: Where) -> str:
    """Where it happens, in words."""
    return worded(WHERE_WORDS[where])


def what_word(what: What) -> str:
    """What the machine does, in words."""
    return worded(WHAT_WORDS[what])


def complaint_words(complaint: Complaint) -> str:
    """One complaint, what before where.

    >>> complaint_words(Complaint(where="turn_in", what="will_not_turn"))
    'will not turn, turning in'
    >>> complaint_words(Complaint(what="bearing"))
    'bearing has play'
    """
    what = what_word(complaint.what)
    return what if complaint.where == "anywhere" else f"{what}, {where_word(complaint.where)}"


def complaints_words(complaints: Iterable[Complaint]) -> str:
    """Several complaints in one line.

    >>> complaints_words((Complaint(where="straight_braking", what="dives"), Complaint(where="exit", what="squats")))
    'dives, braking straight; squats, corner exit'
    """
    return "; ".join(map(complaint_words, complaints))


def rider_words(run: Run) -> str:
    """What the rider said of a run: the standard words, then the rider's own; empty where nothing was said.

    >>> rider_words(Run(complaints=(Complaint(where="exit", what="squats"),), said="Only on old tyres."))
    'squats, corner exit. Only on old tyres.'
    """
    standard = complaints_words(run.complaints)
    own = run.said.strip()
    return f"{standard}. {own}" if standard and own else standard or own
