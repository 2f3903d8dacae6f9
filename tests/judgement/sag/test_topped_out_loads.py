"""What an advice says of sags whose load is known only from a state that stood topped out, worked by hand."""

from __future__ import annotations

import pytest

from judgement_jobs import advice, around, judged, put
from rates import WEIGHED
from stanchion.job.model import Job, Readings, SagEnd
from stanchion.wording.finding_words import sentence

STOOD = Readings(down_mm=(595.0,), up_mm=(599.0,))
"""3 mm of sag with the upper reading within 2 mm of the hanging wheel's 600 mm: topped out, with 3 mm at most."""


def fork(static: Readings, rider: Readings, **changes: float) -> Job:
    """2 x 9.5 N/mm with 14 mm of preload; (90 - 15) kg and (110 - 15) kg carried by scales: 735 and 932 N."""
    return put(WEIGHED, sag__front=SagEnd(hanging_mm=(600.0,), static=static, rider=rider), **changes)


def test_a_static_sag_promised_from_a_topped_out_reading_is_said_to_be_the_most_there_can_be() -> None:
    """3 mm at most: 19 x (14 + 3) = 323 N, where scales give 735. With 8 mm of preload that is 17 - 8 = 9 mm, and the
    rider's 19 x (14 + 33) = 893 N are 47 - 8 = 39 mm."""
    job = fork(STOOD, around(567.0, 2.0))
    given = advice(job, "front")
    assert judged(job).predicted.front.static.carried_n.value == pytest.approx(323.0)
    assert (given.values["static_after_mm"], given.values["rider_after_mm"]) == (
        pytest.approx(9.0),
        pytest.approx(39.0),
    )
    assert sentence(given).endswith(
        "expect rider 39.0 mm, static 9.0 mm (static at most that: it was read topped out)."
    )


def test_where_scales_give_less_the_promise_is_theirs() -> None:
    """(45 - 15) kg: 294 N, less than the 323 that the reading allows."""
    given = advice(fork(STOOD, around(567.0, 2.0), weights__front_alone_kg=45.0), "front")
    assert given.values["static_after_mm"] is not None
    assert given.values["held"] is None


LONG = {"front__left__spring__set_length_mm": 213.0, "front__left__spring__set_length_in_mm": 205.0}
"""37 mm installed, 39 mm of preload now."""


def test_advice_from_a_topped_out_reading_of_the_rider_is_not_called_predicted() -> None:
    """19 x (39 + 3) = 798 N at most, where scales give 932."""
    given = advice(fork(STOOD, STOOD, **LONG), "front")
    words = sentence(given)
    assert words.startswith("Front sag: rider topped out, static topped out. ")
    assert words.endswith("(rider at most that: it was read topped out).")
    light = sentence(advice(fork(STOOD, STOOD, **LONG, weights__front_aboard_kg=94.0), "front"))
    assert light.startswith("Front sag (predicted): rider topped out")  # (94 - 15) kg: 775 N, by the scales
    assert "at most" not in light
