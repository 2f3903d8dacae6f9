"""The next occasion starts where the last one ended: setup kept, what belonged to the day gone."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings

from stanchion.job.carry import another_rider, carried, may_be_source, without_aboard
from stanchion.job.codec import dumps, loads
from stanchion.job.edit import Edit, apply
from stanchion.job.model import Job, Occasion, Readings, Run, Sag, SagEnd, Weights
from stanchion.job.runs import base_positions
from stanchion.judgement.ends.loads import loads_at
from strategies import jobs

TODAY = dt.date(2026, 6, 7)

LAST = Job(
    job=Occasion(
        machine="Invented 600",
        rider="A. Rider",
        venue="Bench",
        date=dt.date(2026, 5, 31),
        use="road",
        rider_mass_kg=81.5,
        carried_from="before.toml",
        sample=True,
        notes="rear locked on the first lap",
    ),
    sag=Sag(
        front=SagEnd(hanging_mm=(512.0,), static=Readings(down_mm=(488.0,)), rider=Readings(up_mm=(470.0,))),
        rear=SagEnd(gauge="travel", rider=Readings(down_mm=(28.0,))),
        tape_resolution_mm=0.5,
        fuel="full",
    ),
    unknown=((("front", "new"), 1), (("sag", "rear", "new"), 2)),
)


def test_readings_and_notes_belong_to_the_day_and_the_rest_is_kept() -> None:
    assert carried(LAST, "last.toml", TODAY) == Job(
        job=Occasion(
            machine="Invented 600",
            rider="A. Rider",
            venue="Bench",
            date=TODAY,
            use="road",
            rider_mass_kg=81.5,
            carried_from="last.toml",
        ),
        sag=Sag(rear=SagEnd(gauge="travel"), tape_resolution_mm=0.5),
        unknown=((("front", "new"), 1),),
    )


@pytest.mark.parametrize(
    ("rider", "mass_kg", "another"),
    [
        ("A. Rider", 81.5, False),
        (" a. rider", 81.5, False),
        ("A.  Rider ", 81.5, False),
        ("\uff21. Rider", 81.5, False),  # a full-width A
        ("A. Rider", None, False),
        ("A. Rider", 78.0, True),
        ("N. N.", 81.5, True),
        ("", 81.5, True),
    ],
)
def test_another_name_or_another_mass_is_another_rider(rider: str, mass_kg: float | None, another: bool) -> None:
    assert another_rider(replace(LAST, job=replace(LAST.job, rider=rider, rider_mass_kg=mass_kg)), LAST) is another


def test_without_the_readings_with_the_rider_aboard_the_machine_alone_is_kept() -> None:
    weighed = Weights(front_alone_kg=86.5, rear_alone_kg=83.5, front_aboard_kg=130.0, rear_aboard_kg=130.0)
    alone = without_aboard(replace(LAST, weights=weighed), replace(LAST, weights=weighed))
    assert alone == replace(LAST, weights=Weights(front_alone_kg=86.5, rear_alone_kg=83.5))


SHARED = replace(
    LAST, weights=Weights(front_alone_kg=86.5, rear_alone_kg=83.5, front_aboard_kg=130.0, rear_aboard_kg=130.0)
)


@pytest.mark.parametrize(
    ("mass_kg", "scales", "entered_pct", "share_pct"),
    [
        (68.0, {}, None, 48.3),  # 43.5 of 90 kg
        (68.0, {"rear_aboard_kg": None}, None, 53.4),  # 43.5 of the 81.5 kg entered
        (68.0, {"front_alone_kg": None}, None, 42.9),  # 81.5 less 46.5 kg at the rear
        (68.0, {"front_alone_kg": None, "rear_aboard_kg": None}, None, None),
        (68.0, {"front_aboard_kg": 80.0}, None, None),  # cannot be right
        (68.0, {}, 45.0, 45.0),
        (None, {}, None, None),
        (81.5, {}, None, None),
    ],
)
def test_the_share_of_the_last_rider_is_kept_for_a_new_one_whose_mass_is_given(
    mass_kg: float | None, scales: dict[str, Any], entered_pct: float | None, share_pct: float | None
) -> None:
    last = replace(SHARED, weights=replace(SHARED.weights, rider_front_share_pct=entered_pct, **scales))
    new = without_aboard(replace(last, job=replace(last.job, rider="N. N.", rider_mass_kg=mass_kg)), last)
    assert new.weights.rider_front_share_pct == share_pct
    assert (new.weights.front_aboard_kg, new.weights.rear_aboard_kg) == (None, None)


def test_with_the_share_kept_the_loads_of_a_new_rider_are_estimated() -> None:
    new = without_aboard(replace(SHARED, job=replace(SHARED.job, rider="N. N.", rider_mass_kg=68.0)), SHARED)
    load = loads_at(new, "front").rider_n
    assert load.estimate
    assert load.value == pytest.approx((86.5 + 0.483 * 68.0) * 9.80665)  # standard gravity, CGPM 1901


def _lasting(job: Occasion) -> Occasion:
    """What goes on from one occasion to the next."""
    day = dt.date(2000, 1, 1)
    return replace(job, date=day, carried_from="", carried_id="", id="", notes="", sample=False)


@settings(max_examples=40, deadline=None)
@given(jobs())
def test_the_setup_is_carried_whole_and_the_new_job_can_be_saved(job: Job) -> None:
    for name in ("altitude_m", "barometer_hpa"):  # they leave a note on the air that was shut in there
        job = apply(job, Edit(("job", name), None))
    new = carried(job, "last.toml", TODAY)
    based = job
    for path, base in base_positions(job).items():
        based = apply(based, Edit(path, base))
    assert (new.front, new.rear) == (based.front, based.rear)
    last_session = job.runs[-1].session if job.runs else job.job.session
    assert _lasting(new.job) == _lasting(replace(job.job, session=last_session))
    assert (new.job.carried_id, new.job.id) == (job.job.id, "")
    assert loads(dumps(new)).job == new


def test_the_positions_of_the_first_run_become_the_base_where_none_was_set() -> None:
    job = apply(apply(LAST, Edit(("rear", "rebound", "now"), 12.0)), Edit(("rear", "collar", "now"), 3.0))
    first = Run(front=job.front, rear=job.rear)
    job = apply(apply(job, Edit(("rear", "rebound", "now"), 10.0)), Edit(("rear", "collar", "base"), 2.0))
    job = replace(job, runs=(first, Run(front=job.front, rear=job.rear)))
    new = carried(job, "last.toml", TODAY)
    assert (new.rear.rebound.now, new.rear.rebound.base, new.rear.collar.base) == (10.0, 12.0, 2.0)
    assert new.rear.low_speed_compression.base is None


def test_a_very_long_file_name_still_gives_a_job_that_can_be_saved() -> None:
    new = carried(Job(), "x" * 300 + ".toml", TODAY)
    assert loads(dumps(new)).job == new


@pytest.mark.parametrize(
    ("new", "found", "it_is"),
    [
        (Occasion(carried_id="a"), Occasion(id="a", machine="renamed"), True),
        (Occasion(carried_id="a"), Occasion(id="b"), False),
        (Occasion(machine="Grey Mule"), Occasion(machine="grey mule"), True),
        (Occasion(machine="Grey Mule"), Occasion(machine="Tin Hare", id="b"), False),
        (Occasion(machine="Grey Mule"), Occasion(), True),
    ],
)
def test_another_job_under_the_same_name_is_not_taken_for_the_one_before(
    new: Occasion, found: Occasion, it_is: bool
) -> None:
    assert may_be_source(new, found) is it_is
