"""What is said of a study of how well readings repeat: while it is made, of its result, and of a job that uses it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from stanchion.base.text import clean
from stanchion.job.repeatability import Repeatability, Studied
from stanchion.job.spec import Kind
from stanchion.job.study import PEOPLE, PLACES, REPEATS
from stanchion.judgement.results.own_readings import OwnReading, StudyResult
from stanchion.units.known_units import Units
from stanchion.units.quantity import show

STUDY_OF: dict[Studied, str] = {
    "alone": "sag readings, machine alone",
    "aboard": "sag readings, rider aboard",
    "bench": "spring lengths at the bench",
}
TITLE = "How well your readings repeat"
ASSUMED = "1 mm is assumed for a reading taken once"
NO_STUDY = "No study yet: a reading taken once is given a standard uncertainty of 1 mm."
WHAT_IT_IS = (
    f"In a study {PEOPLE} people read the same marks {REPEATS} times each, in mixed order. Its result takes "
    "the place of the 1 mm assumed for a reading taken once, and counts where a reading is repeated too."
)
KEPT = "The study is kept. This job and every new one have it from now on."
GO_ON = "Go on with the study begun: "
NOT_WHOLE = "The study is not finished, so it is not kept. You can go on with it until the program is closed."
ASKED: dict[str, tuple[str, str]] = {
    "by": ("Who reads", "Type the name of the person whose readings these are."),
    "helper": ("Second person", "Type the name of the second person who reads."),
    "tape": ("Tape", "Type its smallest division. Enter alone: 1 mm."),
}
ORDER_TITLE = "The order"
ORDER_DO = (
    "Read with the same tape, from the same marks. Say each number only to the keyboard: earlier ones stay hidden. "
    "Enter begins."
)
PLACE: dict[str, str] = {
    "front_down": "Front, down",
    "front_up": "Front, up",
    "rear_down": "Rear, down",
    "rear_up": "Rear, up",
    "first_free": "First spring, free length",
    "second_free": "Second spring, free length",
    "set": "Set length",
    "front": "front",
    "rear": "rear",
}
SHORT: dict[str, str] = {"first_free": "spring 1", "second_free": "spring 2", "set": "set length"}
_DO: dict[str, str] = {
    "front_down": "Push the front down, let it rise slowly. Read along the fork leg, mark to mark.",
    "front_up": "Lift the front a little by the bars, let it settle slowly. Read the same marks.",
    "rear_down": "Push the tail down, let it rise slowly. Read axle to mark.",
    "rear_up": "Lift the tail a little, let it settle slowly. Read the same marks.",
    "first_free": "Lay the tape down, take it up, and read the free length of the first spring.",
    "second_free": "Lay the tape down, take it up, and read the free length of the second spring.",
    "set": "Put the tape on anew and read the set length.",
}
_MOUNT = "The rider gets off and on again, riding position. "
DOUBTS: dict[str, str] = {
    "": "",
    "far_off": "far from earlier readings here: read again, or Enter keeps it",
    "swapped": "shorter than pushed down: read again, or Enter keeps it",
}


def reading_words(of: Studied, place: str) -> str:
    """What to do for a reading."""
    mount = _MOUNT if of == "aboard" and place.endswith("_down") else ""
    return mount + _DO[place]


def own_words(own: OwnReading, units: Units) -> str:
    """One reading's uncertainty, and with how many degrees of freedom it is known.

    >>> own_words(OwnReading(standard_mm=0.6, freedom=19.0, expanded_mm=1.26), Units())
    '± 1.3 mm (95 %; standard 0.6 mm, 19 degrees of freedom)'
    """
    expanded, standard = (show(value, Kind.LENGTH, units) for value in (own.expanded_mm, own.standard_mm))
    return f"± {expanded} (95 %; standard {standard}, {own.freedom:.0f} degrees of freedom)"


def result_lines(study: StudyResult, first: str, second: str, units: Units) -> Iterator[str]:
    """What a study gives, in sentences."""

    def length(value_mm: float) -> str:
        return show(value_mm, Kind.LENGTH, units)

    both = f"{clean(first, 40)} and {clean(second, 40)}"
    yield f"One reading of {clean(first, 40)}: {own_words(study.one, units)}."
    yield (
        f"Repeats of one person scatter by {length(study.repeats_mm)} (standard deviation, "
        f"{study.repeats_freedom:.0f} degrees of freedom)."
    )
    yield (
        f"{both} differ by {length(study.between_people_mm)} at every place alike (standard deviation). This drops "
        "out of sag and preload as long as one person takes all their readings."
    )
    if study.by_place_mm is None:
        yield "How much they differ changes from place to place no more than by chance: it counts as scatter."
    else:
        yield (
            f"How much they differ changes from place to place by {length(study.by_place_mm)} (standard deviation): "
            "one of them reads another mark, or holds the tape otherwise. One reading's uncertainty includes it."
        )
    yield f"One reading, whoever takes it: {length(study.anybody_mm)} (repeatability and reproducibility together)."


def noted_lines(own: Repeatability, readings: Mapping[Studied, OwnReading], units: Units) -> Iterator[str]:
    """What a job has noted of the technician's own studies; nothing where it has none."""
    who = f" by {clean(own.by, 40)}" if own.by else ""
    for of, one in readings.items():
        on = own.on(of)
        day = f" of {on.isoformat()}" if on is not None else ""
        yield f"{STUDY_OF[of].capitalize()}: one reading {own_words(one, units)}, study{day}{who}."


def study_size(of: Studied) -> int:
    """How many readings a study takes.

    >>> study_size("alone"), study_size("bench")
    (24, 18)
    """
    return len(PLACES[of]) * PEOPLE * REPEATS
