"""Installed preload so near an edge of its band that its readings cannot tell whether it lies beyond.

It is worked out at every key, so only where an edge is near, and from one spring and its adjuster alone; by the same
readings and errors as judgement/reading_errors.py, to which a test holds it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import lru_cache

from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.criteria.thresholds import PRELOAD_UNSURE, TAPE_DIVISION_MM
from stanchion.judgement.ends.instruments import (
    LENGTHS,
    POSITIONS,
    length_uncertainty,
    lengths_of,
    position_uncertainty,
    tape_scale_uncertainty,
)
from stanchion.judgement.ends.preload import SpringAt, adjuster_range, installed_and_now
from stanchion.judgement.results.assessment import PreloadFigures
from stanchion.judgement.results.codes import PreloadVerdict
from stanchion.mechanics.propagation import ErrorSource, propagated
from stanchion.mechanics.statistics import Uncertainty

_PRELOAD = "installed_preload"


def surely_judged(
    figures: PreloadFigures, at: SpringAt, band: PreloadBand | None, tape_mm: float | None, own: Uncertainty | None
) -> PreloadFigures:
    """The figures with a verdict that allows for how sure installed preload is: out of its band by less than that, it
    is "borderline".

    A spring without preload stays "loose", because that is a matter of safety.

    Args:
        figures: the figures of the spring.
        at: the spring.
        band: band for installed preload.
        tape_mm: smallest division of the tape [mm]; None: 1 mm is taken.
        own: how sure one length is by the technician's own study [mm]; None: there is none.
    """
    installed = figures.installed_preload_mm.value
    tape_mm = TAPE_DIVISION_MM if tape_mm is None else tape_mm
    if installed is None or band is None or figures.verdict == "loose":
        return figures
    edges = [band.low, band.high, *([band.limit] if band.limit is not None else [])]
    nearest = min(abs(installed - edge) for edge in edges)
    if nearest > PRELOAD_UNSURE * max(tape_mm, 0.0 if own is None else own.expanded):
        return figures
    expanded = preload_expanded(at, tape_mm, own)
    if expanded is None or nearest > expanded:
        return figures
    return replace(figures, unsure_mm=expanded, verdict=_by_readings(figures.verdict, installed, band, expanded))


def _by_readings(verdict: PreloadVerdict, installed: float, band: PreloadBand, expanded: float) -> PreloadVerdict:
    """The verdict on installed preload as far as its readings tell."""
    if verdict == "low" and band.low - installed <= expanded:
        return "borderline"
    if verdict == "over_limit" and band.limit is not None and installed - band.limit <= expanded:
        return "borderline" if installed - band.high <= expanded else "high"
    if verdict == "high" and installed - band.high <= expanded:
        return "borderline"
    return verdict


@lru_cache(maxsize=64)
def preload_expanded(at: SpringAt, tape_mm: float, own: Uncertainty | None = None) -> float | None:
    """Half-width of the interval that holds installed preload with about 95 % [mm]; None where there is none.

    Args:
        at: the spring.
        tape_mm: smallest division of the tape [mm].
        own: how sure one length is by the technician's own study [mm]; None: there is none.
    """
    known = propagated(lambda moved: _installed(at, moved), spring_errors(at, tape_mm, own, {})).get(_PRELOAD)
    return None if known is None else known.uncertainty.expanded


def spring_errors(
    at: SpringAt, tape_mm: float, own: Uncertainty | None, also_by_tape: Mapping[str, float]
) -> Iterator[ErrorSource[str, str]]:
    """The errors in the lengths of a spring and in the positions of its adjuster.

    Args:
        at: the spring.
        tape_mm: smallest division of the tape [mm].
        own: how sure one length is by the technician's own study [mm]; None: there is none.
        also_by_tape: other lengths [mm] that its scale moves too, by name.
    """
    spring, adjuster = at.spring, at.adjuster
    lengths, one = lengths_of(spring), length_uncertainty(tape_mm, own)
    for name in lengths:
        yield ErrorSource(name, ((name, one.standard),), one.freedom)
    by_tape = {**{name: getattr(spring, name) for name in lengths}, **also_by_tape}
    yield ErrorSource("tape_scale", tuple((name, tape_scale_uncertainty(mm)) for name, mm in by_tape.items()))
    for name in POSITIONS:
        standard = position_uncertainty(adjuster, getattr(adjuster, name), counted=name == "now")
        if standard > 0.0:
            yield ErrorSource(name, ((name, standard),))
    standard = position_uncertainty(adjuster, spring.set_length_at, counted=True)
    if standard > 0.0:
        yield ErrorSource("set_length_at", (("set_length_at", standard),))


def with_readings_moved(at: SpringAt, moved: Mapping[str, float]) -> SpringAt:
    """The spring with its lengths and the positions of its adjuster moved by so much, by name; other names are left
    alone.

    Args:
        at: the spring.
        moved: by how much each reading is moved.
    """
    of_spring = {name: by for name, by in moved.items() if name in (*LENGTHS, "set_length_at")}
    of_adjuster = {name: by for name, by in moved.items() if name in POSITIONS}
    spring, for_range = (
        one and replace(one, **{name: getattr(one, name) + by for name, by in of_spring.items()})
        for one in (at.spring, at.for_range)
    )
    adjuster = replace(at.adjuster, **{name: getattr(at.adjuster, name) + by for name, by in of_adjuster.items()})
    return replace(at, spring=spring or at.spring, adjuster=adjuster, for_range=for_range)


def _installed(at: SpringAt, moved: Mapping[str, float]) -> dict[str, float]:
    """Installed preload with readings moved; nothing where it cannot be had."""
    there = with_readings_moved(at, moved)
    value = installed_and_now(there, adjuster_range(there))[0].value
    return {} if value is None else {_PRELOAD: value}
