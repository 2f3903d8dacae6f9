"""Random machines of which everything is known, and the jobs a workshop would write down of them.

A machine is first laid out so that both sags come right, then put wrong in one way or another: turned, with another
spacer, with another spring. What is written down may then be exact, read with a tape, or false. All numbers are
invented; one seed gives one machine.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from scipy.optimize import brentq

from rates import one_rate
from stanchion.job.model import (
    SIDES,
    Adjuster,
    Front,
    Geometry,
    Job,
    Leg,
    LinkagePair,
    Occasion,
    Readings,
    Rear,
    Sag,
    SagEnd,
    Spring,
    Stack,
    TopOut,
    Weights,
)
from true_machines.physics import G, TrueFork, TrueRear, as_at_stop, as_read, fork_of, loads_of, rear_of, top_out_of

Band = tuple[float, float]


@dataclass(frozen=True)
class Use:
    """Targets and bands of one use (common practice, no published source)."""

    front_static: Band
    front_rider: Band
    rear_static: Band
    rear_rider: Band
    front_band: Band
    rear_band: Band
    front_travel: Band
    rear_travel: Band
    front_limit: float = math.inf
    """Installed preload that a fork must never pass."""

    def target(self, end: str, state: str) -> Band:
        """The target of one state."""
        return getattr(self, f"{end}_{state}")  # type: ignore[no-any-return]

    def band(self, end: str) -> Band:
        """The band for installed preload."""
        return self.front_band if end == "front" else self.rear_band


USES = {
    "road": Use((20, 30), (32, 42), (8, 15), (30, 40), (8, 15), (8, 18), (120, 130), (120, 130), 15.0),
    "track": Use((15, 25), (28, 38), (5, 10), (25, 32), (8, 15), (8, 18), (120, 130), (120, 130), 15.0),
    "off-road": Use((35, 55), (60, 80), (30, 45), (95, 110), (3, 12), (3, 12), (290, 310), (290, 310)),
}
HANGING = 600.0
"""Every L1 [mm]."""
TAPE_SPREAD_MM = 0.7
"""Standard deviation of a reading with a tape [mm]."""
MODES = ("exact", "exact", "exact", "exact", "noise", "noise", "drift", "false", "doubtful", "unread")
"""How the job was written down: exactly; with a tape; springs a little off their label and weights estimated; with
rate or weights plainly false; with readings that cannot be used; without sag readings."""


@dataclass(frozen=True)
class Case:
    """A machine and what is written down of it."""

    seed: int
    true: Job
    """The machine as it is, every field right."""
    job: Job
    """The job as written down."""
    mode: str
    doubt: str = ""
    """"stiction", "swapped", "impossible" or "changed" where the readings cannot be used."""
    false: str = ""
    """What was written down falsely: "front rate", "rear rate", "weights"."""
    laid_out: dict[str, str] = field(default_factory=dict)
    """How each end was put wrong; "sound" where it was not."""

    @property
    def fork(self) -> TrueFork:
        """The fork as it is."""
        return fork_of(self.true)

    @property
    def rear(self) -> TrueRear:
        """The rear end as it is."""
        return rear_of(self.true)

    def end(self, end: str) -> TrueFork | TrueRear:
        """One end as it is."""
        return self.fork if end == "front" else self.rear

    def sags(self, end: str) -> tuple[float, float]:
        """Static and rider sag as they are."""
        static, rider = loads_of(self.true)[end]
        made = self.end(end)
        return made.sag(static), made.sag(rider)

    @property
    def use(self) -> Use:
        """What it is set up for."""
        return USES[self.true.job.use]


def case(seed: int, mode: str | None = None) -> Case:
    """The machine of that seed, written down in that way; None: in any."""
    rng = random.Random(seed)
    chosen = rng.choice(MODES)
    return _Maker(rng, mode or chosen).made(seed)


def described(case: Case, end: str) -> str:
    """One end in a line: what it is set up for, springs, preload, adjuster, and the sags as they truly are."""
    use, (static, rider) = case.use, case.sags(end)
    targets = "static {:g}-{:g}, rider {:g}-{:g}".format(*use.target(end, "static"), *use.target(end, "rider"))
    made = case.end(end)
    springs = []
    if isinstance(made, TrueFork):
        for leg in made.legs:
            if leg.rate:
                at = f"{leg.added:.1f} of {leg.reach:.1f} mm in" if leg.reach else "no adjuster"
                springs.append(f"{leg.rate:.2f} N/mm, installed {leg.installed:.1f}, {at}")
        extra = f", top-out {made.legs[0].top_out or made.legs[1].top_out}" if made.hanging else ""
        extra += ", air" if made.legs[0].air else ""
    else:
        end_at = "no counted end" if made.reach is None else f"of {made.reach:.1f} mm in"
        springs.append(f"{made.rate:.1f} N/mm, installed {made.installed:.1f}, {made.added:.1f} {end_at}")
        extra = f", hangs at {made.hanging:.1f}" if made.hanging else ""
    return (
        f"{case.true.job.use}, {end} ({case.laid_out.get(end)}): {' | '.join(dict.fromkeys(springs))}{extra}; "
        f"targets {targets}, band {use.band(end)[0]:g}-{use.band(end)[1]:g}; truly static {static:.2f}, rider {rider:.2f}"
    )


class _Maker:
    def __init__(self, rng: random.Random, mode: str) -> None:
        self.rng, self.mode = rng, mode
        self.name = rng.choice(("road", "track", "track", "off-road"))
        self.use = USES[self.name]

    def made(self, seed: int) -> Case:
        rng = self.rng
        weights, rider_kg = self.weights()
        base = Job(
            job=Occasion(machine="Lantern 600 (invented)", rider="Test Rider", use=self.name, rider_mass_kg=rider_kg),
            weights=weights,
            geometry=Geometry(rake_deg=rng.choice((23.0, 24.0, 25.5, 27.0))),
        )
        laid_out = {}
        base, laid_out["front"] = self.likely(self.with_fork, base)
        true, laid_out["rear"] = self.likely(self.with_shock, base)
        written, false = self.written(true)
        doubt = rng.choice(("stiction", "swapped", "impossible", "changed")) if self.mode == "doubtful" else ""
        job = replace(written, sag=Sag() if self.mode == "unread" else self.readings(true, doubt))
        if doubt == "changed":
            job = changed_since(job)
        return Case(seed, true, job, self.mode, doubt, false, laid_out)

    def likely(self, make: Callable[[Job], tuple[Job, str, bool]], job: Job) -> tuple[Job, str]:
        """The job with an end such as there are: what cannot be laid out for its targets is drawn again."""
        for _ in range(12):
            made, how, likely = make(job)
            if likely:
                break
        return made, how

    # --- what it carries ------------------------------------------------------------------------------------------

    def weights(self) -> tuple[Weights, float]:
        rng = self.rng
        off_road = self.name == "off-road"
        machine = rng.uniform(105, 125) if off_road else rng.uniform(165, 215)
        share = rng.uniform(46, 49) if off_road else rng.uniform(49, 53)
        rider, rider_share = rng.uniform(58, 110), rng.uniform(33, 40) if off_road else rng.uniform(40, 50)
        front, rear = machine * share / 100, machine * (1 - share / 100)
        scales = self.mode != "drift" and rng.random() < 0.6
        return (
            Weights(
                machine_kg=machine,
                front_share_pct=share,
                rider_front_share_pct=rider_share,
                front_unsprung_kg=rng.uniform(11, 16),
                rear_unsprung_kg=rng.uniform(13, 19),
                front_alone_kg=front if scales else None,
                rear_alone_kg=rear if scales else None,
                front_aboard_kg=front + rider * rider_share / 100 if scales else None,
                rear_aboard_kg=rear + rider * (1 - rider_share / 100) if scales else None,
            ),
            rider,
        )

    # --- the fork -------------------------------------------------------------------------------------------------

    def with_fork(self, job: Job) -> tuple[Job, str, bool]:
        """The job with a fork laid out for its targets, and then put wrong."""
        rng, use = self.rng, self.use
        kind = rng.choice(("equal", "equal", "split", "mixed", "left only", "right only"))
        sides = {"left only": 1, "right only": 1}.get(kind, 2)
        top_out = TopOut(fitted="no")
        if rng.random() < 0.35:
            top_out = TopOut(fitted="yes", rate_n_per_mm=rng.uniform(12, 60), works_over_mm=rng.uniform(8, 30))
        air = rng.random() < 0.5
        front = Front(
            travel_mm=rng.uniform(*use.front_travel),
            top_out=top_out,
            stanchion_outer_mm=43.0 if air else None,
            stanchion_inner_mm=39.0 if air else None,
        )
        gap = rng.uniform(120, 160) if self.name == "off-road" else rng.uniform(100, 150)
        turns = float(rng.randint(10, 20))
        reach = rng.uniform(6, 12)
        one_adjuster = sides == 2 and kind != "equal" and rng.random() < 0.2
        no_adjuster = rng.random() < 0.08
        read_at = rng.choice(("stop", "stop", "touching", "assembled")) if top_out.fitted == "yes" else "stop"
        spacer = rng.uniform(70, 140) if rng.random() < 0.85 else None

        def leg(rate: float, at_stop: float, added: float, *, adjuster: bool, spring: bool) -> Leg:
            free = rng.choice((240.0, 250.0, 260.0)) if kind == "mixed" else 250.0
            if self.name == "off-road":
                free += 220.0
            of_spring = Spring()
            counted = Adjuster(counting="none")
            if spring:
                squeezed = as_read(top_out_of(top_out), read_at, rate, at_stop)
                in_squeezed = as_read(top_out_of(top_out), read_at, rate, at_stop + reach)
                of_spring = Spring(
                    rate_n_per_mm=rate,
                    free_length_mm=free,
                    set_length_mm=free - squeezed,
                    set_length_in_mm=free - in_squeezed if adjuster else None,
                )
                if adjuster:
                    counted = Adjuster(total_turns=turns, now=turns * added / reach)
            return Leg(
                spring_fitted=spring,
                spring=of_spring,
                read_at=read_at,
                adjuster=counted,
                stack=Stack(spacer_mm=spacer),
                air_gap_mm=gap if air else None,
            )

        def fork(rate: float, at_stop: float, added: float, apart: float = 0.0) -> Job:
            """Rate and preload of each spring; added by every adjuster there is."""
            adjuster = not no_adjuster
            # What an adjuster that is not there would have added, the spacer gives.
            left = leg(
                rate * (1 - apart), at_stop, added, adjuster=adjuster and not one_adjuster, spring=kind != "right only"
            )
            right = None
            if kind != "equal":
                right = leg(rate * (1 + apart), at_stop, added, adjuster=adjuster, spring=kind != "left only")
            return replace(job, front=replace(front, left=left, right=right))

        apart = 0.06 if kind == "mixed" else 0.0
        wanted = self.wanted("front")
        trial = fork(10.0 * 2 / sides, 10.0, 0.0)
        rate, preload, close = _laid_out(fork_of(trial), loads_of(trial)["front"], wanted)
        rate = round(rate * 20) / 20  # of each spring
        low, high = use.front_band
        wanted_installed = rng.uniform(low, high)
        bare = preload - (as_at_stop(top_out_of(top_out), read_at, rate, wanted_installed))
        share = (1 + apart) / 2 if one_adjuster else 1.0  # of what one adjuster adds, each spring feels so much
        reach_now = 0.0 if no_adjuster else reach
        added = min(max(bare / share, 0.0), reach_now)
        at_stop = preload - added * share
        installed = as_read(top_out_of(top_out), read_at, rate, at_stop)
        plausible = (3.0, 9.0) if self.name == "off-road" else (5.0, 14.0)
        likely = close and plausible[0] <= rate * sides / 2 <= plausible[1] and low <= installed <= high
        reach = reach_now
        how = rng.choice(("sound", "sound", "turned", "turned", "spacer", "spacer", "spring", "tuned spring", "any"))
        if how == "turned" and reach:
            added = reach * rng.choice((0.0, 1.0, rng.random(), rng.random()))
        elif how in ("spacer", "turned"):
            at_stop += rng.choice((-1, 1)) * rng.uniform(1.5, 7)
            added = reach * rng.choice((0.0, 1.0, rng.random()))
        elif how in ("spring", "tuned spring"):
            rate = max(2.0, rate + rng.choice((-1, 1)) * rng.uniform(0.4, 2.5))
            if how == "tuned spring":  # preload hides it
                at_stop += _preload_for(fork_of(fork(rate, at_stop, added)), loads_of(job)["front"][1], wanted[1])
        elif how == "any":
            rate, at_stop, added = rate * rng.uniform(0.7, 1.4), rng.uniform(2, 18), reach * rng.random()
        return fork(rate, at_stop, added, apart), how, likely

    # --- the shock ------------------------------------------------------------------------------------------------

    def with_shock(self, job: Job) -> tuple[Job, str, bool]:
        """The job with a shock laid out for its targets, and then put wrong."""
        rng, use = self.rng, self.use
        travel = rng.uniform(*use.rear_travel)
        ratio, grows = rng.uniform(0.34, 0.52), rng.uniform(-0.02, 0.12)
        pairs: tuple[LinkagePair, ...] = ()
        if rng.random() < 0.5:
            count = rng.randint(4, 8)
            wheel = [travel * (i + 1) / count for i in range(count)]
            pairs = tuple(LinkagePair(wheel_mm=z, shock_mm=ratio * z + grows * z * z / (2 * travel)) for z in wheel)
        gas = rng.random() < 0.6
        top_out = TopOut(fitted="no")
        if rng.random() < 0.12:
            top_out = TopOut(fitted="yes", rate_n_per_mm=rng.uniform(60, 200), works_over_mm=rng.uniform(3, 8))
        pitch, ends = rng.choice((1.0, 1.5, 2.0)), rng.random() < 0.6
        turns = float(rng.randint(6, 12))
        shock = Rear(
            motion_ratio=None if pairs else ratio,
            linkage=pairs,
            wheel_travel_mm=travel,
            shaft_mm=14.0 if gas else None,
            gas_pressure_bar=rng.uniform(5, 12) if gas else None,
            top_out=top_out,
        )

        def with_spring(rate: float, preload: float, now: float) -> Job:
            free, at = 180.0 if self.name != "off-road" else 260.0, now
            return replace(
                job,
                rear=replace(
                    shock,
                    spring=Spring(
                        rate_n_per_mm=rate,
                        free_length_mm=free,
                        set_length_mm=free - preload - (0.0 if ends else pitch * at),
                        set_length_at=None if ends else at,
                    ),
                    collar=Adjuster(pitch_mm=pitch, total_turns=turns if ends else None, now=now),
                ),
            )

        wanted = self.wanted("rear")
        trial = with_spring(90.0, 10.0, 0.0)
        rate, preload, close = _laid_out(rear_of(trial), loads_of(trial)["rear"], wanted)
        rate = round(rate * 2) / 2
        now = turns * rng.uniform(0.1, 0.7)
        low, high = use.rear_band
        if not low <= preload - pitch * now <= high:
            now = min(turns, max(0.0, (preload - rng.uniform(low, high)) / pitch))
        installed = preload - pitch * now
        likely = close and 35.0 <= rate <= 160.0 and low <= installed <= high
        likely = likely and (ends or low <= preload <= high)
        how = rng.choice(("sound", "sound", "turned", "turned", "spring", "tuned spring", "any"))
        if how == "turned":
            now = turns * rng.choice((0.0, 1.0, rng.random(), rng.random()))
        elif how in ("spring", "tuned spring"):
            rate = max(30.0, rate + rng.choice((-1, 1)) * rng.uniform(4, 25))
            if how == "tuned spring":
                more = _preload_for(rear_of(with_spring(rate, installed, now)), loads_of(job)["rear"][1], wanted[1])
                now = min(turns, max(0.0, now + more / pitch))
        elif how == "any":
            rate, installed, now = rate * rng.uniform(0.7, 1.4), rng.uniform(1, 20), turns * rng.random()
        return with_spring(rate, installed, now), how, likely

    def wanted(self, end: str) -> tuple[float, float]:
        """Sags well within both targets."""

        def within(band: Band) -> float:
            return self.rng.uniform(0.8 * band[0] + 0.2 * band[1], 0.2 * band[0] + 0.8 * band[1])

        return within(self.use.target(end, "static")), within(self.use.target(end, "rider"))

    # --- what is written down -------------------------------------------------------------------------------------

    def written(self, true: Job) -> tuple[Job, str]:
        """The job as written down, without sags, and what is false in it."""
        rng = self.rng
        if self.mode == "drift":
            front, rear, w = true.front, true.rear, true.weights
            made = replace(
                true,
                front=_with_rates(front, rng.uniform(0.96, 1.04)),
                rear=_with_rear_rate(rear, rng.uniform(0.96, 1.04)),
                weights=replace(
                    w,
                    front_share_pct=(w.front_share_pct or 0.0) + rng.uniform(-1, 1),
                    rider_front_share_pct=(w.rider_front_share_pct or 0.0) + rng.uniform(-2, 2),
                ),
            )
            return made, ""
        if self.mode == "false":
            what = rng.choice(("front rate", "rear rate", "weights"))
            factor = rng.choice((0.25, 0.4, 2.5, 4.0))
            if what == "front rate":
                return replace(true, front=_with_rates(true.front, factor)), what
            if what == "rear rate":
                return replace(true, rear=_with_rear_rate(true.rear, factor)), what
            heavier = rng.choice((0.6, 1.7))
            rider = min(249.0, (true.job.rider_mass_kg or 0.0) * heavier)
            made = replace(true, job=replace(true.job, rider_mass_kg=rider))
            return replace(made, weights=_heavier(true.weights, heavier)), what
        return true, ""

    def readings(self, true: Job, doubt: str = "") -> Sag:
        """The sags as read off the machine."""
        off_road = self.name == "off-road"
        return sag_of(true, self.rng, noise=self.mode in ("noise", "drift"), doubt=doubt, off_road=off_road)


def _with_rates(front: Front, factor: float) -> Front:
    """The fork with rates labelled otherwise."""

    def leg(made: Leg) -> Leg:
        rate = made.spring.rate_n_per_mm
        return (
            made if rate is None else replace(made, spring=replace(made.spring, rate_n_per_mm=one_rate(rate) * factor))
        )

    return replace(front, left=leg(front.left), right=None if front.right is None else leg(front.right))


def _with_rear_rate(rear: Rear, factor: float) -> Rear:
    return replace(rear, spring=replace(rear.spring, rate_n_per_mm=one_rate(rear.spring.rate_n_per_mm) * factor))


def _heavier(w: Weights, factor: float) -> Weights:
    names = ("machine_kg", "front_alone_kg", "rear_alone_kg", "front_aboard_kg", "rear_aboard_kg")
    entered = {name: getattr(w, name) for name in names}
    return replace(w, **{name: value * factor for name, value in entered.items() if value is not None})


def sag_of(
    true: Job, rng: random.Random | None = None, *, noise: bool = False, doubt: str = "", off_road: bool = False
) -> Sag:
    """The sags as read off a machine: three times with a fine gauge, or with a tape.

    Stiction lies half to each side of the sag; lifted, the machine goes no further than full extension.
    """
    rng = rng or random.Random(0)
    loads = loads_of(true)
    ends = {}
    for end in ("front", "rear"):
        made = fork_of(true) if end == "front" else rear_of(true)
        static, rider = (made.sag(load) for load in loads[end])
        stiction = rng.uniform(0.5, 2.0)
        if doubt == "stiction":
            stiction = (26.0 if off_road else 16.0) if end == "front" else (16.0 if off_road else 7.0)
        if doubt == "impossible":
            static, rider = rider, static
        count = rng.choice((1, 2, 3)) if noise else 3

        states = {}
        for name, sag in (("static", static), ("rider", rider)):
            down, up = (
                _read(shown, count, rng if noise else None) for shown in (sag + stiction / 2, sag - stiction / 2)
            )
            if doubt == "swapped":
                down, up = up, down
            states[name] = Readings(down_mm=down, up_mm=up)
        ends[end] = SagEnd(hanging_mm=(HANGING,) * count, static=states["static"], rider=states["rider"])
    return Sag(front=ends["front"], rear=ends["rear"], tape_resolution_mm=1.0 if noise else 0.1)


def _read(sag: float, count: int, tape: random.Random | None) -> tuple[float, ...]:
    """A length read so often; by a tape with its spread and divisions."""
    length = HANGING - max(0.0, sag)
    if tape is None:
        return (length,) * count
    return tuple(min(HANGING, float(round(length + tape.gauss(0.0, TAPE_SPREAD_MM)))) for _ in range(count))


def changed_since(job: Job) -> Job:
    """The job whose sags say that they were read with the adjusters elsewhere."""

    def other(readings: Readings, positions: tuple[float, ...]) -> Readings:
        return replace(readings, preload_at=tuple(p + 3.0 for p in positions))

    legs = [job.front.leg(side) for side in SIDES]
    fork = tuple(leg.adjuster.now or 0.0 for leg in legs if leg.spring_fitted)
    sag = job.sag
    if any(leg.adjuster.now is None for leg in legs if leg.spring_fitted):
        rates = tuple(one_rate(leg.spring.rate_n_per_mm) + 1.0 for leg in legs if leg.spring_fitted)
        front = replace(
            sag.front,
            static=replace(sag.front.static, rates_n_per_mm=rates),
            rider=replace(sag.front.rider, rates_n_per_mm=rates),
        )
    else:
        front = replace(sag.front, static=other(sag.front.static, fork), rider=other(sag.front.rider, fork))
    shock = (job.rear.collar.now or 0.0,)
    rear = replace(sag.rear, static=other(sag.rear.static, shock), rider=other(sag.rear.rider, shock))
    return replace(job, sag=replace(sag, front=front, rear=rear))


# --- laying out ---------------------------------------------------------------------------------------------------


def _laid_out(
    made: TrueFork | TrueRear, loads: tuple[float, float], wanted: tuple[float, float]
) -> tuple[float, float, bool]:
    """Rate of each spring and its preload that give two sags, and whether there are such.

    What the springs must push with where the machine is to stand tells both; where it hangs depends on them in turn,
    but only with a top-out spring.
    """
    hanging, rate, preload = 0.0, 1.0, 0.0
    for _ in range(12):
        squeezed, pushed = [], []
        for load, sag in zip(loads, wanted, strict=True):
            at = hanging + sag
            if at >= made.travel:
                return 1.0, 0.0, False
            rest = made.force(at, rate=0.0)  # top-out spring, air, gas
            if isinstance(made, TrueFork):
                squeezed.append(at)
                pushed.append((made.along(load) - rest) / sum(1 for leg in made.legs if leg.rate))
            else:
                squeezed.append(made.shock(at))
                pushed.append((load - rest) / made.slope(at))
        rate = (pushed[1] - pushed[0]) / (squeezed[1] - squeezed[0])
        if rate <= 0.5:
            return 1.0, 0.0, False
        preload = pushed[0] / rate - squeezed[0]
        start = next(leg.preload for leg in made.legs if leg.rate) if isinstance(made, TrueFork) else made.preload
        before, hanging = hanging, made.rest(-made.unsprung * G, preload - start, rate)
        if abs(hanging - before) < 0.02:
            return rate, preload, True
    return rate, preload, False


def _preload_for(made: TrueFork | TrueRear, load: float, sag: float) -> float:
    """Preload to add at every spring for a sag, within what a spacer could give."""
    if made.sag(load, -10.0) <= sag:
        return -10.0
    if made.sag(load, 12.0) >= sag:
        return 12.0
    return float(brentq(lambda more: made.sag(load, more) - sag, -10.0, 12.0, xtol=0.01))
