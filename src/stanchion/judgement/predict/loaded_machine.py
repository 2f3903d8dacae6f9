"""Load, travel and sag of both ends of a machine in each state.

The load is the weighed or estimated one, corrected by the measured sag: the springs carry the force they exert at that
sag.
"""

from __future__ import annotations

from collections.abc import Mapping

from stanchion.base.record import record
from stanchion.job.model import ENDS, STATES, End, Job, State
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.ends.fork_model import ForkModel, fork_model
from stanchion.judgement.ends.linkage import linkage_of_job
from stanchion.judgement.ends.rear_model import RearModel, rear_model
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.figures import Figure, derive
from stanchion.mechanics.equilibrium import Limit


@record(kw_only=True)
class LoadedMachine:
    """Both ends of a machine with their springs and loads."""

    front: ForkModel
    rear: RearModel
    loads: Mapping[tuple[End, State], Figure]
    """Vertical load on the springs; where it is not known, it names the scale reading or share it needs."""

    def end(self, end: End) -> EndModel:
        """The model of one end."""
        return self.front if end == "front" else self.rear

    def load(self, end: End, state: State) -> Figure:
        """Load of an end in a state."""
        return self.loads[end, state]

    def travel(self, end: End, state: State) -> Figure:
        """Travel of an end from the mechanical stop: along the leg, or at the rear wheel."""
        return travel_under(self.end(end), self.load(end, state))

    def sag(self, end: End, state: State) -> Figure:
        """Sag that springs and load give, counted from the hanging wheel."""
        model = self.end(end)
        return derive(lambda travel: travel - model.unloaded.travel_mm, self.travel(end, state))


def loaded_machine(job: Job, assessment: Assessment) -> LoadedMachine:
    """The machine of a job.

    Args:
        job: the job.
        assessment: what assess() gave for it.
    """
    return LoadedMachine(
        front=fork_model(job, assessment.front),
        rear=rear_model(job, assessment.rear, linkage_of_job(job)),
        loads={(end, state): assessment.predicted.end(end).state(state).carried_n for end in ENDS for state in STATES},
    )


def travel_under(model: EndModel, load: Figure) -> Figure:
    """Where an end comes to rest under a load; absent where the end or the load is not known.

    Where the end bottoms and full travel is not known, the result is absent too.
    """
    carried = derive(lambda _, load_n: load_n, model.computable, load)
    if carried.value is None:
        return carried
    equilibrium = model.equilibrium(carried.value)
    if equilibrium.limit is Limit.BOTTOMED and model.end_unknown is not None:
        return model.end_unknown
    return Figure(equilibrium.travel_mm, estimate=carried.estimate)
