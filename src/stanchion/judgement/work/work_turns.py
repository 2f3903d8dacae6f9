"""Turning an adjuster back to an earlier position: how far, in which direction, and whether it is in range."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.diff import Difference
from stanchion.job.model import Adjuster, Clicker, Path
from stanchion.judgement.criteria.thresholds import ADJUSTER_STEP, SLACK
from stanchion.judgement.work.work import Item


def adjuster_item(kind: str, place: str, at: Path, now: Adjuster, then: Adjuster) -> Iterator[Item]:
    """The item that turns a preload adjuster back to an earlier position.

    A position counted in another way is converted by its share of the range, where both ranges are known.

    Args:
        kind: kind of the item.
        place: place of the adjuster.
        at: its path.
        now: the adjuster now.
        then: the adjuster at the earlier position.
    """
    if then.now is None or then.counting == "none":
        return
    values: dict[str, object] = {"then": then.now, "then_unit": then.counting}
    if now.counting == then.counting or now == Adjuster():
        unit, wanted = then.counting, then.now
        ends = _ends(now if now.counting == then.counting else then, then)
        out, fully_in = ends or (0.0 if unit == "turns" else None, None)
    else:
        unit = now.counting
        ends, ends_then = _ends(now, now), _ends(then, then)
        if now.counting == "none" or ends is None or ends_then is None:
            problem = "no_adjuster" if now.counting == "none" else "counted_otherwise"
            yield Item(kind=kind, place=place, changes=(), problem=problem, values=values)
            return
        out, fully_in = ends
        share = (then.now - ends_then[0]) / (ends_then[1] - ends_then[0])
        wanted = round((out + share * (fully_in - out)) / ADJUSTER_STEP) * ADJUSTER_STEP
        values["by_share"] = True
    if now.now is not None and abs(now.now - wanted) <= SLACK:
        return
    changes: tuple[Difference, ...] = (Difference((*at, "now"), now.now, wanted),)
    if unit != now.counting:
        changes = (Difference((*at, "counting"), now.counting, unit), *changes)
    problem = ""
    if out is not None and fully_in is not None and not _within(wanted, out, fully_in):
        problem = "beyond_range"
        most = fully_in if (wanted - out) * (fully_in - out) > 0 else out
        values |= {"most": most, "wanted": wanted}
        per_unit = now.pitch_mm if unit == "turns" else 1.0 if unit == "mm" else None
        if per_unit is not None:
            values["missing_mm"] = abs(wanted - most) * per_unit
    yield Item(
        kind=kind,
        place=place,
        changes=changes,
        amount=None if now.now is None else abs(wanted - now.now),
        unit=unit,
        direction="" if now.now is None else _way(kind, unit, (out, fully_in), up=wanted > now.now),
        problem=problem,
        values=values,
    )


def clicker_item(kind: str, place: str, at: Path, now: Clicker, then: Clicker) -> Iterator[Item]:
    """The item that turns a damping adjuster back to an earlier position, counted from closed."""
    if then.now is None:
        return
    values: dict[str, object] = {"then": then.now, "then_unit": then.unit}
    blank = now.now is None and now.total is None
    if now.unit != then.unit and not blank:
        yield Item(kind=kind, place=place, changes=(), problem="counted_otherwise", values=values)
        return
    if now.now is not None and abs(now.now - then.now) <= SLACK:
        return
    changes: tuple[Difference, ...] = (Difference((*at, "now"), now.now, then.now),)
    if now.unit != then.unit:
        changes = (Difference((*at, "unit"), now.unit, then.unit), *changes)
    total = then.total if now.total is None else now.total
    problem = ""
    if total is not None and then.now > total + SLACK:
        problem = "beyond_range"
        values |= {"most": total, "wanted": then.now}
    yield Item(
        kind=kind,
        place=place,
        changes=changes,
        amount=None if now.now is None else abs(then.now - now.now),
        unit=then.unit,
        direction="" if now.now is None else "out" if then.now > now.now else "in",
        problem=problem,
        values=values,
    )


def _ends(now: Adjuster, then: Adjuster) -> tuple[float, float] | None:
    """The readings fully out and fully in, from whichever setup records them; None: not known."""
    if now.counting == "turns":
        total = then.total_turns if now.total_turns is None else now.total_turns
        return None if total is None else (0.0, total)
    out = then.reading_out if now.reading_out is None else now.reading_out
    fully_in = then.reading_in if now.reading_in is None else now.reading_in
    return None if out is None or fully_in is None or abs(out - fully_in) <= SLACK else (out, fully_in)


def _within(reading: float, one: float, other: float) -> bool:
    low, high = sorted((one, other))
    return low - SLACK <= reading <= high + SLACK


def _way(kind: str, unit: str, ends: tuple[float | None, float | None], *, up: bool) -> str:
    """Direction of a turn. In is more preload. A fork cap shows more at less preload; a collar's thread may be read
    either way."""
    if unit == "turns":
        return "in" if up else "out"
    out, fully_in = ends
    if out is not None and fully_in is not None:
        return "in" if up == (fully_in > out) else "out"
    return "" if kind == "collar" else "out" if up else "in"
