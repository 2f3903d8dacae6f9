"""Preload of one spring: figures from whatever was read, and the band they are judged by."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from judgement_jobs import FULL, LEG, codes, found, judged, put
from stanchion.job.model import Adjuster, Coils, Job, Sag, Spring
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.ends.preload import no_spring
from stanchion.judgement.results.assessment import PreloadFigures
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.findings import Severity
from stanchion.wording.finding_words import sentence

UNREAD = put(FULL, sag=Sag())


def leg_with(adjuster: Adjuster, spring: Spring = LEG.spring) -> Job:
    return put(FULL, front__left=replace(LEG, adjuster=adjuster, spring=spring))


def left(job: Job) -> PreloadFigures:
    return judged(job).front.left


def test_set_lengths_give_installed_preload_range_and_what_is_left() -> None:
    # Common practice, no published source: free 250, set 238 out and 230 in give 12, 8 and 20 mm.
    figures = left(FULL)
    assert figures.installed_preload_mm.value == 12.0
    assert figures.adjuster_range_mm.value == 8.0
    assert figures.greatest_preload_mm.value == 20.0
    assert figures.mm_per_turn.value == 0.5
    assert figures.preload_now_mm.value == 14.0
    assert figures.preload_force_n.value == 133.0
    assert (figures.headroom_out_mm.value, figures.headroom_in_mm.value) == (2.0, 6.0)
    assert (figures.headroom_out_turns.value, figures.headroom_in_turns.value) == (4.0, 12.0)
    assert figures.stack_mm.value == 105.0


def test_a_set_length_read_at_another_position_is_taken_back_to_fully_out() -> None:
    spring = replace(LEG.spring, set_length_mm=236.0, set_length_at=4.0)
    figures = left(leg_with(LEG.adjuster, spring))
    assert figures.adjuster_range_mm.value == 8.0
    assert figures.installed_preload_mm.value == 12.0


def test_thread_pitch_gives_what_a_second_set_length_would() -> None:
    spring = replace(LEG.spring, set_length_in_mm=None)
    figures = left(leg_with(Adjuster(total_turns=16.0, pitch_mm=0.5, now=4.0), spring))
    assert figures.adjuster_range_mm.value == 8.0
    assert figures.preload_now_mm.value == 14.0


def test_a_position_that_no_adjuster_reaches_gives_no_headroom() -> None:
    """236 turns: the set length typed once too often. No preload adjuster counts more than 40 (common practice)."""
    for turns, known in ((8.0, True), (40.0, True), (236.0, False)):
        job = put(FULL, front__left__adjuster=Adjuster(now=turns))
        figures = judged(job).front.left
        assert figures.headroom_out_turns.known is known
        assert figures.preload_now_mm.known is False
    assert figures.headroom_out_turns.problem == "adjuster_reading_unlikely"
    assert "implausible" in codes(judged(job))
    counted = put(FULL, front__left__adjuster=Adjuster(total_turns=12.0, now=236.0))
    assert "adjuster_beyond_range" in codes(judged(counted))


def test_turns_and_pitch_give_preload_now_before_the_total_was_counted() -> None:
    spring = replace(LEG.spring, set_length_in_mm=None)
    figures = left(leg_with(Adjuster(pitch_mm=0.5, now=4.0), spring))
    assert figures.preload_now_mm.value == 14.0
    assert figures.headroom_out_turns.value == 4.0
    assert figures.headroom_in_mm.value is None


@pytest.mark.parametrize("counting", ["rings", "mm"])
def test_more_showing_is_less_preload(counting: str) -> None:
    figures = left(leg_with(Adjuster(counting=counting, reading_out=8.0, reading_in=0.0, now=6.0, total_turns=16.0)))
    assert figures.preload_now_mm.value == 14.0
    assert figures.headroom_in_turns.value == 12.0


def test_mm_showing_give_the_range_where_set_lengths_do_not() -> None:
    spring = replace(LEG.spring, set_length_in_mm=None)
    figures = left(leg_with(Adjuster(counting="mm", reading_out=10.0, reading_in=2.0, now=8.0), spring))
    assert figures.adjuster_range_mm.value == 8.0
    assert figures.preload_now_mm.value == 14.0
    partly = left(leg_with(Adjuster(counting="mm", reading_out=10.0, now=8.0), spring))
    assert partly.preload_now_mm.value == 14.0  # 2 mm fewer showing than fully out


@pytest.mark.parametrize("counting", ["rings", "mm"])
def test_turns_left_follow_from_the_pitch_where_they_were_not_counted(counting: str) -> None:
    # 8 mm of range, 6 of 8 showing: 2 mm towards out and 6 towards in, at 0.5 mm a turn 4 and 12 turns (by hand)
    adjuster = Adjuster(counting=counting, reading_out=8.0, reading_in=0.0, now=6.0, pitch_mm=0.5)
    figures = left(leg_with(adjuster))
    assert (figures.headroom_out_turns.value, figures.headroom_in_turns.value) == (4.0, 12.0)
    without = left(leg_with(replace(adjuster, pitch_mm=None)))
    assert not without.headroom_in_turns.known
    partly = left(leg_with(replace(adjuster, reading_in=None), replace(LEG.spring, set_length_in_mm=None)))
    if counting == "mm":
        assert partly.headroom_out_turns.value == 4.0
    assert not partly.headroom_in_turns.known


@pytest.mark.parametrize("counting", ["rings", "mm"])
@pytest.mark.parametrize(("pitch", "disagrees"), [(0.5, False), (0.54, False), (0.7, True), (0.3, True)])
def test_a_pitch_that_contradicts_the_range_is_warned_about_however_it_is_counted(
    counting: str, pitch: float, disagrees: bool
) -> None:
    # 8 mm over 16 turns is 0.5 mm a turn; a tenth off is let pass (common practice, no published source)
    adjuster = Adjuster(counting=counting, reading_out=8.0, reading_in=0.0, now=6.0, total_turns=16.0, pitch_mm=pitch)
    code = "pitch_and_range_disagree" if counting == "mm" else "pitch_disagrees"
    assert (code in codes(judged(leg_with(adjuster)))) is disagrees
    if disagrees and counting == "mm":
        finding = found(judged(leg_with(adjuster)), code)
        assert finding.severity is Severity.WARNING
        assert f"range is 8.0 mm as read in mm, {16.0 * pitch:.1f} mm by thread and turns" in sentence(finding)


def test_so_is_the_pitch_of_a_collar_read_in_mm() -> None:
    collar = Adjuster(counting="mm", reading_out=40.0, reading_in=25.0, now=37.0, total_turns=10.0, pitch_mm=1.5)
    assert "pitch_and_range_disagree" not in codes(judged(put(FULL, rear__collar=collar)))
    coarse = put(FULL, rear__collar=replace(collar, pitch_mm=2.0))
    assert found(judged(coarse), "pitch_and_range_disagree").where == ("rear", "collar", "pitch_mm")
    # one turn is range over turns; the pitch counts where only that is known
    assert judged(coarse).rear.spring.mm_per_turn.value == 1.5
    assert judged(put(coarse, rear__collar__total_turns=None)).rear.spring.mm_per_turn.value == 2.0
    assert judged(put(coarse, rear__collar__total_turns=None)).rear.spring.headroom_in_turns.value == 6.0  # 12 / 2


def test_without_an_adjuster_preload_now_is_installed_preload_and_nothing_is_left() -> None:
    assessment = judged(leg_with(Adjuster(counting="none", now=3.0)))
    figures = assessment.front.left
    assert figures.preload_now_mm.value == figures.installed_preload_mm.value == 12.0
    assert figures.headroom_in_mm.value == figures.headroom_out_turns.value == 0.0
    assert figures.mm_per_turn.problem == "no_adjuster"
    assert not [code for code in codes(assessment) if code.startswith("adjuster_")]


def test_a_figure_waits_for_the_very_readings_that_would_give_it() -> None:
    figures = left(put(FULL, front__left__adjuster__now=None, front__left__spring__rate_n_per_mm=None))
    assert figures.preload_now_mm.needs == (("front", "left", "adjuster", "now"),)
    assert ("front", "left", "spring", "rate_n_per_mm") in figures.preload_force_n.needs
    assert figures.installed_preload_mm.value == 12.0


@given(st.floats(0, 16), st.floats(220, 238))
def test_headroom_out_and_in_make_up_the_range(now: float, set_in: float) -> None:
    spring = replace(LEG.spring, set_length_in_mm=set_in)
    figures = left(leg_with(Adjuster(total_turns=16.0, now=now), spring))
    out_mm, in_mm, range_mm = (
        f.value for f in (figures.headroom_out_mm, figures.headroom_in_mm, figures.adjuster_range_mm)
    )
    assert out_mm is not None
    assert in_mm is not None
    assert out_mm + in_mm == pytest.approx(range_mm)
    assert figures.headroom_out_turns.value == pytest.approx(now)


# --- the band, common practice, no published source ---------------------------------------------------------------


@pytest.mark.parametrize(
    ("installed", "use", "verdict", "code", "severity"),
    [
        (-1.0, "track", "loose", "spring_loose", Severity.FAULT),
        (0.0, "track", "loose", "spring_loose", Severity.FAULT),
        (7.0, "track", "low", "preload_low", Severity.WARNING),
        (7.9, "track", "borderline", "preload_borderline", Severity.NOTE),
        (8.0, "track", "in", None, None),
        (13.9, "road", "in", None, None),
        (14.0, "track", "near_limit", "preload_near_limit", Severity.NOTE),
        (15.0, "track", "near_limit", "preload_near_limit", Severity.NOTE),
        (15.1, "track", "borderline", "preload_borderline", Severity.NOTE),
        (15.7, "track", "borderline", "preload_borderline", Severity.NOTE),
        (15.9, "track", "over_limit", "preload_over_limit", Severity.FAULT),
        (2.1, "off-road", "low", "preload_low", Severity.WARNING),
        (12.1, "off-road", "borderline", "preload_borderline", Severity.NOTE),
        (12.9, "off-road", "high", "preload_high", Severity.WARNING),
    ],
)
def test_low_high_over_limit_loose_and_borderline_are_different_messages(
    installed: float, use: str, verdict: str, code: str | None, severity: Severity | None
) -> None:
    """Two lengths by a tape in mm: 1.96 sqrt(2/12) = 0.80 mm (JCGM 100:2008, 4.3.7 and 5.1.2)."""
    job = put(
        FULL,
        job__use=use,
        front__left__spring__set_length_mm=250.0 - installed,
        front__left__spring__set_length_in_mm=None,
    )
    assessment = judged(job)
    assert assessment.front.left.verdict == verdict
    about = [f for f in assessment.findings if f.code.startswith(("preload_", "spring_")) and f.where[0] == "front"]
    assert [(f.code, f.severity) for f in about] == ([] if code is None else [(code, severity)])


def test_an_exact_limit_is_not_missed_by_rounding() -> None:
    job = put(FULL, front__left__spring__free_length_mm=250.1, front__left__spring__set_length_mm=235.1)
    assert judged(job).front.left.verdict == "near_limit"  # 250.1 - 235.1 is a hair above 15 in binary


@pytest.mark.parametrize(
    ("installed", "code", "severity"),
    [
        (-3.5, "spring_loose", Severity.FAULT),  # 3 mm of it taken up where the collar stands
        (-0.5, "spring_may_come_loose", Severity.WARNING),
        (2.5, "loose_fully_out", Severity.WARNING),
        (5.0, "preload_low", Severity.WARNING),
        (19.0, "preload_high", Severity.WARNING),
    ],
)
def test_a_shock_spring_under_3_mm_can_come_loose(installed: float, code: str, severity: Severity) -> None:
    finding = found(judged(put(FULL, rear__spring__set_length_mm=180.0 - installed)), code)
    assert (finding.severity, finding.where) == (severity, ("rear",))


@pytest.mark.parametrize(
    ("installed", "code", "says"),
    [
        (2.5, "spring_may_come_loose", "keep the collar 0.5 mm in from fully out"),
        (5.0, "preload_low", "keep the collar 3.0 mm in from fully out"),
        (19.0, "preload_high", "shorter or stiffer spring"),
    ],
)
def test_a_shock_out_of_band_with_the_collar_out_is_not_told_to_turn_what_is_not_left(
    installed: float, code: str, says: str
) -> None:
    job = put(UNREAD, rear__spring__set_length_mm=180.0 - installed, rear__collar__now=0.0)
    said = sentence(found(judged(job), code))
    assert says in said
    assert "collar out" not in said
    assert "urn the collar" not in said


def test_a_collar_that_cannot_make_up_for_a_short_spring_is_not_named() -> None:
    short = put(UNREAD, rear__spring__set_length_mm=175.0)
    assert "collar" in sentence(found(judged(short), "preload_low"))
    few = put(short, rear__collar__total_turns=1.0, rear__collar__now=0.5, rear__collar__pitch_mm=1.0)
    assert "collar" not in sentence(found(judged(few), "preload_low"))


@pytest.mark.parametrize(("installed", "says"), [(14.0, "14.0 mm is close to the limit"), (15.0, "15.0 mm is at the")])
def test_preload_at_its_limit_is_not_said_to_be_close_to_it(installed: float, says: str) -> None:
    """15 mm is the limit at the front: common practice, no published source."""
    near = leg_with(LEG.adjuster, replace(LEG.spring, set_length_mm=250.0 - installed, set_length_in_mm=None))
    assert says in sentence(found(judged(near), "preload_near_limit"))


class TestACollarWhoseEndsNobodyCounted:
    """Free 180, set 168 where it stands: 12 mm, in the band of 8 to 18 (common practice, no published source)."""

    JOB = put(UNREAD, rear__collar=Adjuster(pitch_mm=1.5, now=6.0), rear__spring__set_length_at=6.0)

    def test_preload_as_it_stands_is_what_the_band_judges(self) -> None:
        figures = judged(self.JOB).rear.spring
        assert (figures.installed_preload_mm.value, figures.preload_now_mm.value) == (12.0, 12.0)
        assert (figures.verdict, figures.as_it_stands) == ("in", True)
        turned = judged(put(self.JOB, rear__collar__now=11.0))  # 7.5 mm further in
        assert turned.rear.spring.installed_preload_mm.value == 19.5
        assert "preload with the collar as it is now, 19.5 mm, is above" in sentence(found(turned, "preload_high"))
        out = judged(put(self.JOB, rear__collar__now=2.0))
        assert "preload with the collar as it is now, 6.0 mm, is below" in sentence(found(out, "preload_low"))
        loose = judged(put(self.JOB, rear__spring__set_length_mm=181.0))
        assert "with the collar as it is now" in sentence(found(loose, "spring_loose"))

    def test_read_and_set_at_one_place_it_needs_neither_pitch_nor_ends(self) -> None:
        for collar in (Adjuster(now=6.0), Adjuster(counting="mm", now=6.0)):
            figures = judged(put(self.JOB, rear__collar=collar)).rear.spring
            assert (figures.preload_now_mm.value, figures.verdict) == (12.0, "in")

    def test_what_is_left_goes_to_the_ends_of_the_band(self) -> None:
        figures = judged(self.JOB).rear.spring
        assert (figures.headroom_out_mm.value, figures.headroom_in_mm.value) == (4.0, 6.0)
        assert figures.headroom_out_turns.value == pytest.approx(4.0 / 1.5)
        assert figures.headroom_in_turns.value == pytest.approx(4.0)

    def test_or_to_coil_bind(self) -> None:
        # 180 free, 100 solid, 62 of stroke and 3 mm to spare leave 15 mm of preload.
        job = put(self.JOB, rear__spring__coils=Coils(solid_length_mm=100.0), rear__stroke_mm=62.0)
        assert judged(job).rear.spring.headroom_in_mm.value == pytest.approx(3.0)

    def test_one_whose_turns_were_counted_goes_from_fully_out(self) -> None:
        figures = judged(put(self.JOB, rear__collar__total_turns=10.0)).rear.spring
        assert not figures.as_it_stands
        assert (figures.installed_preload_mm.value, figures.headroom_out_mm.value) == (3.0, 9.0)


def test_a_spring_loose_only_where_the_collar_never_stands_is_not_loose() -> None:
    assessment = judged(put(FULL, rear__spring__set_length_mm=182.0, rear__collar__now=6.0))
    assert assessment.rear.spring.verdict == "low"
    said = sentence(found(assessment, "loose_fully_out"))
    assert ", now 7.0 mm)" in said  # 9 mm in, less the 2 mm that are missing
    assert "Keep the collar at least 5.0 mm in" in said


# --- the adjuster and its readings --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("now", "code", "severity"),
    [
        (16.0, "adjuster_fully_in", Severity.WARNING),
        (0.0, "adjuster_fully_out", Severity.WARNING),
        (15.5, "adjuster_nearly_in", Severity.NOTE),
        (0.5, "adjuster_nearly_out", Severity.NOTE),
        (17.0, "adjuster_beyond_range", Severity.FAULT),
    ],
)
def test_an_adjuster_at_or_near_its_end_is_said(now: float, code: str, severity: Severity) -> None:
    finding = found(judged(put(FULL, front__left__adjuster__now=now)), code)
    assert (finding.severity, finding.where) == (severity, ("front", "left", "adjuster", "now"))


@pytest.mark.parametrize(("set_mm", "spacer"), [(239.0, True), (235.0, False), (230.0, False)])
def test_fully_in_no_longer_spacer_is_named_where_installed_preload_leaves_no_room_for_it(
    set_mm: float, spacer: bool
) -> None:
    """Installed preload of 11, 15 and 20 mm against a limit of 15 mm."""
    job = put(UNREAD, front__left__spring__set_length_mm=set_mm, front__left__spring__set_length_in_mm=set_mm - 4.0)
    said = sentence(found(judged(put(job, front__left__adjuster__now=16.0)), "adjuster_fully_in"))
    assert ("spacer" in said) is spacer
    assert "stiffer spring" in said


def test_an_adjuster_beyond_its_range_gives_no_preload_now() -> None:
    figures = left(put(FULL, front__left__adjuster__now=17.0))
    assert figures.preload_now_mm.problem == "adjuster_beyond_range"
    assert figures.installed_preload_mm.value == 12.0


def test_fully_in_longer_than_fully_out_is_a_fault_and_gives_no_range() -> None:
    assessment = judged(put(FULL, front__left__spring__set_length_in_mm=240.0))
    assert found(assessment, "set_lengths_order").severity is Severity.FAULT
    assert assessment.front.left.adjuster_range_mm.problem == "set_lengths_order"
    assert assessment.front.left.installed_preload_mm.value == 12.0


def test_a_set_length_longer_than_the_spring_means_a_loose_spring() -> None:
    job = put(FULL, front__left__spring__set_length_mm=252.0, front__left__adjuster__now=0.5)
    assert found(judged(job), "spring_loose").severity is Severity.FAULT
    unknown = replace(LEG.spring, set_length_mm=252.0, set_length_in_mm=None, set_length_at=3.0)
    assert "set_longer_than_free" in codes(judged(leg_with(Adjuster(), unknown)))


def test_a_pitch_that_disagrees_with_the_set_lengths_by_more_than_a_tenth_is_a_warning() -> None:
    assert "pitch_disagrees" not in codes(judged(put(FULL, front__left__adjuster__pitch_mm=0.55)))
    assert found(judged(put(FULL, front__left__adjuster__pitch_mm=0.6)), "pitch_disagrees").severity is Severity.WARNING


def test_readings_that_show_more_fully_in_are_asked_about_in_a_fork_only() -> None:
    turned = Adjuster(counting="rings", reading_out=0.0, reading_in=8.0, now=2.0)
    assert "adjuster_readings_order" in codes(judged(leg_with(turned)))
    assert "adjuster_readings_order" not in codes(judged(put(FULL, rear__collar=turned)))
    assert "adjuster_ends_equal" in codes(judged(leg_with(replace(turned, reading_in=0.0))))


def test_a_set_length_read_beyond_the_adjuster_s_range_is_a_fault() -> None:
    finding = found(judged(put(FULL, front__left__spring__set_length_at=20.0)), "set_length_at_beyond_range")
    assert finding.severity is Severity.FAULT


def test_turns_of_a_collar_whose_range_was_not_counted_start_anywhere() -> None:
    job = put(FULL, rear__collar=Adjuster(pitch_mm=1.5, now=0.0))
    assert "adjuster_fully_out" not in codes(judged(job))
    assert judged(job).rear.spring.preload_now_mm.value == 12.0


@pytest.mark.parametrize(
    ("adjuster", "least", "most"),
    [
        (Adjuster(total_turns=16.0, now=17.0), 0.0, 16.0),
        (Adjuster(counting="rings", reading_out=8.0, reading_in=1.0, now=9.0), 1.0, 8.0),
        (Adjuster(counting="mm", reading_out=10.0, reading_in=2.0, now=1.0), 2.0, 10.0),
    ],
)
def test_a_reading_beyond_its_range_is_told_with_both_ends_of_it(adjuster: Adjuster, least: float, most: float) -> None:
    finding = found(judged(leg_with(adjuster)), "adjuster_beyond_range")
    assert (finding.values["reading"], finding.values["least"], finding.values["most"]) == (adjuster.now, least, most)


def test_a_leg_without_a_spring_has_no_figure_of_one_but_its_stack_and_its_band() -> None:
    stack, band = Figure(105.0), PreloadBand(low=8, high=15, limit=18)
    figures = no_spring(band, stack)
    assert figures.stack_mm is stack
    assert figures.band == (band.low, band.high)
    assert no_spring(None, stack).band is None
    of_a_spring = (
        *("installed_preload_mm", "adjuster_range_mm", "mm_per_turn", "preload_now_mm", "greatest_preload_mm"),
        *("preload_force_n", "headroom_out_mm", "headroom_in_mm", "headroom_out_turns", "headroom_in_turns"),
    )
    assert {getattr(figures, name).problem for name in of_a_spring} == {"no_spring"}
    assert not figures.has_spring


def test_both_set_lengths_read_fully_in_leave_the_range_open_and_are_noted_where_the_thread_does_not_tell() -> None:
    spring = replace(LEG.spring, set_length_at=16.0)
    assessment = judged(leg_with(LEG.adjuster, spring))
    finding = found(assessment, "set_length_read_fully_in")
    assert finding.severity is Severity.NOTE
    assert finding.where == ("front", "left", "spring", "set_length_at")
    assert assessment.front.left.adjuster_range_mm.problem == "set_length_read_fully_in"
    by_thread = judged(leg_with(replace(LEG.adjuster, pitch_mm=0.5), spring))
    assert "set_length_read_fully_in" not in codes(by_thread)
    assert by_thread.front.left.adjuster_range_mm.value == 8.0


def test_set_lengths_the_wrong_way_round_are_told_with_both_of_them_and_for_both_legs() -> None:
    finding = found(judged(leg_with(LEG.adjuster, replace(LEG.spring, set_length_in_mm=240.0))), "set_lengths_order")
    assert finding.where == ("front", "left", "spring", "set_length_in_mm")
    assert finding.values == {"set_mm": 238.0, "set_in_mm": 240.0, "both_legs": True}


def test_a_figure_names_the_length_it_waits_for() -> None:
    figures = left(leg_with(LEG.adjuster, replace(LEG.spring, free_length_mm=None, set_length_mm=None)))
    needed = {("front", "left", "spring", name) for name in ("free_length_mm", "set_length_mm")}
    assert set(figures.installed_preload_mm.needs) == needed


def test_the_band_that_a_leg_is_judged_by_stands_beside_its_figures() -> None:
    # Common practice, no published source: 8 to 15 mm at the front.
    assert left(FULL).band == (8.0, 15.0)
    assert judged(put(FULL, job__use="track")).rear.spring.band is not None


@pytest.mark.parametrize(
    ("installed", "code", "values"),
    [
        # Common practice, no published source: 8 to 15 mm at the front, 15 mm being the limit too.
        (-2.5, "spring_loose", {"preload_mm": -2.5, "now_mm": -0.5}),
        (1.0, "preload_low", {"preload_mm": 1.0, "low_mm": 8.0, "high_mm": 15.0, "change_mm": 7.0, "keep_in_mm": 7.0}),
        (
            14.0,
            "preload_near_limit",
            {"preload_mm": 14.0, "low_mm": 8.0, "high_mm": 15.0, "limit_mm": 15.0, "nearness": "close"},
        ),
        (17.0, "preload_over_limit", {"preload_mm": 17.0, "low_mm": 8.0, "high_mm": 15.0, "limit_mm": 15.0}),
    ],
)
def test_preload_out_of_its_band_is_told_with_what_there_is_and_what_should_be(
    installed: float, code: str, values: dict[str, float]
) -> None:
    out = 250.0 - installed
    spring = replace(LEG.spring, set_length_mm=out, set_length_in_mm=out - 8.0)
    job = put(leg_with(LEG.adjuster, spring), sag=Sag())
    assert found(judged(job), code).values == {**values, "both_legs": True}


@pytest.mark.parametrize(
    ("installed", "code", "values"),
    [
        # Common practice, no published source: 8 to 18 mm on the shock, loose at full extension below 3 mm.
        (2.0, "loose_fully_out", {"loose_below_mm": 3.0, "keep_in_mm": 1.0, "preload_mm": 2.0, "now_mm": 5.0}),
        (-1.0, "spring_may_come_loose", {"loose_below_mm": 3.0, "keep_in_mm": 4.0, "preload_mm": -1.0}),
        (20.0, "preload_high", {"preload_mm": 20.0, "change_mm": 2.0}),
    ],
)
def test_preload_of_a_shock_is_told_by_its_own_band(installed: float, code: str, values: dict[str, float]) -> None:
    spring = replace(FULL.rear.spring, set_length_mm=180.0 - installed)
    values_found = found(judged(put(UNREAD, rear__spring=spring)), code).values
    assert values_found == {**values, "low_mm": 8.0, "high_mm": 18.0}


def test_three_millimetres_are_not_loose_and_the_ends_of_a_band_are_in_it() -> None:
    for installed, code in ((3.0, "preload_low"), (8.0, None), (18.0, None)):
        spring = replace(FULL.rear.spring, set_length_mm=180.0 - installed)
        codes_found = [
            one for one in codes(judged(put(FULL, rear__spring=spring))) if one.startswith(("preload_", "spring_"))
        ]
        assert codes_found == ([] if code is None else [code])


NOW = ("front", "left", "adjuster", "now")
READING_IN = ("front", "left", "adjuster", "reading_in")


@pytest.mark.parametrize(
    ("adjuster", "code", "where", "values"),
    [
        (Adjuster(total_turns=16.0, now=16.0), "adjuster_fully_in", NOW, {}),
        (Adjuster(total_turns=16.0, now=0.0), "adjuster_fully_out", NOW, {}),
        (Adjuster(total_turns=16.0, now=15.5), "adjuster_nearly_in", NOW, {"turns": 0.5}),
        (Adjuster(total_turns=16.0, now=0.5), "adjuster_nearly_out", NOW, {"turns": 0.5}),
        (Adjuster(total_turns=16.0, now=15.0), None, NOW, {}),
        (Adjuster(total_turns=16.0, now=1.0), None, NOW, {}),
        (
            Adjuster(counting="rings", reading_out=5.0, reading_in=5.0, now=5.0),
            "adjuster_ends_equal",
            READING_IN,
            {"reading": 5.0},
        ),
        (
            Adjuster(counting="rings", reading_out=1.0, reading_in=8.0, now=5.0),
            "adjuster_readings_order",
            READING_IN,
            {"out": 1.0, "fully_in": 8.0},
        ),
        (
            # by hand: 16 turns of 1 mm are 16 mm where the set lengths give 238 - 230 = 8
            Adjuster(total_turns=16.0, now=4.0, pitch_mm=1.0),
            "pitch_disagrees",
            ("front", "left", "adjuster", "pitch_mm"),
            {"lengths_mm": 8.0, "thread_mm": 16.0},
        ),
        (
            # by hand: from 14 to 2 mm showing are 12 mm where the set lengths give 8
            Adjuster(counting="mm", reading_out=14.0, reading_in=2.0, now=8.0),
            "range_disagrees",
            ("front", "left", "adjuster", "reading_out"),
            {"lengths_mm": 8.0, "thread_mm": 12.0},
        ),
    ],
)
def test_what_is_said_of_an_adjuster_comes_with_its_place_and_its_readings(
    adjuster: Adjuster, code: str | None, where: tuple[str, ...], values: dict[str, float]
) -> None:
    said = [
        finding
        for finding in judged(put(leg_with(adjuster), sag=Sag())).findings
        if finding.code.startswith(("adjuster_", "pitch_", "range_")) and finding.where[:3] == where[:3]
    ]
    listed = [(finding.code, finding.where, finding.values) for finding in said]
    assert listed == ([] if code is None else [(code, where, {**values, "both_legs": True})])


def test_a_set_length_above_the_free_length_or_read_beyond_the_adjuster_is_told_with_both() -> None:
    longer = replace(LEG.spring, set_length_mm=251.0, set_length_in_mm=None, set_length_at=4.0)
    finding = found(judged(leg_with(Adjuster(), longer)), "set_longer_than_free")
    assert finding.where == ("front", "left", "spring", "set_length_mm")
    assert finding.values == {"set_mm": 251.0, "free_mm": 250.0, "both_legs": True}
    beyond = found(
        judged(leg_with(LEG.adjuster, replace(LEG.spring, set_length_at=17.0))), "set_length_at_beyond_range"
    )
    assert beyond.where == ("front", "left", "spring", "set_length_at")
    assert beyond.values == {"reading": 17.0, "least": 0.0, "most": 16.0, "both_legs": True}


def test_thread_read_in_mm_has_its_range_by_pitch_and_turns_where_the_ends_were_not_read() -> None:
    """1.5 mm a turn over 10 turns (by hand)."""
    collar = judged(put(FULL, rear__collar__counting="mm", rear__collar__now=None)).rear.spring
    assert collar.adjuster_range_mm.value == 15.0
