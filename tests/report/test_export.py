"""Everything out again: jobs and runs as CSV that any spreadsheet takes."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings

from complete_job import complete_job
from judgement_jobs import judged, put
from stanchion.job.change import RiddenChange
from stanchion.job.edit import dotted, value_at
from stanchion.job.model import Clicker, Complaint, Job, Occasion, Run, TopOut, Torque, Upkeep
from stanchion.job.spec import Part, Rows, specs_of
from stanchion.report.export import FORMULA_STARTS, export_csv, export_runs_csv
from strategies import jobs, numbers_of


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def exported(job: Job) -> dict[str, str]:
    (row,) = rows(export_csv([("a.toml", job, judged(job))]))
    return row


def ridden() -> Job:
    """A job with two runs, the shock's rebound closed by two clicks between them."""
    job = complete_job()
    job = replace(job, front=replace(job.front, top_out=TopOut(fitted="no")))
    before = replace(job.rear, rebound=Clicker(now=14.0, total=24.0))
    first = Run(time="10:40", best_lap_s=98.4, front_marker_mm=110.0, said="-pushes wide;\nthen not", rear=before)
    complaints = (Complaint(where="exit", what="squats"), Complaint(where="bumps", what="kicks"))
    first = replace(first, complaints=complaints)
    return replace(job, runs=(replace(first, front=job.front), Run(time="11:20", front=job.front, rear=job.rear)))


class TestJobs:
    def test_settings_stand_under_their_keys_and_figures_under_derived(self) -> None:
        job = complete_job()
        row, a = exported(job), judged(job)
        assert row["file"] == "a.toml"
        assert row["job.date"] == "2026-05-16"
        assert float(row["front.left.spring.rate_n_per_mm"]) == 9.5
        assert row["rear.high_speed_compression.now"] == "2"
        assert row["rear.high_speed_compression.unit"] == "turns"
        assert float(row["derived.front.left.installed_preload_mm"]) == 12
        assert row["derived.front.left.verdict"] == "in"
        assert float(row["derived.rear.headroom_in_turns"]) == 8
        for end in ("front", "rear"):
            for state in ("static", "rider"):
                captured, predicted = a.sag.end(end).state(state).sag_mm, a.predicted.sag(end, state)
                assert float(row[f"derived.sag.{end}.{state}.sag_mm"]) == pytest.approx(captured.value, abs=1e-9)
                assert float(row[f"derived.predicted.{end}.{state}.sag_mm"]) == pytest.approx(predicted.value, abs=1e-9)
        assert float(row["derived.geometry.trail_mm"]) == pytest.approx(a.geometry.trail_mm.value, abs=1e-9)
        assert row["derived.worst"] == "warning"

    def test_every_number_of_a_job_comes_out_as_it_went_in(self) -> None:
        job = complete_job()
        row = exported(job)
        for path, _ in numbers_of():
            value = value_at(job, path)
            if dotted(path) in row and isinstance(value, float):
                assert float(row[dotted(path)]) == pytest.approx(value, abs=1e-9)

    def test_measured_pairs_and_repeated_readings_stand_in_one_cell(self) -> None:
        row = exported(complete_job(points=3))
        assert row["rear.linkage.wheel_mm"] == "40;80;120"
        assert len(row["rear.linkage.shock_mm"].split(";")) == 3
        assert ";" in row["front.left.spring.coils.tester.force_n"]

    def test_texts_in_a_list_cannot_be_taken_for_two(self) -> None:
        job = replace(Job(), upkeep=Upkeep(torques=(Torque(what="a;b", torque_nm=24.0), Torque(what="c", done=True))))
        row = exported(job)
        assert row["upkeep.torques.what"] == "a,b;c"
        assert row["upkeep.torques.torque_nm"] == "24;"
        assert row["upkeep.torques.done"] == "no;yes"

    def test_a_unit_ends_the_name_of_every_column_that_has_one(self) -> None:
        head = export_csv([]).rstrip("\r\n").split(",")
        lengths = [name for name in head if "length" in name.rsplit(".", 1)[-1] and not name.endswith("_at")]
        assert lengths
        assert all(re.search(r"_(mm|n_per_mm|kg|bar|ml|deg|c|pct|n|nm|turns|s)$", name) for name in lengths)

    def test_what_is_not_known_is_an_empty_cell_and_not_zero(self) -> None:
        row = exported(Job())
        assert {row[name] for name in row if name.endswith(("_mm", "_n", "_kg", "_turns"))} == {""}

    def test_the_columns_are_the_same_for_no_job_an_empty_one_and_a_full_one(self) -> None:
        heads = {
            export_csv([(str(n), job, judged(job)) for n, job in enumerate(some)]).split("\r\n")[0]
            for some in ([], [Job()], [complete_job()])
        }
        assert len(heads) == 1

    def test_no_column_stands_twice(self) -> None:
        for text in (export_csv([]), export_runs_csv([])):
            head = text.rstrip("\r\n").split(",")
            assert len(head) == len(set(head))

    def test_an_unsplit_fork_shows_its_legs_alike(self) -> None:
        job = put(Job(), front__left__air_gap_mm=110.0)
        row = exported(job)
        assert row["front.left.air_gap_mm"] == row["front.right.air_gap_mm"] == "110"


class TestForm:
    def test_lines_end_with_cr_lf_and_the_last_one_too(self) -> None:
        # RFC 4180, section 2, rules 1 and 2.
        text = export_csv([("a.toml", Job(), judged(Job()))])
        assert text.count("\r\n") == 2
        assert text.endswith("\r\n")
        assert "\n" not in text.replace("\r\n", "")

    def test_commas_and_quotes_are_quoted(self) -> None:
        # RFC 4180, section 2, rules 6 and 7.
        job = Job(job=replace(Occasion(), notes='a "b", c\nd'))
        text = export_csv([("a.toml", job, judged(job))])
        assert '"a ""b"", c / d"' in text
        assert exported(job)["job.notes"] == 'a "b", c / d'

    @pytest.mark.parametrize("start", [*FORMULA_STARTS, " =", "\t=", "\r=", "\u00a0@"])
    def test_text_is_never_taken_for_a_formula(self, start: str) -> None:
        row = exported(Job(job=replace(Occasion(), machine=f'{start}HYPERLINK("http://a","b")')))
        assert row["job.machine"].startswith("'") or not row["job.machine"].lstrip().startswith(FORMULA_STARTS)
        assert "HYPERLINK" in row["job.machine"]

    def test_a_file_name_is_never_taken_for_a_formula(self) -> None:
        (row,) = rows(export_csv([("=1+1.toml", Job(), judged(Job()))]))
        assert row["file"] == "'=1+1.toml"

    def test_a_number_below_zero_stays_a_number(self) -> None:
        assert exported(put(Job(), front__fork_height_mm=-3.5))["front.fork_height_mm"] == "-3.5"

    @settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
    @given(job=jobs())
    def test_whatever_a_job_holds_the_table_holds_and_steers_nobody(self, job: Job) -> None:
        for text in (export_csv([("a.toml", job, judged(job))]), export_runs_csv([("a.toml", job, judged(job))])):
            table = list(csv.reader(io.StringIO(text, newline=""), strict=True))
            assert len({len(line) for line in table}) == 1
            for cell in (cell for line in table[1:] for cell in line):
                assert not [c for c in cell if ord(c) < 32 or 127 <= ord(c) < 160]
                numeric = re.fullmatch(r"-?\d+(\.\d+)?", cell)
                assert numeric or not cell.lstrip().startswith(FORMULA_STARTS)


class TestRuns:
    def test_a_row_a_run_with_what_was_recorded_and_travel_used(self) -> None:
        job = ridden()
        first, second = rows(export_runs_csv([("a.toml", job, judged(job))]))
        assert (first["run"], first["runs.time"], first["job.machine"]) == ("1", "10:40", "Lantern 600 (invented)")
        assert float(first["runs.best_lap_s"]) == 98.4
        assert (first["derived.front_used_mm"], first["derived.front_available_mm"]) == ("110", "118")
        assert first["runs.said"] == "'-pushes wide; / then not"
        assert (first["runs.complaints.where"], first["runs.complaints.what"]) == ("exit;bumps", "squats;kicks")
        assert second["derived.front_used_mm"] == ""

    def test_settings_are_those_that_were_ridden_and_changes_are_in_words(self) -> None:
        job = ridden()
        first, second = rows(export_runs_csv([("a.toml", job, judged(job))]))
        assert (first["rear.rebound.now"], second["rear.rebound.now"]) == ("14", "12")
        assert first["derived.changed"] == ""
        assert "rebound 2 clicks in" in second["derived.changed"]

    def test_everything_recorded_of_a_run_has_a_column(self) -> None:
        head = export_runs_csv([]).rstrip("\r\n").split(",")
        fields = [name for name, spec in specs_of(Run).items() if not isinstance(spec, Part | Rows)]
        assert {f"runs.{name}" for name in (*fields, "complaints.where", "complaints.what")} <= set(head)

    def test_jobs_without_runs_give_no_row(self) -> None:
        job = replace(complete_job(), runs=())
        assert rows(export_runs_csv([("a.toml", job, judged(job))])) == []


def test_a_run_with_and_one_without_a_change_to_judge_are_both_exported() -> None:
    change = RiddenChange(complaints=(Complaint(where="exit", what="squats"),))
    job = replace(complete_job(), runs=(Run(time="9:00"), Run(time="9:40", change=change)))
    first, second = rows(export_runs_csv([("a.toml", job, judged(job))]))
    assert (first["runs.change.complaints.what"], second["runs.change.complaints.what"]) == ("", "squats")
