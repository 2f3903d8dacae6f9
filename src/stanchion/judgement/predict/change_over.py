"""Where the rate of two springs that work as one changes: against both sags and full travel, and what moves it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from stanchion.base.record import record
from stanchion.job.model import SIDES, STATES, End, Job, Path, Side, Spring
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.ends.second_spring import Closing, closing, openings, usable_travel
from stanchion.judgement.ends.spring_law import SpringLaw, law_of_leg, law_of_shock
from stanchion.judgement.predict.changing_rate import travels_at
from stanchion.judgement.predict.prediction import EndModels
from stanchion.judgement.results.assessment import FrontFigures, PreloadFigures, RearFigures, SagFigures
from stanchion.judgement.results.codes import ChangeOverCode
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.results.predicted import ChangeOver, Predicted, PredictedEnd
from stanchion.mechanics.rear import RearEnd
from stanchion.mechanics.solve import bracketed_root
from stanchion.mechanics.spring_curve import force_at, rate_at


@record(kw_only=True)
class _Pair:
    """Two springs that work as one, in their place."""

    place: Side | End
    at: Path
    """Path of the main spring."""
    spring: Spring
    law: SpringLaw
    travels_mm: dict[str, float]
    """Travel from the stop at the sags and at full travel, as far as known."""
    figures: PreloadFigures
    preload_mm: float | None
    """From the mechanical stop; None where the end cannot be computed."""
    rear: RearEnd | None
    """None in a fork, whose springs move as it does."""
    hanging_mm: float
    """Travel of the hanging wheel from the stop."""
    waiting: dict[str, Figure]
    """Why a travel is not known."""
    stroke_mm: float | None
    """Full stroke of the shock less packers, by which coil bind is judged; None: not recorded, or a fork."""

    @property
    def changes_mm(self) -> float:
        """Compression of both at which the rate changes; infinite where it never does."""
        return math.inf if self.law.changes_at_mm is None else self.law.changes_at_mm

    @property
    def along_mm(self) -> float:
        """The same as travel of the springs from the stop; infinite where it is not known."""
        return math.inf if self.preload_mm is None else self.changes_mm - self.preload_mm

    @property
    def end_mm(self) -> float | None:
        """Compression of both at full travel."""
        full_mm = self.travels_mm.get("full")
        return None if full_mm is None or self.preload_mm is None else self.preload_mm + self.moved(full_mm)

    def moved(self, travel_mm: float) -> float:
        """How far the springs move for a travel."""
        return travel_mm if self.rear is None else self.rear.linkage.shock_travel(travel_mm)

    def sag(self, name: str) -> Figure:
        """A travel as sag is read, from the hanging wheel."""
        travel_mm = self.travels_mm.get(name)
        return self.waiting[name] if travel_mm is None else Figure(travel_mm - self.hanging_mm)


def change_overs(
    job: Job, models: EndModels, sprung: tuple[FrontFigures, RearFigures], sag: SagFigures, predicted: Predicted
) -> tuple[ChangeOver, ...]:
    """The change-over of every two springs that work as one.

    Args:
        job: the job.
        models: both ends as they can be computed.
        sprung: figures of fork and shock.
        sag: the sags as measured.
        predicted: the travel that loads and springs give, where a sag is not known.
    """
    of_front, of_rear = sprung
    found: list[ChangeOver] = []
    for at, spring, law, _ in _two_springs(job):
        if law.changes_at_mm is None:
            continue
        side: Side = "left" if at[1] == "left" else "right"
        end: End = "rear" if at[0] == "rear" else "front"
        fork, rear = models.front.fork, models.rear.rear if end == "rear" else None
        if end == "rear":
            preload = None if rear is None else rear.preload_mm
        else:
            preload = None if fork is None else fork.legs[SIDES.index(side)].preload_mm
        pair = _Pair(
            place="rear" if end == "rear" else side,
            at=at,
            spring=spring,
            law=law,
            travels_mm=travels_at(end, models, sag, predicted) if preload is not None else {},
            figures=of_rear.spring if end == "rear" else of_front.leg(side),
            preload_mm=preload,
            rear=rear,
            hanging_mm=models.end(end).unloaded.travel_mm if preload is not None else 0.0,
            stroke_mm=job.rear.stroke_mm - (job.rear.packers_mm or 0.0)
            if end == "rear" and job.rear.stroke_mm is not None
            else None,
            waiting=_waiting(models.end(end), predicted.end(end)),
        )
        found.append(_change_over(pair, models.end(end).computable))
    return tuple(found)


def _waiting(model: EndModel, predicted: PredictedEnd) -> dict[str, Figure]:
    """Why the travels of an end are not known, where they are not."""
    full = model.computable if model.end_unknown is None else model.end_unknown
    states = {state: predicted.state(state).sag_mm for state in STATES}
    return {"full": full, **{s: f if not f.known else model.hanging for s, f in states.items()}}


def _change_over(pair: _Pair, computable: Figure) -> ChangeOver:
    law, changes_mm = pair.law, pair.changes_mm
    at, ratio = _at_wheel(pair)
    if pair.preload_mm is None:
        at = computable
    before = after = law.known
    if law.curve is not None:
        before = Figure(rate_at(law.curve, max(0.0, min(changes_mm, FAR_MM) * (1.0 - 1e-9))))
        after = absent("change_over_beyond") if math.isinf(changes_mm) else Figure(rate_at(law.curve, changes_mm))
    main_left, second_left = _left(pair)
    return ChangeOver(
        place=pair.place,
        arranged=pair.spring.second.arranged,
        by_stop=_by_stop(pair),
        at_mm=at,
        along_mm=Figure(pair.along_mm - pair.moved(pair.hanging_mm)) if math.isfinite(pair.along_mm) else at,
        static_mm=pair.sag("static"),
        rider_mm=pair.sag("rider"),
        full_mm=pair.sag("full"),
        left_mm=_left_to_it(pair),
        zone="" if pair.preload_mm is None else _zone(pair, at.value),
        before_n_per_mm=before,
        after_n_per_mm=after,
        nearer_per_mm=Figure(1.0 / ratio),
        nearer_per_turn_mm=derive(lambda mm: mm / ratio, pair.figures.mm_per_turn),
        turned_in=pair.figures.turned_in,
        further_per_mm=Figure(_further(pair) / ratio),
        main_left_mm=main_left,
        second_left_mm=second_left,
    )


FAR_MM = 1e6
"""A compression that no spring reaches."""
LEAST_RATIO = 0.02
"""Least motion ratio that travel is divided by."""


def _at_wheel(pair: _Pair) -> tuple[Figure, float]:
    """The change-over as travel from the hanging wheel, and the motion ratio there; absent beyond what is computed. Of
    a place before the travel begins, as if the ratio at the stop went on."""
    along_mm, rear = pair.along_mm, pair.rear
    beyond = absent("change_over_beyond")
    if rear is None:
        return Figure(along_mm - pair.hanging_mm) if math.isfinite(along_mm) else beyond, 1.0
    links = rear.linkage
    at = 0.0
    if along_mm > links.shock_travel(rear.travel_mm):
        return beyond, max(links.state(rear.travel_mm)[1], LEAST_RATIO)
    if along_mm > 0.0:
        at = bracketed_root(lambda wheel: links.shock_travel(wheel) - along_mm, 0.0, rear.travel_mm)
    ratio = max(links.state(at)[1], LEAST_RATIO)
    return Figure((at if along_mm > 0.0 else along_mm / ratio) - pair.hanging_mm), ratio


def _zone(pair: _Pair, at_mm: float | None) -> str:
    """Where it lies among preload, both sags and full travel."""
    if pair.along_mm <= SLACK:
        return "in_preload"
    if math.isinf(pair.changes_mm) or (pair.end_mm is not None and pair.changes_mm > pair.end_mm + SLACK):
        return "never"
    static, rider = pair.travels_mm.get("static"), pair.travels_mm.get("rider")
    if at_mm is None:
        return ""
    from_stop = at_mm + pair.hanging_mm
    if static is not None and from_stop <= static:
        return "below_static"
    if rider is not None and from_stop > rider:
        return "beyond_rider"
    return "between" if static is not None and rider is not None else ""


def _further(pair: _Pair) -> float:
    """By how much compression of both the change-over comes later for each mm that the gap or the stop is longer."""
    rate, main = pair.spring.second.rate_n_per_mm, pair.law.main
    if pair.spring.second.arranged == "side_by_side" or rate is None or not isinstance(main, float):
        return 1.0
    return 1.0 + min(main, rate) / max(main, rate)


def _closing(pair: _Pair) -> Closing | None:
    main = pair.law.main
    if pair.spring.second.arranged != "end_to_end" or not isinstance(main, float):
        return None
    return closing(pair.spring, pair.at, main)


def _left_to_it(pair: _Pair) -> Figure:
    """Compression that is missing at full travel to the change-over."""
    if math.isinf(pair.changes_mm):
        return absent("change_over_beyond")
    return pair.waiting["full"] if pair.end_mm is None else Figure(pair.changes_mm - pair.end_mm)


def _by_stop(pair: _Pair) -> bool:
    closes = _closing(pair)
    return closes is not None and closes.by_stop


def _left(pair: _Pair) -> tuple[Figure, Figure]:
    """What is left between the coils of the main and of the second spring at full travel, as set now."""
    own, law = openings(pair.spring, pair.at), pair.law
    rate, closes = pair.spring.second.rate_n_per_mm, _closing(pair)
    if pair.end_mm is None or law.curve is None or rate is None:
        return pair.waiting["full"], pair.waiting["full"]
    main_mm = max(0.0, pair.end_mm, (pair.preload_mm or 0.0) + (pair.stroke_mm or 0.0))
    second_mm = max(0.0, main_mm - pair.changes_mm)
    if closes is not None and isinstance(law.main, float):
        force = force_at(law.curve, main_mm)
        second_first = closes.second_mm * rate <= closes.main_mm * law.main
        main_mm, second_mm = force / law.main, force / rate
        if second_first:  # what still gives way then goes on, beyond what its coils allow
            second_mm = min(second_mm, closes.second_mm)
        else:
            main_mm = min(main_mm, closes.main_mm)
    return derive(lambda mm: mm - main_mm, own.main_mm), derive(lambda mm: mm - second_mm, own.second_mm)


_CODES: dict[str, tuple[ChangeOverCode, Severity]] = {
    "": ("change_over", Severity.NOTE),
    "in_preload": ("change_over_in_preload", Severity.NOTE),
    "below_static": ("change_over_below_static", Severity.NOTE),
    "between": ("change_over_between_sags", Severity.WARNING),
    "beyond_rider": ("change_over_beyond_rider", Severity.NOTE),
    "never": ("change_over_never", Severity.NOTE),
}


def change_over_findings(job: Job, found: tuple[ChangeOver, ...]) -> Iterator[Finding]:
    """A finding on where the rate of two springs changes, and faults in what is recorded of them.

    Args:
        job: the job.
        found: the change-overs as worked out.
    """
    for one in found:
        at: Path = ("rear", "spring") if one.place == "rear" else ("front", one.place, "spring")
        if not one.zone and not one.at_mm.known:
            continue
        code, severity = _CODES[one.zone]
        values: dict[str, object] = {} if one.place == "rear" or job.front.split else {"both_legs": True}
        values |= {
            name: getattr(one, name).value
            for name in ("at_mm", "static_mm", "rider_mm", "full_mm", "left_mm", "nearer_per_mm", "nearer_per_turn_mm")
        }
        values |= {"before": one.before_n_per_mm.value, "after": one.after_n_per_mm.value}
        moved_by = _MOVED_BY[one.arranged, one.by_stop]
        values[f"{moved_by}_mm"] = one.further_per_mm.value
        if code == "change_over_between_sags":
            sooner_mm, later_mm = _outside_sags(one)
            values |= {f"{moved_by}_sooner_mm": sooner_mm.value, f"{moved_by}_later_mm": later_mm.value}
        if one.turned_in == "clicks":
            values["per_click_mm"], values["nearer_per_turn_mm"] = values["nearer_per_turn_mm"], None
        yield Finding(code, severity, (*at, "second"), values)
    for at, spring, law, both_legs in _two_springs(job):
        if _lengths_odd(spring, at, law):
            yield Finding("second_lengths", Severity.FAULT, (*at, "second"), {"both_legs": True} if both_legs else {})


def _outside_sags(one: ChangeOver) -> tuple[Figure, Figure]:
    """By how much less and more the gap, or what the softer spring gives way, takes the change-over to the sags [mm].

    Compression under a load does not depend on preload, which therefore moves both sags with the change-over. Static
    sag lies before it and stays; rider sag goes on along the rate before it until the change-over reaches it.
    """
    sooner = derive(lambda at, static, per: (at - static) / per, one.at_mm, one.static_mm, one.further_per_mm)
    softer = derive(lambda before, after: after / before, one.before_n_per_mm, one.after_n_per_mm)
    later = derive(
        lambda at, rider, ratio, per: (rider - at) * ratio / per, one.at_mm, one.rider_mm, softer, one.further_per_mm
    )
    return sooner, later


_MOVED_BY = {
    ("end_to_end", True): "stop",
    ("end_to_end", False): "coils",
    ("side_by_side", False): "gap",
}


def _two_springs(job: Job) -> Iterator[tuple[Path, Spring, SpringLaw, bool]]:
    """Every main spring with a second one: its path, the law of both, and whether it stands for both legs."""
    for side in SIDES if job.front.split else SIDES[:1]:
        leg, at = job.front.leg(side), ("front", side, "spring")
        if leg.coil_fitted and leg.spring.second.fitted:
            yield at, leg.spring, law_of_leg(job.front, side), not job.front.split
    if job.rear.spring.second.fitted and not job.rear.air.fitted:
        yield ("rear", "spring"), job.rear.spring, law_of_shock(job.rear), False


def _lengths_odd(spring: Spring, at: Path, law: SpringLaw) -> bool:
    """Whether the lengths of two springs leave one of them no way to go."""
    free, solid = spring.second.free_length_mm, spring.second.solid_length_mm
    if free is not None and solid is not None and solid >= free - SLACK:
        return True
    own = openings(spring, at).main_mm.value
    total = usable_travel(spring, at, law.main).value
    if spring.second.arranged == "side_by_side":
        return False
    shortest = free is not None and spring.free_length_mm is not None
    both = (free or 0.0) + (spring.second.divider_mm or 0.0)
    odd = shortest and spring.free_length_mm is not None and spring.free_length_mm <= both + SLACK
    return odd or (own is not None and total is not None and own <= 1e-3 + SLACK)
