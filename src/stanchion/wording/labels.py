"""The names of the parts of a job, and of its fields, which have a table for each subject."""

from __future__ import annotations

from stanchion.job.measured import SAG_NOTES
from stanchion.job.model import End, Path
from stanchion.wording.air_labels import AIR_LABELS
from stanchion.wording.american import worded
from stanchion.wording.chassis_labels import CHASSIS_LABELS
from stanchion.wording.complaint_labels import COMPLAINT_LABELS
from stanchion.wording.damper_labels import DAMPER_LABELS
from stanchion.wording.drive_labels import DRIVE_LABELS
from stanchion.wording.end_labels import END_LABELS
from stanchion.wording.occasion_labels import OCCASION_LABELS
from stanchion.wording.points_labels import POINTS_LABELS
from stanchion.wording.proof_labels import PROOF_LABELS
from stanchion.wording.run_labels import RUN_LABELS
from stanchion.wording.sag_labels import SAG_LABELS
from stanchion.wording.spring_labels import SPRING_LABELS

_PARTS: dict[Path, str] = {
    (): "Job",
    ("job",): "Job",
    ("front",): "Fork",
    ("front", "left"): "Fork, left",
    ("front", "right"): "Fork, right",
    ("front", "top_out"): "Fork, top-out spring",
    ("rear",): "Shock",
    ("rear", "top_out"): "Shock, top-out spring",
    ("rear", "points"): "Shock, linkage points",
    ("weights",): "Weights",
    ("runs",): "Run",
    ("runs", "complaints"): "Run, complaint",
    ("runs", "change"): "Run, change",
    ("runs", "change", "complaints"): "Run, change, complaint",
    ("runs", "change", "expected"): "Run, change, expected",
    ("changes",): "Change",
    ("changes", "complaints"): "Change, complaint",
    ("changes", "moves"): "Change, setting",
    ("changes", "expected"): "Change, expected",
    ("found",): "As found",
    ("found", "front"): "As found, fork",
    ("found", "rear"): "As found, shock",
    ("found", "sag"): "As found, sag",
    ("returning",): "Work list",
    ("geometry",): "Geometry",
    ("upkeep",): "Upkeep",
    ("upkeep", "fork_oil"): "Upkeep, fork oil",
    ("upkeep", "fork_seals"): "Upkeep, fork seals",
    ("upkeep", "shock"): "Upkeep, shock",
    ("upkeep", "torques"): "Upkeep, torques",
    ("upkeep", "ratio_with"): "Motion ratio measured with",
    ("upkeep", "geometry_with"): "Geometry measured with",
    ("upkeep", "swingarm_with"): "Swingarm measured with",
    ("upkeep", "set_lengths_with"): "Set length read with",
    ("attached",): "Attached files",
    ("swingarm",): "Swingarm",
    ("drive",): "Drive",
    ("balance",): "Balance",
    ("damping",): "Damping",
    ("repeatability",): "Own readings",
    ("calibration",): "Calibration of scales",
    ("calibration", "front"): "Front scale",
    ("calibration", "rear"): "Rear scale",
    ("calibration", "both"): "Scale for both wheels",
    ("damper_sheets",): "Damper sheet",
    ("damper_sheets", "curves"): "Damper sheet, curve",
    ("balance", "lifts"): "Balance, front lifted",
    ("targets",): "Own targets",
    ("targets", "front"): "Own targets, front",
    ("targets", "rear"): "Own targets, rear",
    ("sag",): "Sag",
    ("sag", "front"): "Front sag",
    ("sag", "rear"): "Rear sag",
    ("sag", "front", "static"): "Front static sag",
    ("sag", "front", "rider"): "Front rider sag",
    ("sag", "rear", "static"): "Rear static sag",
    ("sag", "rear", "rider"): "Rear rider sag",
}
END_NAMES: dict[End, str] = {"front": "fork", "rear": "shock"}
_BOTH_LEGS = "Fork, both legs"

# By the last steps of a path, the longest that fits first.
_FIELDS: dict[Path, str] = {
    **OCCASION_LABELS,
    **RUN_LABELS,
    **COMPLAINT_LABELS,
    **PROOF_LABELS,
    **CHASSIS_LABELS,
    **DRIVE_LABELS,
    **SPRING_LABELS,
    **END_LABELS,
    **POINTS_LABELS,
    **AIR_LABELS,
    **DAMPER_LABELS,
    **SAG_LABELS,
}


def field_label(path: Path) -> str:
    """The short name of a field, without its part.

    >>> field_label(("front", "left", "spring", "set_length_in_mm"))
    'Set length, fully in'
    """
    return worded(field_name(path))


def field_name(path: Path) -> str:
    """The short name of a field as the table has it, whatever words are chosen."""
    names = tuple(step for step in path if isinstance(step, str))
    for start in range(max(0, len(names) - 2), len(names)):
        found = _FIELDS.get(names[start:])
        if found is not None:
            return found
    return _PARTS.get(names) or (names[-1].replace("_", " ").capitalize() if names else "Job")


_READINGS = {"hanging_mm": "L1", "down_mm": "down", "up_mm": "up"}


def reading_word(path: Path) -> str:
    """A sag reading in one word, for places where its end and state are plain.

    >>> reading_word(("sag", "front", "static", "down_mm", 0)), reading_word(("front", "travel_mm"))
    ('down', 'fork travel')
    """
    names = [step for step in path if isinstance(step, str)]
    return _READINGS.get(names[-1]) or uncapitalised(field_label(path))


_OF_ADJUSTERS = ("Adjuster ", "Collar ")
_SHORT_FIELDS = {"Set length, fully in": "set fully in", "Preload per click": "mm per click"}


def short_field_label(path: Path) -> str:
    """A field in as few words as still name it, for narrow places below the name of its part.

    >>> short_field_label(("rear", "spring", "collar", "pitch_mm"))
    'thread pitch'
    """
    words = field_label(path)
    for part in _OF_ADJUSTERS:
        words = words.removeprefix(part) if words != f"{part}now" else words
    return _SHORT_FIELDS.get(words) or uncapitalised(words)


def part_label(path: Path, *, both_legs: bool = False) -> str:
    """The part of a job that a path belongs to.

    >>> part_label(("sag", "rear", "static", "down_mm", 0)), part_label(("front", "left"), both_legs=True)
    ('Rear static sag', 'Fork, both legs')
    """
    if both_legs and path[:1] == ("front",):
        return _BOTH_LEGS
    for end in range(len(path), 0, -1):
        found = _PARTS.get(path[:end])
        if found is not None:
            return found
    return _PARTS[()]


def home_label(path: Path, *, both_legs: bool = False) -> str:
    """The part under which a field is entered; both states of sag are entered under their end."""
    return part_label(path[:2] if path[:1] == ("sag",) else path, both_legs=both_legs)


_OF_A_STATE = {(name,) for name in SAG_NOTES}
"""Fields of sag whose name does not say which state they belong to."""


def label(path: Path, *, both_legs: bool = False) -> str:
    """A field with its part.

    >>> label(("front", "left", "spring", "free_length_mm"))
    'Fork, left: free length'
    """
    names = tuple(step for step in path if isinstance(step, str))
    if names in _PARTS:
        return _PARTS[names]
    part = part_label(path) if names[-1:] in _OF_A_STATE else home_label(path, both_legs=both_legs)
    return f"{part}: {uncapitalised(field_label(path))}"


def uncapitalised(text: str) -> str:
    """The text with a small first letter, for the middle of a sentence.

    >>> uncapitalised("Free length"), uncapitalised("L1, wheel hanging")
    ('free length', 'L1, wheel hanging')
    """
    return text[:1].lower() + text[1:] if text[1:2].islower() else text
