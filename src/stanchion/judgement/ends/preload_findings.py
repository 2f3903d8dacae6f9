"""What is found at one spring: lengths, preload against its band, where the adjuster stands, readings of a collar."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.model import Adjuster
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.criteria.thresholds import NOT_SHOWN_MM, RANGES_DISAGREE, SLACK
from stanchion.judgement.ends.adjuster import AdjusterRange
from stanchion.judgement.ends.preload import SpringAt, most_preload, spacer_room
from stanchion.judgement.results.assessment import PreloadFigures
from stanchion.judgement.results.codes import FindingCode
from stanchion.judgement.results.findings import Finding, Severity


def spring_findings(
    at: SpringAt, limits: AdjusterRange, figures: PreloadFigures, band: PreloadBand | None
) -> Iterator[Finding]:
    """Findings on one spring, its lengths and its adjuster."""
    yield from _length_findings(at, limits)
    yield from _band_findings(at, figures, band)
    if at.adjuster.counting != "none":
        yield from _position_findings(at, limits, figures, band)
        yield from _reading_findings(at, limits)


def _finding(at: SpringAt, code: FindingCode, severity: Severity, *leaf: str, **values: object) -> Finding:
    if at.both_legs:
        values["both_legs"] = True
    return Finding(code, severity, (*at.where, *leaf), values)


def _length_findings(at: SpringAt, limits: AdjusterRange) -> Iterator[Finding]:
    spring = at.spring
    free, fitted = spring.free_length_mm, spring.set_length_mm
    if limits.range_from_lengths_mm.problem == "set_lengths_order":
        yield _finding(
            at,
            "set_lengths_order",
            Severity.FAULT,
            "spring",
            "set_length_in_mm",
            set_mm=fitted,
            set_in_mm=spring.set_length_in_mm,
        )
    if limits.range_from_lengths_mm.problem == "set_length_read_fully_in" and not limits.range_from_thread_mm.known:
        yield _finding(at, "set_length_read_fully_in", Severity.NOTE, "spring", "set_length_at")
    if free is not None and fitted is not None and fitted > free + SLACK and not limits.added_where_read_mm.known:
        yield _finding(
            at, "set_longer_than_free", Severity.FAULT, "spring", "set_length_mm", set_mm=fitted, free_mm=free
        )


def _band_findings(at: SpringAt, figures: PreloadFigures, band: PreloadBand | None) -> Iterator[Finding]:
    installed, now = figures.installed_preload_mm.value, figures.preload_now_mm.value
    if installed is None:
        return
    values: dict[str, object] = {"preload_mm": installed}
    if figures.as_it_stands:
        values["as_it_stands"] = True
    if figures.verdict == "loose":
        apart = now is not None and abs(now - installed) > SLACK
        yield _finding(at, "spring_loose", Severity.FAULT, **values, now_mm=now if apart else None)
        return
    if band is not None:
        values |= {"low_mm": band.low, "high_mm": band.high}
    loose_below = (band.loose_below if band else None) or 0.0
    if installed <= SLACK or installed < loose_below - SLACK:
        values |= {"loose_below_mm": loose_below, "keep_in_mm": _keep_in(at, figures, loose_below - installed)}
        if now is not None and now > installed + SLACK and now >= loose_below - SLACK:
            yield _finding(at, "loose_fully_out", Severity.WARNING, **values, now_mm=now)
        else:
            yield _finding(at, "spring_may_come_loose", Severity.WARNING, **values)
    elif band is None:
        yield _finding(at, "preload_by_manual", Severity.NOTE, **values)
    else:
        yield from _out_of_band(at, figures, band, installed, values)


def _out_of_band(
    at: SpringAt, figures: PreloadFigures, band: PreloadBand, installed: float, values: dict[str, object]
) -> Iterator[Finding]:
    """The finding on installed preload out of its band, or near an edge of it."""
    if figures.verdict == "borderline":
        below = installed < band.low
        edge_mm = band.low if below else most_preload(band)
        values |= {"way": "below" if below else "over", "edge_mm": edge_mm, "expanded_mm": figures.unsure_mm}
        yield _finding(at, "preload_borderline", Severity.NOTE, **values)
    elif figures.verdict == "low":
        short_mm = band.low - installed
        values |= {"change_mm": short_mm, "keep_in_mm": _keep_in(at, figures, short_mm)}
        yield _finding(at, "preload_low", Severity.WARNING, **values)
    elif figures.verdict == "high":
        yield _finding(at, "preload_high", Severity.WARNING, **values, change_mm=installed - band.high)
    elif figures.verdict == "over_limit":
        yield _finding(at, "preload_over_limit", Severity.FAULT, **values, limit_mm=band.limit)
    elif figures.verdict == "near_limit":
        there = band.limit is not None and abs(installed - band.limit) <= NOT_SHOWN_MM
        values["nearness"] = "at" if there else "close"
        yield _finding(at, "preload_near_limit", Severity.NOTE, **values, limit_mm=band.limit)


def _keep_in(at: SpringAt, figures: PreloadFigures, short_mm: float) -> float | None:
    """How far to keep the adjuster in from fully out to make up for too little installed preload; None where it
    cannot."""
    range_mm = figures.adjuster_range_mm.value
    beyond = range_mm is not None and short_mm > range_mm + SLACK
    return None if at.adjuster.counting == "none" or beyond else short_mm


def _position_findings(
    at: SpringAt, limits: AdjusterRange, figures: PreloadFigures, band: PreloadBand | None
) -> Iterator[Finding]:
    """Findings on an adjuster at, near or beyond an end."""
    leaf = (at.adjuster_name, "now")
    # No spacer is named that would take installed preload out of its band, or further out of it.
    room = spacer_room(figures.installed_preload_mm.value, band)
    if limits.fraction_now.problem == "adjuster_beyond_range":
        yield _finding(at, "adjuster_beyond_range", Severity.FAULT, *leaf, **_ends(at.adjuster, at.adjuster.now))
    elif limits.at_end == "in":
        full = room[1] <= SLACK or figures.verdict == "near_limit"
        yield _finding(at, "adjuster_fully_in", Severity.WARNING, *leaf, **({"band_full": True} if full else {}))
    elif limits.at_end == "out":
        full = room[0] >= -SLACK
        yield _finding(at, "adjuster_fully_out", Severity.WARNING, *leaf, **({"band_full": True} if full else {}))
    elif limits.near == "in":
        values = _left(at, limits.left_in_turns, limits.left_in_mm)
        yield _finding(at, "adjuster_nearly_in", Severity.NOTE, *leaf, **values)
    elif limits.near == "out":
        values = _left(at, limits.out_turns.value, limits.out_mm.value)
        yield _finding(at, "adjuster_nearly_out", Severity.NOTE, *leaf, **values)


def _left(at: SpringAt, turns: float | None, left_mm: float | None) -> dict[str, object]:
    """What is left of an adjuster: turns or clicks, and mm where those are not known."""
    return {"left_mm": left_mm} if turns is None else {"turns": turns, **_in_clicks(at)}


def _reading_findings(at: SpringAt, limits: AdjusterRange) -> Iterator[Finding]:
    """Findings on adjuster readings that contradict each other."""
    adjuster = at.adjuster
    if limits.fraction_now.problem == "adjuster_ends_equal":
        yield _finding(
            at,
            "adjuster_ends_equal",
            Severity.WARNING,
            at.adjuster_name,
            "reading_in",
            reading=adjuster.reading_in,
        )
    elif (
        not adjuster.from_out
        and not at.is_shock  # a collar's exposed thread may be read from either side
        and adjuster.reading_out is not None
        and adjuster.reading_in is not None
        and adjuster.reading_in > adjuster.reading_out
    ):
        yield _finding(
            at,
            "adjuster_readings_order",
            Severity.WARNING,
            at.adjuster_name,
            "reading_in",
            out=adjuster.reading_out,
            fully_in=adjuster.reading_in,
        )
    if limits.added_where_read_mm.problem == "adjuster_beyond_range":
        yield _finding(
            at,
            "set_length_at_beyond_range",
            Severity.FAULT,
            "spring",
            "set_length_at",
            **_ends(adjuster, at.spring.set_length_at),
        )
    by_pitch, in_use = limits.range_from_pitch_mm.value, limits.range_mm.value
    if adjuster.counting == "mm" and by_pitch is not None and in_use is not None and _differ(in_use, by_pitch):
        yield _finding(
            at,
            "pitch_and_range_disagree",
            Severity.WARNING,
            at.adjuster_name,
            "pitch_mm",
            range_mm=in_use,
            thread_mm=by_pitch,
        )
    from_lengths, from_thread = limits.range_from_lengths_mm.value, limits.range_from_thread_mm.value
    if from_lengths is not None and from_thread is not None and _differ(from_lengths, from_thread):
        yield _finding(
            at,
            "range_disagrees" if adjuster.counting == "mm" else "pitch_disagrees",
            Severity.WARNING,
            at.adjuster_name,
            "reading_out" if adjuster.counting == "mm" else adjuster.step_name,
            lengths_mm=from_lengths,
            thread_mm=from_thread,
            **_in_clicks(at),
        )


def _in_clicks(at: SpringAt) -> dict[str, object]:
    """Of an adjuster that is counted in clicks that it is; of others nothing."""
    return {"turned_in": "clicks"} if at.adjuster.counting == "clicks" else {}


def _ends(adjuster: Adjuster, reading: float | None) -> dict[str, object]:
    if adjuster.from_out:
        return {"reading": reading, "least": 0.0, "most": adjuster.total}
    ends = [end for end in (adjuster.reading_out, adjuster.reading_in) if end is not None]
    return {"reading": reading, "least": min(ends, default=0.0), "most": max(ends, default=0.0)}


def _differ(first: float, second: float) -> bool:
    return abs(first - second) > RANGES_DISAGREE * max(abs(first), abs(second)) + SLACK
