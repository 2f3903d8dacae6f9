"""Every code has its words, they fit a terminal, and no text of a file gets through them unharmed."""

from __future__ import annotations

import ast
import re
import unicodedata
from collections.abc import Iterator, Mapping
from pathlib import Path as File
from typing import cast, get_args

import pytest
from hypothesis import HealthCheck, given, settings

import stanchion
from judgement_jobs import FULL, PROFILES, assert_sound, codes, found, judged, put
from stanchion.job.edit import spec_at
from stanchion.job.model import Job, Path, SagEnd, Spring
from stanchion.job.spec import Choice, Kind, Many, Part, Rows, specs_of
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.cautions import CAUTIONS
from stanchion.judgement.results.codes import Advice, Caution, FindingCode, PreloadVerdict, SagVerdictNow
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.results.left_out import Hint, LeftOut
from stanchion.judgement.results.parts import JudgedPart
from stanchion.judgement.results.problems import Problem
from stanchion.units.known_units import Units
from stanchion.wording import phrases
from stanchion.wording.advice_sentences import ADVICE
from stanchion.wording.caution_sentences import CAUTIONS as CAUTION_WORDS
from stanchion.wording.finding_tables import Words
from stanchion.wording.finding_words import (
    FINDINGS,
    NOT_JUDGED,
    VARIANTS,
    caution,
    choice_word,
    field_label,
    headline,
    label,
    part_label,
    reason,
    sentence,
    work_asked_for,
)
from stanchion.wording.prediction_sentences import HINTS, OMITTED
from stanchion.wording.reasons import PROBLEMS
from stanchion.wording.verdicts import PRELOAD_VERDICTS, SAG_VERDICTS
from strategies import jobs

LONGEST_SENTENCE = 160


def leaves(kind: type = Job, path: Path = ()) -> Iterator[Path]:
    for name, spec in specs_of(kind).items():
        at = (*path, name)
        if isinstance(spec, Part):
            yield from leaves(spec.type, at)
        elif isinstance(spec, Rows):
            yield from leaves(spec.type, (*at, 0))
        elif isinstance(spec, Many):
            yield (*at, 0)
        else:
            yield at


def words_in_source(called: str) -> set[str]:
    """First arguments of every call of that name in the source, where they are plain text."""
    found_there = set()
    for file in File(stanchion.__file__).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == called:
                for argument in node.args[:2]:
                    found_there |= {
                        n.value for n in ast.walk(argument) if isinstance(n, ast.Constant) and isinstance(n.value, str)
                    }
    return found_there


def test_every_field_of_a_job_has_a_label_that_fits_its_column() -> None:
    for path in leaves():
        text = field_label(path)
        name = [step for step in path if isinstance(step, str)][-1]
        assert text, path
        assert text != name.replace("_", " ").capitalize() or name in PLAIN_NAMES, f"{path} has no label of its own"
        assert len(text) <= 22, path
        assert label(path).endswith(text[1:]), path


PLAIN_NAMES = {
    "front_tyre",
    "rear_tyre",
    "machine",
    "rider",
    "venue",
    "date",
    "session",
    "notes",
    "carried_from",
    "spring_fitted",
    "oil",
    "motion_ratio",
    "free_length_mm",
    "dampers_split",
}


def test_labels_name_the_part_and_the_field() -> None:
    assert label(("front", "left", "spring", "free_length_mm")) == "Fork, left: free length"
    assert label(("front", "left", "spring", "set_length_in_mm")) == "Fork, left: set length, fully in"
    assert label(("sag", "rear", "hanging_mm", 0)) == "Rear sag: L1, wheel hanging"
    assert label(("rear", "linkage", 2, "wheel_mm")) == "Shock: wheel travel of a pair"
    assert part_label(("front", "right", "adjuster", "now")) == "Fork, right"


def test_every_choice_has_a_word() -> None:
    for path in leaves():
        spec = spec_at(path)
        if isinstance(spec, Choice):
            assert all(choice_word(path, option) for option in spec.options)
    assert choice_word(("front", "dampers_split"), True) == "yes"


def test_every_code_that_can_be_found_has_words() -> None:
    emitted = words_in_source("Finding") | words_in_source("_finding")
    known = set(FINDINGS)
    assert len(emitted & known) > 40  # the search does find them
    assert {"compression_differs", "rebound_differs"} <= known  # put together from the damper's name
    others = {"set_length_at", "top_out", "carried_from", "_differs"}
    assert {word for word in emitted if "_" in word and not word.endswith("_mm")} - known <= others
    assert {code.partition(".")[0] for code in VARIANTS} <= known


@pytest.mark.parametrize(
    ("codes", "table"),
    [
        (FindingCode, FINDINGS),
        (Advice, ADVICE),
        (PreloadVerdict, PRELOAD_VERDICTS),
        (SagVerdictNow, SAG_VERDICTS),
        (Problem, PROBLEMS),
        (Caution, CAUTION_WORDS),
        (JudgedPart, NOT_JUDGED),
        (LeftOut, OMITTED),
        (Hint, HINTS),
    ],
)
def test_a_table_has_words_for_every_code_and_no_others(codes: object, table: Mapping[str, object]) -> None:
    assert set(table) == literals(codes)
    assert all(words or not code for code, words in table.items())


def literals(codes: object) -> set[str]:
    """Every value of a literal, or of a union of them."""
    return {value for part in get_args(codes) for value in ([part] if isinstance(part, str) else literals(part))}


def test_every_problem_and_caution_has_words() -> None:
    problems = words_in_source("absent") - {""}
    assert problems <= set(PROBLEMS)
    assert set(CAUTIONS) == set(CAUTION_WORDS)
    assert all(len(caution(code)) <= 150 for code in CAUTIONS)


def test_headlines_are_short_and_without_numbers() -> None:
    for words in (*FINDINGS.values(), *VARIANTS.values()):
        assert isinstance(words, Words)
        text = words.headline
        assert 0 < len(text) <= 40, text
        assert not any(character.isdigit() for character in text.replace("L1", "")), text


def test_words_of_our_own_are_filled_in_whole_and_not_cut_as_text_of_a_file_is() -> None:
    for words in (*FINDINGS.values(), *VARIANTS.values()):
        assert isinstance(words, Words)
        assert set(re.findall(r"_text:(\w+)}", words.sentence)) <= {"words"}, words.sentence
    values = {"rider_mm": 0.0, "static_mm": 0.0, "bar": 2.5, "now_bar": 6.0, "static_stays_out": True}
    text = sentence(Finding("air_release", Severity.WARNING, ("front",), values))
    assert "Static sag stays out of target: the balance chamber sets that." in text


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(jobs())
def test_any_job_is_judged_and_every_finding_put_into_safe_words(job: Job) -> None:
    assessment = assess(job, PROFILES, previous=FULL)
    assert not assessment.faults
    assert list(assessment.findings) == sorted(assessment.findings, key=lambda finding: -finding.severity)
    assert_sound(assessment)
    for units in (Units(), Units(lengths="in", rates="lb/in")):
        for finding in assessment.findings:
            text = sentence(finding, units)
            assert not [c for c in text if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Co", "Cn")]
            assert headline(finding)
    assert all(caution(code) for code in assessment.cautions)


def test_sentences_of_ordinary_jobs_fit_two_lines_of_a_terminal() -> None:
    for change in (
        {"front__left__spring__set_length_mm": 244.0},
        {"front__left__spring__set_length_mm": 233.0},
        {"front__left__spring__set_length_mm": 252.0},
        {"front__left__spring__set_length_in_mm": 240.0},
        {"front__left__spring__rate_n_per_mm": 0.95},
        {"front__left__spring__free_length_mm": 240.0},
        {"front__left__adjuster__now": 20.0},
        {"rear__spring__set_length_mm": 178.0},
        {"rear__motion_ratio": None},
        {"job__use": "motocross of old"},
    ):
        for finding in judged(put(FULL, **change), previous=FULL).findings:
            assert len(sentence(finding)) <= LONGEST_SENTENCE, sentence(finding)


def test_a_sentence_says_what_where_and_what_to_do_in_the_units_shown() -> None:
    unread = put(FULL, front__left__spring__set_length_mm=234.0, sag__front=SagEnd())
    finding = found(judged(unread), "preload_over_limit")
    assert sentence(finding) == (
        "Fork, both legs: installed preload 16.0 mm is over the limit of 15 mm. Recheck the lengths; if they are "
        "right, change the spring."
    )
    assert "0.630 in" in sentence(finding, Units(lengths="in"))


def test_what_an_advice_asks_for_is_told_apart_from_the_sags() -> None:
    values = {"preload_mm": 2.5, "spacer_change_mm": 3.5, "new_rate_n_per_mm": 9.25, "pressure_bar": 7.5}
    shown = {"preload_mm": "2.5", "spacer_change_mm": "3.5", "new_rate_n_per_mm": "9.25", "pressure_bar": "7.5"}
    asked = 0
    for code, words in ADVICE.items():
        text = cast("Words", words).sentence
        names = [name for name in values if f"{{{name}:" in text]
        more = {"rider_mm": 47.25, "static_mm": 22.75, "turned_way": "in", **values}
        work = work_asked_for(Finding(cast("FindingCode", code), Severity.WARNING, ("sag", "front"), more))
        assert all(shown[name] in work for name in names), code
        assert "sag 47" not in work, code
        asked += bool(names)
    assert asked > 15


def test_hostile_text_of_a_file_is_shown_as_text() -> None:
    for text in ("[/red]x[@click=app.quit]", "\x1b[31mred", "{where:label}", "\u202egnp.exe"):
        assessment = judged(put(FULL, job__use=text[:30], job__carried_from=text))
        for code in ("unknown_use", "previous_absent"):
            shown = sentence(found(assessment, code))
            assert "\x1b" not in shown
            assert "\u202e" not in shown
    assert "{where:label}" in sentence(found(judged(put(FULL, job__use="{where:label}")), "unknown_use"))


def test_a_reason_names_what_a_figure_waits_for() -> None:
    job = put(FULL, front__left__spring__set_length_in_mm=None)
    assert reason(judged(job).front.left.adjuster_range_mm) == "needs set length fully in"
    assert reason(judged(FULL).front.left.adjuster_range_mm) == ""
    empty = judged(Job())
    assert reason(empty.sag.front.static.sag_mm) == "needs L1 wheel hanging, static pushed down and static lifted up"


def test_the_parts_of_an_unsplit_fork_are_called_both_legs() -> None:
    finding = Finding("adjuster_fully_in", Severity.WARNING, ("front", "left"), {"both_legs": True})
    assert sentence(finding).startswith("Fork, both legs: ")
    assert "Fork, both legs: spring rate" in sentence(
        found(judged(put(FULL, front__left__spring__rate_n_per_mm=0.95)), "implausible")
    )


def test_nothing_but_advice_and_notes_is_found_in_a_well_set_machine() -> None:
    assert codes(judged(FULL)) == ["pair_suits", "pair_suits"]


def test_of_many_readings_missing_three_are_named_and_the_rest_counted() -> None:
    needs = tuple(("front", "left", "spring", name) for name in specs_of(Spring))[:5]
    sentences = sentence(Finding("missing", Severity.NOTE, ("front", "left"), {"needs": needs}))
    assert sentences.endswith("; and 2 more.")
    assert sentences.count(";") == 3
    assert "more" not in sentence(Finding("missing", Severity.NOTE, ("front", "left"), {"needs": needs[:4]}))


def test_every_place_of_a_sentence_is_of_a_kind_that_can_be_shown() -> None:
    """A kind that was dropped would only show itself where a machine brings up that sentence."""
    measured = {kind.value for kind in Kind}
    alone, spans = {"", "label", "counted", "mixed", *phrases._SHOWN}, {"band", "numbers", "mixed"} | measured
    tables = cast(list[Mapping[str, Words]], [FINDINGS, ADVICE, VARIANTS])
    for name, words in (item for table in tables for item in table.items()):
        for joined, kind in re.findall(r"\{\w+(?:([-~])\w+)?(?::(\w+))?\}", words.sentence):
            allowed = spans if joined == "~" else measured if joined else alone
            assert kind in allowed, (name, kind)
