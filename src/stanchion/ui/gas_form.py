"""The form of the screen "On the gas": acceleration to look at, swingarm and front sprocket, the chain. Pure."""

from __future__ import annotations

from stanchion.job.model import Job
from stanchion.ui.form_lines import FormLine, Heading, row_of
from stanchion.units.known_units import Units

_ARM = ("pivot_to_axle_mm", "pivot_up_mm", "arm_down_deg", "sprocket_up_mm", "sprocket_ahead_mm", "measured")
_THEN = ("front_sag_mm", "rear_sag_mm", "fork_height_mm", "length_adjuster_mm")


def gas_form(job: Job, units: Units) -> tuple[FormLine, ...]:
    """The lines of the form, in the order of the work.

    Args:
        job: the job.
        units: display units.
    """
    lines: list[FormLine] = [Heading("On the gas"), row_of(units, ("drive", "acceleration_g"), unit="g")]
    lines.append(Heading("Swingarm"))
    then = () if job.swingarm.measured == "geometry" else _THEN
    lines += [row_of(units, ("swingarm", name)) for name in (*_ARM, *then)]
    lines.append(Heading("Chain", ("front", "rear")))
    lines.append(
        row_of(units, ("upkeep", "front_teeth"), ("upkeep", "rear_teeth"), label="Sprocket teeth", across=True)
    )
    lines += [row_of(units, ("drive", name)) for name in ("chain", "links")]
    lines.append(Heading("Axle can move", ("forward", "back")))
    slots = (("drive", "axle_forward_mm"), ("drive", "axle_back_mm"))
    lines.append(row_of(units, *slots, label="In its slots", across=True))
    return tuple(lines)
