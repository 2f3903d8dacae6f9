"""Notes on a venue, kept beside the jobs for whoever comes there again."""

from __future__ import annotations

from typing import Any

from stanchion.base.record import record
from stanchion.job.outside import ALTITUDES_M
from stanchion.job.spec import Kind, number, text


@record(kw_only=True)
class VenueNotes:
    """What is known of one venue, whichever machine is there."""

    name: str = text(60)
    """The venue, as it was first spelt."""
    surface: str = text(120)
    """Tarmac or ground, grip, where it changes."""
    bumps: str = text(200)
    """Where the bumps, crests and jumps are."""
    altitude_m: float | None = number(Kind.ALTITUDE, *ALTITUDES_M, 50)
    """Height above sea level [m]."""
    conditions: str = text(200)
    """Wind, heat, dust, what changes in the course of a day."""
    more: str = text(400)
    """Anything else."""
    unknown: tuple[tuple[str, Any], ...] = ()
    """Keys of the file that this version does not know, kept to be written back."""
