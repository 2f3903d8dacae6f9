"""What the screen of the linkage, check and the sheet say of it: names of rows, and what to read next."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.model import Job, Path
from stanchion.job.spec import Kind
from stanchion.judgement.predict.points_figures import PointsFigures
from stanchion.units.known_units import Units
from stanchion.units.quantity import MINUS, show
from stanchion.wording.american import worded
from stanchion.wording.figure_names import FIGURE_NAMES
from stanchion.wording.finding_words import reason

LINKAGE_ROWS: tuple[tuple[str, str, Kind], ...] = (
    ("Wheel travel", "wheel_mm", Kind.LENGTH),
    ("Shock travel", "shock_mm", Kind.LENGTH),
    (FIGURE_NAMES["motion_ratio"], "ratio", Kind.RATIO),
    (f"{FIGURE_NAMES['arm_deg']} °", "arm_deg", Kind.ANGLE),
    ("Axle back by", "back_mm", Kind.LENGTH),
)
"""Name, field and kind of each figure, at full extension, now and at full travel."""
AT = {"extended": "extended", "now": "now", "full": "full travel"}
"""The three travels for which they are given, by the name of their figures."""
_HOW = {
    "coordinates": "Machine level: measure ahead of the pivot and up from it, each centre to centre; behind and below "
    "count minus.",
    "lengths": "Measure from the centre of the pivot and from that of the axle to the centre of the point.",
    "photo": "From far away, square to the machine, the camera level and at the height of the axle: count pixels from "
    "the left and from the top.",
}
_POINT_DO = {
    "rocker": "what the rocker turns about",
    "link_end": "the bolt that joins link and rocker",
    "link_far": "the link's other bolt, on the {far}",
    "shock_moved": "the eye of the shock that the {mover} moves",
    "shock_held": "the shock's other eye, on the {held}",
    "pivot": "the swingarm pivot",
    "axle": "the rear axle",
}


def do_words(job: Job, at: Path | None) -> str:
    """What to read for the current field; empty where it is none of a point."""
    points = job.rear.points
    if at is None or at[:2] != ("rear", "points") or len(at) != len(("rear", "points", "point", "cell")):
        return ""
    on_arm = points.layout == "rocker_on_swingarm"
    words = _POINT_DO[str(at[2])].format(
        far="frame" if on_arm else "swingarm",
        mover="swingarm" if points.layout == "straight" else "rocker",
        held=points.held_on if on_arm else "frame",
    )
    if at[3] == "side":
        return worded(f"{words[0].upper()}{words[1:]}: does it lie below or above the line from pivot to axle?")
    return worded(f"{words[0].upper()}{words[1:]}. {_HOW[points.read_by]}")


def linkage_notes(job: Job, figures: PointsFigures, units: Units, *, link: bool = True) -> Iterator[str]:
    """What is to be said beside the figures; of the link only where it has no line of its own."""
    if job.rear.points.used != "points":
        yield "The motion ratio in use is still that of the pairs or the single number: choose points to use these."
    if figures.known.known and not figures.full.wheel_mm.known:
        yield full_needs(figures)
    if job.rear.eye_to_eye_mm is None and figures.known.known:
        yield "Eye to eye not known: taken as read with the shock extended."
    if link and figures.link_mm.value is not None and job.rear.link_mm is None:
        yield f"Link by its points: {show(figures.link_mm.value, Kind.LENGTH, units)}. Try another length with ^T."
    for one in figures.pairs:
        pair, points = (show(mm, Kind.LENGTH, units) for mm in (one.pair_mm, one.points_mm))
        yield f"Pair at {show(one.wheel_mm, Kind.LENGTH, units)}: {pair}, points {points}."
    if figures.known.known:
        yield "The points turn as rigid parts without play; a photograph is not corrected for its lens."


def full_needs(figures: PointsFigures) -> str:
    """Why there is no figure at full travel."""
    return f"Full travel {reason(figures.full.wheel_mm)} or shock stroke."


def linkage_lines(job: Job, figures: PointsFigures, units: Units) -> Iterator[tuple[str, str]]:
    """Each figure with its name, at all three travels; then what is to be said beside them, without a name."""
    if not figures.known.known:
        yield "Not known", reason(figures.known)
        return
    for name, field, kind in LINKAGE_ROWS:
        shown = (
            f"{words} {show(value, kind, units)}"
            for at, words in AT.items()
            if (value := getattr(getattr(figures, at), field).value) is not None
        )
        yield name.removesuffix(" °"), ", ".join(shown)
    if figures.progression_pct.value is not None:
        yield "Progression", f"{figures.progression_pct.value:+.1f} %".replace("-", MINUS)
    if figures.link_mm.value is not None:
        whence = "" if job.rear.link_mm is not None else ", as the points have it"
        yield "Length of the link", show(figures.link_mm.value, Kind.LENGTH, units) + whence
    yield from (("", note) for note in linkage_notes(job, figures, units, link=False))
