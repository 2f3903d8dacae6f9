"""Figures and findings as lines of styled text. The words come from `wording/`; this module only lays them out."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence

from textual.content import Content

from stanchion.base.text import clean
from stanchion.job.model import Path
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import Band, PreloadFigures, StateFigures
from stanchion.judgement.results.codes import Caution
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.ui.space import ELLIPSIS, cut, in_lines, wrapped_whole
from stanchion.units.known_units import METRIC, Units, display_unit, is_file_unit
from stanchion.units.quantity import MINUS, plain, show, show_settable, unit_name
from stanchion.wording.advice_sentences import ADVICE
from stanchion.wording.finding_words import caution, field_label, headline_with_part, reason, sentence, work_asked_for
from stanchion.wording.labels import reading_word, short_field_label, uncapitalised
from stanchion.wording.phrases import fill
from stanchion.wording.verdicts import BORDERLINE_BRIEF, IN_TARGET_BRIEF, PRELOAD_VERDICTS, SAG_VERDICTS, severity_word

SEVERITY_STYLE = {Severity.FAULT: "$fault bold", Severity.WARNING: "$warn bold", Severity.NOTE: "$note bold"}
MARK = {Severity.FAULT: "✖", Severity.WARNING: "▲", Severity.NOTE: "•"}
MOST_BIG = 5
"""Characters of a large figure that are not cut off: sign, digits, point."""
NOT_JUDGED = Content.styled("Fault of the program, please report: not worked out.", "$warn bold")
"""Shown in place of figures that are missing because of an error of the program."""
GOOD = ("in", "near_limit")
UNSURE = ("borderline", "down_only")
VERDICT = {
    code: str(word) if code in GOOD + UNSURE else str(word).upper()
    for table in (PRELOAD_VERDICTS, SAG_VERDICTS)
    for code, word in table.items()
}
VERDICT_STYLE = {"beyond": "$fault", "near_full": "$warn", "used": "$good", "kept_back": "$note"}
"""Styles of verdicts on travel used."""


def number(figure: Figure, kind: Kind, units: Units, width: int, decimals: int | None = None) -> str:
    """A figure right-aligned in so many columns; a dash where there is none.

    Args:
        figure: the figure.
        kind: its kind.
        units: display units.
        width: columns.
        decimals: in the unit of the file; None: as many as its unit deserves, as in any other unit.
    """
    if figure.value is None:
        return "–".rjust(width)
    own = decimals is not None and is_file_unit(kind, units)
    text = f"{figure.value:.{decimals}f}" if own else show(figure.value, kind, units).split(" ")[0]
    return text.rjust(width)


def settable(figure: Figure, kind: Kind, units: Units, width: int) -> str:
    """A figure that an adjuster gives, with the hundredths that a quarter of a turn makes."""
    known = figure.value is not None
    return (show_settable(figure.value or 0.0, kind, units).split(" ")[0] if known else "–").rjust(width)


def with_uncertainty(figure: Figure, expanded: Figure, kind: Kind, units: Units) -> list[str]:
    """Spellings of a figure that is known, the longest first: with its expanded uncertainty where that is known."""
    alone = show(figure.value or 0.0, kind, units)
    if expanded.value is None:
        return [alone]
    off = show(expanded.value, kind, units).split(" ")[0]
    return [f"{alone} ± {off}", f"{alone} ±{off}", alone]


def unsure(figures: PreloadFigures, units: Units) -> str:
    """± behind installed preload, where it decides on which side of an edge of the band it lies; else nothing."""
    return "" if figures.unsure_mm is None else f"± {show(figures.unsure_mm, Kind.LENGTH, units).split(' ')[0]} "


def first_that_fits(spellings: Sequence[Content], width: int) -> Content:
    """The first of several spellings of a line that has room; the last, cut off, where none has."""
    return next((line for line in spellings if line.cell_length <= width), spellings[-1]).truncate(width, ellipsis=True)


def big(figure: Figure, units: Units) -> str:
    """A length for the large digits, with as many decimals as there is room for; dashes where there is none."""
    if figure.value is None:
        return "--.-"
    text = show(figure.value, Kind.LENGTH, units).split(" ")[0]
    sign, number = (MINUS, text[1:]) if text.startswith(MINUS) else ("", text)
    shorter = (text, *(f"{sign}{float(number):.{decimals}f}" for decimals in (2, 1, 0)))
    return next((one for one in shorter if len(one) <= MOST_BIG), shorter[-1])


def band(limits: Band, units: Units) -> str:
    """A band such as 8–15, without its unit."""
    decimals = display_unit(Kind.LENGTH, units).band_decimals
    if decimals is not None:
        return "–".join(f"{float(plain(limit, Kind.LENGTH, units)):.{decimals}f}" for limit in limits)
    return "–".join(plain(round(limit, 1), Kind.LENGTH, units) for limit in limits)


def verdict(word: str, within: str = PRELOAD_VERDICTS["in"]) -> Content:
    """A verdict as a word: the colour only repeats what it says.

    Args:
        word: as the assessment has it.
        within: what is said of a figure that lies where it should.
    """
    style = "$warn bold"
    if word in GOOD:
        style = "$good bold"
    elif word in ("loose", "over_limit"):
        style = "$fault bold"
    elif word in UNSURE:
        style = "$note bold"
    return Content.styled(within if word == "in" else VERDICT[word], style) if word else Content("")


CAUTION = "CAUTION"
CAUTIONS_LINES = 2
"""Lines that cautions may take where there is room."""
LABEL = 12
"""Columns for the name of a figure."""
NUMBER = 6
"""Columns for a figure."""
ESTIMATED = "~"
"""Stands behind a figure that rests on an estimate."""

PRELOAD_ROWS: tuple[tuple[str, str, Kind, int | None], ...] = (
    ("Range", "adjuster_range_mm", Kind.LENGTH, None),
    ("Per turn", "mm_per_turn", Kind.LENGTH, 2),
    ("Preload now", "preload_now_mm", Kind.LENGTH, None),
    ("Force now", "preload_force_n", Kind.FORCE, 0),
    ("Headroom out", "headroom_out_mm", Kind.LENGTH, None),
    ("  turns", "headroom_out_turns", Kind.TURNS, None),
    ("Headroom in", "headroom_in_mm", Kind.LENGTH, None),
    ("  turns", "headroom_in_turns", Kind.TURNS, None),
)


BY_ADJUSTER = ("preload_now_mm", "headroom_out_mm", "headroom_in_mm")
"""Lengths that follow from where the adjuster stands."""
LEAST_NEEDED = (
    "adjuster_range_mm",
    "mm_per_turn",
    "preload_force_n",
    "headroom_out_turns",
    "headroom_out_mm",
    "headroom_in_turns",
    "headroom_in_mm",
    "preload_now_mm",
)
"""The preload figures that are left out where there is no room, the first of them first."""


def preload_table(columns: Sequence[PreloadFigures], units: Units, width: int, most: int = 8) -> list[Content]:
    """The preload figures, a column for each spring; with one column a missing figure names what it waits for first.

    Where there are fewer lines than figures, the least needed are left out.
    """
    lines: list[Content] = []
    omitted = set(LEAST_NEEDED[: max(0, len(PRELOAD_ROWS) - most)])
    for name, attribute, kind, decimals in (row for row in PRELOAD_ROWS if row[1] not in omitted):
        figures = [getattr(column, attribute) for column in columns]
        unit = unit_name(kind, units) if kind is not Kind.TURNS else ""  # its name says so
        label = Content.styled(_counted(name, columns).ljust(LABEL), "$text-muted")
        if len(figures) == 1 and not figures[0].known:
            lines.append(label + Content.styled(why_not(figures[0], width - LABEL), "$text-muted"))
            continue
        cells, margin = "", NUMBER
        for figure in figures:
            text = (
                settable(figure, kind, units, 0)
                if attribute in BY_ADJUSTER
                else number(figure, kind, units, 0, decimals)
            )
            mark = ESTIMATED if figure.estimate and figure.known else ""
            cells += text.rjust(margin) + mark
            margin = NUMBER - len(mark)
        lines.append(label + Content.styled(cells, "$figure bold") + Content.styled(f" {unit}".rstrip(), "$text-muted"))
    return lines


def _counted(name: str, columns: Sequence[PreloadFigures]) -> str:
    """The name of a figure, with clicks where every adjuster is counted in clicks."""
    if not all(column.turned_in == "clicks" for column in columns):
        return name
    return name.replace("turns", "clicks").replace("turn", "click")


def why_not(figure: Figure, width: int) -> str:
    """What is shown in place of a figure: the first reading it waits for, in short where there is no room for its whole
    name, or why there is none."""
    first = figure.needs[0] if figure.needs else None
    if first is None:
        return cut(f" – {clean(reason(figure))}", width)
    names = (uncapitalised(field_label(first)), short_field_label(first))
    return cut(next((f" – {name}" for name in names if len(name) + 3 <= width), f" – {names[-1]}"), width)


def waits_for(figures: PreloadFigures) -> str:
    """The first reading that figures of a spring wait for, by name; nothing where they wait for none."""
    asked = (figures.installed_preload_mm, *(getattr(figures, attribute) for _, attribute, _, _ in PRELOAD_ROWS))
    first = next((figure.needs[0] for figure in asked if figure.needs), None)
    return uncapitalised(field_label(first)) if first is not None else ""


def both_wait(heads: Sequence[str], columns: Sequence[PreloadFigures]) -> list[Content]:
    """What figures of two springs wait for; no line if they wait for nothing."""
    waits = [waits_for(column) for column in columns]
    lines = [f"{head} needs {name}" for head, name in zip(heads, waits, strict=True) if name]
    if len(lines) > 1 and len(set(waits)) == 1:
        lines = [f"both need {waits[0]}"]
    return [Content.styled(line, "$text-muted") for line in lines]


def state_lines(states: Sequence[StateFigures], units: Units, column: int) -> list[Content]:
    """Target and verdict, stiction, uncertainty or what the sag waits for: a column for each state.

    Where a target and its verdict are too wide for a column, the verdict is on a line with the uncertainty.
    """
    if any(_target_and_verdict(state, units, column).cell_length >= column for state in states):
        return _state_lines_apart(states, units, column)
    target, stiction, spread = (Content(word.ljust(8)) for word in ("target", "stiction", "±"))
    for state in states:
        cell = _target_and_verdict(state, units, column)
        target += cell + Content(" " * max(1, column - cell.cell_length))
        stiction += Content(number(state.stiction_mm, Kind.LENGTH, units, 6).ljust(column))
        spread += Content(cut(_spread_or_need(state, units, 6), column - 1).ljust(column))
    return [target, stiction, spread]


def _state_lines_apart(states: Sequence[StateFigures], units: Units, column: int) -> list[Content]:
    """Target; verdict with uncertainty, or what the sag waits for; stiction."""
    target, judged, stiction = (Content(word.ljust(8)) for word in ("target", "verdict", "stiction"))
    for state in states:
        target += Content(_limits(state, units).ljust(column))
        spread = _spread_or_need(state, units, 0)
        beside = Content(f" ±{spread}" if state.shown_mm.known else spread)
        word = _sag_verdict(state, column - beside.cell_length)
        cell = word + beside if word.cell_length + beside.cell_length < column else word
        judged += cell + Content(" " * max(1, column - cell.cell_length))
        stiction += Content(number(state.stiction_mm, Kind.LENGTH, units, 5).ljust(column))
    return [target, judged, stiction]


def _limits(state: StateFigures, units: Units) -> str:
    return band(state.target, units) if state.target is not None else "none"


def _target_and_verdict(state: StateFigures, units: Units, column: int) -> Content:
    limits = _limits(state, units)
    return Content(f"{limits} ") + _sag_verdict(state, column - len(limits) - 1)


def _sag_verdict(state: StateFigures, room: int) -> Content:
    word = verdict(state.verdict_now, IN_TARGET_BRIEF)
    if state.verdict_now == "borderline" and word.cell_length >= room:
        return Content.styled(BORDERLINE_BRIEF, "$note bold")
    return word


def _spread_or_need(state: StateFigures, units: Units, width: int) -> str:
    """The uncertainty of a sag; where there is no sag, the reading it waits for, or why."""
    if state.sag_mm.needs:
        return f"needs {reading_word(state.sag_mm.needs[0])}"
    return number(state.expanded_mm if state.shown_mm.known else state.shown_mm, Kind.LENGTH, units, width)


def finding_lines(findings: Iterable[Finding], units: Units, width: int, height: int, more_key: str) -> list[Content]:
    """As many findings as fit, worst first and in full; then how many more there are and where.

    An advice that does not fit in full has its headline, and below it what it asks for.
    """
    waiting = list(findings)
    lines: list[Content] = []
    while waiting:
        finding = waiting[0]
        full = finding_lines_of(finding, units, width)
        room = height - len(lines) - (1 if len(waiting) > 1 else 0)
        if len(full) <= room:
            lines += full
            waiting.pop(0)
            continue
        break
    if waiting:
        hidden = len(waiting) - 1
        more = f"  +{hidden} more: {more_key}" if hidden else f"  in full: {more_key}"
        finding = waiting[0]
        if height - len(lines) > 1 and not work_asked_for(finding, units):
            return [*lines, *_begun(finding, units, width, height - len(lines), more)]
        words = f"{MARK[finding.severity]} {severity_word(finding.severity).upper()} {headline_with_part(finding)}"
        style, room = SEVERITY_STYLE[finding.severity], height - len(lines)
        wrapped = wrapped_whole(words, max(1, width), subsequent_indent="  ")
        if len(wrapped[-1]) + len(more) > width:
            wrapped.append("")
        if len(wrapped) > max(1, room):
            whole = max(1, room) - 1
            rest = " ".join([*(line.strip() for line in wrapped[whole:])])
            wrapped = [*wrapped[:whole], cut(f"{'  ' if whole else ''}{rest}", width - len(more))]
        lines += [Content.styled(line, style) for line in wrapped[:-1]]
        lines.append(
            Content.styled(wrapped[-1], style) + Content.styled(more.rjust(width - len(wrapped[-1])), "$text-muted")
        )
        lines += _work_lines(finding, units, width, height - len(lines))
    return lines[:height]


def _begun(finding: Finding, units: Units, width: int, room: int, more: str) -> list[Content]:
    """As much of a finding as there is room for, and at its end how many more there are."""
    full = finding_lines_of(finding, units, width)
    *others, last = full[:room]
    words = last.plain if len(full) <= room and len(last.plain + more) <= width else f"{last.plain} {ELLIPSIS}"
    shown = Content(cut(words, width - len(more)).ljust(width - len(more)))
    return [*others, shown + Content.styled(more, "$text-muted")]


def _work_lines(finding: Finding, units: Units, width: int, most: int) -> list[Content]:
    """What an advice asks for, cut off where there is no room."""
    work = clean(work_asked_for(finding, units))
    return [Content(f"  {line}") for line in in_lines(work, width - 2, most)] if work else []


def finding_lines_of(finding: Finding, units: Units, width: int) -> list[Content]:
    """One finding in full, wrapped, its severity as a mark and a word."""
    head = f"{MARK[finding.severity]} {severity_word(finding.severity).upper()} "
    wrapped = wrapped_whole(head + clean(sentence(finding, units)), width, subsequent_indent="  ") or [head]
    first = Content.styled(wrapped[0][: len(head)], SEVERITY_STYLE[finding.severity]) + Content(wrapped[0][len(head) :])
    return [first, *(Content(line) for line in wrapped[1:])]


def trouble_lines(words: str, width: int) -> list[Content]:
    """Why the job is not saved; no line if it is."""
    wrapped = textwrap.wrap(words, width, subsequent_indent="  ")
    return [Content.styled(line, "$fault bold") for line in wrapped]


def stale_lines(findings: Iterable[Finding], code: str) -> list[Content]:
    """A word beside figures that depend on a measurement from before a change of chain or tyres."""
    parts = [
        fill("▲ from before: {changed:chain_and_tyres}", found.values, METRIC)
        for found in findings
        if found.code == code
    ]
    return [Content.styled(words, "$warn bold") for words in parts]


def order_for(findings: Iterable[Finding], part: str) -> list[Finding]:
    """Worst first; among equals those of the current screen before others, and advice before its reasons."""
    return sorted(findings, key=lambda f: (-f.severity, f.where[:1] != (part,), f.code not in ADVICE))


def caution_lines(codes: Sequence[Caution], width: int, most: int) -> list[Content]:
    """The first caution, and as many more as there is room for, each whole: in brief where that saves a line."""
    lines: list[Content] = []
    for code in codes:
        whole, brief = (
            textwrap.wrap(f"{CAUTION} {caution(code, brief=brief)}", width, subsequent_indent="  ")
            for brief in (False, True)
        )
        wrapped = whole if len(whole) <= len(brief) else brief
        if lines and len(lines) + len(wrapped) > most:
            break
        lines += [Content.styled(wrapped[0][: len(CAUTION)], "bold") + Content(wrapped[0][len(CAUTION) :])]
        lines += [Content(line) for line in wrapped[1:]]
    return lines


def on_screen(path: Path) -> str:
    """The screen that has the field of a path."""
    if path[:1] == ("returning",):
        return "worklist"
    if path[:1] == ("found",) or (path[:1] in (("front",), ("rear",)) and path[-1] == "base"):
        return "adjusters"
    if path[:1] == ("runs",) and path[2:3] == ("complaints",):
        return "what_to_try"
    if path[:1] == ("damper_sheets",):
        return "dampers"
    if path[:2] == ("rear", "points") or path in (("rear", "link_mm"), ("swingarm", "pivot_to_axle_mm")):
        return "linkage"
    if path[:1] in (("swingarm",), ("drive",)):
        return "gas"
    screens = ("front", "rear", "sag", "runs", "upkeep", "balance")
    return str(path[0]) if path and path[0] in screens else "machine"
