"""Everything that acts along the shock at one of its travels: spring, gas, bump rubber and top-out spring."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.model import Rear
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.ends.shock_gas import ShockGas
from stanchion.judgement.ends.spring_law import SpringLaw
from stanchion.judgement.ends.stops import shock_stop
from stanchion.judgement.ends.top_out_bench import as_it_counts
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.mechanics.air_spring import AirSpring
from stanchion.mechanics.bump_stop import BumpStop
from stanchion.mechanics.linkage import Linkage
from stanchion.mechanics.shock import shock_force
from stanchion.mechanics.spring_curve import rate_at


@record(kw_only=True)
class AlongShock:
    """What acts along the shock, as far as it is known."""

    law: SpringLaw
    """Of its spring, or of the air in place of one."""
    preload: Figure
    gas: ShockGas
    stop: BumpStop | None
    """The bump rubber; None: there is none, or its place or force is not known."""
    top_out: tuple[float, float] | None
    """Rate [N/mm] of the top-out spring and shock travel [mm] over which it works; None: none, or not known."""

    def spring_rate(self, shock: Figure) -> Figure:
        """Rate of the spring alone; where it has one rate, neither travel nor preload need be known."""
        squeezed = derive(lambda now, used: now + used, self.preload, shock)
        if squeezed.value is not None and squeezed.value <= 0.0 and not isinstance(self.law.spring, AirSpring):
            return absent("spring_not_reached")
        if self.law.curve is None:
            return self.law.known
        if squeezed.value is not None and squeezed.value > self.law.curve.known_to_mm + SLACK:
            return absent("beyond_tester")
        return self.law.derive(rate_at, squeezed)

    def other_rate(self, shock: Figure) -> Figure:
        """Rate of all else; the travel need be known only where something else has a rate."""
        rates = [self.gas.rate_at(shock)]
        if self.stop is not None:
            stop = self.stop
            rates.append(derive(lambda mm: stop.state(mm)[1], shock))
        if self.top_out is not None:
            stiff, length_mm = self.top_out
            rates.append(derive(lambda mm: stiff if mm < length_mm else 0.0, shock))
        return derive(lambda *each: sum(each), *rates)

    def force(self, shock: Figure) -> Figure:
        """Force along the shock."""
        force = self.law.derive(shock_force, self.preload, shock, self.gas.at(shock))
        if self.stop is not None:
            stop = self.stop
            force = derive(lambda n, mm: n + stop.state(mm)[0], force, shock)
        if self.top_out is not None:
            stiff, length_mm = self.top_out
            force = derive(lambda n, mm: n - stiff * max(0.0, length_mm - mm), force, shock)
        return force


def along_shock(rear: Rear, law: SpringLaw, preload: Figure, gas: ShockGas, linkage: Linkage | None) -> AlongShock:
    """What acts along the shock as recorded.

    Args:
        rear: the shock.
        law: of its spring, or of the air in place of one.
        preload: preload now; 0 with air.
        gas: the gas of its damper.
        linkage: the linkage; None: not known.
    """
    return AlongShock(
        law=law,
        preload=preload,
        gas=gas,
        stop=shock_stop(rear, rear.stroke_mm if linkage is None else stroke_left(rear, linkage)),
        top_out=shock_top_out(rear),
    )


def shock_top_out(rear: Rear) -> tuple[float, float] | None:
    """Rate and length of the top-out spring of a shock, where there is one and both are known."""
    top_out = as_it_counts(rear.top_out)
    stiff, length_mm = top_out.rate_n_per_mm, top_out.works_over_mm
    return None if top_out.fitted != "yes" or stiff is None or length_mm is None else (stiff, length_mm)


def stroke_left(rear: Rear, linkage: Linkage) -> float | None:
    """Stroke less rigid packers; where no stroke is recorded, shock travel at full wheel travel less the packers."""
    packers = rear.packers_mm or 0.0
    if rear.stroke_mm is not None:
        return rear.stroke_mm - packers
    if packers and rear.wheel_travel_mm is not None:
        return linkage.shock_travel(min(rear.wheel_travel_mm, linkage.covered_mm)) - packers
    return None
