"""How well the technician's readings repeat, by a study: noted in the job, which so gives the same on any computer."""

from __future__ import annotations

import datetime as dt
from typing import Literal, get_args

from stanchion.base.record import record
from stanchion.job.spec import Kind, day, number, text

Studied = Literal["alone", "aboard", "bench"]
"""What a study is of: sag readings of the machine alone, those with the rider aboard, spring lengths at the bench."""
STUDIED: tuple[Studied, ...] = get_args(Studied)


@record(kw_only=True)
class Repeatability:
    """Standard uncertainty of one reading by the technician's own studies, with its degrees of freedom."""

    by: str = text(60)
    """Whose readings."""
    alone_mm: float | None = number(Kind.LENGTH, 0, 50, 0.1)
    """Sag readings of the machine alone [mm]."""
    alone_freedom: float | None = number(Kind.COUNT, 1, 1000, 1)
    """Its degrees of freedom."""
    alone_on: dt.date | None = day()
    """The day of that study."""
    aboard_mm: float | None = number(Kind.LENGTH, 0, 50, 0.1)
    """Sag readings with the rider aboard [mm]."""
    aboard_freedom: float | None = number(Kind.COUNT, 1, 1000, 1)
    """Its degrees of freedom."""
    aboard_on: dt.date | None = day()
    """The day of that study."""
    bench_mm: float | None = number(Kind.LENGTH, 0, 50, 0.1)
    """Free and set lengths of springs at the bench [mm]."""
    bench_freedom: float | None = number(Kind.COUNT, 1, 1000, 1)
    """Its degrees of freedom."""
    bench_on: dt.date | None = day()
    """The day of that study."""

    def of(self, studied: Studied) -> tuple[float, float] | None:
        """Standard uncertainty of one reading [mm] and its degrees of freedom; None where it was not studied."""
        standard_mm, freedom = getattr(self, f"{studied}_mm"), getattr(self, f"{studied}_freedom")
        return None if standard_mm is None or freedom is None else (standard_mm, freedom)

    def on(self, studied: Studied) -> dt.date | None:
        """The day of a study."""
        found: dt.date | None = getattr(self, f"{studied}_on")
        return found
