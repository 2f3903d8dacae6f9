"""What would put a true machine right: the lightest work that brings both sags into their targets.

Work is ranked as a workshop ranks it: nothing, turns of the adjuster, a spacer, another spring. A remedy counts where
both sags come into target with the adjuster in its range and installed preload in its band.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from true_machines.machines import Band, Use
from true_machines.physics import Array, TrueFork, TrueLeg, TrueRear, as_read

WORK = ("none", "turns", "spacer", "spring")
"""Kinds of work, the lightest first."""
SURE = 0.25
"""How far inside its limits a sag or preload must come for a remedy to be held up as one [mm]."""
UNSURE = 0.9
"""By how much installed preload may be out of its band and only be noted as borderline [mm]: 1.96 times the standard
uncertainty of two lengths by a tape in mm (1 / sqrt 12 each; JCGM 100:2008, 4.3.7 and 5.1.2), and a little for that of
the adjuster's position."""
CLOSE = 0.75
"""How far outside it may stay before a remedy is ruled out [mm]."""


@dataclass(frozen=True)
class Truth:
    """One end with its loads and what it is judged by."""

    made: TrueFork | TrueRear
    loads: tuple[float, float]
    use: Use

    @property
    def end(self) -> str:
        """Which end."""
        return "front" if isinstance(self.made, TrueFork) else "rear"

    @property
    def band(self) -> Band:
        """The band for installed preload."""
        return self.use.band(self.end)

    @cached_property
    def sags(self) -> tuple[float, float]:
        """Static and rider sag."""
        return self.made.sag(self.loads[0]), self.made.sag(self.loads[1])

    def target(self, state: str) -> Band:
        """The target of one state; of a sag out of its own, as a top-out spring makes this machine read it.

        Targets are meant for a machine without one. Under the load that gives so much without it, less is read with it.
        """
        low, high = self.use.target(self.end, state)
        sag = self.sags[state == "rider"]
        if self.hanging <= 0.05 or low <= sag <= high or (state == "static" and sag < low):
            return low, high
        least, most = (self._as_read(edge) for edge in (low, high))
        if sag < low and least < low:
            return least, most if sag <= most else high
        if sag > high and most > high:
            return least if sag >= least else low, most
        return low, high

    def _as_read(self, sag: float) -> float:
        made = self.made
        if isinstance(made, TrueRear):
            return made.sag(replace(made, top_out=(0.0, 0.0)).force(sag))
        bare = replace(made, legs=tuple(replace(leg, top_out=(0.0, 0.0)) for leg in made.legs))
        return made.sag(bare.force(sag) / made.cosine)

    @cached_property
    def hanging(self) -> float:
        """Travel at which a top-out spring holds the hanging wheel."""
        return self.made.hanging

    @property
    def sprung(self) -> tuple[TrueLeg, ...]:
        """The legs that have a spring."""
        return tuple(leg for leg in self.made.legs if leg.rate) if isinstance(self.made, TrueFork) else ()

    @property
    def installed(self) -> tuple[float, ...]:
        """Installed preload of each spring; on a collar without a counted end, preload as it stands."""
        if isinstance(self.made, TrueRear):
            return (self.made.installed if self.made.reach is not None else self.made.preload,)
        return tuple(leg.installed for leg in self.sprung)

    @property
    def room(self) -> Band:
        """What the adjusters have left, out (below 0) and in [mm]."""
        made, band = self.made, self.band
        if isinstance(made, TrueRear):
            if made.reach is None:  # nothing but preload itself bounds it
                return band[0] - made.preload, band[1] - made.preload
            return -made.added, made.reach - made.added
        moved = [leg for leg in self.sprung if leg.reach]
        if not moved:
            return 0.0, 0.0
        return -min(leg.added for leg in moved), min(leg.reach - leg.added for leg in moved)

    def static_hidden(self, margin: float) -> bool:
        """Whether a top-out spring keeps static sag small, so that no other spring is to be bought for it.

        It does where it holds the hanging wheel off the stop, and the sags lie no further apart than the middles of
        their targets and half the width of the static one: a spring that is too soft lets them lie further apart
        (common practice, no published source).
        """
        if self.hanging <= 0.0:
            return False
        low, high = self.use.target(self.end, "static")
        usual = (sum(self.use.target(self.end, "rider")) - low - high) / 2.0 + (high - low) / 2.0
        return self.sags[1] - self.sags[0] <= usual + margin

    def off(self, sags: Array) -> Array:
        """How far the worse of two sags is outside its target; below 0 inside."""
        worst = np.full(sags.shape[1], -np.inf)
        for row, state in zip(sags, ("static", "rider"), strict=True):
            low, high = self.target(state)
            worst = np.maximum(worst, np.maximum(low - row, row - high))
        return worst

    def off_rider(self, sags: Array) -> Array:
        """The same of rider sag alone, and of a static sag that is too large: a top-out spring may hold it down."""
        low, high = self.target("rider")
        most = self.target("static")[1]
        return np.asarray(np.maximum(np.maximum(low - sags[1], sags[1] - high), sags[0] - most))

    def out_of_band(self, more: float = 0.0) -> float:
        """How far installed preload is outside its band with so much more at the springs; below 0 inside."""
        low, high = self.band
        return max(max(low - mm, mm - high) for mm in self.installed_with(more))

    def installed_with(self, more: float) -> tuple[float, ...]:
        """Installed preload of each spring with a longer spacer."""
        if isinstance(self.made, TrueRear):
            return tuple(mm + more for mm in self.installed)
        return tuple(
            as_read(leg.top_out, read_at, leg.rate, leg.preload - leg.added + more)
            for leg, read_at in zip(self.made.legs, self.made.read_at, strict=True)
            if leg.rate
        )

    # --- the search -----------------------------------------------------------------------------------------------

    @cached_property
    def now(self) -> float:
        """How far outside the worse sag is as it stands."""
        return float(self.off(np.array([[self.sags[0]], [self.sags[1]]]))[0])

    def _turned(self, more: Array, rate: Array | None = None, positions: int = 25) -> Array:
        """Both sags at every position of the adjuster for each change at the springs, as one long table."""
        out, fully_in = self.room
        turned = np.linspace(out, fully_in, positions) if fully_in > out else np.array([0.0])
        added, spacer = np.tile(turned, more.size), np.repeat(more, turned.size)
        rates = None if rate is None else np.repeat(rate, turned.size)
        if isinstance(self.made, TrueFork):
            return self.made.sags(self.loads, added, spacer, rates)
        return self.made.sags(self.loads, added + spacer, rates)

    @cached_property
    def by_turns(self) -> Array:
        """Both sags at every position of the adjuster."""
        return self._turned(np.zeros(1), positions=33)

    @cached_property
    def by_spacer(self) -> Array:
        """Both sags with every spacer that keeps installed preload in its band."""
        if isinstance(self.made, TrueRear):
            return np.full((2, 1), np.inf)
        low, high = self.band
        more = np.linspace(low - max(self.installed) - 4.0, high - min(self.installed) + 4.0, 49)
        kept = np.array([mm for mm in more if self.out_of_band(float(mm)) <= 0.01])
        return self._turned(kept) if kept.size else np.full((2, 1), np.inf)

    @cached_property
    def _rates(self) -> tuple[Array, Array, float]:
        """Rates that are sold, preload added to each by a spacer, and the rate fitted."""
        step, now = (0.25, self.sprung[0].rate) if isinstance(self.made, TrueFork) else (2.5, self.made.rate)
        rates = np.arange(max(step, round(0.4 * now / step) * step), 2.2 * now, step)
        if isinstance(self.made, TrueRear):
            more = np.zeros(1)
        else:
            low, high = self.band
            more = np.linspace(low, high, 5) - float(np.mean(self.installed))
        return np.repeat(rates, more.size), np.tile(more, rates.size), now

    @cached_property
    def by_spring(self) -> Array:
        """Both sags with another spring, of a rate that is sold, installed in the band."""
        rates, more, _ = self._rates
        return self._turned(more, rates, positions=9)

    def springs_that_do(self, margin: float) -> frozenset[str]:
        """Whether stiffer or softer springs bring both sags so far inside their targets, or both do."""
        rates, _, now = self._rates
        suits = self.off(self.by_spring) <= -margin
        each = np.repeat(rates, suits.size // rates.size)
        return frozenset(way for way, of in (("stiffer", each > now), ("softer", each < now)) if np.any(suits & of))

    def works(self, kind: str, margin: float) -> bool:
        """Whether work of that kind brings both sags within their targets less the margin."""
        if kind == "none":
            return self.now <= -margin and self.out_of_band() <= -min(margin, 0.0) + 1e-9
        if kind == "turns" and self.out_of_band() > -min(margin, 0.0) + 1e-9:
            return False
        sags: Array = getattr(self, f"by_{kind}")
        return bool(np.any(self.off(sags) <= -margin))

    @cached_property
    def lightest(self) -> str | None:
        """The lightest work that surely puts it right; None where nothing surely does."""
        return self.lightest_by(SURE)

    def lightest_by(self, margin: float) -> str | None:
        """The lightest work that brings both sags so far inside their targets."""
        return next((kind for kind in WORK if self.works(kind, margin)), None)

    def ruled_out(self, kind: str) -> bool:
        """Whether work of that kind surely does not do; a top-out spring may keep static sag low for ever."""
        sags = np.array([[self.sags[0]], [self.sags[1]]]) if kind == "none" else getattr(self, f"by_{kind}")
        off = self.off_rider(sags) if self.static_hidden(CLOSE) else self.off(sags)
        return bool(np.all(off > CLOSE))
