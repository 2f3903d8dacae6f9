"""For which springs the rebound was said to be right as it stands."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.places import End
from stanchion.job.spec import Kind, Rate, many


@record(kw_only=True)
class Damping:
    """What the technician says of the damping."""

    front_rates_n_per_mm: tuple[Rate, ...] = many(Kind.RATE, 0.1, 1000, 0.25, most=2, two=True)
    """Rates of the fork's springs for which its rebound was confirmed [N/mm]; empty: for none."""
    rear_rates_n_per_mm: tuple[Rate, ...] = many(Kind.RATE, 0.1, 1000, 0.25, most=1, two=True)
    """The same of the shock's spring."""

    def rates(self, end: End) -> tuple[Rate, ...]:
        """Those of one end."""
        return self.front_rates_n_per_mm if end == "front" else self.rear_rates_n_per_mm
