"""The guided readings as lines of styled text: the list, what was just obtained, and the end. Pure."""

from __future__ import annotations

import textwrap
from collections.abc import Collection, Sequence
from dataclasses import replace

from rich.cells import cell_len
from textual.content import Content

from stanchion.base.text import clean
from stanchion.bench.guided_measuring import (
    GuideStep,
    StepGroup,
    half_taken,
    missing,
    outdated,
    preload_of,
    shown_value,
    state_of,
    taken,
)
from stanchion.bench.session import Session
from stanchion.job.edit import spec_at
from stanchion.job.found import found_otherwise
from stanchion.job.model import ENDS, STATES, End, Job, Path
from stanchion.job.spec import Kind, Number
from stanchion.judgement.results.assessment import Assessment, PreloadFigures, StateFigures
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.sag.sag_advice import NO_ADVICE
from stanchion.ui import present
from stanchion.ui.lifting_lines import lifting_end
from stanchion.ui.space import cut, in_lines
from stanchion.ui.swingarm_lines import swingarm_outcome
from stanchion.units.known_units import Units
from stanchion.units.quantity import editable, show, show_settable, unit_name
from stanchion.wording.changes import changes_in_words
from stanchion.wording.finding_words import field_label, reason, sentence
from stanchion.wording.found_sentences import AS_LEFT, KEPT, NONE_TAKEN, OTHERWISE, OUTCOME, TOUCHED
from stanchion.wording.guide_sentences import (
    DONE,
    IN_DOUBT,
    MISSING,
    NEXT,
    NEXT_IN_DOUBT,
    NEXT_MISSING,
    NO_PAIR,
    WHOLE,
)
from stanchion.wording.labels import uncapitalised
from stanchion.wording.lifting_guide_sentences import CONFIRMED
from stanchion.wording.lifting_guide_sentences import NEXT as NEXT_LIFTING
from stanchion.wording.swingarm_guide_sentences import NEXT as NEXT_AT_SWINGARM
from stanchion.wording.verdicts import SAG_VERDICTS, STATE_WORDS

HEAD, MUTED, FIGURE = "$primary bold", "$text-muted", "$figure bold"
NAME = 13
STATE = 17
"""Columns of the table of sags: its names, and each state."""


def unit_of(step: GuideStep, units: Units) -> str:
    """The unit of a bare number."""
    if step.counted:
        return step.counted
    spec = spec_at(step.field(0))
    return unit_name(spec.kind, units) if isinstance(spec, Number) else ""


def instruction(step: GuideStep, width: int, height: int) -> list[Content]:
    """What to do, then what to read; with too few lines, what to do comes first, cut with a mark."""
    do = [Content.styled(line, "bold") for line in in_lines(step.do, width, height)]
    return do + [Content(line) for line in in_lines(step.read, width, height - len(do))]


def step_lines(session: Session, ordered: Sequence[GuideStep], at: int, width: int, height: int) -> list[Content]:
    """The readings in their order, each with its value; the current one is marked and in view."""
    lines: list[Content] = []
    marked = 0
    above = ""
    for number, step in enumerate(ordered):
        if step.state != above:
            above = step.state
            lines.append(Content.styled(cut(above.upper(), width), HEAD))
        now = number == at
        if now:
            marked = len(lines)
        name = cut(step.title, width - 13).ljust(width - 13)
        lines.append(
            Content.styled(("› " if now else "  ") + name + " ", "bold" if now else MUTED) + _taken_words(step, session)
        )
    first = max(0, min(marked - height // 2, len(lines) - height))
    return lines[first : first + height]


def _taken_words(step: GuideStep, session: Session) -> Content:
    if any(draft.reason and step.covers(path) for path, draft in session.drafts.items()):
        return Content.styled("not read!".rjust(9), "$fault bold")
    value = shown_value(step, session.job)
    if value is None:
        return Content.styled("–".rjust(6), MUTED)
    text = (CONFIRMED if step.confirms else _short(value, step, session.units)).rjust(6)
    if outdated(step, session.job):
        return Content.styled(f"{text} old", MUTED)
    count = len(taken(step, session.job))
    return Content.styled(text, FIGURE) + Content.styled(f" ×{count}" if count > 1 else "", MUTED)


def _short(value: float, step: GuideStep, units: Units) -> str:
    spec = spec_at(step.field(0))
    return show(value, spec.kind, units).split(" ")[0] if isinstance(spec, Number) else str(value)


def before_words(step: GuideStep, at: int, job: Job, units: Units) -> str:
    """Other repeats of the same reading."""
    spec = spec_at(step.field(0))
    if not isinstance(spec, Number):
        return ""
    others = [editable(value, spec.kind, units) for n, value in enumerate(taken(step, job)) if n != at]
    if not others:
        return ""
    return ("for the mean with " if step.again == "repeat" else "also: ") + " ".join(others)


def outcome_lines(
    step: GuideStep, ordered: Sequence[GuideStep], a: Assessment, units: Units, not_found: Collection[Path] = ()
) -> list[Content]:
    """What the readings give so far, in four lines: both sags of the end, or the preload of the spring."""
    if step.path[0] == "sag":
        return _sag_lines(step, half_taken(ordered, a), not_found, a, units)
    if step.as_found:
        return [Content.styled(line, MUTED) for line in (TOUCHED if step.path[0] == "found" else OUTCOME)]
    return _preload_lines(step, preload_of(step, a), units)


def _sag_lines(
    step: GuideStep, half: Collection[Path], not_found: Collection[Path], a: Assessment, units: Units
) -> list[Content]:
    figures, now = a.sag.end(step.end), state_of(step)
    unit = unit_name(Kind.LENGTH, units)
    head = Content.styled(step.end.upper().ljust(NAME), HEAD)
    for measured, words in STATE_WORDS.items():
        head += Content.styled(words, HEAD + (" underline" if measured == now else "")) + Content(
            " " * (STATE - len(words))
        )
    rows = [head]
    for name, cell in ((f"sag, {unit}", _sag_cell), ("target", _target_cell), (f"stiction, {unit}", _stiction_cell)):
        row = Content.styled(name.ljust(NAME), MUTED)
        for state in STATES:
            text, at = cell(figures.state(state), units), ("sag", step.end, state)
            if (at in half or at in not_found) and cell is not _target_cell:
                text = Content.styled("    –" + (" lift next" if cell is _sag_cell and at in half else ""), MUTED)
            elif at in half or at in not_found:
                text = Content(_limits(figures.state(state), units))
            row += text + Content(" " * max(1, STATE - text.cell_length))
        rows.append(row)
    return rows


def _sag_cell(state: StateFigures, units: Units) -> Content:
    if state.topped_out:
        return Content.styled(SAG_VERDICTS["topped_out"], FIGURE)
    text = Content.styled(present.number(state.sag_mm, Kind.LENGTH, units, 5), FIGURE)
    if state.expanded_mm.value is None:
        return text
    assumed = " once" if state.single_readings else ""
    spread = present.number(state.expanded_mm, Kind.LENGTH, units, 0)
    return text + Content.styled(f" ± {spread}{assumed}", MUTED)


def _target_cell(state: StateFigures, units: Units) -> Content:
    return Content(f"{_limits(state, units)} ") + present.verdict(state.verdict_now, SAG_VERDICTS["in"])


def _limits(state: StateFigures, units: Units) -> str:
    return present.band(state.target, units) if state.target is not None else "none"


def _stiction_cell(state: StateFigures, units: Units) -> Content:
    return Content.styled(present.number(state.stiction_mm, Kind.LENGTH, units, 5), FIGURE)


def _why_not(figure: Figure) -> str:
    """Why there is no figure; of several readings needed the first, and how many more, where they have no room."""
    words = f"– {clean(reason(figure))}"
    if cell_len(words) <= 2 * STATE or len(figure.needs) < 2:
        return cut(words, 2 * STATE)
    first = uncapitalised(field_label(figure.needs[0]))
    return cut(f"– needs {first} and {len(figure.needs) - 1} more", 2 * STATE)


def _preload_lines(step: GuideStep, figures: PreloadFigures, units: Units) -> list[Content]:
    lines = [Content.styled(step.state.upper(), HEAD)]
    if not figures.has_spring:
        words = "sprung by air" if figures.by_air else "no spring in this leg"
        return [*lines, Content.styled(words, MUTED), Content(""), Content("")]
    rows = (
        ("Installed", figures.installed_preload_mm, figures.verdict),
        ("Adds at most", figures.adjuster_range_mm, ""),
        ("Preload now", figures.preload_now_mm, ""),
    )
    for name, figure, verdict in rows:
        line = Content.styled(name.ljust(NAME), MUTED)
        if figure.value is None:
            line += Content.styled(_why_not(figure), MUTED)
        else:
            line += Content.styled(show_settable(figure.value, Kind.LENGTH, units) + " ", FIGURE)
        if verdict:
            line += present.verdict(verdict)
            line += Content.styled("" if figures.band is None else f" {present.band(figures.band, units)}", MUTED)
        lines.append(line)
    return lines


def end_lines(session: Session, part: StepGroup, ordered: Sequence[GuideStep], width: int) -> list[Content]:
    """After the last reading: the result, what is still missing, and what comes next."""
    a, units = session.assessment, session.units
    lines: list[Content] = []
    if part == "found":
        lines += [*_found_lines(session, width), Content("")]
    elif part == "lifting":
        lines += lifting_end(session, width)
    elif part == "swingarm":
        lines += [*swingarm_outcome(session, session.job, a), Content("")]
    elif part == "sag":
        for end in ENDS:
            lines += [
                Content.styled(f"WHAT THE {end.upper()} SAYS", HEAD),
                *_wrapped(_pair_words(end, a, units), width),
            ]
            lines.append(Content(""))
    else:
        last = ""
        for step in ordered:
            if step.state != last and not (last and step.path[:1] == ("front",) and step.state == WHOLE["front"]):
                last = step.state  # what both legs share adds no figure to those of the legs
                lines += [*outcome_lines(step, ordered, a, units), Content("")]
    open_ones = missing(ordered, session.job)
    if open_ones:
        names = "; ".join(f"{step.state}: {step.title}" for step in open_ones[:3])
        names += f"; and {len(open_ones) - 3} more" if len(open_ones) > 3 else ""
        lines += [Content.styled(line, "$warn bold") for line in textwrap.wrap(MISSING.format(names=names), width)]
        return [*lines, *_wrapped(NEXT_MISSING, width)]
    advice = [a.sag.end(end).advice for end in ENDS if part == "sag"]
    if any(one is not None and one.code in NO_ADVICE for one in advice):
        return [*lines, Content.styled(IN_DOUBT, "$warn bold"), *_wrapped(NEXT_IN_DOUBT, width)]
    then = {"lifting": NEXT_LIFTING, "swingarm": NEXT_AT_SWINGARM}.get(part) or NEXT[part]
    return [*lines, Content.styled(DONE, "$good bold"), *(line.stylize("bold") for line in _wrapped(then, width))]


def _found_lines(session: Session, width: int) -> list[Content]:
    """What the record of the machine as found holds, and where it is not as the job before left the machine."""
    job, found = session.job, session.job.found
    if found is None or found.on is None:
        return _wrapped(NONE_TAKEN, width)
    lines = _wrapped(KEPT.format(date=found.on.isoformat()), width)
    if session.previous is not None:
        as_found = replace(job, front=found.front or job.front, rear=found.rear or job.rear)
        changes = changes_in_words(found_otherwise(session.previous, job), as_found, session.units)
        words = OTHERWISE.format(changes="; ".join(changes)) if changes else AS_LEFT
        lines += [line.stylize("$warn bold" if changes else MUTED) for line in _wrapped(words, width)]
    return lines


def _pair_words(end: End, a: Assessment, units: Units) -> str:
    advice = a.sag.end(end).advice
    return clean(sentence(advice, units)) if advice is not None else NO_PAIR.format(end=end.capitalize())


def _wrapped(words: str, width: int) -> list[Content]:
    return [Content(line) for line in textwrap.wrap(words, width)]
