"""American words: one table, applied to every sentence of the program, and to nothing that a person typed."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path as File

import pytest

import stanchion
from stanchion.wording.american import (
    AMERICAN,
    BRITISH,
    choose_wording,
    in_american,
    in_british,
    worded,
)

SOURCE = File(stanchion.__file__).parent

OUTLETS = {
    "wording/safety_sentences.py": "phrases.fill, finding_words.sentence and headline",
    "wording/advice_sentences.py": "phrases.fill, finding_words.sentence and headline",
    "wording/advice_phrases.py": "phrases.fill, finding_words.sentence and headline",
    "wording/advice_variants.py": "phrases.fill, finding_words.sentence and headline",
    "wording/advice_values.py": "phrases.fill, finding_words.sentence",
    "wording/balance_sentences.py": "weight_lines, brakes_notes",
    "wording/damping_sentences.py": "damping_notes",
    "wording/gas_sentences.py": "gas_lines, gas_notes, do_words",
    "wording/drive_sentences.py": "phrases.fill",
    "wording/why_words.py": "why_words.term_words",
    "wording/caution_sentences.py": "finding_words.caution, condensed",
    "wording/travel_left_sentences.py": "left_lines, way_words",
    "wording/try_sentences.py": "reading_words, hand_words, change_name, hindrance_words, why_words",
    "wording/lesson_sentences.py": "exercise.progress_words, LessonScreen, LessonList",
    "wording/glossary.py": "help_search.fitted",
    "wording/bench_guide_sentences.py": "guided_measuring.guide_step",
    "wording/sag_guide_sentences.py": "guided_measuring.guide_step",
    "wording/guide_sentences.py": "guided_measuring.guide_step",
    "wording/found_sentences.py": "guided_measuring.guide_step; found_round",
    "wording/fork_sentences.py": "phrases.fill",
    "wording/chassis_labels.py": "labels.field_label",
    "wording/points_labels.py": "labels.field_label",
    "wording/linkage_words.py": "do_words",
    "wording/end_labels.py": "labels.field_label",
    "wording/occasion_labels.py": "labels.field_label",
    "wording/run_labels.py": "labels.field_label",
    "wording/labels.py": "field_label, the labels of a form",
    "wording/lift_sentences.py": "phrases.fill, finding_words.headline",
    "wording/prediction_sentences.py": "phrases.fill, finding_words.sentence",
    "wording/preload_sentences.py": "phrases.fill",
    "wording/reasons.py": "finding_words.reason",
    "wording/run_sentences.py": "phrases.fill",
    "wording/upkeep_sentences.py": "phrases.fill, chain_and_tyres",
    "wording/work_sentences.py": "phrases.fill, item_words; its headings by report/work_list and the screen",
    "wording/wires.py": "field_line",
    "ui/help_text.py": "help_search.fitted",
    "ui/help_jobs.py": "help_search.fitted",
    "ui/help_planning.py": "help_search.fitted",
    "ui/help_damping.py": "help_search.fitted",
    "ui/help_linkage.py": "help_search.fitted",
    "ui/help_setup.py": "help_search.fitted",
    "ui/help_reference.py": "help_search.fitted",
    "ui/keys.py": "help_rows, name_rows, elsewhere, the commands after Esc, the foot of a screen",
    "wording/figure_names.py": "balance_lines and balance_sentences",
    "wording/figure_titles.py": "figure_title",
    "wording/swingarm_guide_sentences.py": "guide_step",
    "ui/balance_form.py": "the labels and headings of a form",
    "ui/run_form.py": "the labels and headings of a form",
    "ui/few_colours.py": "commands/terminal_look",
    "ui/screens/upkeep.py": "program.ask in action_measured_again",
    "ui/screens/worklist.py": "program.say in _choose",
    "report/sheet.py": "sheet_text and sheet_html",
    "report/runs.py": "upkeep_rows",
}
"""Modules with sentences in a table or a name, and what puts those into the words chosen."""
NOT_READ = {
    "wording/american.py": "the table itself",
    "mechanics/geometry.py": "a refusal that judging turns into a reason of its own",
    "mechanics/mass_centre.py": "refusals that judging turns into reasons of its own",
    "mechanics/steady.py": "as mass_centre",
    "mechanics/anti_squat.py": "as mass_centre",
    "mechanics/chain.py": "as mass_centre",
    "mechanics/swingarm.py": "as mass_centre",
    "mechanics/on_the_gas.py": "as mass_centre",
    "judgement/track/drive.py": "names of values",
    "judgement/predict/balance.py": "as mass_centre",
    "judgement/criteria/cautions.py": "names of cautions",
    "judgement/criteria/riders_words.py": "names of values",
    "planning/complaint_readings.py": "names of values",
    "judgement/ends/outside.py": "names of values",
    "judgement/results/codes.py": "names of cautions",
    "judgement/track/upkeep.py": "names of values",
    "judgement/work/work.py": "names of items and cautions",
    "judgement/work/work_items.py": "names of items",
    "ui/core.py": "the name of a class in the stylesheets",
    "ui/screens/job_screen.py": "the name of a caution",
}
"""Modules in which these words are names that nobody reads."""
PROGRAM = re.compile(r"\bstanchion\b(?! (outside|inside|tube|down|or shock)|'s)", re.IGNORECASE)
"""The program's own name, which no wording changes; in these places it is the part of a fork."""


@pytest.fixture(autouse=True)
def british_again() -> Iterator[None]:
    """The wording holds for the whole program: as it was, for the tests that follow."""
    before = "us" if worded("tyre") == "tire" else "british"
    yield
    choose_wording(before)


def in_british_words(source: str) -> Iterator[tuple[int, str]]:
    """Texts with a British word of the table that are no docstring and are not put into the words chosen there."""
    tree = ast.parse(source)
    apart = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "worded":
            apart |= {id(inner) for inner in ast.walk(node)}
    for node in ast.walk(tree):
        if not isinstance(node, ast.Constant) or not isinstance(node.value, str) or id(node) in apart:
            continue
        if BRITISH.search(PROGRAM.sub("", node.value)):
            yield node.lineno, node.value


def test_every_sentence_with_a_british_word_is_put_into_the_words_chosen() -> None:
    left = {
        file: found
        for path in sorted(SOURCE.rglob("*.py"))
        if (file := str(path.relative_to(SOURCE))) not in OUTLETS | NOT_READ
        and (found := list(in_british_words(path.read_text("utf-8"))))
    }
    assert not left, "wrap them in worded(), or add the module to OUTLETS with what does"
    assert list(in_british_words('A = "a tyre"\nB = worded("a tyre")\n')) == [(1, "a tyre")]


@pytest.mark.parametrize("british", AMERICAN)
def test_whole_words_in_every_case_and_number(british: str) -> None:
    american = AMERICAN[british]
    assert in_american(british) == american
    assert in_american(british.upper()) == american.upper()
    assert in_american(f"The {british}.") == f"The {american}."
    assert in_american(british.capitalize()) == american.capitalize()
    assert in_american(f"x{british}x {{{british.replace(' ', '_')}_text}}") == (
        f"x{british}x {{{british.replace(' ', '_')}_text}}"
    )
    assert not BRITISH.search(american)
    assert in_american(in_american(british)) == american


def test_plurals_and_possessives() -> None:
    assert in_american("tyres, YOKES, stanchion's, discs") == "tires, TRIPLE CLAMPS, fork tube's, rotors"
    assert in_british("tires and a Triple clamp") == "tyres and a yoke"
    assert in_american("`stanchion list` lists them") == "`stanchion list` lists them"


def test_british_words_are_the_usual_ones() -> None:
    assert worded("Front tyre") == "Front tyre"
    choose_wording("us")
    assert worded("Front tyre") == "Front tire"
