"""Targets and bands of this machine or rider, and where they are from. Each counts once both its ends are there."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.places import End
from stanchion.job.spec import Kind, number, part, text


@record(kw_only=True)
class EndTargets:
    """Own targets of one end [mm]."""

    static_low_mm: float | None = number(Kind.LENGTH, 0, 500, 1)
    """Least static sag."""
    static_high_mm: float | None = number(Kind.LENGTH, 0, 500, 1)
    """Greatest static sag."""
    rider_low_mm: float | None = number(Kind.LENGTH, 0, 500, 1)
    """Least rider sag."""
    rider_high_mm: float | None = number(Kind.LENGTH, 0, 500, 1)
    """Greatest rider sag."""
    preload_low_mm: float | None = number(Kind.LENGTH, 0, 500, 1)
    """Least installed preload."""
    preload_high_mm: float | None = number(Kind.LENGTH, 0, 500, 1)
    """Greatest installed preload."""
    source: str = text(32)
    """Where they are from, such as a page of the maker's manual."""


@record(kw_only=True)
class Targets:
    """Own targets of both ends, which count before those of the profile."""

    front: EndTargets = part(EndTargets)
    """Of the fork."""
    rear: EndTargets = part(EndTargets)
    """Of the rear end."""

    def end(self, end: End) -> EndTargets:
        """The targets of one end."""
        return self.front if end == "front" else self.rear
