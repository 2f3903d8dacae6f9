"""The pressure outside, and what reads otherwise where the machine was carried to another altitude."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from stanchion.job.model import ENDS, SIDES, Job
from stanchion.job.outside import NOWHERE, Outside
from stanchion.judgement.criteria.thresholds import BAROMETER_OFF_BAR, GAUGES_SHIFT_BAR
from stanchion.judgement.results.codes import FindingCode, OutsideFrom
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.gas import ATMOSPHERE_MPA, HPA_MPA, ambient_pressure
from stanchion.mechanics.shock import BAR_MPA


def pressure_in(outside: Outside) -> float | None:
    """The pressure outside [MPa]: by the barometer, else by altitude in the standard atmosphere; None: not recorded."""
    if outside.barometer_hpa is not None:
        return outside.barometer_hpa * HPA_MPA
    return None if outside.altitude_m is None else ambient_pressure(outside.altitude_m)


def outside_mpa(job: Job) -> float:
    """The pressure outside now [MPa]. Where it is not recorded, it is taken as where air was shut in, if that was
    noted; otherwise as at sea level."""
    here = pressure_in(job.job.outside)
    there = _noted_mpa(job) if here is None else None
    return next((mpa for mpa in (here, there) if mpa is not None), ATMOSPHERE_MPA)


def outside_from(job: Job) -> OutsideFrom:
    """Where the pressure outside is taken from."""
    if pressure_in(job.job.outside) is not None:
        return ""
    return "sea_level" if _noted_mpa(job) is None else "where_set"


def _noted_mpa(job: Job) -> float | None:
    """The pressure where air or gas was shut in; None: nowhere noted. Of two legs the one nearer sea level counts."""
    for outsides in (*_shut_in(job).values(), (job.rear.gas_set_in,)):
        known = _pressures(outsides)
        if known:
            return max(known)
    return None


def _pressures(outsides: Iterable[Outside]) -> list[float]:
    """The pressures [MPa] in those places, as far as they are recorded."""
    return [mpa for outside in outsides if (mpa := pressure_in(outside)) is not None]


def _shut_in(job: Job) -> dict[str, tuple[Outside, ...]]:
    """Where air was shut in that has been carried here, by what it is in."""
    legs = [job.front.leg(side) for side in (SIDES if job.front.split else SIDES[:1])]
    airs = [*(leg.air for leg in legs), job.rear.air]
    where = {
        "air_spring": tuple(air.set_in for air in airs if air.fitted and air.set_in != NOWHERE),
        "air_gap": tuple(
            leg.bleed.closed_in for leg in legs if leg.air_gap_mm is not None and leg.bleed.closed_in != NOWHERE
        ),
    }
    return {what: outsides for what, outsides in where.items() if outsides}


def outside_findings(job: Job, previous: Job | None) -> Iterator[Finding]:
    """Findings on a barometer reduced to sea level, and on gauges that read otherwise here than where the air was shut
    in.

    Args:
        job: the job.
        previous: the job it was carried from, where it is to hand.
    """
    outside = job.job.outside
    if outside.barometer_hpa is not None and outside.altitude_m is not None:
        by_altitude = ambient_pressure(outside.altitude_m)
        if abs(outside.barometer_hpa * HPA_MPA - by_altitude) > BAROMETER_OFF_BAR * BAR_MPA:
            values: dict[str, object] = {
                "barometer_hpa": outside.barometer_hpa,
                "by_altitude_hpa": by_altitude / HPA_MPA,
                "altitude_m": outside.altitude_m,
            }
            yield Finding("barometer_off", Severity.WARNING, ("job", "barometer_hpa"), values)
    shut_in = _shut_in(job)
    if not _tyres_read(job) and previous is not None and previous.job.outside != NOWHERE:
        shut_in["tyres"] = (previous.job.outside,)
    for what in ("air_spring", "air_gap", "tyres"):
        there = _pressures(shut_in.get(what, ()))
        if there:
            yield from _carried(job, sorted(shut_in), there)
            return


def _carried(job: Job, shut_in: list[str], there: list[float]) -> Iterator[Finding]:
    where = ("job", "altitude_m")
    here = pressure_in(job.job.outside)
    if here is None:
        yield Finding("outside_unknown", Severity.NOTE, where, {"there_hpa": max(there) / HPA_MPA})
        return
    # Of two legs that were set apart, the one that is furthest off counts.
    there_mpa = max(there, key=lambda mpa: (abs(mpa - here), mpa))
    by_bar = (there_mpa - here) / BAR_MPA
    if abs(by_bar) > GAUGES_SHIFT_BAR:
        values: dict[str, object] = {
            "here_hpa": here / HPA_MPA,
            "there_hpa": there_mpa / HPA_MPA,
            "by_bar": abs(by_bar),
            **{f"shut_in_{what}": True for what in shut_in},
        }
        code: FindingCode = "gauges_read_more" if by_bar > 0.0 else "gauges_read_less"
        yield Finding(code, Severity.WARNING, where, values)


def _tyres_read(job: Job) -> bool:
    """Whether a cold pressure of a tyre was read on this occasion."""
    names = [f"{end}_cold_bar" for end in ENDS]
    records = [*job.runs, *([] if job.found is None else [job.found])]
    return any(getattr(one, name) is not None for one in records for name in names)
