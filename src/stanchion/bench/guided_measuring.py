"""The steps of guided measuring: which readings a job needs, in the order of the work, and which are doubtful.

The rows and their words are in guide_sentences.py; this module selects those that apply to a job.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from typing import Literal

from stanchion.base.record import record
from stanchion.job.edit import spec_at, value_at
from stanchion.job.found import found_value
from stanchion.job.measured import changed_since_read
from stanchion.job.model import ENDS, SIDES, STATES, Adjuster, AirLeg, End, Job, Path, Spring, State
from stanchion.job.spec import Many
from stanchion.judgement.ends.coil_data import coil_data
from stanchion.judgement.ends.spring_law import unmarked_rate
from stanchion.judgement.results.assessment import Assessment, PreloadFigures
from stanchion.judgement.results.codes import Caution
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.sag.sag_figures import mean_reading
from stanchion.wording.air_guide_sentences import CHAMBERS, PRESSURES
from stanchion.wording.american import worded
from stanchion.wording.bench_guide_sentences import FORK, LEG, SHOCK
from stanchion.wording.caliper_guide_sentences import CALIPER
from stanchion.wording.guide_sentences import Reading, bench_name
from stanchion.wording.labels import field_label
from stanchion.wording.sag_guide_sentences import MARKER, SAG
from stanchion.wording.two_springs_guide_sentences import SECOND, for_two

StepGroup = Literal["sag", "front", "rear", "found", "lifting", "swingarm"]
PARTS: tuple[StepGroup, ...] = ("sag", "front", "rear")
"""The parts that have a guide, by the name of their screen; the rounds as found, of lifting and at the swingarm
have screens of another name."""


@record(kw_only=True)
class GuideStep:
    """One reading that a job asks for."""

    path: Path
    """Where it is recorded; of a list the list itself."""
    title: str
    state: str
    """What it belongs to: a state of the machine, or a leg."""
    do: str
    read: str
    caution: Caution | Literal[""]
    again: str
    """What taking it again gives: another "repeat", another "piece", or nothing."""
    most: int
    """How often it can be taken."""
    optional: bool
    counted: str = ""
    """What an adjuster is counted in, where that is the unit."""
    as_found: bool = False
    """Whether it is taken once it is in the record of the machine as found."""
    confirms: str = ""
    """What Enter records where nothing is read, only something done."""

    @property
    def end(self) -> End:
        """The end of the machine it is taken at."""
        return "front" if "front" in self.path[:3] else "rear"

    def field(self, at: int) -> Path:
        """The field of its repeat or piece number `at`, from 0."""
        return (*self.path, at) if self.again else self.path

    def covers(self, path: Path) -> bool:
        """Whether a field is one of this reading's."""
        return path[: len(self.path)] == self.path


def steps(part: StepGroup, job: Job, *, alone: bool = False) -> tuple[GuideStep, ...]:
    """The readings of a part in the order of the work.

    Args:
        part: sag, fork or shock.
        job: settles which of them apply: gauge, how adjusters are counted, legs apart or alike, springs fitted.
        alone: sag is taken by one person with a travel marker, who gets no lifted readings.
    """
    if part == "sag":
        return (*leg_steps(job, PRESSURES), *shock_steps(job, PRESSURES), *sag_steps(job, alone=alone))
    if part == "rear":
        return tuple(shock_steps(job, (*PRESSURES, *CHAMBERS, *_with_spring_out(SHOCK))))
    found = [guide_step(row, ("front", *row.path), bench_name(("front",)), (row.do, row.read)) for row in FORK]
    return (*leg_steps(job, (*PRESSURES, *CHAMBERS, *_with_spring_out(LEG))), *found)


def sag_steps(job: Job, *, alone: bool) -> tuple[GuideStep, ...]:
    """The readings of sag.

    Args:
        job: settles which of them apply, by its gauges.
        alone: they are taken by one person with a travel marker.
    """
    return tuple(_sag_step(row, job, alone=alone) for row in SAG if _sag_asks(row, job, alone=alone))


def shock_steps(job: Job, rows: Iterable[Reading]) -> Iterator[GuideStep]:
    """Those of some readings of the shock that apply to a job."""
    rear = job.rear
    about = _StepContext(rear.spring, rear.collar, fitted=not rear.air.fitted, air=rear.air)
    name = bench_name(("rear",))
    yield from (_bench_step(row, ("rear",), name, about) for row in rows if WHEN[row.when](about))


def leg_steps(job: Job, rows: Iterable[Reading]) -> Iterator[GuideStep]:
    """Those of some readings of a fork leg that apply to a job; separately for each leg where they are apart."""
    for side in SIDES if job.front.split else SIDES[:1]:
        leg = job.front.leg(side)
        about = _StepContext(leg.spring, leg.adjuster, fitted=leg.coil_fitted, air=leg.air)
        name = bench_name(("front", side), split=job.front.split)
        yield from (_bench_step(row, ("front", side), name, about) for row in rows if WHEN[row.when](about))


def _with_spring_out(rows: tuple[Reading, ...]) -> tuple[Reading, ...]:
    """The readings with those of a caliper and a second spring after the free length, for which the spring is out."""
    after = 1 + next(at for at, row in enumerate(rows) if row.path == ("spring", "free_length_mm"))
    return (*rows[:after], *CALIPER, *SECOND, *rows[after:])


@record
class _StepContext:
    """What decides which readings of a leg or shock apply."""

    spring: Spring
    adjuster: Adjuster
    fitted: bool = True
    air: AirLeg = AirLeg()

    @property
    def adjusting(self) -> bool:
        return self.fitted and self.adjuster.counting != "none"

    @property
    def elsewhere(self) -> bool:
        return self.adjusting and self.spring.set_length_at is not None

    @property
    def arranged(self) -> str:
        """How a second spring is arranged; "none" where there is none."""
        return self.spring.second.arranged if self.fitted else "none"

    @property
    def main_closes_first(self) -> bool:
        """Whether of two springs end to end the main one is the softer, and no stop takes it."""
        second = self.spring.second
        if self.arranged != "end_to_end" or second.rate_n_per_mm is None or second.stop_mm is not None:
            return False
        main = self.spring.rate_n_per_mm or unmarked_rate(self.spring, ()).value
        return isinstance(main, float | int) and main < second.rate_n_per_mm


WHEN: dict[str, Callable[[_StepContext], bool]] = {
    "always": lambda about: True,
    "sprung": lambda about: about.fitted,
    "unmarked": lambda about: about.fitted and about.spring.rate_n_per_mm is None and not about.spring.coils.tester,
    "two_springs": lambda about: about.arranged != "none",
    "end_to_end": lambda about: about.arranged == "end_to_end",
    "side_by_side": lambda about: about.arranged == "side_by_side",
    "main_closes_first": lambda about: about.main_closes_first,
    "by_air": lambda about: about.air.fitted,
    "by_air_unmeasured": lambda about: about.air.fitted and about.air.volume_ml is None,
    "balanced": lambda about: about.air.fitted and about.air.balance in ("port", "pressure"),
    "balanced_by_port": lambda about: about.air.fitted and about.air.balance == "port",
    "balance_pumped": lambda about: about.air.fitted and about.air.balance == "pressure",
    "balance_unmeasured": lambda about: (
        about.air.fitted and about.air.balance in ("port", "pressure") and about.air.balance_ml is None
    ),
    "with_outer": lambda about: about.air.fitted and about.air.outer != "none",
    "outer_on_own_area": lambda about: about.air.fitted and about.air.outer == "own_area",
    "outer_unmeasured": lambda about: about.air.fitted and about.air.outer != "none" and about.air.outer_ml is None,
    "adjusting": lambda about: about.adjusting,
    "turning": lambda about: about.adjusting and about.adjuster.counting != "clicks",
    "in_clicks": lambda about: about.adjusting and about.adjuster.counting == "clicks",
    "in_turns": lambda about: about.adjusting and about.adjuster.counting == "turns",
    "showing": lambda about: about.adjusting and about.adjuster.counting in ("rings", "mm"),
    "set_fully_out": lambda about: about.fitted and not about.elsewhere,
    "set_elsewhere": lambda about: about.elsewhere,
}
"""Conditions under which a reading of a leg or shock applies."""


def _sag_asks(row: Reading, job: Job, *, alone: bool) -> bool:
    if row.when == "length":
        return job.sag.end("front" if row.path[1] == "front" else "rear").gauge == "length"
    return not (alone and row.when == "lifted")


def _sag_step(row: Reading, job: Job, *, alone: bool) -> GuideStep:
    gauge = job.sag.end("front" if row.path[1] == "front" else "rear").gauge
    do, read = row.do, row.travel if row.travel and gauge == "travel" else row.read
    if alone and row.alone:
        do, read = row.alone, MARKER[gauge]
    return guide_step(row, row.path, row.state, (do, read))


def _bench_step(row: Reading, part: Path, state: str, about: _StepContext) -> GuideStep:
    counting = about.adjuster.counting
    counted = counting if row.path[-1] in ("now", "reading_out", "reading_in") else ""
    row = for_two(row, about.arranged)
    step = guide_step(row, (*part, *row.path), state, (row.do, row.read), counted)
    calculated = row.path == ("spring", "rate_n_per_mm") and unmarked_rate(about.spring, ()).known
    return replace(step, optional=True) if calculated or _spared(row, about) else step


def _spared(row: Reading, about: _StepContext) -> bool:
    """Whether a length of two springs may be left out, because where they change over is known without it."""
    spring, name = about.spring, row.path[1:]
    if name == ("second", "free_length_mm"):
        known = spring.second.gap_mm if about.arranged == "side_by_side" else spring.second.stop_mm
        return known is not None
    if name == ("second", "solid_length_mm"):
        return about.arranged == "side_by_side" or spring.second.stop_mm is not None or about.main_closes_first
    return name == ("coils", "solid_length_mm") and coil_data(spring.coils, ()).solid_length_mm.known


def guide_step(row: Reading, path: Path, state: str, words: tuple[str, str], counted: str = "") -> GuideStep:
    """The step of a row of the tables.

    Args:
        row: the row.
        path: where the reading is recorded.
        state: the leg or state it belongs to.
        words: what to do, and what to read.
        counted: what it is counted in, if that is its unit.
    """
    spec = spec_at(path)
    return GuideStep(
        path=path,
        title=worded(row.title) or field_label(path),
        state=state,
        do=worded(words[0]),
        read=worded(words[1]),
        caution=row.caution,
        again=row.again,
        most=spec.most if isinstance(spec, Many) else 1,
        optional=row.optional,
        counted=counted,
    )


def taken(step: GuideStep, job: Job) -> tuple[float, ...]:
    """The recorded values of a reading: every repeat or piece, or the one value; 1 for what was confirmed; empty if
    there is none."""
    value = found_value(job, step.path) if step.as_found else value_at(job, step.path)
    if step.confirms:
        return (1.0,) if value == step.confirms else ()
    if value is None:
        return ()
    return value if isinstance(value, tuple) else (value,)


def shown_value(step: GuideStep, job: Job) -> float | None:
    """The value to show of a reading: the mean of repeats, which is what sag is computed from; the last of several
    pieces; None if nothing was taken."""
    values = taken(step, job)
    if not values:
        return None
    return mean_reading(values) if step.again == "repeat" else values[-1]


def outdated(step: GuideStep, job: Job) -> bool:
    """Whether a reading was taken with other springs or another preload than now."""
    state = state_of(step)
    if state is None or step.path[0] != "sag":
        return False
    return bool(value_at(job, step.path)) and changed_since_read(job, step.end, state)


def missing(ordered: Iterable[GuideStep], job: Job) -> tuple[GuideStep, ...]:
    """The readings still to be taken or repeated, without optional ones."""
    return tuple(step for step in ordered if not step.optional and (not taken(step, job) or outdated(step, job)))


def first_open(ordered: tuple[GuideStep, ...], job: Job) -> int:
    """Index of the first reading to be taken; the number of steps if there is none."""
    open_ones = missing(ordered, job)
    return ordered.index(open_ones[0]) if open_ones else len(ordered)


def alone_so_far(job: Job) -> bool:
    """Whether sag was taken by one person alone as far as it goes: pushed down only, of more than one state.

    One such state could be one whose lifted reading comes next.
    """
    states = [state for end in ENDS for state in (job.sag.end(end).static, job.sag.end(end).rider) if state.down_mm]
    return len(states) > 1 and not any(state.up_mm for state in states)


LIFT_DOUBTS = (
    "lift_reads_more",
    "lift_height_unlikely",
    "lift_off_line",
    "level_off_line",
    "lifts_scatter",
    "lift_too_low",
)
DOUBTS = frozenset(
    {
        "readings_swapped",
        "travel_readings_swapped",
        "reading_beyond_hanging",
        "sag_beyond_travel",
        "rider_above_static",
        "repeat_far_off",
        "stiction_fault",
        "implausible",
        "set_lengths_order",
        "set_longer_than_free",
        "second_lengths",
        "spring_loose",
        "air_over_most",
        "adjuster_beyond_range",
        "adjuster_ends_equal",
        "adjuster_readings_order",
        "adjuster_range_unlikely",
        "set_length_at_beyond_range",
        "pitch_disagrees",
        "pitch_and_range_disagree",
        "range_disagrees",
        *LIFT_DOUBTS,
    }
)
"""Findings that question a reading and not the machine: worth a second look before the next one is taken."""


def doubts(step: GuideStep, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings that make a reading doubtful: those on the reading itself first, then the worst first."""
    found = (
        finding
        for finding in findings
        if finding.code in DOUBTS
        and finding.severity >= Severity.WARNING
        and (step.covers(finding.where) or step.path[: len(finding.where)] == finding.where or _same(step, finding))
    )
    return tuple(sorted(found, key=lambda finding: not step.covers(finding.where)))


def _same(step: GuideStep, finding: Finding) -> bool:
    """Found of a field of the same spring or adjuster, which this reading may have brought to light."""
    depth = 1 if step.path[0] == "rear" else 2
    return step.path[0] in ("front", "rear") and finding.where[:depth] == step.path[:depth]


def half_taken(ordered: Iterable[GuideStep], assessment: Assessment) -> frozenset[Path]:
    """States of sag pushed down and not yet lifted, where the lifted reading comes next, with the end they are of and
    the pair of ends: not to be judged yet."""
    lifted = {step.path[:3] for step in ordered if step.path[-1] == "up_mm"}
    half: set[Path] = set()
    for end in ENDS:
        for state in STATES:
            if ("sag", end, state) in lifted and assessment.sag.end(end).state(state).down_only:
                half |= {("sag", end, state), ("sag", end), ("sag",)}
    return frozenset(half)


def not_found_yet(ordered: Iterable[GuideStep], job: Job) -> frozenset[Path]:
    """States of sag that the machine as found still lacks readings of: the job's own are from before it was found."""
    states: set[Path] = set()
    for step in ordered:
        if step.as_found and not step.optional and "sag" in step.path and not taken(step, job):
            state = state_of(step)
            states |= {("sag", step.end, one) for one in (STATES if state is None else (state,))}
    return frozenset(states)


def state_of(step: GuideStep) -> State | None:
    """The state of sag a reading belongs to; none for L1 and on the bench."""
    return next((state for state in STATES if state in step.path), None)


def preload_of(step: GuideStep, assessment: Assessment) -> PreloadFigures:
    """The figures of the spring that a reading on the bench belongs to."""
    if step.path[0] == "rear":
        return assessment.rear.spring
    return assessment.front.left if step.path[1] == "left" else assessment.front.right
