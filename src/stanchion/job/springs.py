"""Springs as they are recorded: the main ones, and the short one that works against them."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.spec import Kind, choice, number, part, rows


@record(kw_only=True)
class TesterPair:
    """One reading of a spring tester."""

    length_mm: float | None = number(Kind.LENGTH, 1, 1000, 1)
    """Length of the spring in the tester [mm]."""
    force_n: float | None = number(Kind.FORCE, 0, 50_000, 10)
    """Force it gives there [N]."""


@record(kw_only=True)
class Coils:
    """A spring as it can be measured on the bench, marked or not."""

    wire_mm: float | None = number(Kind.LENGTH, 0.5, 30, 0.1)
    """Wire diameter [mm]."""
    outer_mm: float | None = number(Kind.LENGTH, 5, 150, 0.5)
    """Outer diameter of the coil [mm]."""
    total_coils: float | None = number(Kind.COUNT, 2, 60, 0.25)
    """All coils, end coils included."""
    ends: str = choice("closed_ground", "closed", "open_ground", "open")
    """How the ends are finished."""
    wire: str = choice(
        "unknown",
        "en_10270_1",
        "en_10270_2",
        "music",
        "hard_drawn",
        "oil_tempered",
        "chrome_silicon",
        "chrome_vanadium",
        "stainless",
    )
    """Kind of wire, which settles its shear modulus."""
    solid_length_mm: float | None = number(Kind.LENGTH, 1, 800, 0.5)
    """Solid length as measured [mm]; it wins over the calculated one."""
    tester: tuple[TesterPair, ...] = rows(TesterPair, 12)
    """Readings of a spring tester."""


@record(kw_only=True)
class Spring:
    """A main spring and the lengths it has when fitted."""

    rate_n_per_mm: float | None = number(Kind.RATE, 0.1, 1000, 0.25)
    """Rate as labelled or measured [N/mm]."""
    free_length_mm: float | None = number(Kind.LENGTH, 10, 1000, 0.5)
    """Length out of the fork or shock, unloaded [mm]."""
    set_length_mm: float | None = number(Kind.LENGTH, 10, 1000, 0.5)
    """Length fitted, suspension extended, at the adjuster position below [mm]."""
    set_length_at: float | None = number(Kind.COUNT, 0, 200, 0.5)
    """Adjuster reading at which the set length was read, counted as the adjuster is; None: fully out."""
    set_length_in_mm: float | None = number(Kind.LENGTH, 10, 1000, 0.5)
    """Length fitted with the adjuster fully in [mm]."""
    coils: Coils = part(Coils)
    """Wire, coils and tester readings."""


@record(kw_only=True)
class TopOut:
    """The short spring that works against the main spring near full extension."""

    fitted: str = choice("unknown", "yes", "no")
    """Whether there is one."""
    rate_n_per_mm: float | None = number(Kind.RATE, 0.1, 1000, 1)
    """Its rate [N/mm]."""
    works_over_mm: float | None = number(Kind.LENGTH, 0, 150, 1)
    """Length over which it works, from the mechanical stop [mm]."""
