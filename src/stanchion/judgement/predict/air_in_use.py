"""What the pressure of an air spring comes to in use, and the one to set cold for what is wanted there."""

from __future__ import annotations

from stanchion.job.model import AirLeg, End, Job, Path
from stanchion.judgement.ends.air_model import airs_of, temperature_now
from stanchion.judgement.ends.outside import outside_mpa, pressure_in
from stanchion.judgement.results.figures import Figure, derive, recorded
from stanchion.judgement.results.predicted import AirInUse
from stanchion.mechanics.gas import heated_pressure, tyre_pressure_at
from stanchion.mechanics.shock import BAR_MPA


def air_in_use(job: Job, end: End) -> tuple[AirInUse, ...]:
    """The pressures of an end in use, for each leg that air springs, or the shock; none where no temperature in use is
    recorded. Neither area nor volume need be known: extended, the air keeps its volume.

    Args:
        job: the job.
        end: which end.
    """
    legs = airs_of(job, end)
    if end == "front" and not job.front.split:
        legs = {side: air for side, air in legs.items() if side == "left"}
    return tuple(_of(job, end, name, air) for name, air in legs.items() if air.in_use_c is not None)


def _of(job: Job, end: End, name: str, air: AirLeg) -> AirInUse:
    at: Path = ("rear", "air") if end == "rear" else ("front", name, "air")
    here_bar = outside_mpa(job) / BAR_MPA
    there_mpa = pressure_in(air.set_in)
    there_bar = here_bar if there_mpa is None else there_mpa / BAR_MPA
    in_use, set_at = recorded(air.in_use_c, (*at, "in_use_c")), recorded(air.set_at_c, (*at, "set_at_c"))
    now_c = temperature_now(job, end)
    now = set_at if now_c is None else Figure(now_c)
    hot = derive(
        lambda bar, cold, warm: heated_pressure(bar + there_bar, cold, warm) - here_bar,
        recorded(air.pressure_bar, (*at, "pressure_bar")),
        set_at,
        in_use,
    )
    cold = derive(
        lambda bar, warm, cold: tyre_pressure_at(bar, warm, cold, here_bar),
        recorded(air.wanted_bar, (*at, "wanted_bar")),
        in_use,
        now,
    )
    return AirInUse(where=name, at_c=in_use, in_use_bar=hot, wanted_bar=air.wanted_bar, set_bar=cold, set_c=now)
