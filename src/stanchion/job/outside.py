"""What tells the pressure of the air outside: altitude or barometer."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.spec import Kind, number

ALTITUDES_M = (-430, 6000)
"""Heights that can be entered [m]."""
BAROMETER_HPA = (400, 1100)
"""Readings of a barometer that can be entered [hPa]."""


@record(kw_only=True)
class Outside:
    """What tells the pressure outside. The barometer wins; neither: not recorded."""

    altitude_m: float | None = number(Kind.ALTITUDE, *ALTITUDES_M, 50)
    """Height above sea level [m]."""
    barometer_hpa: float | None = number(Kind.BAROMETER, *BAROMETER_HPA, 1)
    """What a barometer reads there, not reduced to sea level [hPa]."""


NOWHERE = Outside()
"""Neither is recorded."""
