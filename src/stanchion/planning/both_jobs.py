"""A job and the same job changed, with what each gives: sag, travel and topping out before and after the change."""

from __future__ import annotations

from operator import sub

from stanchion.base.record import record
from stanchion.job.diff import SPLIT, Difference
from stanchion.job.model import End, Job, Path, State
from stanchion.judgement.criteria.thresholds import TOPPED_OUT_MM
from stanchion.judgement.ends.linkage_places import ARM
from stanchion.judgement.predict.loaded_machine import LoadedMachine, travel_under
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.balance import Braking
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.sag.sag_advice import NO_ADVICE
from stanchion.mechanics.equilibrium import Limit
from stanchion.planning.axle_in_trial import AxleInTrial

ZERO = Figure(0.0)
_RIDER: Path = ("job", "rider_mass_kg")
_NOT_SPRING_OR_AIR = {
    *("fork_height_mm", "oil", "oil_volume_ml", "compression", "rebound", "dampers_split"),
    *("preload_difference_meant", "low_speed_compression", "high_speed_compression"),
    *("length_adjuster_mm", "eye_to_eye_mm", "base"),
}
"""Fields of fork and shock that affect neither springs nor air."""
_NOT_RELIABLE = NO_ADVICE - {"inputs_doubted", "check_before_spring"}
"""Advice that says that the readings cannot be relied on."""


@record
class BothJobs:
    """Both jobs with their assessments and loaded machines."""

    job: Job
    changed: Job
    present: Assessment
    after: Assessment
    springs: LoadedMachine
    springs_after: LoadedMachine
    differences: tuple[Difference, ...]
    braking: tuple[Braking, Braking]
    """The deceleration each is looked at with."""
    axle: AxleInTrial
    """How far the chain moves the axle for the change."""

    def moved(self, end: End, state: State) -> Figure:
        """How much further an end is into its travel after the change."""
        if self._unaffected(end, state):
            return ZERO
        if self._remeasured(end):
            return self._between_readings(end, state)
        if self.inputs_doubted(end):
            return absent("inputs_doubted")
        return derive(sub, self.springs_after.travel(end, state), self.springs.travel(end, state))

    def measured(self, end: End, state: State) -> Figure:
        """Sag as measured; absent where its readings cannot be relied on or are out of date."""
        if self._advice_code(end) in _NOT_RELIABLE:
            return absent("readings_doubtful")
        return self.present.sag.end(end).state(state).sag_mm

    def expected(self, end: End, state: State) -> Figure:
        """Sag to expect when it is measured again."""
        measured = self.measured(end, state)
        if self._remeasured(end) or not measured.known:
            return self.after.sag.end(end).state(state).sag_mm
        after = self.after.sag.end(end).state(state)
        if self._unaffected(end, state) or not after.changed:
            return after.sag_mm
        if self.inputs_doubted(end):
            return absent("inputs_doubted")
        foreseen = self.after.predicted.end(end).state(state)
        return derive(lambda mm, _: mm, foreseen.sag_mm, foreseen.carried_n)  # none where the load is doubted

    def predicted_then(self, end: End, state: State) -> tuple[Figure, str]:
        """Sag to predict after the change, and the stop it rests on: by scales and masses alone where it is now."""
        after = self.after.predicted.end(end).state(state)
        now, then = (a.sag.end(end).state(state) for a in (self.present, self.after))
        if now.changed or not then.changed:
            return after.sag_mm, after.limit
        model = self.springs_after.end(end)
        sag = derive(lambda mm: mm - model.unloaded.travel_mm, travel_under(model, after.load_n))
        load_n = after.load_n.value
        return sag, "" if load_n is None or not sag.known else model.equilibrium(load_n).limit.value

    def topped_out(self, end: End, state: State) -> tuple[bool, bool]:
        """Whether an end whose sag was measured is topped out now, and whether it is expected to be after the
        change."""
        now = self.present.sag.end(end).state(state).topped_out
        if self._remeasured(end):
            return now, self.after.sag.end(end).state(state).topped_out
        if self._unaffected(end, state):
            return now, now
        if self.inputs_doubted(end):
            return now, False
        model, load_n = self.springs_after.end(end), self.springs_after.load(end, state).value
        pressed_out = (
            model.computable.known and load_n is not None and model.equilibrium(load_n).limit is Limit.TOPPED_OUT
        )
        expected = self.expected(end, state).value
        return now, pressed_out or (now and expected is not None and expected <= TOPPED_OUT_MM)

    def inputs_doubted(self, end: End) -> bool:
        """Whether entries for an end must be wrong, so that nothing is concluded from them."""
        return self._advice_code(end) == "inputs_doubted"

    def _advice_code(self, end: End) -> str:
        advice = self.present.sag.end(end).advice
        return advice.code if advice is not None else ""

    def _between_readings(self, end: End, state: State) -> Figure:
        return derive(sub, *(a.sag.end(end).state(state).sag_mm for a in (self.after, self.present)))

    def _remeasured(self, end: End) -> bool:
        return any(difference.path[:2] == ("sag", end) for difference in self.differences)

    def _unaffected(self, end: End, state: State) -> bool:
        """Whether no change affects this end in this state."""
        return not any(_moves(difference.path, end, state) for difference in self.differences)


def _moves(path: Path, end: End, state: State) -> bool:
    if path[0] == end:
        return path != SPLIT and not _NOT_SPRING_OR_AIR.intersection(path)
    if path == _RIDER:
        return state == "rider"
    if path == ARM:
        return end == "rear"
    return path[0] == "weights" or path[:2] == ("sag", end) or (path == ("geometry", "rake_deg") and end == "front")
