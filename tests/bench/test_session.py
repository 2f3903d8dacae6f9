"""One open job without a screen: typing, drafts, undo, choices."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stanchion.base.errors import BadEdit
from stanchion.bench.edit_session import DEPTH
from stanchion.bench.session import Session
from stanchion.job.edit import Edit
from stanchion.job.ends import Adjuster, Clicker
from stanchion.job.model import Job, Occasion, Path, Readings, Torque, Upkeep
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles, load_profiles
from stanchion.judgement.results.assessment import Assessment
from stanchion.units.known_units import Units
from stanchion.units.times import read_day

FREE: Path = ("front", "left", "spring", "free_length_mm")
DOWN: Path = ("sag", "front", "static", "down_mm")
PROFILES = load_profiles()


def session(**more: object) -> Session:
    return Session(Job(job=Occasion(date=dt.date(2026, 5, 31))), PROFILES, **more)  # type: ignore[arg-type]


def test_what_is_typed_is_an_edit_and_is_assessed_at_once() -> None:
    bench = session()
    for path, text in ((FREE, "250"), ((*FREE[:3], "set_length_mm"), "238")):
        bench.type(path, text)
    assert bench.assessment.front.left.installed_preload_mm.value == pytest.approx(12)


def test_gearing_entered_over_another_makes_a_ratio_stale_that_was_measured_before_either() -> None:
    """Fork and shock are entered first and the chain after them: the ratio was measured with the chain that was on."""
    bench = session()
    teeth, ratio = ("upkeep", "rear_teeth"), ("rear", "motion_ratio")

    def enter(path: tuple[str, ...], *texts: str) -> list[str]:
        for text in texts:
            bench.type(path, text)
        bench.leave(path)
        return [finding.code for finding in bench.assessment.findings]

    enter(ratio, "0.5")
    assert "motion_ratio_stale" not in enter(teeth, "4", "43")
    assert "motion_ratio_stale" in enter(teeth, "4", "45")
    assert bench.job.upkeep.ratio_with.rear_teeth == 43
    assert "motion_ratio_stale" not in enter(teeth, "4", "43")
    assert "motion_ratio_stale" in enter(teeth, "4", "45")
    assert "motion_ratio_stale" not in enter(ratio, "0.5", "0.51")


def test_sag_read_before_preload_was_turned_gives_no_advice_on_springs_any_more() -> None:
    """Advice to add so many turns is followed once: those turned, the sag of before must not ask for them again."""
    bench = session()
    leg = ("front", "left")
    readings: list[tuple[Path, str]] = [(("sag", "front", "hanging_mm", 0), "600")]
    for state, down, up in (("static", "570", "574"), ("rider", "559", "563")):
        readings += [(("sag", "front", state, "down_mm", 0), down), (("sag", "front", state, "up_mm", 0), up)]
    setup = (("rate_n_per_mm", "9.5"), ("free_length_mm", "250"), ("set_length_mm", "238"), ("set_length_in_mm", "230"))
    typed: list[tuple[Path, str]] = [((*leg, "spring", name), text) for name, text in setup]
    typed += [((*leg, "adjuster", "total_turns"), "8"), ((*leg, "adjuster", "now"), "2"), *readings]
    for path, text in typed:
        bench.type(path, text)
        bench.leave(path)

    def advice(now: str) -> str:
        bench.type((*leg, "adjuster", "now"), now)
        bench.leave((*leg, "adjuster", "now"))
        found = bench.assessment.sag.front.advice
        assert found is not None
        assert found in bench.assessment.findings
        return found.code

    assert bench.job.sag.front.rider.preload_at == (2.0, 2.0)
    assert advice("2") == "add_preload"
    assert advice("7") == "measure_again_changed"
    assert advice("2") == "add_preload"
    assert advice("7") == "measure_again_changed"
    for path, text in readings[1:]:  # measured again
        bench.type(path, text)
        bench.leave(path)
    assert bench.job.sag.front.rider.preload_at == (7.0, 7.0)
    assert advice("7") != "measure_again_changed"


def test_text_that_cannot_be_read_is_kept_and_the_job_keeps_the_last_good_value() -> None:
    bench = session()
    bench.type(FREE, "250")
    bench.leave(FREE)
    bench.type(FREE, "250x")
    assert bench.text_of(FREE) == "250x"
    assert bench.drafts[FREE].reason
    assert bench.job.front.left.spring.free_length_mm == 250
    bench.leave(FREE)
    assert bench.text_of(FREE) == "250x"
    bench.type(FREE, "251")
    assert FREE not in bench.drafts


def test_undo_first_drops_the_text_that_was_typed_last_and_cannot_be_read_wherever_it_is() -> None:
    bench = session()
    bench.type(FREE, "250")
    bench.leave(FREE)
    bench.type(FREE, "2x")
    bench.leave(FREE)
    assert bench.undo(("front", "travel_mm"))
    assert FREE not in bench.drafts
    assert bench.job.front.left.spring.free_length_mm == 250
    assert bench.redo()
    assert bench.drafts[FREE].text == "2x"
    bench.type(("front", "travel_mm"), "120")
    assert bench.undo(("front", "travel_mm"))  # the last that was done
    assert bench.job.front.travel_mm is None
    assert FREE in bench.drafts


def test_what_a_text_began_with_was_no_value_once_the_text_cannot_be_read() -> None:
    bench = session()
    bench.type(FREE, "250")
    bench.leave(FREE)
    for text in ("1", "12", "12.", "12.5", "12.5."):
        bench.type(FREE, text)
    assert bench.job.front.left.spring.free_length_mm == 250
    bench.type(FREE, "12.5")
    assert bench.job.front.left.spring.free_length_mm == 12.5
    assert bench.undo()
    assert bench.job.front.left.spring.free_length_mm == 250


def test_a_reading_that_is_emptied_can_be_shown_and_goes_when_the_field_is_left() -> None:
    bench = session()
    bench.type((*DOWN, 0), "121")
    bench.leave((*DOWN, 0))
    bench.type((*DOWN, 0), "")
    assert bench.text_of((*DOWN, 0)) == ""
    bench.leave((*DOWN, 0))
    assert bench.job.sag.front.static.down_mm == ()


def test_counting_an_adjuster_another_way_empties_the_positions_that_would_mean_something_else() -> None:
    bench = session()
    adjuster: Path = ("front", "left", "adjuster")
    bench.type((*adjuster, "now"), "5")
    bench.leave((*adjuster, "now"))
    bench.type((*adjuster, "base"), "4")
    bench.leave((*adjuster, "base"))
    bench.nudge((*adjuster, "counting"), 1)
    changed = bench.job.front.left.adjuster
    assert (changed.counting, changed.now, changed.base) == ("clicks", None, None)
    assert bench.undo()
    again = bench.job.front.left.adjuster
    assert (again.counting, again.now, again.base) == ("turns", 5, 4)


def test_a_position_steps_by_a_click_or_a_quarter_of_a_turn() -> None:
    bench = session()
    for part, unit, by in (
        (("rear", "rebound"), "clicks", 1.0),
        (("rear", "rebound"), "turns", 0.25),
        (("rear", "collar"), "turns", 0.25),
        (("rear", "collar"), "clicks", 1.0),
    ):
        bench.put((*part, "unit" if part[1] == "rebound" else "counting"), unit)
        bench.put((*part, "now"), 3.0)
        bench.nudge((*part, "now"), 1)
        assert bench.value((*part, "now")) == 3.0 + by, (part, unit)


def test_a_position_steps_no_further_than_the_end_of_its_adjuster() -> None:
    bench = session()
    bench.put(("rear", "collar"), Adjuster(counting="turns", total_turns=8.1))
    bench.put(("rear", "rebound"), Clicker(total=20))
    for at, by, begun, ended in (
        (("rear", "collar", "now"), 1, 8.0, 8.1),
        (("rear", "collar", "now"), -1, 0.25, 0.0),
        (("rear", "collar", "now"), 1, 9.0, 9.0),
        (("rear", "rebound", "now"), 1, 20.0, 20.0),
        (("rear", "rebound", "now"), -1, 0.0, 0.0),
    ):
        bench.put(at, begun)
        for _ in range(2):
            assert bench.nudge(at, by)
            assert bench.value(at) == ended, (at, by)
    bench.put(("rear", "collar"), Adjuster(counting="rings", reading_out=9, reading_in=2))
    bench.put(("rear", "collar", "now"), 2.0)
    assert bench.nudge(("rear", "collar", "now"), -1)
    assert bench.value(("rear", "collar", "now")) == 2.0


def test_undo_leads_back_so_many_steps_and_no_more_are_kept() -> None:
    bench = session()
    for at in range(DEPTH + 20):
        assert not bench.put(FREE, 100.0 + at % 7)
        bench.replace(replace(bench.job, job=replace(bench.job.job, notes=f"state {at}")), save=False)
    steps = 0
    while bench.undo():
        steps += 1
    assert steps == DEPTH


def test_all_keys_of_one_visit_are_one_step_of_undo() -> None:
    bench = session()
    for text in ("2", "25", "250"):
        bench.type(FREE, text)
    bench.leave(FREE)
    for text in ("2", "26", "260"):
        bench.type(FREE, text)
    assert bench.undo()
    assert bench.job.front.left.spring.free_length_mm == 250
    assert bench.undo()
    assert bench.job.front.left.spring.free_length_mm is None
    assert not bench.undo()
    assert bench.redo()
    assert bench.redo()
    assert bench.job.front.left.spring.free_length_mm == 260


def test_a_reading_being_retyped_does_not_let_the_later_ones_move_up() -> None:
    bench = session()
    for at, text in enumerate(("121", "122", "123")):
        bench.type((*DOWN, at), text)
    bench.type((*DOWN, 0), "")
    assert bench.job.sag.front.static.down_mm == (121, 122, 123)
    bench.type((*DOWN, 0), "120")
    assert bench.job.sag.front.static.down_mm == (120, 122, 123)
    bench.type((*DOWN, 1), "")
    bench.leave((*DOWN, 1))
    assert bench.job.sag.front.static.down_mm == (120, 123)


def test_every_accepted_edit_is_handed_over_to_be_saved_and_no_other() -> None:
    bench = session()
    saved: list[Job] = []
    bench.on_edit = saved.append
    bench.type(FREE, "250")
    bench.leave(FREE)
    bench.type(FREE, "250?")
    bench.type(FREE, "250")
    bench.undo()
    assert [job.front.left.spring.free_length_mm for job in saved] == [250, None]


def test_a_job_open_read_only_takes_no_edit_and_says_so() -> None:
    bench = session(read_only=True)
    before = bench.job
    bench.type(FREE, "250")
    assert bench.job == before
    assert "read-only" in bench.drafts[FREE].reason
    assert not bench.nudge(FREE, 1)
    assert not bench.undo()


def test_a_choice_steps_round_and_a_flag_turns_over() -> None:
    bench = session()
    path: Path = ("front", "left", "adjuster", "counting")
    seen = []
    for _ in range(6):
        seen.append(bench.job.front.left.adjuster.counting)
        bench.nudge(path, 1)
    assert seen == ["turns", "clicks", "rings", "mm", "none", "turns"]
    bench.nudge(("front", "dampers_split"), 1)
    assert bench.job.front.dampers_split


def test_the_profile_is_chosen_among_those_to_hand_the_users_own_included() -> None:
    own = load_profiles(b'[sprint]\nbased_on = "track"\nlabel = "Sprint"\n')
    bench = Session(Job(), own)
    assert "sprint" in bench.options(("job", "use"))
    while bench.job.job.use != "sprint":
        assert bench.nudge(("job", "use"), 1)
    assert not any(finding.code == "unknown_use" for finding in bench.assessment.findings)


def test_splitting_the_legs_starts_the_right_one_as_the_left() -> None:
    bench = session()
    bench.type(FREE, "250")
    assert not bench.split_legs()
    assert bench.job.front.right == bench.job.front.left
    assert not bench.split_legs()
    assert bench.job.front.right is None


def test_bare_numbers_are_read_in_the_unit_shown() -> None:
    bench = session(units=Units(lengths="in"))
    bench.type(FREE, "9 7/8")
    assert bench.job.front.left.spring.free_length_mm == pytest.approx(250.825)


@pytest.mark.parametrize(
    ("text", "day"), [("2026-5-9", (2026, 5, 9)), ("9.5.2026", (2026, 5, 9)), ("31/12/2026", (2026, 12, 31))]
)
def test_days_are_read_year_first_or_day_first(text: str, day: tuple[int, int, int]) -> None:
    assert read_day(text) == dt.date(*day)


@pytest.mark.parametrize("text", ["", "30.2.2026", "2026-13-01", "tomorrow", "５.5.2026", "2026-05-31T10:00"])
def test_what_is_no_day_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(BadEdit, match=r"2026-05-31|no day"):
        read_day(text)


@given(st.lists(st.tuples(st.sampled_from([FREE, (*DOWN, 0), ("job", "machine")]), st.text(max_size=12)), max_size=12))
def test_whatever_is_typed_nothing_raises_and_undo_leads_all_the_way_back(keys: list[tuple[Path, str]]) -> None:
    bench = session()
    start = bench.job
    for path, text in keys:
        bench.type(path, text)
        bench.leave(path)
    while bench.undo():
        pass
    assert bench.job == start


def test_a_row_taken_away_takes_what_was_typed_in_it_along_and_the_later_ones_move_up() -> None:
    rows = tuple(Torque(what=what) for what in ("one", "two", "three"))
    bench = Session(Job(upkeep=Upkeep(torques=rows)), PROFILES)
    path: Path = ("upkeep", "torques")
    for at in range(3):
        bench.type((*path, at, "torque_nm"), f"{at} x")
    assert not bench.remove_row(path, 1)
    assert [torque.what for torque in bench.job.upkeep.torques] == ["one", "three"]
    assert {at[2]: draft.text for at, draft in bench.drafts.items()} == {0: "0 x", 1: "2 x"}
    assert bench.remove_row(path, 2)
    bench.undo()
    assert len(bench.job.upkeep.torques) == 3


def test_a_field_that_is_typed_is_not_stepped_and_a_refusal_to_step_is_said() -> None:
    bench = session()
    assert not bench.nudge(("job", "machine"), 1)
    assert bench.drafts == {}
    locked = session(read_only=True)
    for path in (FREE, ("front", "left", "adjuster", "counting"), ("front", "left", "spring_fitted")):
        assert not locked.nudge(path, 1)
        assert "cannot be changed" in locked.drafts[path].reason
    assert "read-only" in locked.put_all([Edit(FREE, 250.0)])
    assert "read-only" in locked.put(FREE, 250.0)
    assert "read-only" in locked.split_legs()
    assert "read-only" in locked.bring_back(Job())
    assert "read-only" in locked.correct()
    assert locked.job == session().job


def test_legs_entered_as_one_again_forget_what_could_not_be_read_in_the_right_one() -> None:
    bench = session()
    bench.split_legs()
    bench.type(("front", "right", "spring", "free_length_mm"), "25x")
    bench.type(FREE, "24x")
    bench.split_legs()
    assert list(bench.drafts) == [FREE]


def test_text_of_a_field_that_another_version_had_is_given_back_as_lost() -> None:
    bench = session()
    lost = bench.recall({("front", "left", "colour"): "blue", FREE: "25x", ("runs", 7, "laps"): "many", FREE[:2]: "x"})
    assert set(lost) >= {"blue", "x"}
    assert bench.drafts[FREE].text == "25x"


def test_several_edits_that_change_nothing_are_no_step() -> None:
    bench = session()
    assert not bench.put_all([Edit(FREE, None)])
    assert not bench.undo()


def test_a_job_is_judged_when_that_is_asked_for_and_once(monkeypatch: pytest.MonkeyPatch) -> None:
    judged: list[Job] = []

    def judging(job: Job, profiles: Profiles, previous: Job | None = None) -> Assessment:
        judged.append(job)
        return assess(job, profiles, previous)

    monkeypatch.setattr("stanchion.bench.session.assess", judging)
    bench = session()
    for text in ("2", "25", "250"):
        bench.type(FREE, text)
    assert judged == []
    assert bench.assessment == bench.assessment == assess(bench.job, bench.profiles, bench.previous)
    assert judged == [bench.job]
    bench.undo()
    assert bench.assessment.front.left.installed_preload_mm.needs
    assert len(judged) == 2


def test_swapping_readings_is_one_step_of_undo_and_says_why_it_cannot_be_done() -> None:
    bench = session()
    static = ("sag", "front", "static")
    bench.put_all([Edit((*static, "down_mm"), (132.0, 131.5)), Edit((*static, "up_mm"), (127.0,))])
    mixed_up = bench.job
    assert bench.swap_readings((*static, "up_mm", 0)) == ""
    assert bench.job.sag.front.static == Readings(down_mm=(127.0,), up_mm=(132.0, 131.5))
    bench.undo()
    assert bench.job == mixed_up
    assert "Go to a pushed-down or lifted-up" in bench.swap_readings(("sag", "front", "hanging_mm", 0))
    assert "no readings here" in bench.swap_readings(("sag", "rear", "rider", "down_mm", 0))
    assert bench.job == mixed_up
