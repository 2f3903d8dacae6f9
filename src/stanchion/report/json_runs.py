"""Runs, upkeep and the machine as found, as plain data for `--json`."""

from __future__ import annotations

from typing import Any

from stanchion.job.change import ExpectedEffect
from stanchion.job.edit import dotted, value_at
from stanchion.job.found import found_path, positions
from stanchion.job.model import ENDS, STATES, End, Job, Run, Sag, Service, Torque, Upkeep
from stanchion.job.returning import CHAIN_AND_TYRES
from stanchion.job.runs import as_ridden, changes_before
from stanchion.job.spec import Part, Rows, specs_of
from stanchion.judgement.results.assessment import Assessment, UpkeepFigures
from stanchion.judgement.sag.sag_figures import sag_read
from stanchion.report.json_data import NOT_RECORDED, JsonData, filled, plain_value
from stanchion.report.runs import SERVICES, figures_of_run
from stanchion.wording.changes import changes_in_words

_RUN = tuple(name for name, spec in specs_of(Run).items() if not isinstance(spec, Part | Rows))
_EXPECTED = tuple(specs_of(ExpectedEffect))
_USED = ("used_mm", "available_mm", "left_mm", "share_used", "on_rubber_mm", "in_hydraulic_mm")
_TYRE = ("expected_hot_bar", "cold_to_set_bar", "hot_less_wanted_bar")
_UPKEEP = ("machine_hours", *CHAIN_AND_TYRES)


def run_json(data: JsonData, at: str, job: Job, number: int, assessment: Assessment) -> dict[str, Any]:
    """A run with what was recorded of it, blanks and all, travel used and left, and what was changed before it."""
    run, figures = job.runs[number], figures_of_run(job, number, assessment)

    def used(end: End) -> dict[str, Any]:
        of = figures.end(end)
        verdict = data.code(f"{at}.{end}.verdict", of.verdict, of.share_used, "no_figure")
        return {**data.of(f"{at}.{end}", of, _USED), "verdict": verdict}

    return {
        **data.of(at, run, _RUN),
        "complaints": plain_value(run.complaints),
        "change": _change_json(data, f"{at}.change", run),
        **{end: used(end) for end in ENDS},
        **{f"{end}_tyre": data.of(f"{at}.{end}_tyre", figures.tyre(end), _TYRE) for end in ENDS},
        "changed": list(changes_in_words(changes_before(job, number), as_ridden(job, run))),
    }


def _change_json(data: JsonData, at: str, run: Run) -> dict[str, Any] | None:
    """The change that a run was ridden with, where one was recorded: what for, and what was expected."""
    change = run.change
    if change is None:
        data.missing[at] = NOT_RECORDED
        return None
    return {
        **data.of(at, change, ("made_on", "made_at")),
        "at_once": int(change.at_once or 1),
        "complaints": plain_value(change.complaints),
        "expected": data.of(f"{at}.expected", change.expected, _EXPECTED),
    }


def as_found_json(data: JsonData, at: str, job: Job) -> dict[str, Any] | None:
    """The machine as found: pressures, positions by where they are in the job, sag; None: not recorded."""
    found = job.found
    if found is None:
        data.missing[at] = NOT_RECORDED
        return None
    known = ((dotted(path), value_at(job, found_path(path))) for path in positions(job))
    sag = found.sag or Sag()
    return {
        **data.of(at, found, ("on", "front_cold_bar", "rear_cold_bar")),
        "positions": {name: value for name, value in known if value is not None},
        "sag": {
            end: {
                f"{state}_mm": data.plain(f"{at}.sag.{end}.{state}_mm", sag_read(sag, end, state)) for state in STATES
            }
            for end in ENDS
        },
    }


def upkeep_json(data: JsonData, at: str, upkeep: Upkeep, figures: UpkeepFigures) -> dict[str, Any]:
    """What was recorded, without blanks; hours since each service, and the ratio of the sprockets."""

    def service(name: str) -> dict[str, Any]:
        recorded: Service = getattr(upkeep, name)
        on = recorded.on.isoformat() if recorded.on else None
        since = data.plain(f"{at}.{name}.hours_since", getattr(figures, f"{name}_hours"))
        return {**filled({"on": on, "at_hours": recorded.at_hours}), "hours_since": since}

    def torque(one: Torque) -> dict[str, Any]:
        return {**filled({name: getattr(one, name) for name in ("what", "torque_nm", "initials")}), "done": one.done}

    return {
        **filled({name: getattr(upkeep, name) for name in _UPKEEP}),
        **{name: service(name) for _, name in SERVICES},
        **data.of(at, figures, ("gear_ratio",)),
        "torques": [torque(one) for one in upkeep.torques],
    }
