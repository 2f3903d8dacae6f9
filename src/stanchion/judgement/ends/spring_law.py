"""How each main spring answers to compression: by one rate, or by a curve."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import Front, Path, Rear, Side, Spring
from stanchion.job.spec import Progressive, Rate, middle_rate
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.ends.coil_data import coil_data, tester_pairs
from stanchion.judgement.ends.second_spring import together
from stanchion.judgement.results.figures import Figure, derive, recorded
from stanchion.mechanics.air_spring import AirSpring
from stanchion.mechanics.limits import positive
from stanchion.mechanics.spring_curve import RateOrCurve, SpringCurve, force_at, measured_curve, rising_rate


@record
class SpringLaw:
    """The force of one spring over its compression, as far as it is known."""

    spring: RateOrCurve | None
    """None where it is not known."""
    known: Figure
    """The one rate; of a curve, a known figure that is an estimate. Absent, with what is missing, where the spring is
    None."""
    over_mm: float | None = None
    """Compression over which the rate of a progressive spring is taken to rise, or up to which it was measured."""
    measured: bool = False
    """Whether the curve is that of the readings of a spring tester."""
    changes_at_mm: float | None = None
    """Compression at which the rate of two springs changes; infinite where it never does. None: it is one spring."""
    main: RateOrCurve | None = None
    """Rate or curve of the main of two springs by itself."""

    @property
    def curve(self) -> SpringCurve | AirSpring | None:
        """The curve; None where the spring has one rate, or is not known."""
        return None if isinstance(self.spring, float | int) else self.spring

    def derive(self, formula: Callable[..., float], *inputs: Figure) -> Figure:
        """Apply a formula, whose first argument is the spring, where it and every input are known."""
        return derive(lambda _, *values: formula(self.spring, *values), self.known, *inputs)


def law_of(spring: Spring, at: Path, travel_mm: float | None, travel_at: Path) -> SpringLaw:
    """The law of a spring, with that of a second one that works with it.

    Args:
        spring: the spring as recorded.
        at: its path.
        travel_mm: how far full travel compresses it, without packers; None: not recorded.
        travel_at: where that is recorded.
    """
    main = _law_of_main(spring, at, travel_mm, travel_at)
    if not spring.second.fitted or main.spring is None:
        return main
    both = together(spring, at, main.spring)
    if isinstance(both, Figure):
        return replace(main, spring=None, known=both, main=main.spring)
    known = Figure(both.curve.least_rate_n_per_mm, estimate=main.known.estimate)
    return replace(main, spring=both.curve, known=known, changes_at_mm=both.changes_at_mm, main=main.spring)


def _law_of_main(spring: Spring, at: Path, travel_mm: float | None, travel_at: Path) -> SpringLaw:
    """The law of a spring by itself.

    The rate of a progressive spring is taken to rise over its usable stroke: from the free to the solid length, or
    where that is not known, over full travel. Readings of a spring tester that bend win over any label.

    Args:
        spring: the spring as recorded.
        at: its path.
        travel_mm: how far full travel compresses it, without packers; None: not recorded.
        travel_at: where that is recorded.
    """
    rate = spring.rate_n_per_mm
    if spring.coils.tester:
        measured = _by_tester(spring, at)
        if measured is not None:
            return measured
    if not isinstance(rate, Progressive):
        known = recorded(rate, (*at, "rate_n_per_mm")) if rate is not None else unmarked_rate(spring, at)
        return SpringLaw(known.value, known)
    over = recorded(travel_mm, travel_at)
    solid_mm = coil_data(spring.coils, (*at, "coils")).solid_length_mm.value
    if solid_mm is not None and spring.free_length_mm is not None and spring.free_length_mm - solid_mm > SLACK:
        over = Figure(spring.free_length_mm - solid_mm)
    if over.value is None or over.value <= 0.0:
        return SpringLaw(None, over)
    curve = rising_rate(rate.start, rate.end, over.value)
    return SpringLaw(curve, Figure(rate.start, estimate=True), over.value)


def curve_known(law: SpringLaw, spring: Spring) -> Figure:
    """A known figure, or what the curve of a progressive spring, or of two springs, waits for.

    Args:
        law: the law of the spring.
        spring: the spring as recorded.
    """
    waits = (isinstance(spring.rate_n_per_mm, Progressive) or spring.second.fitted) and law.spring is None
    return law.known if waits else Figure(0.0)


def unmarked_rate(spring: Spring, at: Path) -> Figure:
    """The rate of a spring for which none is recorded: by the spring tester, else by wire and coils, as an estimate;
    absent where neither gives one, and then it needs the rate."""
    data = coil_data(spring.coils, (*at, "coils"))
    if data.measured_n_per_mm.known:
        return data.measured_n_per_mm
    if data.rate_n_per_mm.value is not None:
        return Figure(data.rate_n_per_mm.value, estimate=True)
    return recorded(None, (*at, "rate_n_per_mm"))


def _by_tester(spring: Spring, at: Path) -> SpringLaw | None:
    """The curve of the tester's readings where they bend; None where they do not, or cannot be right."""
    if coil_data(spring.coils, (*at, "coils")).bend is None:
        return None
    free_mm = spring.free_length_mm
    if free_mm is None:
        return SpringLaw(None, recorded(free_mm, (*at, "free_length_mm")))
    pairs = tuple((free_mm - length_mm, force_n) for length_mm, force_n in tester_pairs(spring.coils))
    try:
        curve = measured_curve(tuple(pair for pair in pairs if pair != (0.0, 0.0)))
    except OutOfRange:
        return None
    return SpringLaw(curve, Figure(curve.least_rate_n_per_mm), curve.knots_mm[-1], measured=True)


def as_one_rate(law: SpringLaw, label: Rate | None, squeezed: Figure) -> float | None:
    """The one rate that gives the same force at a compression; None where the spring is not known.

    Args:
        law: the law of the spring.
        label: its rate as recorded; the middle of it stands in where the law or the compression is not known.
        squeezed: that compression.
    """
    found = law.known
    if law.curve is not None:
        found = law.derive(lambda spring, mm: force_at(spring, mm) / positive("compression", mm), squeezed)
    return middle_rate(label) if found.value is None and label is not None else found.value


def law_of_leg(front: Front, side: Side) -> SpringLaw:
    """The law of the main spring in a leg."""
    at = side if front.split else "left"
    return law_of(front.leg(side).spring, ("front", at, "spring"), front.travel_mm, ("front", "travel_mm"))


def law_of_shock(rear: Rear) -> SpringLaw:
    """The law of the shock spring."""
    return law_of(rear.spring, ("rear", "spring"), rear.stroke_mm, ("rear", "stroke_mm"))
