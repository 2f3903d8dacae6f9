"""The records of an assessment for predictions from loads and springs."""

from __future__ import annotations

from typing import Literal

from stanchion.base.record import record
from stanchion.job.model import End, Side, State
from stanchion.judgement.results.codes import OutsideFrom
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.findings import Finding
from stanchion.judgement.results.left_out import LeftOut
from stanchion.mechanics.force_parts import ForceParts


@record(kw_only=True)
class PredictedState:
    """Prediction for one state at one end."""

    sag_mm: Figure
    """Sag as the springs should give it: along the leg at the front, vertical at the rear wheel. Under the load by
    scales and masses; once sags are old, under the load as they correct it."""
    load_n: Figure
    """Vertical load on the springs by scales and masses."""
    carried_n: Figure
    """Vertical load corrected by the measured sags; where nothing was weighed, derived from them."""
    travel_mm: Figure
    """Travel from the mechanical stop; sag counts from the hanging wheel instead."""
    limit: str
    """"", "topped_out" or "bottomed"."""
    difference_mm: Figure
    """Captured sag less predicted."""
    preload_case: str
    """What a change of preload does in this state (PreloadCase of mechanics), by the captured sag where there is
    one; "" where it cannot be told."""


Stroke = Literal["slow", "fast"]
"""How fast the end of the travel is reached: air keeps its temperature, or its heat."""
STROKES: tuple[Stroke, ...] = ("slow", "fast")


@record(kw_only=True)
class FullTravelFigures:
    """Force at full travel and what it consists of: along the fork, or at the rear wheel."""

    slow_n: Figure
    """Force for slow compression: the air keeps its temperature (n = 1)."""
    slow_air_n: Figure
    """The air's part of it."""
    fast_n: Figure
    """Force for fast compression: trapped air keeps its heat (n = 1.4), air that springs it part (n = 1.3)."""
    fast_air_n: Figure
    """The air's part of it."""
    reserve_n: Figure
    """The slow force beyond the load with the rider aboard."""
    smaller_gap_slow_n: Figure
    """With an air gap 5 mm smaller, slowly."""
    smaller_gap_fast_n: Figure
    larger_gap_slow_n: Figure
    """With an air gap 5 mm larger, slowly."""
    larger_gap_fast_n: Figure
    slow_parts: ForceParts | None = None
    """What the slow force consists of; None where it is not known."""
    fast_parts: ForceParts | None = None
    """What the fast force consists of."""

    def parts(self, stroke: Stroke) -> ForceParts | None:
        """What the force of a stroke consists of; None where it is not known."""
        return self.slow_parts if stroke == "slow" else self.fast_parts


@record(kw_only=True)
class ChangeOver:
    """Where the rate of two springs that work as one changes. Travel counts from the hanging wheel, as sag does."""

    place: Side | End
    """"left" (both legs where they are entered as one), "right" or "rear"."""
    arranged: str
    """"end_to_end" or "side_by_side"."""
    by_stop: bool
    """Whether a stop closes the softer of two end to end, rather than its coils."""
    at_mm: Figure
    """Travel of fork or wheel where it happens; negative where it lies before the travel begins."""
    along_mm: Figure
    """The same along the leg, or along the shaft of the shock."""
    static_mm: Figure
    """Static sag, measured or else predicted."""
    rider_mm: Figure
    full_mm: Figure
    left_mm: Figure
    """Compression that is missing at full travel where it is not reached; negative where it is."""
    zone: str
    """"in_preload", "below_static", "between", "beyond_rider", "never", or "" where it is not known."""
    before_n_per_mm: Figure
    after_n_per_mm: Figure
    nearer_per_mm: Figure
    """By how much travel it comes nearer for each mm of preload."""
    nearer_per_turn_mm: Figure
    turned_in: str
    """What the adjuster is counted in where "turn" is said: "turns" or "clicks"."""
    further_per_mm: Figure
    """By how much travel it comes later for each mm of the gap, or of what the softer spring gives way."""
    main_left_mm: Figure
    """Left between the coils of the main spring at full travel, as set now."""
    second_left_mm: Figure


@record(kw_only=True)
class AirState:
    """One state of a fork that is sprung by air, and by how much its sag changes [mm]."""

    rate_n_per_mm: Figure
    """Rate of the whole fork at the sag."""
    tenth_bar_mm: Figure
    """With 0.1 bar more."""
    warmer_mm: Figure
    """10 °C warmer."""
    higher_mm: Figure
    """Set as it is, but 1000 m higher."""
    outer_bar_mm: Figure | None = None
    """With 0.1 bar more in the outer chamber; None: there is none."""


@record(kw_only=True)
class AirAtFull:
    """By how much the force at full travel changes in a slow stroke [N]."""

    tenth_bar_n: Figure
    """With 0.1 bar more."""
    warmer_n: Figure
    """10 °C warmer."""
    higher_n: Figure
    """Set as it is, but 1000 m higher."""
    outer_bar_n: Figure | None = None
    """With 0.1 bar more in the outer chamber; None: there is none."""


@record(kw_only=True)
class AirInUse:
    """The pressure of the main chamber of one leg or the shock at the temperature it has in use, extended."""

    where: str
    """The leg, or "rear"."""
    at_c: Figure
    """Temperature in use [°C]."""
    in_use_bar: Figure
    """What the pressure set comes to there [bar]."""
    wanted_bar: float | None
    """The pressure wanted there [bar]; None: none."""
    set_bar: Figure
    """What to set for that now [bar]."""
    set_c: Figure
    """Temperature at which to set it: now, or that of the last setting [°C]."""


@record(kw_only=True)
class AirFigures:
    """A fork that is sprung by air."""

    static: AirState
    rider: AirState
    full: AirAtFull
    outside_hpa: Figure
    """Pressure outside [hPa]; an estimate where neither altitude nor barometer is recorded."""
    outside_from: OutsideFrom
    """What it is taken from there."""
    fast_n: Figure
    """Force at full travel of a fast stroke (n = 1.3)."""
    fast_least_n: Figure
    """The same where the air loses more heat (n = 1.2)."""
    fast_most_n: Figure
    """The same where it loses none (n = 1.4)."""

    def state(self, state: State) -> AirState:
        """One state."""
        return self.static if state == "static" else self.rider


@record(kw_only=True)
class WorkingRateFigures:
    """The effective rate between the two captured sags, along the sag."""

    rate_n_per_mm: Figure
    uncertainty_n_per_mm: Figure
    """Standard uncertainty of that rate."""
    expanded_n_per_mm: Figure
    """Expanded uncertainty, about 95 %."""
    predicted_n_per_mm: Figure
    """The rate of the entered springs between the same two positions."""


@record(kw_only=True)
class GapFigures:
    """Another air gap, alike in both legs or changed by as much in both."""

    change_mm: Figure
    """Change from the present air gap; below 0 for a smaller one."""
    gap_mm: Figure
    """The air gap; of legs that differ, the left one's."""
    oil_ml: Figure
    """Oil to add in each leg; below 0 to take out."""
    slow_n: Figure
    """Force at full travel with it, slowly."""
    fast_n: Figure


@record(kw_only=True)
class OilFigures:
    """What the oil level of the fork does."""

    ml_per_mm: Figure
    """Oil for 1 mm of air gap, in the open tube."""
    ml_per_mm_by_rod: Figure
    """The same around damper rod or cartridge; absent where none is recorded."""
    compared: GapFigures | None
    """With the air gap to compare; None: none is recorded."""
    for_reserve: GapFigures | None
    """That leaves the wanted reserve of force at full travel, slowly; None: none is wanted."""
    for_left: GapFigures | None
    """That leaves the wanted travel where the marker went deepest, with a fast stroke; None: none is wanted."""
    for_left_slow: GapFigures | None = None
    """The same with a slow one: the truth lies between."""


@record(kw_only=True)
class PredictedEnd:
    """Prediction for one end."""

    static: PredictedState
    rider: PredictedState
    static_at_most_n: float | None = None
    """Upper limit of the load, machine alone, where it is known only from the end being topped out."""
    rider_minus_static_mm: Figure
    """What the rider should add to sag with these springs."""
    turns_for_target: Figure
    """Turns from now to the middle of the target for rider sag, as near to it as static sag allows: in is above 0, out
    below."""
    mm_for_target: Figure
    """That change as preload at the adjusters, or at the springs where there is no adjuster."""
    target: Finding | None
    """Advice that brings the sags into target; where sags are measured, the advice on those."""
    working_rate: WorkingRateFigures
    full_travel: FullTravelFigures
    air: AirFigures | None = None
    """Of an end that is sprung by air and can be computed."""
    air_in_use: tuple[AirInUse, ...] = ()
    """Pressures in use, where a temperature in use is recorded."""
    oil: OilFigures | None = None
    """Of a fork whose tube is measured."""
    omitted: tuple[LeftOut, ...]
    """What the figures leave out because it was not entered; prediction_sentences.py has the words."""
    estimate: bool
    """Whether a load is estimated from a mass times a share."""
    doubted: bool = False
    """Whether what these figures rest on contradicts itself or the readings: nothing is concluded from them."""
    to_check: bool = False
    """Whether springs and loads as entered give other sags, or another rate, than were measured, with nothing left out
    that could explain it: that is checked before any spring is said to suit, or to be needed."""

    def state(self, state: State) -> PredictedState:
        """One state."""
        return self.static if state == "static" else self.rider

    @property
    def incomplete(self) -> bool:
        """Whether a figure is known from which something is left out: a sag, or the force at full travel."""
        figures = (self.static.sag_mm, self.rider.sag_mm, self.full_travel.slow_n)
        return bool(self.omitted) and any(figure.known for figure in figures)


@record(kw_only=True)
class Predicted:
    """Both ends."""

    front: PredictedEnd
    rear: PredictedEnd

    def end(self, end: End) -> PredictedEnd:
        """One end."""
        return self.front if end == "front" else self.rear

    def sag(self, end: End, state: State) -> Figure:
        """Predicted sag."""
        return self.end(end).state(state).sag_mm
