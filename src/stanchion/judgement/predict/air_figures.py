"""What pressure, temperature and height do to a fork that is sprung by air."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from stanchion.job.model import End, Job, State
from stanchion.judgement.criteria.thresholds import GAUGE_STEP_BAR, USUAL_TEMPERATURE_C
from stanchion.judgement.ends.air_model import AirModel, airs_of, temperature_now
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.ends.fork_model import ForkModel
from stanchion.judgement.ends.outside import outside_from, outside_mpa
from stanchion.judgement.ends.rear_model import RearModel
from stanchion.judgement.results.figures import Figure, derive
from stanchion.judgement.results.predicted import AirAtFull, AirFigures, AirState
from stanchion.mechanics.gas import (
    FAST,
    FAST_RANGE,
    HPA_MPA,
    ambient_pressure,
    pressure_altitude,
    temperature_ratio,
)

WARMER_C = 10.0
HIGHER_M = 1000.0


def air_figures(job: Job, end: End, model: EndModel, loads: Mapping[State, Figure]) -> AirFigures | None:
    """Figures of an end that is sprung by air; None where it is not, or cannot be computed.

    Args:
        job: the job.
        end: which end.
        model: that end.
        loads: vertical load on its springs in both states.
    """
    if not isinstance(model, ForkModel | RearModel) or not model.air_springs:
        return None
    temperatures = (temperature_now(job, end), *(air.set_at_c for air in airs_of(job, end).values()))
    celsius = next((c for c in temperatures if c is not None), USUAL_TEMPERATURE_C)
    warmer = model.warmed(temperature_ratio(celsius, celsius + WARMER_C))
    others: dict[str, AirModel] = {
        "tenth_bar": model.with_pressure(GAUGE_STEP_BAR),
        "warmer": warmer,
        "higher": model.under(higher(model)),
    }
    if any(air.outer is not None for air in model.air_springs):
        others["outer_bar"] = model.with_outer_pressure(GAUGE_STEP_BAR)

    taken_from = outside_from(job)

    def fast(exponent: float) -> Figure:
        return Figure(model.squeezed(exponent).force(model.full_travel_mm))

    return AirFigures(
        static=_state(model, loads["static"], others),
        rider=_state(model, loads["rider"], others),
        full=_at_full(model, others),
        outside_hpa=Figure(outside_mpa(job) / HPA_MPA, estimate=taken_from != ""),
        outside_from=taken_from,
        fast_n=fast(FAST),
        fast_least_n=fast(FAST_RANGE[0]),
        fast_most_n=fast(FAST_RANGE[1]),
    )


def higher(model: AirModel) -> float:
    """The pressure outside 1000 m above where the machine is [MPa]."""
    return ambient_pressure(pressure_altitude(model.air_springs[0].ambient_mpa) + HIGHER_M)


def _state(model: AirModel, load: Figure, others: Mapping[str, AirModel]) -> AirState:
    def rate(load_n: float) -> float:
        return model.rate(model.equilibrium(load_n).travel_mm)

    def change(other: AirModel) -> Callable[[float, float], float]:
        return lambda load_n, now_mm: other.sag_with(0.0, load_n) - now_mm

    now = derive(lambda load_n: model.sag_with(0.0, load_n), load)
    changes = {f"{name}_mm": derive(change(other), load, now) for name, other in others.items()}
    return AirState(rate_n_per_mm=derive(rate, load), **changes)


def _at_full(model: AirModel, others: Mapping[str, AirModel]) -> AirAtFull:
    full_mm, now_n = model.full_travel_mm, model.force(model.full_travel_mm)
    return AirAtFull(**{f"{name}_n": Figure(other.force(full_mm) - now_n) for name, other in others.items()})
