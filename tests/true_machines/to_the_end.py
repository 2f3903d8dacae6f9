"""Advice carried out to the letter, sags read again, and the next advice, until nothing more is asked for.

The machine gets the turns, the spacer or the spring that the sentence names, with the preload and the position of the
adjuster that it names, whatever the list of springs has. What the machine then truly gives is read finely.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import cast

import numpy as np

from stanchion.job.model import ENDS, SIDES, End, Job, Leg
from stanchion.judgement.assess import assess
from stanchion.wording.finding_words import sentence
from true_machines.asks import Ask
from true_machines.judged import PROFILES, Contradiction, Judged, asked_at, line, truths
from true_machines.machines import sag_of
from true_machines.physics import TrueLeg, TrueRear, as_at_stop, as_read, fork_of, rear_of
from true_machines.remedies import CLOSE, Truth
from true_machines.work_done import ROUGH, applied

LASTING = 8
"""After so many readings there must be an end."""
OPEN = ("again", "to_tell", "stays_out")
"""With these a finding says that it is not the end: the sags are measured again."""


@dataclass
class Course:
    """What was done at one end, from the first advice on."""

    truths: list[Truth]
    """As it was, and after each work."""
    done: list[Ask] = field(default_factory=list)
    promised: int = 1
    """How many works it may take: one, and one more for everything that the next reading may correct."""
    last: Ask | None = None
    """What was said when nothing more was asked for."""
    ended: bool = False

    @property
    def shown(self) -> str:
        """Each advice with the sags it was for."""
        said = [*self.done, *([self.last] if self.last else [])]
        at = [f"({one.sags[0]:.2f}, {one.sags[1]:.2f})" for one in self.truths]
        return " / ".join(f"{sags} {line(ask)}" for sags, ask in zip(at, said, strict=False)) + f" / truly {at[-1]}"


def carried_to_the_end(judged: Judged) -> Iterator[Contradiction]:
    """Carried out, advice ends with both sags in, or says honestly why not; it never goes round in a circle, leaves an
    end no worse than it was, and takes no more work than it promises."""
    if not judged.believable and judged.case.mode != "unread":
        return
    for end in ENDS:
        course = followed(judged, end)
        if course is not None:
            for kind in _wrong(course, rough=judged.case.mode in ("noise", "drift")):
                yield Contradiction(f"o {kind}", end, course.shown)


def followed(judged: Judged, end: End) -> Course | None:
    """What comes of the advice at one end; None where the first advice does not say how much."""
    true, job, assessment, mode = judged.case.true, judged.case.job, judged.assessment, judged.case.mode
    course, rough, seen = Course([judged.truth(end)]), mode in ("noise", "drift"), set[tuple[float, ...]]()
    for _ in range(LASTING):
        ask = asked_at(assessment, end)
        if rough and ask is not None and _reads_again_first(ask):
            rough = False  # three fine readings before anything is done
        elif ask is None or ask.work in ("none", "measure", "inputs"):
            course.last, course.ended = ask, True
            return course
        else:
            changed = carried_out(job, true, end, ask)
            if changed is None:
                course.last, course.ended = ask, True
                return course if course.done else None
            job, true = changed
            course.promised += _open_to_correction(ask, rough=rough, drift=mode == "drift")
            course.done.append(ask)
            course.truths.append(truths(true, judged.case)[end])
            rough = False
            state = _state(course.truths[-1])
            if state in seen:
                return course
            seen.add(state)
        job = replace(job, sag=sag_of(true))
        assessment = assess(job, PROFILES)
    return course


def _reads_again_first(ask: Ask) -> bool:
    """Whether it asks for other readings before, or in place of, any work."""
    first = ask.finding.values.get("again") is True and ask.work != "turns"
    return first or (ask.work in ("none", "measure") and "epeat" in sentence(ask.finding)) or ask.work == "measure"


def _open_to_correction(ask: Ask, *, rough: bool, drift: bool) -> int:
    """How many corrections the next reading may bring: the reading it rests on was rough, the label of the spring that
    told the load was off, and it says itself that it is to be measured again."""
    values = ask.finding.values
    said = any(values.get(name) is not None for name in OPEN) or "easure again" in ask.words
    return int(rough) + int(drift and ask.work == "spring") + int(said)


def _state(truth: Truth) -> tuple[float, ...]:
    made = truth.made
    if isinstance(made, TrueRear):
        return (round(made.rate, 2), round(made.installed, 1), round(made.preload, 1))
    return tuple(round(mm, 1) for leg in truth.sprung for mm in (leg.rate * 10.0, leg.installed, leg.preload))


def _wrong(course: Course, *, rough: bool) -> Iterator[str]:
    first, last = course.truths[0], course.truths[-1]
    if any(not _within_range(one) for one in course.truths[1:]):
        yield "adjuster beyond its range"
    if not course.ended:
        yield "round in a circle"
        return
    if len(course.done) > course.promised:
        yield "more work than it promises"
    # Readings by a tape may leave a sag outside that they show inside.
    margin = ROUGH if rough and not course.done else CLOSE
    if course.done and last.now > max(first.now, CLOSE) and not _hidden(last):
        yield "worse than it began"
    if course.done and first.out_of_band() <= 0.0 and last.out_of_band() > 0.05:
        yield "out of its band, where it was in"
    ask = course.last
    if ask is None or ask.work == "inputs" or last.now <= margin or _hidden(last):
        return
    if ask.finding.code.startswith("no_spring"):
        if last.lightest_by(CLOSE) is not None:
            yield f"says that no spring does, where {last.lightest_by(CLOSE)} does"
    elif not (rough and not course.done):
        yield "ends with a sag outside its target"


def _within_range(truth: Truth) -> bool:
    out_mm, in_mm = truth.room
    bare = isinstance(truth.made, TrueRear) and truth.made.reach is None
    return bare or (out_mm <= 0.02 and in_mm >= -0.02)


def _hidden(truth: Truth) -> bool:
    """Whether a top-out spring keeps static sag low for ever, and nothing else is out."""
    sags = np.array([[sag] for sag in truth.sags])
    return truth.static_hidden(CLOSE) and float(truth.off_rider(sags)[0]) <= CLOSE


# --- the work -----------------------------------------------------------------------------------------------------


def carried_out(job: Job, true: Job, end: End, ask: Ask) -> tuple[Job, Job] | None:
    """The job and the machine after the work, as the sentence has it; None where it does not say how much."""
    if ask.work != "spring":
        written, made = applied(job, end, ask), applied(true, end, ask)
        return None if written is None or made is None else (written, made)
    rate = cast("float | None", ask.finding.values.get("new_rate_n_per_mm"))
    if rate is None:
        return None
    if end == "rear":
        made = _with_rear_spring(true, rate, ask)
        rear = replace(job.rear, spring=made.rear.spring, collar=made.rear.collar)
        return replace(job, rear=rear), made
    made = _with_fork_springs(true, rate, ask)
    return replace(job, front=replace(job.front, left=made.front.left, right=made.front.right)), made


def _with_rear_spring(true: Job, rate: float, ask: Ask) -> Job:
    """The shock with another spring of the same length, and its collar set."""
    rear, made, values = true.rear, rear_of(true), ask.finding.values
    spring, collar = replace(rear.spring, rate_n_per_mm=rate), rear.collar
    preload_mm = cast("float | None", values.get("new_preload_mm"))
    if preload_mm is None:
        return replace(
            true,
            rear=replace(
                rear, spring=spring, collar=replace(collar, now=_turns(made.reach, ask, collar.total_turns, collar.now))
            ),
        )
    pitch = collar.pitch_mm or 0.0
    now = (preload_mm - made.installed) / pitch
    if now < 0.0:  # the length is read again there, and turns counted from there
        spring = replace(spring, set_length_mm=(spring.free_length_mm or 0.0) - preload_mm, set_length_at=0.0)
        now = 0.0
    return replace(true, rear=replace(rear, spring=spring, collar=replace(collar, now=now)))


def _with_fork_springs(true: Job, rate: float, ask: Ask) -> Job:
    """The fork with other springs of the same lengths, spacers cut for the installed preload, adjusters set."""
    front, made = true.front, fork_of(true)
    sides = SIDES if front.split else SIDES[:1]
    sprung = [made.legs[at].installed for at in range(len(sides)) if made.legs[at].rate]
    legs = {side: front.leg(side) for side in sides}
    for at, side in enumerate(sides):
        if legs[side].spring_fitted:
            legs[side] = _with_spring(legs[side], made.legs[at], rate, ask, most=made.legs[at].installed >= max(sprung))
    return replace(true, front=replace(front, left=legs["left"], right=legs.get("right")))


def _with_spring(leg: Leg, made: TrueLeg, rate: float, ask: Ask, *, most: bool) -> Leg:
    values, free = ask.finding.values, leg.spring.free_length_mm or 0.0
    installed = values.get("new_installed_mm")
    if installed is None:
        installed = values.get("new_installed_high_mm" if most else "new_installed_low_mm")
    installed_mm = cast("float", installed)
    at_stop = as_at_stop(made.top_out, leg.read_at, rate, installed_mm)
    spring = replace(leg.spring, rate_n_per_mm=rate, set_length_mm=free - installed_mm)
    if spring.set_length_in_mm is not None:
        fully_in = as_read(made.top_out, leg.read_at, rate, at_stop + made.reach)
        spring = replace(spring, set_length_in_mm=free - fully_in)
    spacer_mm = leg.stack.spacer_mm
    stack = (
        leg.stack
        if spacer_mm is None
        else replace(leg.stack, spacer_mm=spacer_mm + at_stop - (made.preload - made.added))
    )
    adjuster = leg.adjuster
    if made.reach:
        adjuster = replace(adjuster, now=_turns(made.reach, ask, adjuster.total_turns, adjuster.now))
    return replace(leg, spring=spring, stack=stack, adjuster=adjuster)


def _turns(reach_mm: float | None, ask: Ask, total: float | None, now: float | None) -> float | None:
    """Where the adjuster is set, in turns from fully out."""
    values = ask.finding.values
    if values.get("new_fully_out"):
        return 0.0
    if values.get("new_fully_in"):
        return total
    turns, added_mm = (cast("float | None", values.get(name)) for name in ("new_turns", "new_added_mm"))
    if turns is None and added_mm is not None and reach_mm:
        turns = added_mm / reach_mm * (total or 0.0)
    return now if turns is None else turns
