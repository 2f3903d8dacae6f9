"""The machine on the gas: as lines of a report, and as plain data."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from stanchion.job.model import Job
from stanchion.judgement.predict.balance import wheel_weights
from stanchion.judgement.predict.gas import gas_figures
from stanchion.judgement.results.assessment import Assessment
from stanchion.report.json_data import JsonData
from stanchion.report.lines import named_line
from stanchion.report.sheet_shape import Line, Section
from stanchion.units.known_units import Units
from stanchion.wording.balance_sentences import Named
from stanchion.wording.gas_sentences import chain_lines, effect_lines, gas_brief, gas_lines, gas_notes

_STANDS = ("arm_deg", "chain_deg", "squat_deg", "transfer_deg", "anti_squat_pct")
_THERE = (
    *("acceleration_g", "anti_squat_there_pct", "rear_squats_mm", "fork_extends_mm", "fork_used_mm", "rear_used_mm"),
    *("front_kg", "rear_kg"),
    *("rake_deg", "trail_mm", "wheelbase_mm", "front_lifts_g"),
)
_EFFECT = ("change", "amount", "axle_back_mm", "anti_squat_pct", "rear_squats_mm", "trail_mm", "wheelbase_mm")


def gas_rows(job: Job, assessment: Assessment, units: Units) -> Iterator[Named]:
    """Every line on the gas and on the chain, the last of them without a name.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        units: units to show.
    """
    gas = gas_figures(job, assessment)
    yield from gas_lines(job, gas, units)
    yield from effect_lines(gas, units)
    yield from chain_lines(job, gas, units)
    measured = wheel_weights(job, assessment, "rider").height_from == "lifted"
    yield from (("", note) for note in gas_notes(gas, measured_height=measured))


def gas_part(job: Job, assessment: Assessment, units: Units) -> Section:
    """The machine on the gas in a few lines of the sheet, where swingarm or chain is recorded."""
    rows = gas_brief(job, gas_figures(job, assessment), units) if drive_recorded(job) else ()
    return Section("On the gas", tuple(Line(name, text) for name, text in rows))


def gas_section(job: Job, assessment: Assessment, units: Units) -> Iterator[str]:
    """The same as a section of printed text, after an empty line; nothing where no swingarm or chain is recorded."""
    if not drive_recorded(job):
        return
    yield from ("", "On the gas")
    for name, text in gas_rows(job, assessment, units):
        yield named_line(name, text) if name else f"  {text}"


def drive_recorded(job: Job) -> bool:
    """Whether anything of swingarm or chain is recorded."""
    return (job.swingarm, job.drive) != (Job().swingarm, Job().drive)


def gas_json(data: JsonData, job: Job, assessment: Assessment, *, whole: bool = True) -> dict[str, Any]:
    """The machine on the gas; see JSON in DEVELOPERS.md. Not whole: without what small changes of it do."""
    gas = gas_figures(job, assessment, whole=whole)
    return {
        "gas": {
            **data.of("gas", gas, _THERE),
            "stands": data.of("gas.stands", gas.stands, _STANDS),
            "over_travel": [
                {"rear_used_mm": one.rear_used_mm, "anti_squat_pct": one.anti_squat_pct} for one in gas.over_travel
            ],
            "effects": [data.of(f"gas.effects.{at}", one, _EFFECT) for at, one in enumerate(gas.effects)],
            "chain": {
                **data.of("gas.chain", gas.chain, ("pitch_mm", "needed_links", "taut_back_mm")),
                "axle_moves": [
                    data.of(f"gas.chain.axle_moves.{at}", one, ("end", "teeth", "back_mm", "fits", "links"))
                    for at, one in enumerate(gas.chain.axle_moves)
                ],
            },
        }
    }
