"""The edits that put a choice of springs into a job, with the spacers to cut and the adjusters set."""

from __future__ import annotations

from collections.abc import Iterator
from typing import cast

from stanchion.base.errors import BadEdit
from stanchion.job.edit import Edit, spec_at
from stanchion.job.model import SIDES, Adjuster, Job, Path, Spring
from stanchion.job.spec import Number
from stanchion.judgement.springs.spring_option import Option
from stanchion.judgement.springs.spring_swap import Fitting

_DECIMALS = 4  # far below any tape; a sum of lengths should not be written with fifteen digits


def as_edits(option: Option, job: Job, *, set_adjuster: bool = False) -> tuple[Edit, ...]:
    """The edits that put the springs of an option in, with the spacers to cut.

    Args:
        option: the choice.
        job: the job it was worked out for.
        set_adjuster: also turn the adjusters to the target; otherwise they stay where they are.

    Returns:
        Edits, to be applied in this order. Springs that are already fitted give none; legs entered once for both are
        split where the pair is mixed.
    """
    return tuple(_edits(option, job, set_adjuster=set_adjuster))


def _edits(option: Option, job: Job, *, set_adjuster: bool) -> Iterator[Edit]:
    fittings = option.fittings
    if fittings[0].place == "rear":
        yield from _spring_edits(fittings[0], ("rear",), job.rear.spring)
        if set_adjuster:
            yield from _turn(option, job.rear.collar, ("rear", "collar"))
        return
    kinds = {(f.spring.rate_n_per_mm, f.free_length_mm, f.spring.coils, f.spring.second) for f in fittings}
    mixed = len(kinds) > 1
    if not job.front.split and mixed:
        yield Edit(("front", "right"), job.front.left)
    split = job.front.split or mixed
    for fitting in fittings:
        if fitting.place == "right" and not split:
            continue
        where: Path = ("front", fitting.place if split else "left")
        leg = job.front.leg("left" if fitting.place == "left" else "right")
        yield from _spring_edits(fitting, where, leg.spring)
        if fitting.spacer_mm.value is not None and fitting.spacer_mm.value != leg.stack.spacer_mm:
            yield _put((*where, "stack", "spacer_mm"), fitting.spacer_mm.value)
    if set_adjuster:
        for side in SIDES if split else SIDES[:1]:
            yield from _turn(option, job.front.leg(side).adjuster, ("front", side, "adjuster"))


def _spring_edits(fitting: Fitting, where: Path, now: Spring) -> Iterator[Edit]:
    at = (*where, "spring")
    if fitting.spring.fitted is None:
        yield Edit((*at, "rate_n_per_mm"), fitting.spring.rate_n_per_mm)
        if fitting.free_length_mm is not None:
            yield Edit((*at, "free_length_mm"), fitting.free_length_mm)
        if now.coils != fitting.spring.coils:
            yield Edit((*at, "coils"), fitting.spring.coils)
        if now.second != fitting.spring.second:
            yield Edit((*at, "second"), fitting.spring.second)
    for name, value in (("set_length_mm", fitting.set_length_mm), ("set_length_in_mm", fitting.set_length_in_mm)):
        if value is not None and value != getattr(now, name):
            yield _put((*at, name), value)


def _put(path: Path, value: float) -> Edit:
    """The edit that sets a length, or clears it where the field cannot hold the new one; the old one is out of date."""
    rounded = round(value, _DECIMALS)
    try:
        cast(Number, spec_at(path)).check(rounded)
    except BadEdit:
        return Edit(path, None)
    return Edit(path, rounded)


def _turn(option: Option, adjuster: Adjuster, at: Path) -> Iterator[Edit]:
    """The edit that turns the adjuster to the target, in the units it is counted in."""
    if option.position is None or adjuster.counting == "none":
        return
    ends = (adjuster.reading_out, adjuster.reading_in)
    if adjuster.from_out:
        ends = (0.0, adjuster.total)
    fully_out, fully_in = ends
    if fully_out is not None and fully_in is not None:
        reading = fully_out + option.position * (fully_in - fully_out)
        yield Edit((*at, "now"), round(reading, _DECIMALS))
