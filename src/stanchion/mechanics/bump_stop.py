"""A bump rubber or cone: from where it touches, its force comes to that of the spring."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.mechanics.limits import finite
from stanchion.mechanics.spring_curve import RateOrCurve, rate_at


@record
class BumpStop:
    """A rubber or cone by its touch point and its force."""

    touches_at_mm: float
    """Travel at which it touches: along the leg, or of the shock's shaft [mm]."""
    spring: RateOrCurve
    """Its rate [N/mm], > 0, or its curve."""

    def __post_init__(self) -> None:
        """Check the ranges of the fields."""
        finite("travel at which the rubber touches", self.touches_at_mm)
        rate_at(self.spring, 0.0)

    def state(self, x_mm: float) -> tuple[float, float]:
        """Force and rate at a travel; nothing before it touches.

        .. math:: F = F_b(x - x_t) \\quad (x > x_t)

        Args:
            x_mm: travel [mm].

        Returns:
            Force [N] and rate [N/mm].

        Raises:
            OutOfRange: never.

        Source:
            Definition.

        >>> BumpStop(100.0, 40.0).state(110.0), BumpStop(100.0, 40.0).state(90.0)
        ((400.0, 40.0), (0.0, 0.0))
        """
        squeezed = x_mm - self.touches_at_mm
        if squeezed <= 0.0:
            return 0.0, 0.0
        if not isinstance(self.spring, float | int):
            return self.spring.state(squeezed)
        return self.spring * squeezed, self.spring
