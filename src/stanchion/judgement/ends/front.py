"""Figures and findings on the fork: each leg, and left against right."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.job.model import SIDES, Front, Leg, Path, Side, TopOut
from stanchion.job.spec import Progressive
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.criteria.thresholds import (
    FREE_LENGTHS_NOTE_MM,
    FREE_LENGTHS_WARNING_MM,
    LEG_PRELOADS_DIFFER_MM,
    PAIR_RATES_DIFFER,
    SLACK,
    TAPE_DIVISION_MM,
)
from stanchion.judgement.ends.air_leg import compared_only, over_pressure
from stanchion.judgement.ends.dampers import clicker_findings, clicks_differ
from stanchion.judgement.ends.instruments import difference_expanded
from stanchion.judgement.ends.preload import SpringAt, adjuster_range, no_spring, spacer_room, spring_figures
from stanchion.judgement.ends.preload_findings import spring_findings
from stanchion.judgement.ends.preload_sure import surely_judged
from stanchion.judgement.ends.set_length_reading import is_read_assembled, lengths_for_range, reading_point, squeezed
from stanchion.judgement.ends.spacers_alike import SpacersAlike, spacers_alike
from stanchion.judgement.ends.spring_law import SpringLaw, law_of_leg
from stanchion.judgement.results.assessment import FrontFigures, PreloadFigures
from stanchion.judgement.results.codes import ForkCode
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.preload import new_spacer
from stanchion.mechanics.spring_curve import RateOrCurve
from stanchion.mechanics.statistics import Uncertainty


def front_figures(
    front: Front, band: PreloadBand | None, tape_mm: float | None = None, own: Uncertainty | None = None
) -> tuple[FrontFigures, list[Finding]]:
    """The fork's figures, and the findings on each leg and on the pair.

    Args:
        front: the fork as recorded.
        band: band for installed preload.
        tape_mm: smallest division of the tape [mm]; None: 1 mm is taken.
        own: how sure one length is by the technician's own study [mm]; None: there is none.
    """
    findings: list[Finding] = []
    figures: dict[Side, PreloadFigures] = {}
    laws: dict[Side, SpringLaw] = {}
    one_top_out = front.top_out_of("left") != front.top_out_of("right")  # its leg may be read off the stop
    sides = SIDES if front.split or one_top_out else SIDES[:1]
    for side in sides:
        leg, entered = front.leg(side), front.split or side == "left"
        if leg.coil_fitted:
            law = laws[side] = law_of_leg(front, side)
            at = spring_in(front, side, law.spring)
            limits = adjuster_range(at)
            of_leg = spring_figures(at, law, limits, _stack(leg, at.where), band)
            figures[side] = surely_judged(of_leg, at, band, tape_mm, own)
            findings += spring_findings(at, limits, figures[side], band) if entered else []
            in_leg = side if one_top_out and not front.split else None
            findings += _read_against_top_out(at, leg, front.top_out_of(side), figures[side], in_leg)
        else:
            figures[side] = replace(
                no_spring(band, _stack(leg, ("front", side if front.split else "left"))), by_air=leg.air.fitted
            )
        for name in ("compression", "high_speed_compression", "rebound") if entered else ():
            findings += clicker_findings(getattr(leg, name), ("front", side, name), both_legs=not front.split)
    left, right = figures["left"], figures.get("right", figures["left"])
    total, mean = _rates([*laws.values()] * (1 if front.split else 2 // len(sides)))
    if not laws and any(front.leg(side).air.fitted for side in SIDES):
        total = mean = absent("rate_by_air")
    whole = FrontFigures(left=left, right=right, rate_n_per_mm=total, mean_rate_n_per_mm=mean)
    findings += _over_pressure(front)
    if not any(front.leg(side).coil_fitted or front.leg(side).air.fitted for side in SIDES):
        findings.append(Finding("fork_without_spring", Severity.WARNING, ("front",)))
    findings += _top_out_legs(front)
    if front.split and front.left.coil_fitted and front.leg("right").coil_fitted:
        tape = TAPE_DIVISION_MM if tape_mm is None else tape_mm
        findings += _pair_findings(front, whole, band, lambda mm: difference_expanded(mm, tape, own))
        findings = _adjusters_first(findings)
    findings = [_only_adjuster(front, figures, finding) for finding in findings]
    return whole, findings


def _over_pressure(front: Front) -> Iterator[Finding]:
    values: dict[str, object] = {} if front.split else {"both_legs": True}
    for side in SIDES if front.split else SIDES[:1]:
        yield from over_pressure(front.leg(side).air, ("front", side), values)
        yield from compared_only(front.leg(side).air, ("front", side), values)


def spring_in(front: Front, side: Side, law: RateOrCurve | None) -> SpringAt:
    """The spring of one leg with its adjuster, and where its lengths were read."""
    leg = front.leg(side)
    # Legs entered as one have one adjuster: the lengths of its range were read in the leg that has the top-out spring.
    against = front.top_out_of(side) if front.split else front.top_out
    return SpringAt(
        leg.spring,
        leg.adjuster,
        ("front", side if front.split else "left"),
        "adjuster",
        both_legs=not front.split,
        for_range=lengths_for_range(against, leg, law),
        read_at_mm=reading_point(front.top_out_of(side), leg, law, squeezed(leg.spring)),
    )


def _stack(leg: Leg, where: Path) -> Figure:
    spacer = recorded(leg.stack.spacer_mm, (*where, "stack", "spacer_mm"))
    rest = sum(leg.stack.washers_mm) + sum(leg.stack.seats_mm)
    return derive(lambda tube: tube + rest, spacer)


def _rates(laws: list[SpringLaw]) -> tuple[Figure, Figure]:
    """Rate of both springs together, and the mean rate by which a pair is named."""
    if not laws:
        return absent("no_spring"), absent("no_spring")
    if any(law.curve is not None for law in laws):
        return absent("rate_changes"), absent("rate_changes")
    rates = [law.known for law in laws]
    total = derive(lambda *each: sum(each), *rates)
    return total, derive(lambda both: both / 2, total) if len(rates) == 2 else absent("one_spring")


def _read_against_top_out(
    at: SpringAt, leg: Leg, top_out: TopOut, figures: PreloadFigures, in_leg: Side | None
) -> Iterator[Finding]:
    """Note on lengths read off the stop: the preload at the stop, while the band is for preload as read.

    Args:
        at: the spring.
        leg: its leg.
        top_out: the top-out spring in that leg.
        figures: its preload.
        in_leg: that leg, of two entered as one of which only it has a top-out spring.
    """
    values: dict[str, object] = {"both_legs": True, "in_leg": in_leg} if at.both_legs else {}
    assembled = is_read_assembled(top_out, leg)
    installed, point_mm = figures.installed_preload_mm.value, at.read_at_mm
    if assembled and at.for_range is None:
        yield Finding("range_read_assembled", Severity.NOTE, at.where, values)
    elif installed is not None and point_mm is not None and point_mm > SLACK:
        values |= {"preload_mm": installed, "point_mm": point_mm, "at_stop_mm": installed - point_mm}
        if at.for_range is not None:
            values["range_mm"] = figures.adjuster_range_mm.value
        yield Finding("read_off_the_stop", Severity.NOTE, at.where, values)


def _top_out_legs(front: Front) -> Iterator[Finding]:
    """Note on which leg is taken to have the top-out spring where that is not recorded and only one leg has a
    main spring."""
    if front.top_out.fitted == "yes" and front.top_out_legs == "unknown" and len(front.main_springs) == 1:
        yield Finding("top_out_legs_taken", Severity.NOTE, ("front", "top_out_legs"))


# --- left against right -------------------------------------------------------------------------------------------


def _pair_findings(
    front: Front, figures: FrontFigures, band: PreloadBand | None, unsure: Callable[[float], float]
) -> Iterator[Finding]:
    yield from _lengths_differ(front, figures.left, figures.right, band, unsure)
    yield from _rates_differ(front, figures.mean_rate_n_per_mm)
    if not front.preload_difference_meant:
        yield from _preloads_differ(front, figures.left, figures.right, spacers_alike(front, figures, band))
    if not front.dampers_split:
        left_leg, right_leg = front.left, front.leg("right")
        yield from clicks_differ("compression", left_leg.compression, right_leg.compression)
        high_speed = left_leg.high_speed_compression, right_leg.high_speed_compression
        yield from clicks_differ("high_speed_compression", *high_speed)
        yield from clicks_differ("rebound", left_leg.rebound, right_leg.rebound)


def _lengths_differ(
    front: Front,
    left: PreloadFigures,
    right: PreloadFigures,
    band: PreloadBand | None,
    unsure: Callable[[float], float],
) -> Iterator[Finding]:
    """The finding on springs of unequal length.

    A difference that its readings cannot tell from that of springs sold as equal is a note to measure it again.

    Args:
        front: the fork.
        left: preload of the left leg.
        right: of the right one.
        band: band for installed preload.
        unsure: how far a difference of two lengths may be off [mm].
    """
    left_mm, right_mm = front.left.spring.free_length_mm, front.leg("right").spring.free_length_mm
    if left_mm is None or right_mm is None:
        return
    lengths: list[tuple[float, Side]] = [(left_mm, "left"), (right_mm, "right")]
    # A longer spacer gives the shorter spring the installed preload of the other leg.
    (short_mm, short), (long_mm, long) = sorted(lengths)
    difference = long_mm - short_mm
    severity = length_severity(difference)
    if severity is None:
        return
    figures = {"left": left, "right": right}
    spacer = spacer_for(front.leg(long).stack.spacer_mm, long_mm, short_mm, figures[long].installed_preload_mm.value)
    where: Path = ("front", short, "spring", "free_length_mm")
    if made_up(front.leg(short), spacer):
        values = {"short": short, "long": long, "difference_mm": difference, "spacer_mm": spacer}
        yield Finding("free_lengths_made_up", Severity.NOTE, where, values)
        return
    room = spacer_room(figures[short].installed_preload_mm.value, band)
    full, expanded_mm = difference > room[1] + SLACK, unsure(difference)
    cannot_tell = difference - FREE_LENGTHS_NOTE_MM <= expanded_mm
    yield Finding(
        "free_lengths_differ",
        Severity.NOTE if cannot_tell else severity,
        where,
        {
            "short": short,
            "long": long,
            "difference_mm": difference,
            "spacer_mm": spacer,
            **({"band_full": True} if full else {}),
            **(
                {"to_check": True, "expanded_mm": expanded_mm, "then_mm": None if full else spacer}
                if cannot_tell
                else {}
            ),
        },
    )


def made_up(leg: Leg, spacer_mm: float | None) -> bool:
    """Whether the leg already has the spacer that makes up for a different free length."""
    fitted = leg.stack.spacer_mm
    return (
        None not in (fitted, spacer_mm) and abs((fitted or 0.0) - (spacer_mm or 0.0)) <= LEG_PRELOADS_DIFFER_MM + SLACK
    )


def length_severity(difference_mm: float) -> Severity | None:
    """Severity of a difference of free length; None where it is within the variation of springs sold as equal."""
    if difference_mm > FREE_LENGTHS_WARNING_MM + SLACK:
        return Severity.WARNING
    return Severity.NOTE if difference_mm > FREE_LENGTHS_NOTE_MM + SLACK else None


def spacer_for(
    old_spacer_mm: float | None, old_free_mm: float, new_free_mm: float, installed_mm: float | None
) -> float | None:
    """The spacer that keeps installed preload with a spring of another length; None where it is not known."""
    if old_spacer_mm is None:
        return None
    kept = installed_mm or 0.0  # it does not change, so its value cancels
    try:
        return new_spacer(old_spacer_mm, old_free_mm, new_free_mm, kept, kept)
    except OutOfRange:
        return None


def _rates_differ(front: Front, mean: Figure) -> Iterator[Finding]:
    left, right = front.left.spring.rate_n_per_mm, front.leg("right").spring.rate_n_per_mm
    if left is None or right is None or isinstance(left, Progressive) or isinstance(right, Progressive):
        return
    if mean.value is not None and abs(left - right) > PAIR_RATES_DIFFER * mean.value + SLACK:
        yield Finding(
            "rates_differ", Severity.NOTE, ("front",), {"left": left, "right": right, "mean_n_per_mm": mean.value}
        )


def _preloads_differ(
    front: Front, left: PreloadFigures, right: PreloadFigures, match: SpacersAlike | None
) -> Iterator[Finding]:
    pairs: tuple[tuple[ForkCode, Figure, Figure], ...] = (
        ("installed_preload_differs", left.installed_preload_mm, right.installed_preload_mm),
        ("preload_now_differs", left.preload_now_mm, right.preload_now_mm),
    )
    for code, one, other in pairs:
        if one.value is None or other.value is None:
            continue
        if abs(one.value - other.value) > LEG_PRELOADS_DIFFER_MM + SLACK:
            values: dict[str, object] = {"left_mm": one.value, "right_mm": other.value}
            if code == "preload_now_differs" and any(front.leg(side).adjuster.counting == "none" for side in SIDES):
                values["one_adjuster"] = True
            if code == "installed_preload_differs" and match is not None:
                values |= match.values
            yield Finding(code, Severity.WARNING, ("front",), values)
            return  # different installed preload already explains different preload now


def _only_adjuster(front: Front, figures: dict[Side, PreloadFigures], finding: Finding) -> Finding:
    """The finding; that the one adjuster of a fork is at its end is a note where its preload is in its band."""
    adjusted = [side for side in SIDES if front.leg(side).coil_fitted and front.leg(side).adjuster.counting != "none"]
    if finding.code not in ("adjuster_fully_in", "adjuster_fully_out") or len(adjusted) != 1:
        return finding
    in_band = figures.get(adjusted[0], figures["left"]).verdict in ("in", "near_limit", "borderline")
    return replace(finding, severity=Severity.NOTE) if in_band else finding


def _adjusters_first(findings: list[Finding]) -> list[Finding]:
    """The findings, with that on adjusters that stand apart before the others; an adjuster at its end then asks for no
    spacer or spring, since the other leg's can be turned."""
    apart = [finding for finding in findings if finding.code == "preload_now_differs"]
    if not apart or "one_adjuster" in apart[0].values:
        return findings
    others = [finding for finding in findings if finding not in apart]
    return apart + [
        replace(finding, values={**finding.values, "settled": True})
        if finding.code in ("adjuster_fully_in", "adjuster_fully_out")
        else finding
        for finding in others
    ]
