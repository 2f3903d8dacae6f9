"""The spring that the advice names where another one is to be fitted, and what the sentence says of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, Protocol

from stanchion.base.record import record
from stanchion.job.model import State
from stanchion.judgement.criteria.thresholds import NOT_SHOWN_MM
from stanchion.judgement.results.assessment import Band
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.sag.other_length import OtherLength
from stanchion.judgement.sag.remedy import NoSuitableRate, Springs
from stanchion.judgement.sag.targets import Aims


@record(kw_only=True)
class SuggestedSpring:
    """A standard step, how it is installed, and the sags to expect: the first row of the list of springs."""

    rate_n_per_mm: float
    both_legs: bool
    """Whether it goes into both legs."""
    installed_mm: Band | None
    """Least and greatest installed preload of the springs fitted; None on a collar that has no fully-out."""
    preload_mm: float
    """Preload with the adjuster where it is to stand."""
    turns: float | None
    """Turns of the adjuster from fully out; None where they are not known, or there is no adjuster."""
    added_mm: float | None
    """The same as preload."""
    fully_in: bool = False
    """Whether the adjuster is then at its end towards more preload."""
    out_of_band: bool = False
    """Whether installed preload is then out of its band."""
    other_length: OtherLength | None = None
    """The length of spring that brings it into the band; None where none does."""
    sags_mm: Mapping[State, float | None]
    second_out: bool = False
    """Whether it is the main spring fitted now, with the second one beside it taken out."""
    replaces_both: bool = False
    """Whether it is one spring in place of two."""


class SpringFinder(Springs, Protocol):
    """Finds other springs, and says which one to fit."""

    def suggest(
        self, aims: Aims, way: Literal["stiffer", "softer"], no_suitable_rate: NoSuitableRate | None, *, edge: bool
    ) -> SuggestedSpring | Figure:
        """The spring to fit, or an absent figure that says why no rate can be named.

        Args:
            aims: the targets.
            way: which springs the advice asks for.
            no_suitable_rate: what comes nearest where no rate brings both sags in.
            edge: whether a rate brings both sags in only within their uncertainty.
        """


def suggested_values(found: SuggestedSpring | Figure) -> dict[str, object]:
    """What the sentence says of the spring to fit, or why it names none."""
    if isinstance(found, Figure):
        return {"rate_problem": found.problem} if found.problem else {"rate_needs": found.needs}
    out = found.added_mm is not None and abs(found.added_mm) < NOT_SHOWN_MM
    values: dict[str, object] = {
        "new_rate_n_per_mm": found.rate_n_per_mm,
        "then": True,
        "each": found.both_legs or None,
        "second_out": found.second_out or None,
        "replaces_both": found.replaces_both or None,
        **_installed_values(found.installed_mm),
        "new_preload_mm": found.preload_mm if found.installed_mm is None else None,
        "new_fully_out": out or None,
        "new_fully_in": found.fully_in or None,
        "new_turns": None if out or found.fully_in else found.turns,
        "new_added_mm": found.added_mm if found.turns is None and not (out or found.fully_in) else None,
        "band_out": (found.out_of_band and found.other_length is None) or None,
        **(found.other_length.values if found.other_length else {}),
    }
    for state, sag_mm in found.sags_mm.items():
        values |= sag_values(f"{state}_after", sag_mm)
    return values


def _installed_values(installed_mm: Band | None) -> dict[str, object]:
    """Installed preload of the new springs: one number where the legs are alike, otherwise both."""
    if installed_mm is None:
        return {}
    low_mm, high_mm = installed_mm
    if high_mm - low_mm < NOT_SHOWN_MM:
        return {"new_installed_mm": high_mm}
    return {"new_installed_low_mm": low_mm, "new_installed_high_mm": high_mm}


def sag_values(name: str, sag_mm: float | None, *, topped_out: bool = False) -> dict[str, object]:
    """A sag for the wording; a state that is topped out has none to speak of."""
    if topped_out or (sag_mm is not None and sag_mm < NOT_SHOWN_MM):
        return {f"{name}_mm": None, f"{name}_topped_out": True}
    return {f"{name}_mm": sag_mm, f"{name}_topped_out": None}
