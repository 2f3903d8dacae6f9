"""What damper sheets say, in words: where it is from, what was read, the gas, and what turning the adjuster gives."""

from __future__ import annotations

from stanchion.base.text import clean
from stanchion.job.edit import value_at
from stanchion.job.model import Clicker, DamperSheet, Job
from stanchion.job.spec import Kind
from stanchion.judgement.predict.damper_sheets import adjuster_path
from stanchion.judgement.results.dampers import GasBeside, SheetFigures
from stanchion.judgement.results.figures import Figure
from stanchion.units.known_units import Units
from stanchion.units.quantity import MINUS, show
from stanchion.wording.choice_words import choice_word
from stanchion.wording.finding_words import reason
from stanchion.wording.positions import DAMPERS, FROM_CLOSED, turns_or_clicks

Named = tuple[str, str]
"""The name of a figure, at most 20 columns, and what there is under it."""

NOTE = (
    "Forces against the motion, of the damper alone on a dynamometer: without spring, with the friction of its seals."
)
"""What holds of every figure of a damper sheet."""


def damper_name(sheet: DamperSheet) -> str:
    """The damper of a sheet.

    >>> damper_name(DamperSheet(damper="left"))
    'fork, left leg'
    """
    return choice_word(("damper_sheets", "damper"), sheet.damper)


def turned_name(sheet: DamperSheet) -> str:
    """The adjuster that was turned, as the job calls it."""
    return DAMPERS[str(adjuster_path(sheet)[-1])]


def unit_turned(job: Job, sheet: DamperSheet) -> str:
    """What the positions of a sheet are counted in: clicks or turns."""
    adjuster = value_at(job, adjuster_path(sheet))
    return adjuster.unit if isinstance(adjuster, Clicker) else "clicks"


def speed_words(speed_mm_per_s: float) -> str:
    """A speed of the shaft.

    >>> speed_words(150.0)
    '150 mm/s'
    """
    return show(speed_mm_per_s, Kind.SPEED)


def damping_words(n_s_per_m: float) -> str:
    """A damping coefficient, or the slope of force over speed.

    >>> damping_words(1512.4), damping_words(-12.0)
    ('1512 N·s/m', '−12 N·s/m')
    """
    return f"{n_s_per_m:.0f} N·s/m".replace("-", MINUS)


BY_STROKES = "the mean of both strokes at low speed"
BY_PRESSURE = "the shock's gas pressure and shaft"
CHECK_GAS = "more than their uncertainty explains: check gas pressure, shaft and the slowest curves"


def gas_words(of: SheetFigures, units: Units) -> str:
    """The gas force that was taken out, or that it is still in the forces and why; beside it the force another way."""
    gas = of.gas_n
    if gas.value is None:
        return f"–  still in the forces: {clean(reason(gas))}"
    about = f" (estimate: {BY_STROKES})" if gas.estimate else ""
    if of.sheet.gas == "shock":
        about = f" (by {BY_PRESSURE})"
    return f"{show(gas.value, Kind.FORCE, units)}{about}{_beside_words(of.gas_beside, units)}"


def _beside_words(beside: GasBeside | None, units: Units) -> str:
    if beside is None:
        return ""
    by = BY_PRESSURE if beside.by_pressure else BY_STROKES
    words = f"; not used: {show(beside.force_n.value or 0.0, Kind.FORCE, units)} by {by}"
    if not beside.contradicts:
        return words
    return f"{words}, {show(abs(beside.apart_n), Kind.FORCE, units)} apart, {CHECK_GAS}"


def forces_words(gas: Figure, units: Units) -> str:
    """Whether the forces are those of the file; empty where the file had none of the gas.

    >>> forces_words(Figure(12.5), Units()), forces_words(Figure(0.0), Units())
    ('Gas of 13 N taken out of the forces.', '')
    """
    if gas.value is None:
        return "Forces as read: gas not taken out."
    about = " (estimate)" if gas.estimate else ""
    return f"Gas of {show(gas.value, Kind.FORCE, units)}{about} taken out of the forces." if gas.value else ""


def read_words(job: Job, of: SheetFigures) -> str:
    """What was read: how many curves, at what positions of which adjuster, and how many lines were not read."""
    sheet = of.sheet
    unit = unit_turned(job, sheet)
    positions = sorted({curve.position for curve in of.curves if curve.position is not None})
    words = [f"{len(of.curves)} curve{'s' * (len(of.curves) != 1)}"]
    if positions:
        numbers = ", ".join(show(at, Kind.COUNT) for at in positions)
        words.append(f"{turned_name(sheet)} at {numbers} {unit} {FROM_CLOSED}")
    if sheet.unread:
        words.append(f"{show(sheet.unread, Kind.COUNT)} line{'s' * (sheet.unread != 1)} of the file not read")
    return "; ".join(words)


def source_words(sheet: DamperSheet, units: Units) -> str:
    """Where a sheet is from, with what the damper's stroke and temperature were."""
    parts = [clean(sheet.file) or "typed in"]
    if sheet.stroke_mm is not None:
        parts.append(f"stroke {show(sheet.stroke_mm, Kind.LENGTH, units)}")
    if sheet.temperature_c is not None:
        parts.append(show(sheet.temperature_c, Kind.TEMPERATURE, units))
    if sheet.sha256:
        parts.append(f"SHA-256 {clean(sheet.sha256[:12])}…")
    return ", ".join(parts)


def more_words(now: Figure, position: Figure, unit: str, share: int) -> str:
    """How far the adjuster is to be turned for so much more force.

    >>> more_words(Figure(10.0), Figure(8.2), "clicks", 10)
    '10 % more is 1.8 clicks in'
    """
    if position.value is None or now.value is None:
        return (
            f"how far to turn for {share} % more is not known: {clean(reason(position if position.problem else now))}"
        )
    by = position.value - now.value
    return f"{share} % more is {turns_or_clicks(abs(by), unit)} {'in' if by < 0 else 'out'}"
