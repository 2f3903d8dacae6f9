"""The one list of units: how each is typed and shown, and which of them a person can choose to read.

A unit is added here and nowhere else. The file itself always holds the first unit of each kind.
"""

from __future__ import annotations

from dataclasses import replace

from stanchion.base.errors import BadQuantity
from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.job.spec import Kind

_INCH_MM = 25.4
"""Inch [mm], exact (NIST SP 811, App. B.8)."""
_KGF_N = 9.80665
"""Kilogram-force [N], exact (NIST SP 811, App. B.8)."""
_LBF_N = 4.4482216152605
"""Pound-force [N], exact (NIST SP 811, App. B.8)."""
_LB_KG = 0.45359237
"""Pound [kg], exact (NIST SP 811, App. B.8)."""


@record
class Unit:
    """One unit of one kind of quantity."""

    name: str
    """As shown."""
    spellings: tuple[str, ...]
    """As typed, in lower case, without spaces."""
    pint: str
    """The name by which pint knows it."""
    decimals: int
    """Decimals shown of a value in this unit."""
    fractions: bool = False
    """Whether fractions may be typed, such as 9 7/8."""
    shown: bool = False
    """Whether the user can choose to read values of its kind in it."""
    exact: float | None = None
    """Factor to the first unit of its kind, for what is worked out at every keystroke and so without pint: a value out
    of its usual range is tried in other units, and a value typed in another unit is shown short. Tests hold it against
    pint."""
    round_mm: float = 10.0
    """Step between round lengths on a scale in this unit [mm]."""
    band_decimals: int | None = None
    """Decimals of the limits of a band; None: as many as a tenth of a millimetre needs."""


UNITS: dict[Kind, tuple[Unit, ...]] = {  # the first of each is the unit of the file
    Kind.LENGTH: (
        Unit("mm", ("mm",), "millimeter", 1, shown=True, exact=1.0),
        Unit("cm", ("cm",), "centimeter", 2, exact=10.0),
        Unit(
            "in",
            ("in", "inch", "inches", '"', "''", "”"),
            "inch",
            3,
            fractions=True,
            shown=True,
            exact=_INCH_MM,
            round_mm=_INCH_MM / 2,
            band_decimals=2,
        ),
    ),
    Kind.RATE: (
        Unit("N/mm", ("n/mm",), "newton / millimeter", 2, shown=True, exact=1.0),
        Unit("kg/mm", ("kg/mm", "kgf/mm"), "kilogram_force / millimeter", 3, shown=True, exact=_KGF_N),
        Unit(
            "lb/in",
            ("lb/in", "lbf/in", "lbs/in", "lb/inch"),
            "pound_force / inch",
            1,
            shown=True,
            exact=_LBF_N / _INCH_MM,
        ),
    ),
    Kind.MASS: (
        Unit("kg", ("kg",), "kilogram", 1, shown=True, exact=1.0),
        Unit("lb", ("lb", "lbs"), "pound", 1, shown=True, exact=_LB_KG),
    ),
    Kind.FORCE: (
        Unit("N", ("n",), "newton", 0, exact=1.0),
        Unit("kgf", ("kgf", "kg"), "kilogram_force", 1, exact=_KGF_N),
        Unit("lbf", ("lbf", "lb", "lbs"), "pound_force", 1, exact=_LBF_N),
    ),
    Kind.PRESSURE: (
        Unit("bar", ("bar",), "bar", 2, shown=True, exact=1.0),
        Unit("kPa", ("kpa",), "kilopascal", 0, shown=True, exact=0.01),
        Unit("MPa", ("mpa",), "megapascal", 3),
        Unit("psi", ("psi",), "psi", 1, shown=True, exact=_LBF_N / _INCH_MM**2 * 10.0),
    ),
    Kind.VOLUME: (
        Unit("ml", ("ml",), "milliliter", 0),
        Unit("cc", ("cc", "cm3", "cm³"), "cubic_centimeter", 0),
        Unit("l", ("l",), "liter", 3),
    ),
    Kind.ANGLE: (Unit("°", ("°", "deg"), "degree", 2),),
    Kind.TURNS: (Unit("turns", ("t", "turn", "turns"), "turn", 2, fractions=True),),
    # What is counted (clicks, turns, rings) stands in a field of its own, so a word here could only contradict it.
    Kind.COUNT: (Unit("", (), "", 2, fractions=True),),
    Kind.RATIO: (Unit("", (), "", 3),),
    Kind.TIME: (Unit("", ("s",), "second", 1),),
    Kind.SHARE: (Unit("%", ("%",), "percent", 1),),
    Kind.TORQUE: (
        Unit("N·m", ("nm", "n·m", "n.m"), "newton * meter", 1),
        Unit("kgf·m", ("kgfm", "kgf·m", "kgf.m", "kgm"), "kilogram_force * meter", 2, exact=_KGF_N),
        Unit(
            "lbf·ft",
            ("lbf·ft", "lbf.ft", "lbfft", "lb-ft", "lbft", "ft-lb", "ftlb"),
            "pound_force * foot",
            1,
            exact=_LBF_N * 12 * _INCH_MM / 1000,
        ),
    ),
    Kind.ALTITUDE: (Unit("m", ("m",), "meter", 0), Unit("ft", ("ft", "foot", "feet"), "foot", 0)),
    Kind.BAROMETER: (
        Unit("hPa", ("hpa", "mbar", "mb"), "hectopascal", 0),
        Unit("inHg", ("inhg",), "inch_Hg", 2),
        Unit("mmHg", ("mmhg",), "mmHg", 0),
    ),
    Kind.SPEED: (
        Unit("mm/s", ("mm/s",), "millimeter / second", 0, exact=1.0),
        Unit("m/s", ("m/s",), "meter / second", 3, exact=1000.0),
        Unit("in/s", ("in/s", "ips"), "inch / second", 2, exact=_INCH_MM),
    ),
    Kind.TEMPERATURE: (Unit("°C", ("°c", "c"), "degree_Celsius", 1),),
}

DISPLAY_UNITS = {
    kind: tuple(unit.name for unit in units if unit.shown)
    for kind, units in UNITS.items()
    if any(u.shown for u in units)
}
"""The names from which a person can choose, for each kind that offers a choice; the first is the unit of the file."""


@record
class Units:
    """The units in which a person reads and types."""

    lengths: str = DISPLAY_UNITS[Kind.LENGTH][0]
    rates: str = DISPLAY_UNITS[Kind.RATE][0]
    pressures: str = DISPLAY_UNITS[Kind.PRESSURE][0]
    masses: str = DISPLAY_UNITS[Kind.MASS][0]

    def __post_init__(self) -> None:
        for setting, kind in UNIT_SETTINGS.items():
            name = getattr(self, setting)
            if name not in DISPLAY_UNITS[kind]:
                raise BadQuantity(f"'{clean(name, 20)}' cannot be shown: choose {either(DISPLAY_UNITS[kind])}")


UNIT_SETTINGS = {"lengths": Kind.LENGTH, "rates": Kind.RATE, "pressures": Kind.PRESSURE, "masses": Kind.MASS}
"""What a person can choose the unit of, by its name in Units and in the settings file."""
_POUNDS = "lb"
_SETTING_OF = {kind: name for name, kind in UNIT_SETTINGS.items()}


def with_next(units: Units, setting: str) -> Units:
    """The units with the next one that can be chosen for a setting.

    >>> with_next(METRIC, "pressures").pressures, with_next(Units(masses="lb"), "masses").masses
    ('kPa', 'kg')
    """
    names = DISPLAY_UNITS[UNIT_SETTINGS[setting]]
    at = names.index(getattr(units, setting))
    return replace(units, **{setting: names[(at + 1) % len(names)]})


def with_unit(units: Units, name: str) -> Units:
    """The units with one more chosen by its name.

    Raises:
        BadQuantity: there is no such unit to show.

    >>> with_unit(METRIC, "psi").pressures
    'psi'
    """
    for setting, kind in UNIT_SETTINGS.items():
        if name in DISPLAY_UNITS[kind]:
            return replace(units, **{setting: name})
    names = tuple(name for of_kind in DISPLAY_UNITS.values() for name in of_kind)
    raise BadQuantity(f"there is no unit '{clean(name, 20)}' to show: choose {either(names)}")


METRIC = Units()


def display_unit(kind: Kind, units: Units = METRIC) -> Unit:
    """The unit in which values of a kind are shown, and in which a bare number is read; forces follow masses.

    >>> display_unit(Kind.LENGTH, Units(lengths="in")).name, display_unit(Kind.MASS, Units(lengths="in")).name
    ('in', 'kg')
    """
    setting = _SETTING_OF.get(kind)
    if kind is Kind.FORCE and units.masses == _POUNDS:
        return next(unit for unit in UNITS[kind] if unit.name == "lbf")
    if setting is None:
        return UNITS[kind][0]
    wanted = getattr(units, setting)
    return next(unit for unit in UNITS[kind] if unit.name == wanted)


def is_file_unit(kind: Kind, units: Units) -> bool:
    """Whether values of a kind are shown in the unit of the file."""
    return display_unit(kind, units) is UNITS[kind][0]


def exact_factor(kind: Kind, units: Units) -> float:
    """Factor from the display unit to the first unit of its kind.

    Raises:
        LookupError: the unit has no exact factor.

    >>> exact_factor(Kind.LENGTH, METRIC), exact_factor(Kind.LENGTH, Units(lengths="in"))
    (1.0, 25.4)
    """
    unit = display_unit(kind, units)
    if unit.exact is None:
        raise LookupError(f"{unit.name} has no exact factor")
    return unit.exact


def exact_factors(kind: Kind) -> tuple[tuple[str, float], ...]:
    """The other units of a kind that can be shown in more than one, with the exact factor of each.

    >>> exact_factors(Kind.LENGTH), exact_factors(Kind.TORQUE)
    ((('cm', 10.0), ('in', 25.4)), ())
    """
    if kind not in DISPLAY_UNITS:
        return ()
    return tuple((unit.name, unit.exact) for unit in UNITS[kind][1:] if unit.exact is not None)


def either(names: tuple[str, ...]) -> str:
    """The names joined as a choice.

    >>> either(("mm", "cm", "in"))
    'mm, cm or in'
    """
    return " or ".join((", ".join(names[:-1]), names[-1])) if len(names) > 1 else names[0]
