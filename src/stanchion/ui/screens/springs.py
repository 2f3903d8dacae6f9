"""Which springs to fit: the rate needed, then those to hand, best first. One key puts a choice in as a trial."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widget import Widget
from textual.widgets import OptionList, Static

from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.job.model import ENDS, End
from stanchion.job.spec import Kind
from stanchion.judgement.criteria.thresholds import ADJUSTER_STEP
from stanchion.judgement.results.figures import first_known
from stanchion.judgement.springs.stock import Stock, left_over
from stanchion.planning.spring_choice import SpringChoice
from stanchion.planning.spring_option import Option, SagAt
from stanchion.ui import keys, present
from stanchion.ui.screens.job_screen import JobScreen
from stanchion.ui.short_lines import as_many_as_fit
from stanchion.ui.space import LEAST, cut
from stanchion.ui.widgets.choices import Choices, Choosable
from stanchion.ui.widgets.live_text import LiveText
from stanchion.ui.widgets.panes import Drawn
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, unit_name
from stanchion.wording.finding_words import reason
from stanchion.wording.prediction_sentences import omitted_words
from stanchion.wording.verdicts import SPRING_VERDICTS

MUTED = "$text-muted"
USUAL = 24
WITH_VERDICT = 80
"""Columns of the terminal from which the verdict is in the row; otherwise it is below the list."""
LEAST_NAME, ROOM_OF_VERDICT, FEWEST = 14, 29, 3
"""Columns of the springs' rates at least, of the verdict with its margins, and the number of figures at least."""
COLUMNS = (("static", 7), ("rider", 6), ("turns", 6), ("to in", 6), ("inst.", 6), ("bind", 6))


class SpringsScreen(JobScreen):
    """The choice of springs for one end."""

    CSS_PATH = "../styles/springs.tcss"
    name_of = "springs"
    AUTO_FOCUS = "#springs-list"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("tab", "other_end", show=False),
        *keys.bindings("springs"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._end: End = "front"
        self._shown_for: object = None

    def body(self) -> Iterable[Widget]:
        """What is needed, the heads, the list, the current row."""
        yield Vertical(
            Drawn(id="springs-needed"),
            LiveText(id="springs-heads"),
            Choices(id="springs-list", markup=False),
            Drawn(id="springs-detail"),
        )

    def hints(self) -> list[str]:
        """Choosing, the other end, the stock."""
        return ["Enter tries them", "Tab other end", *super().hints()]

    def show_figures(self, session: Session) -> None:
        """Choose again where anything has changed."""
        subject = (
            session.job,
            session.units,
            self._end,
            self.program.workspace.spring_stock.session.stock,
            self.size.width,
        )
        if subject == self._shown_for:
            return
        self._shown_for = subject
        choice = session.judged("choice", None, self.program.workspace.choose, self._end)
        choices = self.query_one(Choices)
        choices.clear_options()
        pane = self.query_one("#springs-needed", Drawn)
        if choice is None:
            pane.draw(lambda width, _: self._in_room(present.NOT_JUDGED, width))
            self.query_one("#springs-detail", Drawn).draw(lambda width, height: ())
            return
        needed = _needed(choice, session.units)
        pane.draw(lambda width, _: self._in_room(needed, width))
        rates = f" {unit_name(Kind.RATE, session.units)}"
        columns = _columns(self.size.width)
        a = session.assessment
        turned_in = (a.rear.spring if self._end == "rear" else a.front.left).turned_in
        counted = "click" if turned_in == "clicks" else "turns"  # one letter more would touch the column before
        names = ((counted if name == "turns" else name, width) for name, width in columns)
        heads = rates.ljust(_name_width(self.size.width)) + "".join(name.rjust(width) for name, width in names)
        self.query_one("#springs-heads", Static).update(Content.styled(heads, "$primary"))
        for one in choice.options:
            choices.add_option(Choosable(_row(one, session.units, self.size.width - 2), one))
        if choice.options:
            choices.highlighted = 0
        else:
            self.query_one("#springs-detail", Drawn).draw(lambda width, height: ())

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Show the current row in full."""
        session, one = self.session, event.option
        if session is not None and isinstance(one, Choosable):
            option: Option = one.what
            lines_of = detail(option, session.units, self.program.workspace.spring_stock.session.stock)
            if self.size.width < WITH_VERDICT:
                lines_of = [Content.styled(f" {SPRING_VERDICTS[option.verdict]}", "bold"), *lines_of]

            def lines(width: int, height: int) -> list[Content]:
                return as_many_as_fit([part for line in lines_of for part in _wrapped(line, width)], height)

            self.query_one("#springs-detail", Drawn).draw(lines)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Put these springs in as a trial."""
        if isinstance(event.option, Choosable):
            self.try_springs(event.option.what)

    def try_springs(self, option: Option) -> None:
        """Put a choice of springs in as a trial, and show it beside what is fitted."""
        trial = self.program.trial
        if trial is None:
            return
        from stanchion.planning.spring_choice import as_edits  # noqa: PLC0415

        trial.follow()
        refusal = trial.copy.put_all(as_edits(option, trial.copy.job, set_adjuster=True, settable=ADJUSTER_STEP))
        if refusal:
            self.program.say(refusal)
        else:
            trial.choose(option)
        self.program.action_go("trial")

    def action_edit_stock(self) -> None:
        """Edit the spring stock."""
        from stanchion.ui.screens.stock import StockScreen  # noqa: PLC0415

        self.program.push_screen(StockScreen(), lambda _: self.program.refresh_screens())

    def _in_room(self, line: Content, width: int) -> list[Content]:
        """What is needed in as many lines as there is room for, cut with a mark."""
        most = 3 if self.app.size.height >= USUAL else 2 if self.app.size.height >= LEAST[1] else 1
        wrapped = _wrapped(line, width)
        if len(wrapped) > most:
            wrapped[most - 1] = Content(" ").join(wrapped[most - 1 : most + 1]).truncate(width, ellipsis=True)
        return wrapped[:most]

    def action_other_end(self) -> None:
        """The other end."""
        self._end = ENDS[1 - ENDS.index(self._end)]
        self.show_derived()


def _needed(choice: SpringChoice, units: Units) -> Content:
    """The rate needed and what it depends on."""
    name = f"{choice.end.upper()}: "
    by_two_sags = choice.by_two_sags_n_per_mm.value
    beside = (
        ""
        if by_two_sags is None
        else f" By the difference of both sags, preload aside: {show(by_two_sags, Kind.RATE, units)}."
    )
    if choice.needed_n_per_mm.value is None:
        explanation = clean(reason(choice.needed_n_per_mm))
        if choice.nearest_n_per_mm is not None:
            each = " each" if choice.end == "front" else ""
            explanation += f"; about {show(choice.nearest_n_per_mm, Kind.RATE, units)}{each} comes nearest"
        explanation = (
            f"{explanation}.{beside}"
            if explanation.startswith("no rate") and beside
            else f"no rate can be worked out: {explanation}"
        )
        if choice.by_two_sags_n_per_mm.estimate:
            explanation += " Rests on estimated loads."
        return Content.styled(name, "$primary bold") + Content(explanation)
    rate = show(choice.needed_n_per_mm.value, Kind.RATE, units)
    each = " each" if choice.end == "front" else ""
    text = f"{rate}{each} is needed"
    if choice.window_n_per_mm is not None:
        low, high = (show(end, Kind.RATE, units).split(" ")[0] for end in choice.window_n_per_mm)
        between = f"{low} or more" if math.isinf(choice.window_n_per_mm[1]) else f"{low} to {high}"
        text += f"; {between} brings both sags in"
        if choice.nearest_n_per_mm is not None:
            nearest = show(choice.nearest_n_per_mm, Kind.RATE, units)
            text += f"; no usual step lies there, and about {nearest} comes nearest"
    elif choice.if_at_all:
        text += ", if any: measure again first"
    text += f". Below: {'springs in stock' if choice.from_stock else 'standard steps; no stock is entered'}.{beside}"
    if choice.needed_n_per_mm.estimate:
        text += " Rests on estimated loads."
    if choice.omitted:
        text += f" Without {omitted_words(choice.omitted)}."
    installed = choice.wanted_installed_mm.value
    if installed is not None:
        collar = " as the collar gives" if choice.installed_stays else ""
        at = "adjuster at mid" if choice.mid_added_mm is not None else "adjuster as it is"
        text += f" That rate is for {show(installed, Kind.LENGTH, units)} installed{collar}, {at}"
        text += "." if choice.installed_stays else "; a row may keep what is installed."
    return Content.styled(name, "$primary bold") + Content(text)


def _columns(width: int) -> tuple[tuple[str, int], ...]:
    """As many of the columns as there is room for; the last are needed least."""
    count = len(COLUMNS)
    while count > FEWEST and LEAST_NAME + sum(wide for _, wide in COLUMNS[:count]) > width - 3:
        count -= 1
    return COLUMNS[:count]


def _name_width(width: int) -> int:
    verdict = ROOM_OF_VERDICT if width >= WITH_VERDICT else 3
    return max(LEAST_NAME, width - sum(wide for _, wide in _columns(width)) - verdict)


def _wrapped(line: Content, width: int) -> list[Content]:
    return [part.rstrip() for part in line.wrap(max(1, width))]


def _row(one: Option, units: Units, width: int) -> Content:
    """Springs, both sags with the adjuster at the target, turns from out, what is left in, preload, coils, verdict."""
    rates = [show(f.spring.rate_n_per_mm, Kind.RATE, units).split(" ")[0] for f in one.fittings]
    name = (
        " + ".join(dict.fromkeys(rates)) if len(set(rates)) > 1 else f"{rates[0]}" + (" ×2" if len(rates) > 1 else "")
    )
    name += " now" if one.fitted_now else " *" if one.other_length else ""
    figures = (
        (one.best.static_mm, Kind.LENGTH),
        (one.best.rider_mm, Kind.LENGTH),
        (first_known(one.turns_from_out, one.headroom_out_turns), Kind.TURNS),  # out of reach: where it ends
        (one.headroom_in_turns, Kind.TURNS),
    )
    line = Content(f"{name:<{_name_width(width + 2) - 1}}"[: _name_width(width + 2) - 1])
    cells = [present.number(figure, kind, units, 0, 1 if kind is Kind.TURNS else None) for figure, kind in figures]
    cells.append(show(one.installed_mm, Kind.LENGTH, units).split(" ")[0])
    cells.append(present.number(one.coil_bind_clearance_mm, Kind.LENGTH, units, 0))
    for cell, (_, column) in zip(cells, _columns(width + 2), strict=False):
        line += Content(cell.rjust(column))
    if width + 2 < WITH_VERDICT:
        return line
    return line + Content(" " + cut(SPRING_VERDICTS[one.verdict], max(0, width - 4 - line.cell_length)))


def detail(one: Option, units: Units, stock: Stock) -> list[Content]:
    """Both sags with the adjuster out, at mid and in; the spacers to cut; what the stock has left after this job."""

    def sags(at: SagAt) -> str:
        both = (present.number(figure, Kind.LENGTH, units, 0).strip() for figure in (at.static_mm, at.rider_mm))
        return " / ".join(both)

    unit = unit_name(Kind.LENGTH, units)
    lines = [
        Content.styled(f" Predicted sags, {unit}:  ", MUTED)
        + Content(f"out {sags(one.out)}   mid {sags(one.mid)}   in {sags(one.fully_in)}")
    ]
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
    lines.append(Content.styled(" " + "; ".join(fitting_words), MUTED))
    return lines
