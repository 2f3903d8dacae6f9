"""Stops of fork and shock as recorded: in the prediction, against the markers of travel used, and in the drawing."""

from __future__ import annotations

from dataclasses import replace

import pytest

from judgement_jobs import PROFILES, codes, found, judged, put
from rates import WEIGHED, known
from stanchion.bench.session import Session
from stanchion.job.model import Job, SecondSpring, StopPair, Stops
from stanchion.job.runs import new_run
from stanchion.planning.on_travel import on_travel, predicted_curve
from stanchion.ui.predicted_lines import picture_lines, predicted_lines
from stanchion.ui.travel_drawing import travel_lines
from stanchion.units.known_units import METRIC
from stanchion.wording.finding_words import sentence

MACHINE = put(WEIGHED, rear__wheel_travel_mm=150.0)
"""The stroke of 60 mm, not the wheel, ends the travel at the rear: the ratio is 0.4."""
CONE = (StopPair(squeezed_mm=10.0, force_n=400.0), StopPair(squeezed_mm=20.0, force_n=1500.0))


def with_stops(end: str, **fields: object) -> Job:
    return put(MACHINE, **{f"{end}__stops": Stops(**fields)})  # type: ignore[arg-type]


def full(job: Job, end: str = "front") -> float:
    return known(getattr(judged(job).predicted, end).full_travel.slow_n.value)


class TestForce:
    @pytest.mark.parametrize(
        ("fields", "of_each_n"),
        [({"touches_mm": 100.0, "rate_n_per_mm": 40.0}, 800.0), ({"touches_mm": 100.0, "pairs": CONE}, 1500.0)],
    )
    def test_a_cone_in_both_legs_adds_its_force_at_full_travel(
        self, fields: dict[str, object], of_each_n: float
    ) -> None:
        """Travel 120 mm, so 20 mm of it are pressed; the sags lie before its touch point."""
        job, plain = with_stops("front", **fields), judged(MACHINE)
        assert full(job) == pytest.approx(full(MACHINE) + 2 * of_each_n)
        assert judged(job).predicted.front.rider.sag_mm == plain.predicted.front.rider.sag_mm

    def test_a_sag_on_the_rubber_is_less(self) -> None:
        soft, stopped = judged(MACHINE), judged(with_stops("front", touches_mm=20.0, rate_n_per_mm=40.0))
        assert known(stopped.predicted.front.rider.sag_mm.value) < known(soft.predicted.front.rider.sag_mm.value) - 1.0

    def test_at_the_shock_the_height_of_the_rubber_settles_where_it_touches(self) -> None:
        """Stroke 60 mm, ratio 0.4: 12 mm of rubber are pressed at full travel, whichever way its place is given."""
        by_height = put(with_stops("rear", rate_n_per_mm=100.0), rear__bump_rubber_mm=12.0)
        by_place = with_stops("rear", rate_n_per_mm=100.0, touches_mm=48.0)
        assert full(by_height, "rear") == pytest.approx(full(by_place, "rear"))
        ratio = full(by_place, "rear") - full(MACHINE, "rear")
        assert ratio == pytest.approx(1200.0 * known(judged(MACHINE).rear.motion_ratio.value))

    def test_a_touch_point_alone_is_said_to_be_left_out(self) -> None:
        assert "stop" in judged(with_stops("front", touches_mm=100.0)).predicted.front.omitted
        assert "stop" not in judged(with_stops("front", touches_mm=100.0, pairs=CONE)).predicted.front.omitted

    def test_readings_that_cannot_be_are_questioned(self) -> None:
        falling = (StopPair(squeezed_mm=10.0, force_n=400.0), StopPair(squeezed_mm=20.0, force_n=300.0))
        a = judged(with_stops("front", touches_mm=130.0, pairs=falling))
        assert found(a, "stop_disordered").where == ("front", "stops", "pairs")
        assert "touching at 130.0 mm, but the travel is only 120.0 mm" in sentence(found(a, "stop_beyond_travel"))
        assert not {"stop_disordered", "stop_beyond_travel"} & {*codes(judged(with_stops("front", touches_mm=99.0)))}


def ridden(job: Job, **markers: float) -> Job:
    return replace(job, runs=(replace(new_run(job, "10:20"), **markers),))  # type: ignore[arg-type]


class TestMarkers:
    def test_a_fork_marker_beyond_the_touch_point_touched_the_rubber(self) -> None:
        run = judged(ridden(with_stops("front", touches_mm=100.0), front_marker_mm=108.0)).run
        assert run is not None
        assert run.front.on_rubber_mm.value == pytest.approx(8.0)
        before = judged(ridden(with_stops("front", touches_mm=100.0), front_marker_mm=98.0)).run
        assert before is not None
        assert before.front.on_rubber_mm.value == 0.0

    @pytest.mark.parametrize(("marker", "verdict"), [(105.0, "used"), (111.0, "near_full"), (114.0, "near_full")])
    def test_the_last_part_is_not_expected_with_a_hydraulic_stop(self, marker: float, verdict: str) -> None:
        """10 mm long in 120 mm; near full begins 4 % (common practice, no published source) before it."""
        job = ridden(with_stops("front", hydraulic_mm=10.0), front_marker_mm=marker)
        run = judged(job).run
        assert run is not None
        assert run.front.verdict == verdict
        assert run.front.in_hydraulic_mm.value == pytest.approx(max(0.0, marker - 110.0))

    def test_the_finding_says_how_far_it_went_into_what_it_met_last(self) -> None:
        job = with_stops("front", touches_mm=100.0, hydraulic_mm=10.0)
        a = judged(ridden(job, front_marker_mm=116.0))
        said = [sentence(one) for one in a.findings if one.where == ("runs", 0, "front_marker_mm")]
        assert any("6.0 mm into the hydraulic stop" in one for one in said)


class TestDrawing:
    def test_it_shows_where_each_begins(self) -> None:
        job = with_stops("front", touches_mm=100.0, rate_n_per_mm=40.0, hydraulic_mm=10.0)
        a = judged(job)
        text = "\n".join(line.plain for line in travel_lines(on_travel(job, a, "front"), "front", METRIC, 40, 24))
        assert "rubber 100" in text
        assert "hydraulic 110" in text
        curve = predicted_curve(job, a, "front", 60)
        assert curve is not None
        assert {("rubber", 100.0), ("hydraulic", 110.0)} <= {*curve.marks}

    def test_at_the_wheel_the_shaft_is_followed_through_the_linkage(self) -> None:
        job = with_stops("rear", touches_mm=48.0, rate_n_per_mm=100.0)
        curve = predicted_curve(job, judged(job), "rear", 60)
        assert curve is not None
        at = dict(curve.marks)["rubber"]
        assert at == pytest.approx(48.0 / 0.4)
        session = Session(job, PROFILES)
        for end, says in (("rear", True), ("front", False)):
            lines = [line.plain for line in picture_lines(session, end, 60, 20, plain=True)]  # type: ignore[arg-type]
            assert any(line.startswith("0 ") and line.endswith(" mm at the wheel") for line in lines) == says

    def test_the_prediction_says_where_each_begins_beside_the_end_of_the_travel(self) -> None:
        job = put(with_stops("front", touches_mm=100.0, hydraulic_mm=10.0), rear__stops=Stops(hydraulic_mm=8.0))
        lines = [line.plain.split() for line in predicted_lines(judged(job), METRIC, 48, job)]
        at = lines.index(["STOPS,", "mm", "rubber", "hydr.", "full"])
        assert lines[at + 1 : at + 3] == [
            ["Fork", "100.0", "110.0", "120.0"],
            ["Shock", "shaft", "–", "52.0", "60.0"],
        ]
        assert "STOPS" not in " ".join(line.plain for line in predicted_lines(judged(MACHINE), METRIC, 48, MACHINE))

    def test_each_letter_of_the_force_curve_is_explained_within_the_room_there_is(self) -> None:
        beside = SecondSpring(arranged="side_by_side", rate_n_per_mm=25.0, gap_mm=30.0)
        job = put(with_stops("rear", touches_mm=48.0, hydraulic_mm=8.0), rear__spring__second=beside)
        for width, height in ((28, 15), (40, 15)):
            lines = [line.plain for line in picture_lines(Session(job, PROFILES), "rear", width, height, plain=True)]
            assert len(lines) <= height
            for words in ("C change-over", "B rubber", "H hydraulic"):
                assert len([line for line in lines if words in line]) == 1
            assert all(len(line) <= width for line in lines)

    def test_no_figure_beside_the_drawing_is_cut_short(self) -> None:
        """In a window of 120 columns the drawing has 26; what has no room there ends with a mark."""
        beside = SecondSpring(arranged="side_by_side", rate_n_per_mm=25.0, gap_mm=30.4)
        job = put(with_stops("rear", touches_mm=48.5, hydraulic_mm=8.5), rear__spring__second=beside)
        a = judged(job)
        on = on_travel(job, a, "rear")
        [changes] = on.changes_mm
        text = "\n".join(line.plain.rstrip() for line in travel_lines(on, "rear", METRIC, 26, 30))
        assert f"C changes {changes:.1f}" in text
        assert "hydraulic 51.5" in text
        narrow = [line.plain.rstrip() for line in travel_lines(on, "rear", METRIC, 20, 30)]
        assert any(line.endswith("…") for line in narrow)
        assert not any(line.endswith("hydraulic 5") for line in narrow)
