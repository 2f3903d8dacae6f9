"""The readings of the machine as it was found, and the words for each; positions are counted without leaving a mark."""

from __future__ import annotations

from stanchion.wording.guide_sentences import Reading

TYRES_STATE = "Tyres, cold"
COUNT_IN = "Turn it in to its stop, gently, and count; then turn it back out by the same count."
COUNT_OUT = "Turn it out to its stop and count; then turn it back in by the same count."
CLOSED = "Enter the {unit} out from closed (fully in)."
OPEN = "Enter the {unit} in from fully out."
SHOWING = "Turn nothing: read the {unit} showing."


def _tyre(end: str) -> Reading:
    return Reading(
        path=("found", f"{end}_cold_bar"),
        do=f"{end.capitalize()} tyre cold, as it came in: read its pressure before you let any air out.",
        title=f"{end.capitalize()} tyre",
        state=TYRES_STATE,
    )


def _damper(name: str, title: str) -> Reading:
    return Reading(path=(name, "now"), do=COUNT_IN, read=CLOSED, caution="adjuster_end", title=title)


TYRES: tuple[Reading, ...] = (_tyre("front"), _tyre("rear"))
FORK_HEIGHT = Reading(
    path=("front", "fork_height_mm"),
    do="Touch no bolt: measure from the top yoke up to the top edge of the stanchion.",
    caution="support",
)
SHOCK_LENGTH = Reading(
    path=("rear", "length_adjuster_mm"),
    do="Read how far the length adjuster is out.",
    optional=True,
    title="Length adj.",
)
FORK_DAMPERS: tuple[Reading, ...] = (
    _damper("compression", "Compression"),
    _damper("high_speed_compression", "High-speed"),
    _damper("rebound", "Rebound"),
)
SHOCK_DAMPERS: tuple[Reading, ...] = (
    _damper("low_speed_compression", "Low-speed"),
    _damper("high_speed_compression", "High-speed"),
    _damper("rebound", "Rebound"),
)
PRELOAD = Reading(path=("now",), do=COUNT_OUT, read=OPEN, caution="adjuster_end", title="Preload")
OUTCOME = ("The figure shown is the one in the job.", "Enter takes it as found, or type what you read.")
TOUCHED = ("This is kept as found;", "the job stays as it is set now.")
KEPT = "The machine as found on {date} is kept separately in this job: the work list leads back to it."
NONE_TAKEN = "Nothing has been taken yet."
OTHERWISE = "Changed since the last job: {changes}."
AS_LEFT = "Every position taken is as the last job left it."
