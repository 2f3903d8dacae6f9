"""A fork leg or a shock sprung by air, as it is recorded."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.outside import Outside
from stanchion.job.spec import Kind, choice, flag, number, part

PRESSURES = ("pressure_bar", "balance_bar", "outer_bar")
"""The fields of the pressures that are set with a pump: of the main, the balance and the outer chamber."""


@record(kw_only=True)
class AirLeg:
    """The air that springs a leg, or a shock, in place of a coil spring, as set fully extended."""

    fitted: bool = flag()
    """Whether air springs it."""
    pressure_bar: float | None = number(Kind.PRESSURE, 0, 30, 0.1)
    """Pressure of the main chamber above ambient, read after the pump was connected [bar]."""
    set_at_c: float | None = number(Kind.TEMPERATURE, -40, 150, 1)
    """Temperature of the leg when its pressures were set [°C]; None: as now."""
    in_use_c: float | None = number(Kind.TEMPERATURE, -40, 200, 1)
    """Temperature it has in use [°C]."""
    wanted_bar: float | None = number(Kind.PRESSURE, 0, 30, 0.1)
    """Pressure wanted in the main chamber in use, above ambient [bar]."""
    set_in: Outside = part(Outside)
    """Where its pressures were set, if the machine was carried here since."""
    most_bar: float | None = number(Kind.PRESSURE, 0, 30, 0.5)
    """Highest pressure that the maker allows [bar]."""
    bore_mm: float | None = number(Kind.LENGTH, 5, 70, 0.5)
    """Bore in which the piston seals [mm]."""
    length_mm: float | None = number(Kind.LENGTH, 10, 1000, 5)
    """Length of the main chamber with the leg extended [mm]; not used where its volume is recorded."""
    volume_ml: float | None = number(Kind.VOLUME, 1, 2000, 5)
    """Volume of the main chamber with the leg extended [ml]."""
    balance: str = choice("unknown", "none", "port", "pressure")
    """The balance chamber: there is none, the main chamber fills it through a port, or it is pumped up itself."""
    port_mm: float | None = number(Kind.LENGTH, 0, 200, 1)
    """Travel at which the piston passes the port [mm]."""
    balance_bar: float | None = number(Kind.PRESSURE, 0, 30, 0.1)
    """Pressure of the balance chamber above ambient [bar]."""
    rod_mm: float | None = number(Kind.LENGTH, 0, 60, 0.5)
    """Diameter of the rod that passes through the balance chamber [mm]."""
    balance_length_mm: float | None = number(Kind.LENGTH, 1, 500, 5)
    """Length of the balance chamber with the leg extended [mm]; not used where its volume is recorded."""
    balance_ml: float | None = number(Kind.VOLUME, 1, 1000, 1)
    """Volume of the balance chamber with the leg extended [ml]."""
    outer: str = choice("none", "own_area", "floating")
    """The outer chamber, the second that is squeezed: there is none, it pushes on an area of its own, or a floating
    piston parts it from the main chamber."""
    outer_bar: float | None = number(Kind.PRESSURE, 0, 30, 0.1)
    """Pressure of the outer chamber above ambient [bar]."""
    outer_most_bar: float | None = number(Kind.PRESSURE, 0, 30, 0.5)
    """Highest pressure that the maker allows in the outer chamber [bar]."""
    outer_bore_mm: float | None = number(Kind.LENGTH, 5, 100, 0.5)
    """Bore of the outer chamber on an area of its own [mm]."""
    outer_tube_mm: float | None = number(Kind.LENGTH, 0, 90, 0.5)
    """Diameter of what stands in that bore, as rod or cartridge [mm]; 0: nothing does."""
    outer_length_mm: float | None = number(Kind.LENGTH, 1, 1000, 5)
    """Length of the outer chamber with the leg extended [mm]; not used where its volume is recorded."""
    outer_ml: float | None = number(Kind.VOLUME, 1, 2000, 5)
    """Volume of the outer chamber with the leg extended [ml]."""

    @property
    def pressures_bar(self) -> tuple[float | None, ...]:
        """The pressures that are set with a pump."""
        return tuple(getattr(self, name) for name in self.pumped)

    @property
    def pumped(self) -> tuple[str, ...]:
        """The fields of these pressures."""
        has = (True, self.balance == "pressure", self.outer != "none")
        return tuple(name for name, there in zip(PRESSURES, has, strict=True) if there)

    def most_bar_of(self, name: str) -> float | None:
        """The highest pressure that the maker allows in a chamber [bar].

        Args:
            name: the field of its pressure.
        """
        return self.outer_most_bar if name == "outer_bar" else self.most_bar
