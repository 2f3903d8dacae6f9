"""The choice of springs as lines of styled text. Pure."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from textual.content import Content

from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.job.model import End
from stanchion.job.spec import Kind
from stanchion.judgement.criteria.thresholds import DAMPING_CHANGE
from stanchion.judgement.results.figures import Figure, absent, derive, first_known
from stanchion.judgement.springs.candidates import InHand
from stanchion.judgement.springs.spring_option import Option, SagAt
from stanchion.judgement.springs.stock import Stock, left_over
from stanchion.planning.spring_choice import SpringChoice
from stanchion.ui import present
from stanchion.ui.space import cut
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import show, unit_name
from stanchion.units.spans import show_span
from stanchion.wording.advice_values import FLAGS
from stanchion.wording.damping_sentences import change_words
from stanchion.wording.finding_words import reason, sentence
from stanchion.wording.phrases import turns_shown
from stanchion.wording.prediction_sentences import omitted_words
from stanchion.wording.verdicts import SAG_VERDICTS, SPRING_VERDICTS

MUTED = "$text-muted"
ALL_COLUMNS = 80
"""Columns of the terminal from which every figure has a column; the rest are below the list, with the verdict."""
LEAST_NAME, ROOM_OF_VERDICT, MARGINS, FEWEST = 14, 29, 5, 3
"""Columns of the springs' rates at least, of the verdict with its margins, of these, and figures at least."""
BETWEEN_SAGS = "   "
COLUMNS = (("static", 7), ("rider", 6), ("turns", 6), ("to in", 6), ("inst.", 6), ("bind", 6))


WITHOUT_TRIAL = "Without what is on trial."
"""What the list is worked out for, where something is tried on ^T and not yet part of the job."""


def by_air(choice: SpringChoice) -> bool:
    """Whether the end is sprung by air, so that there is no spring to choose."""
    return choice.by_two_sags_n_per_mm.problem == "air_sprung" and not choice.options


def pressure_to_set(session: Session, end: End) -> list[Content]:
    """What is set in place of a spring; nothing where it is not known, or stands among the warnings below."""
    target = session.assessment.predicted.end(end).target
    return (
        []
        if target is None or target in session.assessment.findings
        else [Content(f" {clean(sentence(target, session.units), 300)}")]
    )


def needed_sentences(choice: SpringChoice, session: Session) -> list[Content]:
    """The rate needed and what it depends on, as sentences, the most needed first."""
    name, units = f"{choice.end.upper()}: ", session.units
    head = Content.styled(name, "$primary bold")
    if by_air(choice):
        return [head + Content("sprung by air, so there is no spring to choose.")]
    no_band = [Content(FLAGS["no_band"])] if choice.options and not choice.has_band else []
    each = " each" if choice.end == "front" else ""
    if choice.needed_n_per_mm.value is None:
        explanation = clean(reason(choice.needed_n_per_mm))
        if choice.nearest_n_per_mm is not None:
            explanation += f"; about {show(choice.nearest_n_per_mm, Kind.RATE, units)}{each} comes closest"
        none_suits = explanation.startswith("no rate")
        explanation = f"{explanation}." if none_suits else f"no rate can be worked out: {explanation}"
        return [head + Content(explanation), *no_band, *_rests_on(choice, choice.by_two_sags_n_per_mm)]
    needed = show(choice.needed_n_per_mm.value, Kind.RATE, units)
    text = f"{needed}{each} is needed{_setting(choice, units)}"
    if choice.window_n_per_mm is not None:
        # The list may begin with another rate of these, which needs less turning, or brings the sags nearer to middle.
        low, high = choice.window_n_per_mm
        unit = unit_name(Kind.RATE, units)
        between = f"{_number(low, Kind.RATE, units)} {unit} or more" if math.isinf(high) else None
        text = f"{between or show_span(low, high, Kind.RATE, units)}{each} bring both into target"
        text += f"; {needed.split(' ')[0]} is best{_setting(choice, units)}"
        if choice.nearest_n_per_mm is not None:
            nearest = show(choice.nearest_n_per_mm, Kind.RATE, units)
            text += f"; no usual step lies there, and about {nearest} comes closest"
    elif choice.if_at_all:
        text += ", if any: measure again first"
    sentences = [head + Content(f"{text}."), *no_band, *_rests_on(choice, choice.needed_n_per_mm)]
    sentences.append(Content(_below(choice, units)))
    if any(fitting.spring.second.fitted for one in choice.options for fitting in one.fittings):
        alone = any(fitting.spring.alone for one in choice.options for fitting in one.fittings)
        replaces = "One of these replaces both springs" + ("; alone: the second is taken out." if alone else ".")
        sentences.insert(1, Content(replaces))
    if choice.omitted:
        sentences.append(Content(f"Leaves out {omitted_words(choice.omitted)}."))
    if choice.confirmed_n_per_mm is not None:
        rate = show(choice.confirmed_n_per_mm, Kind.RATE, units)
        sentences.append(Content(f"By the difference of both sags alone: {rate}."))
    return sentences


def _rests_on(choice: SpringChoice, figure: Figure) -> Iterator[Content]:
    """That the loads, or what springs and loads give, are in doubt, or that the loads are estimated."""
    if choice.doubted:
        why = clean(reason(absent("loads_doubted")))
        yield Content.styled(f"Loads {SAG_VERDICTS['doubtful']}: {why}.", "$warn")
    elif choice.to_check:
        why = clean(reason(absent("inputs_doubted")))
        yield Content.styled(f"Values {SAG_VERDICTS['doubtful']}: {why}.", "$warn")
    elif figure.estimate:
        yield Content("Rests on estimated loads.")


def _below(choice: SpringChoice, units: Units) -> str:
    """What the list shows, with the installed preload of its springs where the rate needed is for another."""
    installed = {_installed(one, units) for one in choice.options if not one.fitted_now}
    wanted = choice.wanted_installed_mm.value
    other = wanted is not None and len(installed) == 1 and {_number(wanted, Kind.LENGTH, units)} != installed
    given = f", with {installed.pop()} {unit_name(Kind.LENGTH, units)} installed" if other else ""
    return f"Below: {'springs in stock' if choice.from_stock else 'standard steps'}{given}."


def _setting(choice: SpringChoice, units: Units) -> str:
    """The preload and the adjuster that the rate needed is meant for."""
    installed = choice.wanted_installed_mm.value
    if installed is None:
        return ""
    collar = " as the collar gives" if choice.installed_stays else ""
    at = ", adjuster at mid" if choice.mid_added_mm is not None else ", adjuster as it is"
    if choice.mid_added_mm == 0.0:
        at = ""
    elif not choice.mid_suits:
        at = ", adjuster set as in the list"
    return f" with {show(installed, Kind.LENGTH, units)} installed{collar}{at}"


@record
class SpringColumns:
    """Columns of the table on the screen."""

    name: int
    """Room for the springs and their mark."""
    columns: tuple[tuple[str, int], ...]


def layout_of(options: Sequence[Option], units: Units, width: int) -> SpringColumns:
    """Names and verdicts whole, and as many of the columns as there is room for; the last are needed least."""
    least = LEAST_NAME if width >= ALL_COLUMNS else 0
    name = max([least, *(len(_name(one, units)) + 1 for one in options)])
    installed = max([0, *(len(_installed(one, units)) + 1 for one in options)])
    columns = tuple((head, max(wide, installed if head == "inst." else 0)) for head, wide in COLUMNS)
    wanted = MARGINS + max([0, *(len(SPRING_VERDICTS[one.verdict]) for one in options)])
    while len(columns) > FEWEST and name + sum(wide for _, wide in columns) > width - wanted:
        columns = columns[:-1]
    room = ROOM_OF_VERDICT if width >= ALL_COLUMNS else wanted
    return SpringColumns(max(name, width - sum(wide for _, wide in columns) - room), columns)


def whole_sentences(sentences: Sequence[Content], width: int, most: int) -> list[Content]:
    """The first sentence, and of the others as many as there is room for in so many lines; only the first is cut."""
    taken = sentences[0]
    for more in sentences[1:]:
        longer = taken + Content(" ") + more
        if len(_wrapped(longer, width)) <= most:
            taken = longer
    lines = _wrapped(taken, width)
    if len(lines) > most:
        lines[most - 1] = Content(" ").join(lines[most - 1 : most + 1]).truncate(width, ellipsis=True)
    return lines[:most]


def _wrapped(line: Content, width: int) -> list[Content]:
    return [part.rstrip() for part in line.wrap(max(1, width))]


def indented(line: Content, width: int) -> list[Content]:
    """A line of the detail; where it is too long, what follows is further in, and the sags of one position together."""
    if line.cell_length <= width:
        return [line]
    parts = line.split(BETWEEN_SAGS)
    if len(parts) == 1:
        return [part if at == 0 else Content("   ") + part for at, part in enumerate(_wrapped(line, width - 3))]
    lines = [parts[0]]
    for part in parts[1:]:
        longer = lines[-1] + Content(BETWEEN_SAGS) + part
        if longer.cell_length <= width:
            lines[-1] = longer
        else:
            lines.append(Content(BETWEEN_SAGS) + part)
    return lines


def verdict_line(one: Option, units: Units, layout: SpringColumns) -> Content:
    """The verdict in full, and the figures that have no column."""
    cells = zip(COLUMNS, _cells(one, units), strict=True)
    more = [f"{head} {cell.strip()}" for (head, _), cell in list(cells)[len(layout.columns) :] if cell.strip() != "–"]
    line = Content.styled(f" {SPRING_VERDICTS[one.verdict]}", "bold")
    return line + Content.styled(f"; {', '.join(more)}", MUTED) if more else line


def _name(one: Option, units: Units) -> str:
    """The rates, and the mark of springs that are fitted now or of another length."""
    rates = [_rate(f.spring, units) for f in one.fittings]
    name = (
        " + ".join(dict.fromkeys(rates)) if len(set(rates)) > 1 else f"{rates[0]}" + (" ×2" if len(rates) > 1 else "")
    )
    if one.fittings[0].spring.alone:
        name += " alone"
    return name + (" now" if one.fitted_now else " *" if one.other_length else "")


def _rate(spring: InHand, units: Units) -> str:
    """Its rate, and that of a second spring fitted with it: 9.00/4.00."""
    second = spring.second.rate_n_per_mm if spring.second.fitted else None
    rates = [spring.rate_n_per_mm, *([] if second is None else [second])]
    return "/".join(show(rate, Kind.RATE, units).split(" ")[0] for rate in rates)


def _installed(one: Option, units: Units) -> str:
    """Installed preload: one number where the springs have the same, else that of each."""
    each = [_number(fitting.installed_mm, Kind.LENGTH, units) for fitting in one.fittings]
    return "/".join(each if len(set(each)) > 1 else each[:1])


def _number(value: float, kind: Kind, units: Units) -> str:
    return show(value, kind, units).split(" ")[0]


def _cells(one: Option, units: Units) -> list[str]:
    """The figures of COLUMNS: both sags with the adjuster at the target, turns from out, what is left in, preload,
    coils; of the springs fitted now, sags and adjuster as they stand."""
    sags, turns = one.best, first_known(one.turns_from_out, one.headroom_out_turns)  # out of reach: where it ends
    left_in = one.headroom_in_turns
    if one.stands is not None:
        sags, turns, left_in = one.stands.sags, one.stands.turns_from_out, one.stands.left_in_turns
    figures = (
        (sags.static_mm, Kind.LENGTH),
        (sags.rider_mm, Kind.LENGTH),
        (turns, Kind.TURNS),
        (left_in, Kind.TURNS),
    )
    cells = [
        _turns(figure) if kind is Kind.TURNS else present.number(figure, kind, units, 0) for figure, kind in figures
    ]
    return [*cells, _installed(one, units), present.number(one.coil_bind_clearance_mm, Kind.LENGTH, units, 0)]


def row_line(one: Option, units: Units, layout: SpringColumns, width: int) -> Content:
    """Springs, as many figures as there is room for, and the verdict."""
    line = Content(_name(one, units).ljust(layout.name - 1)[: layout.name - 1])
    for cell, (_, column) in zip(_cells(one, units), layout.columns, strict=False):
        line += Content(cell.rjust(column))
    return line + Content(" " + cut(SPRING_VERDICTS[one.verdict], max(0, width - MARGINS + 2 - line.cell_length)))


def _turns(figure: Figure) -> str:
    return present.number(derive(turns_shown, figure), Kind.TURNS, METRIC, 0)


def detail(one: Option, units: Units, stock: Stock, damping: float | None = None) -> list[Content]:
    """Both sags with the adjuster out, at mid and in, and for the springs fitted now at the target; the spacers to cut;
    what the stock has left after this job; what rebound these springs want.

    Args:
        one: the choice of springs.
        units: display units.
        stock: the springs to hand.
        damping: damping wanted with them over that with the springs fitted now; None: not known.
    """

    def sags(at: SagAt) -> str:
        both = (present.number(figure, Kind.LENGTH, units, 0).strip() for figure in (at.static_mm, at.rider_mm))
        return " / ".join(both)

    unit = unit_name(Kind.LENGTH, units)
    across = BETWEEN_SAGS.join((f"out {sags(one.out)}", f"mid {sags(one.mid)}", f"in {sags(one.fully_in)}"))
    if one.turns_from_out.problem == "no_adjuster":
        across = sags(one.out)
    lines = [Content.styled(f" Predicted sags, {unit}:  ", MUTED) + Content(across)]
    if one.stands is not None and one.turns_from_out.known:
        counted = _turns(one.turns_from_out)
        unchecked = "" if one.coil_bind_clearance_mm.known else "; coil bind not checked"
        lines.append(
            Content.styled(f" Set for the targets, {counted} from out: ", MUTED) + Content(sags(one.best) + unchecked)
        )
    parts: list[tuple[str, str]] = []
    for fitting in one.fittings:
        spacer = fitting.spacer_mm.value
        free = "" if fitting.free_length_mm is None else f"free {show(fitting.free_length_mm, Kind.LENGTH, units)}, "
        cut = (
            f"spacer to cut {show(spacer, Kind.LENGTH, units)}"
            if spacer is not None
            else clean(reason(fitting.spacer_mm))
        )
        parts.append((str(fitting.place), f"{free}{clean(cut)}"))
    alike = len(parts) > 1 and len({words for _, words in parts}) == 1
    fitting_words = [f"each: {parts[0][1]}"] if alike else [f"{place}: {words}" for place, words in parts]
    if one.used:
        after = left_over(stock, one.used)
        left = [
            f"{clean(after.rows[at].label) or f'row {at + 1}'}: {after.rows[at].count}" for at in sorted(set(one.used))
        ]
        fitting_words.append(f"then in stock {', '.join(left)}")
    if damping is not None and abs(damping - 1.0) >= DAMPING_CHANGE:
        fitting_words.append(change_words(damping))
    lines.append(Content.styled(" " + "; ".join(fitting_words), MUTED))
    return lines
