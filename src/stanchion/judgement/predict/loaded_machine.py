"""Both ends of a machine as they stand in each state: what they carry, how far they are in, and what a change does.

The load is the one weighed or estimated, as the measured sag corrects it: what the springs push with at that sag is
what they carry.
"""

from __future__ import annotations

from collections.abc import Mapping

from stanchion.base.record import record
from stanchion.job.model import ENDS, STATES, End, Job, State
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.ends.fork_model import ForkModel, fork_model
from stanchion.judgement.ends.rear import linkage_of
from stanchion.judgement.ends.rear_model import RearModel, rear_model
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.figures import Figure, derive
from stanchion.mechanics.equilibrium import Limit


@record(kw_only=True)
class LoadedMachine:
    """A machine with its springs and what they carry."""

    front: ForkModel
    rear: RearModel
    loads: Mapping[tuple[End, State], Figure]
    """Vertical load on the springs; where it is not known, it names the scale reading or share it needs."""
    entered: Mapping[tuple[End, State], Figure]
    """The same by scales and masses alone."""

    def end(self, end: End) -> EndModel:
        """The springs of one end."""
        return self.front if end == "front" else self.rear

    def load(self, end: End, state: State) -> Figure:
        """What an end carries in a state."""
        return self.loads[end, state]

    def travel(self, end: End, state: State) -> Figure:
        """How far an end is in, from the mechanical stop; along the leg, or at the wheel."""
        return travel_under(self.end(end), self.load(end, state))

    def sag(self, end: End, state: State) -> Figure:
        """Sag that springs and load give: from where the end hangs."""
        model = self.end(end)
        return derive(lambda travel: travel - model.unloaded.travel_mm, self.travel(end, state))


def loaded_machine(
    job: Job, assessment: Assessment, before: LoadedMachine | None = None, *, reloaded: bool = False
) -> LoadedMachine:
    """The machine of a job.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        before: the machine before something was changed on it. What captured sags told of its loads still holds,
            while they say nothing of the springs put in since.
        reloaded: whether something of what it carries was changed as well.
    """
    front = fork_model(job, assessment.front)
    rear = rear_model(job, assessment.rear, linkage_of(job.rear)[0])
    loads: dict[tuple[End, State], Figure] = {}
    entered: dict[tuple[End, State], Figure] = {}
    for end in ENDS:
        for state in STATES:
            at, figures = (end, state), assessment.predicted.end(end).state(state)
            entered[at] = figures.load_n
            loads[at] = figures.carried_n
            if before is not None:
                loads[at] = before.loads[at]
                if reloaded:
                    loads[at] = _load_after(before.loads[at], before.entered[at], figures.load_n)
    return LoadedMachine(front=front, rear=rear, loads=loads, entered=entered)


def travel_under(model: EndModel, load: Figure) -> Figure:
    """Where an end rests under a load, either of which may not be known.

    At full travel it rests only where full travel is known; otherwise it rests beyond what can be computed.
    """
    carried = derive(lambda _, load_n: load_n, model.why, load)
    if carried.value is None:
        return carried
    equilibrium = model.equilibrium(carried.value)
    if equilibrium.limit is Limit.BOTTOMED and model.end_unknown is not None:
        return model.end_unknown
    return Figure(equilibrium.travel_mm, estimate=carried.estimate)


def _load_after(before: Figure, entered_before: Figure, entered: Figure) -> Figure:
    """What an end carries once scales or masses read otherwise: more by as much as was entered more."""
    if before.known and entered_before.known:
        return derive(lambda load_n, was_n, is_n: load_n + is_n - was_n, before, entered_before, entered)
    # A load that only became known is not one that became more.
    return derive(lambda _, is_n: is_n, before, entered)
