"""The list of springs, and the printed text."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from stanchion.job.model import ENDS, End, State
from stanchion.judgement.results.figures import Figure
from stanchion.planning.spring_choice import SpringChoice, choose
from stanchion.report.check import as_text
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_text import sheet_text
from stanchion.wording.finding_words import sentence
from true_machines.asks import OPPOSITE, advice_at, ask_of, said, target_at
from true_machines.judged import PROFILES, Contradiction, Judged, truths
from true_machines.remedies import CLOSE, SURE, WORK
from true_machines.work_done import fitted


def the_list_of_springs(judged: Judged) -> Iterator[Contradiction]:
    """The first row is never labelled worse than one below it; a row that suits does; a rate above the one needed is
    not called too soft; and there is a rate where the advice asks for a spring."""
    case = judged.case
    if case.mode != "exact" or case.seed % 2:
        return
    for end in ENDS:
        choice = choose(case.job, judged.assessment, PROFILES, end)
        yield from _against_the_advice(judged, end, choice)
        if not choice.options:
            continue
        yield from _words_against_figures(judged, end, choice)
        yield from _first_row(judged, end, choice)
        labels = [_good(option.verdict) for option in choice.options]
        if max(labels) > labels[0]:
            shown = ", ".join(f"{o.mean_rate_n_per_mm:g} {o.verdict}" for o in choice.options[:4])
            yield Contradiction("k first row labelled worse", end, shown)
        alike = [option for option in choice.options if not option.other_length]
        alike = [one for one in alike if len({f.spring.rate_n_per_mm for f in one.fittings}) == 1]
        alike = [one for one in alike if _good(one.verdict) or _stiffness(one.verdict)]  # the others say nothing of it
        ordered = sorted(alike, key=lambda option: option.mean_rate_n_per_mm)
        for soft, stiff in pairwise(ordered):
            if _stiffness(soft.verdict) > _stiffness(stiff.verdict):
                shown = f"{soft.mean_rate_n_per_mm:g} {soft.verdict}, {stiff.mean_rate_n_per_mm:g} {stiff.verdict}"
                yield Contradiction("k softer row called stiffer", end, shown)
        window = choice.window_n_per_mm
        needed = choice.needed_n_per_mm.value
        if window is not None and (needed is None or not window[0] - 1e-6 <= needed <= window[1] + 1e-6):
            yield Contradiction("k rate needed outside its window", end, f"{needed}, {window}")
        for option in choice.options:
            rate, called = option.mean_rate_n_per_mm, _stiffness(option.verdict)
            if window is not None and ((called < 0 and rate > window[0]) or (called > 0 and rate < window[1])):
                shown = f"{rate:g}, window {window[0]:.2f} to {window[1]:.2f}"
                yield Contradiction(f"k {option.verdict} against the rate needed", end, shown)
                break
        for option in choice.options[:6]:
            if option.verdict.startswith("too_s"):
                after = truths(fitted(case.true, option, case.job, end), case)[end]
                if after.works("turns", SURE):
                    shown = f"{option.mean_rate_n_per_mm:g}: truly {after.sags[0]:.2f}, {after.sags[1]:.2f}"
                    yield Contradiction(f"k {option.verdict}, yet suits", end, shown)
                    break
        best = choice.options[0]
        after = truths(fitted(case.true, best, case.job, end), case)[end]
        hidden = judged.truth(end).static_hidden(CLOSE)  # a top-out spring may keep static sag low for ever
        sags = np.array([[sag] for sag in after.sags])
        off = float(after.off_rider(sags)[0]) if hidden else after.now
        if labels[0] == 1 and (off > CLOSE or after.out_of_band() > 0.05):
            yield Contradiction(
                "k suits, yet does not",
                end,
                f"{best.mean_rate_n_per_mm:g} {best.verdict}: truly {after.sags[0]:.2f}, {after.sags[1]:.2f}, "
                f"installed {after.installed}",
            )


def _against_the_advice(judged: Judged, end: End, choice: SpringChoice) -> Iterator[Contradiction]:
    """The list has no rate that brings both sags in exactly where the advice says that no spring does."""
    target = target_at(judged.assessment, end)
    none = choice.needed_n_per_mm.problem.startswith("no_rate_needs") or choice.nearest_n_per_mm is not None
    if target is None or ask_of(target) is None:
        return
    said_so = target.code.startswith("no_spring")
    work = ask_of(target).work  # type: ignore[union-attr]
    if said_so != none and (said_so or work == "spring"):
        shown = f"{sentence(target)} / {choice.needed_n_per_mm.problem or choice.needed_n_per_mm.value}"
        yield Contradiction("k list and advice disagree on whether any spring does", end, shown)


def _words_against_figures(judged: Judged, end: End, choice: SpringChoice) -> Iterator[Contradiction]:
    """A row is called borderline, or its springs to suit, where a sag it shows is not, within its uncertainty."""
    sag = judged.assessment.sag.end(end)
    for option in choice.options:
        if option.verdict not in ("borderline", "at_edge") and not option.verdict.startswith("suits"):
            continue
        shown = option.best if option.stands is None else option.stands.sags
        figures: dict[State, Figure] = {"static": shown.static_mm, "rider": shown.rider_mm}
        for state, figure in figures.items():
            target = sag.state(state).target and judged.truth(end).target(state)
            if figure.value is None or target is None or (state == "static" and sag.static_hidden):
                continue
            known_mm = (
                0.0 if option.stands is None and option.verdict != "borderline" else _expanded(judged, end, state)
            )
            if max(target[0] - figure.value, figure.value - target[1]) > known_mm + 0.01:
                shown_mm = f"{option.mean_rate_n_per_mm:g} {option.verdict}: {state} {figure.value:.2f} of {target}"
                yield Contradiction("k a row's word against its figure", end, shown_mm)


def _expanded(judged: Judged, end: End, state: State) -> float:
    """By how much a sag may lie out before that is certain: as it was read, or 0.5 mm where it was not."""
    figures = judged.assessment.sag.end(end).state(state)
    return max(0.5, figures.expanded_mm.value or 0.0)


def _first_row(judged: Judged, end: End, choice: SpringChoice) -> Iterator[Contradiction]:
    """The first row is for other springs than those the advice is for; or the springs fitted are to be turned
    otherwise than it says."""
    target = target_at(judged.assessment, end)
    ask = None if target is None else ask_of(target)
    if ask is None or target is None or ask.work not in WORK:
        return
    first = choice.options[0]
    fitted = all(fitting.spring.fitted is not None for fitting in first.fittings)
    rate = target.values.get("new_rate_n_per_mm")
    otherwise = isinstance(rate, float) and abs(first.mean_rate_n_per_mm - rate) > 1e-6
    if otherwise or (ask.work != "spring" and not fitted):
        shown = f"{first.mean_rate_n_per_mm:g} {first.verdict} / {sentence(target)}"
        yield Contradiction("k first row is not for the advice", end, shown)
    turns, said_turns = first.turns_for_target.value, ask.numbers.get("turns")
    if not first.fitted_now or ask.work != "turns" or turns is None or said_turns is None:
        return
    if abs(abs(turns) - said_turns) > 1e-6:
        yield Contradiction("k list turns otherwise", end, f"{turns:.3f} / {sentence(target)}")


def _stiffness(verdict: str) -> int:
    return {"too_soft": -1, "too_stiff": 1}.get(verdict, 0)


def _good(verdict: str) -> int:
    """Whether springs suit; those fitted now also do where they suit once the adjuster is turned, or where they are so
    close to the targets that the advice leaves them."""
    return 1 if verdict.startswith(("suits", "turn_", "close", "at_edge")) else 0


def the_text(judged: Judged) -> Iterator[Contradiction]:
    """The text of `check` says what the findings say, and nothing the other way."""
    case = judged.case
    if case.seed % 8:
        return
    text = " ".join(as_text("a", case.job, judged.assessment).split())
    sheet = " ".join(sheet_text(make_sheet(case.job, judged.assessment)).split())
    for end in ENDS:
        advice = advice_at(judged.assessment, end)
        if advice is not None and " ".join(sentence(advice).split()) not in text:
            yield Contradiction("l advice is not in the text", end, sentence(advice))
        for finding in (advice, target_at(judged.assessment, end)):
            # The sheet may leave a sentence out where there is no room; what it does say of an end is the same.
            ask = None if finding is None else ask_of(finding)
            if ask is None or ask.work not in WORK:
                continue
            for other in re.findall(rf"{end.capitalize()}[^:]*: [^.]*\.[^.]*\.", sheet):
                if any(OPPOSITE[way] in said(other) for way in said(ask.words)):
                    yield Contradiction("l the sheet says otherwise", end, f"{ask.words} / {other}")
