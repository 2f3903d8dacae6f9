"""How sure the figures of a job are: against Monte Carlo, and against the uncertainties given elsewhere."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import numpy as np
import pytest

from complete_job import complete_job
from judgement_jobs import FULL, PLAIN_FORK, PROFILES, put
from stanchion.job import model, spec
from stanchion.job.codec import loads
from stanchion.job.model import ENDS, STATES, Job
from stanchion.judgement.assess import assess
from stanchion.judgement.predict.balance import wheel_weights
from stanchion.judgement.reading_errors import READ_BY, reading_errors
from stanchion.planning.how_sure import how_sure, with_moved
from stanchion.report.figure_numbers import figure_numbers, sure_figures, uncertainty_json

SAMPLES = {
    path.stem: loads(path.read_bytes()).job
    for path in sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.toml"))
}
JOBS = SAMPLES | {"complete": complete_job()}
WEIGHED = {
    "weights__front_alone_kg": 88.0,
    "weights__rear_alone_kg": 86.0,
    "weights__front_aboard_kg": 124.0,
    "weights__rear_aboard_kg": 128.0,
    "weights__front_unsprung_kg": 13.0,
    "weights__rear_unsprung_kg": 16.0,
}
DRAWS = 160
NUMBERS = partial(figure_numbers, profiles=PROFILES)


def random_job(seed: int) -> Job:
    """The well-set sample with every length, rate and weight somewhat different, its adjusters off their ends."""
    draw = np.random.default_rng(seed)
    job = SAMPLES["well_set"]
    longer = float(draw.uniform(-4.0, 4.0))
    for end, low, high in (("front__left", 238.0, 226.0), ("rear", 156.0, 143.0)):
        name = f"{end}__spring__"
        spring = job.front.left.spring if end != "rear" else job.rear.spring
        job = put(
            job,
            **{
                f"{name}free_length_mm": (spring.free_length_mm or low) + longer,
                f"{name}set_length_mm": (spring.set_length_mm or low) + longer + float(draw.uniform(-2.0, 2.0)),
                f"{name}set_length_in_mm": (spring.set_length_in_mm or high) + longer + float(draw.uniform(-1.0, 1.0)),
            },
        )
    return put(
        job,
        weights__front_aboard_kg=123.0 + float(draw.uniform(-4.0, 4.0)),
        weights__rear_aboard_kg=123.0 + float(draw.uniform(-4.0, 4.0)),
        geometry__rake_deg=float(draw.uniform(22.0, 26.0)),
        geometry__offset_mm=float(draw.uniform(25.0, 35.0)),
    )


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_monte_carlo_gives_the_same_uncertainty(seed: int) -> None:
    """Draws of every error together, as JCGM 101 does it; within 5 %. The draws are made exactly uncorrelated, so that
    few of them do. A figure that some draw takes away is left out."""
    job = random_job(seed)
    errors = reading_errors(job)
    known = how_sure(job, NUMBERS, errors).figures
    normal = np.random.default_rng(seed).normal(size=(DRAWS, len(errors)))
    drawn = np.linalg.qr(normal - normal.mean(axis=0))[0] * (DRAWS - 1) ** 0.5
    results: dict[str, list[float]] = {name: [] for name in known}
    for row in drawn:
        moved: dict[tuple[str | int, ...], float] = {}
        for source, size in zip(errors, row, strict=True):
            for path, by in source.moves:
                moved[path] = moved.get(path, 0.0) + by * float(size)
        numbers = NUMBERS(with_moved(job, moved))
        for name, values in results.items():
            if name in numbers:
                values.append(numbers[name])
    compared = 0
    off: dict[str, tuple[float, float]] = {}
    for name, of in known.items():
        values = results[name]
        if len(values) < len(drawn) or of.uncertainty.standard == 0.0:
            continue
        compared += 1
        spread = float(np.std(values, ddof=1))
        if abs(spread / of.uncertainty.standard - 1.0) > 0.05:
            off[name] = (of.uncertainty.standard, spread)
    assert not off
    assert compared > 100


def test_a_sag_is_as_sure_here_as_everywhere_else() -> None:
    """One answer for one figure: the sag screen's and check's, but for the scale of a tape, which nearly cancels."""
    compared = 0
    for job in JOBS.values():
        sag, known = assess(job, PROFILES).sag, sure_figures(job, PROFILES)
        for end in ENDS:
            for state in STATES:
                figures, of = sag.end(end).state(state), known.get(f"sag.{end}.{state}.sag_mm")
                if of is not None and figures.shown_mm.known:
                    assert of.uncertainty.standard == pytest.approx(figures.uncertainty_mm.value, rel=3e-3)
                    assert of.uncertainty.expanded == pytest.approx(figures.expanded_mm.value, rel=3e-3)
                    compared += 1
    assert compared > 20


def test_sags_with_unequal_repeats_and_by_one_person_alone_agree_too() -> None:
    for sags in (
        ((510.0,), ()),
        ((510.0, 512.0), ()),
        ((510.0, 511.0, 513.0), (517.0, 518.0)),
        ((510.0,), (515.0, 517.0)),
    ):
        job = put(FULL, sag__front__rider__down_mm=sags[0], sag__front__rider__up_mm=sags[1])
        figures = assess(job, PROFILES).sag.front.rider
        of = sure_figures(job, PROFILES)["sag.front.rider.sag_mm"]
        assert of.uncertainty.standard == pytest.approx(figures.uncertainty_mm.value, rel=3e-3), sags
        assert of.uncertainty.expanded == pytest.approx(figures.expanded_mm.value, rel=3e-3), sags


def test_the_rate_between_two_sags_is_as_sure_as_its_own_figure_says() -> None:
    for name in ("well_set", "soft_springs", "air_fork"):
        job = SAMPLES[name]
        predicted, known = assess(job, PROFILES).predicted, sure_figures(job, PROFILES)
        for end in ENDS:
            of = known.get(f"working_rate.{end}")
            if of is not None:
                own = predicted.end(end).working_rate
                assert of.uncertainty.standard == pytest.approx(own.uncertainty_n_per_mm.value, rel=5e-3)


def test_the_motion_ratio_is_as_sure_as_its_own_figure_says() -> None:
    for name in ("soft_springs", "off_road", "complete"):
        rear, of = assess(JOBS[name], PROFILES).rear, sure_figures(JOBS[name], PROFILES).get("rear.motion_ratio")
        if of is not None and rear.motion_ratio_uncertainty.known:
            assert of.uncertainty.expanded == pytest.approx(rear.motion_ratio_uncertainty.value, rel=0.03), name


def test_preload_rests_on_two_lengths_by_one_tape() -> None:
    """1 mm / sqrt 12 for each (JCGM 100:2008, 4.3.7): together 0.41 mm, and 0.80 mm at 95 %; the scale of the tape
    drops out but for the 12 mm by which they differ."""
    of = sure_figures(put(FULL, **PLAIN_FORK), PROFILES)["front.left.installed_preload_mm"]
    assert of.value == pytest.approx(12.0)
    assert of.uncertainty.standard == pytest.approx((2.0 / 12.0) ** 0.5, rel=1e-3)
    assert of.uncertainty.expanded == pytest.approx(0.80, abs=0.001)
    assert {(part.name.by, part.name.at[-1]) for part in of.parts[:2]} == {
        ("tape", "free_length_mm"),
        ("tape", "set_length_mm"),
    }


def test_a_finer_tape_makes_preload_surer_and_legs_read_apart_have_errors_of_their_own() -> None:
    fine = sure_figures(put(FULL, sag__tape_resolution_mm=0.5), PROFILES)["front.left.installed_preload_mm"]
    coarse = sure_figures(FULL, PROFILES)["front.left.installed_preload_mm"]
    assert fine.uncertainty.standard == pytest.approx(coarse.uncertainty.standard / 2.0, rel=0.01)
    apart = sure_figures(put(FULL, front__right=FULL.front.left), PROFILES)
    assert {part.name.at[1] for part in apart["front.right.installed_preload_mm"].parts[:2]} == {"right"}


def test_an_adjuster_at_its_end_or_counted_in_clicks_is_read_without_error() -> None:
    at_now = ("front", "left", "adjuster", "now")
    for changes, read in (
        ({"now": 4.0}, True),
        ({"now": 0.0}, False),
        ({"counting": "clicks", "total_clicks": 20.0}, False),
    ):
        job = put(FULL, **{f"front__left__adjuster__{name}": value for name, value in changes.items()})
        assert any(source.name.at == at_now for source in reading_errors(job)) is read, changes


def test_moving_a_reading_makes_no_sag_old() -> None:
    job = SAMPLES["soft_springs"]
    for source in reading_errors(job):
        moved = assess(with_moved(job, dict(source.moves)), PROFILES)
        for end in ENDS:
            for state in STATES:
                now, was = (a.sag.end(end).state(state).is_old for a in (moved, assess(job, PROFILES)))
                assert now == was, source


def test_every_instrument_of_the_table_reads_a_field_that_there_is() -> None:
    """A field that is renamed would silently count as exact."""
    named = {(type_name, field) for type_name, field in READ_BY}
    found = {(source.name.at[-1]) for job in JOBS.values() for source in reading_errors(job)}
    assert found

    for type_name, field in named:
        assert field in spec.specs_of(getattr(model, type_name)), (type_name, field)


def test_check_gives_parts_largest_first_and_only_of_figures_that_rest_on_readings() -> None:
    given = uncertainty_json(SAMPLES["well_set"], PROFILES)
    trail = given["geometry.trail_mm"]
    assert trail["parts"][0]["reading"] == "geometry.rake_deg"
    assert trail["parts"][0]["by"] == "angle"
    sizes = [part["standard"] for part in trail["parts"]]
    assert sizes == sorted(sizes, reverse=True)
    assert sum(size**2 for size in sizes) <= trail["standard"] ** 2 * (1 + 1e-9)
    assert "front.left.stack_mm" not in given
    assert not any("expanded" in name for name in given)


def test_where_nothing_was_read_only_the_usual_height_is_uncertain() -> None:
    """560 to 700 mm (common practice, no published source)."""
    given = uncertainty_json(Job(), PROFILES)
    assert set(given) == {"balance.rider.height_mm"}
    assert given["balance.rider.height_mm"]["expanded"] == pytest.approx(70.0)


def test_the_centre_of_mass_is_as_sure_as_its_own_figures_say() -> None:
    """By lifting (ISO 10392, from a transcription) its own ± takes every scale as read apart; within 5 %, because both
    scales level also enter the sum that every other reading is divided by. Along the machine within 2.5 %."""
    compared = 0
    for name in ("well_set", "two_springs", "carried_forward", "soft_springs", "air_fork", "complete"):
        assessment, known = assess(JOBS[name], PROFILES), sure_figures(JOBS[name], PROFILES)
        for state in STATES:
            weights = wheel_weights(JOBS[name], assessment, state)
            for of, own, within in (
                ("ahead", weights.ahead_expanded_mm, 0.025),
                ("height", weights.height_expanded_mm, 0.05),
            ):
                one = known.get(f"balance.{state}.{of}_mm")
                if one is not None and own.known:
                    assert one.uncertainty.expanded == pytest.approx(own.value, rel=within), (name, state, of)
                    compared += 1
    assert compared > 12
