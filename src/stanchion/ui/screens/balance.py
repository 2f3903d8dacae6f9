"""Weights on both wheels, the centre of mass, and how the machine stands on the brakes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget

from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.job.model import Job
from stanchion.judgement.predict.balance import balance_figures
from stanchion.judgement.predict.brakes import brakes_figures
from stanchion.judgement.results.balance import BalanceFigures, BrakesFigures
from stanchion.planning.braking_of_runs import BrakingOfRuns, braking_of_runs, braking_to_look_at
from stanchion.planning.travel_left import TravelLeft, travel_left
from stanchion.report.sheet_shape import SideView
from stanchion.report.side_view import side_view
from stanchion.ui import keys, present
from stanchion.ui.balance_form import balance_form
from stanchion.ui.balance_lines import balance_pages, balance_short
from stanchion.ui.form_lines import Form
from stanchion.ui.screens.sheet_screen import SheetScreen
from stanchion.ui.widgets.pages import Pages
from stanchion.wording.balance_sentences import BRAKES_ROWS, NO_MARKER, do_words, ridden_words
from stanchion.wording.finding_words import reason


class BalanceScreen(SheetScreen):
    """What the scales give, and what braking makes of it; worked out only while this screen is shown."""

    CSS_PATH = "../styles/balance.tcss"
    name_of = "balance"
    form: ClassVar[Form] = staticmethod(balance_form)
    label_width = 21
    cell_width = 6
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("balance")]

    _ridden: tuple[Job, BrakingOfRuns | None] | None = None
    """The braking that the runs' markers stand for, and the job it was worked out for."""
    _left: tuple[Job, TravelLeft | None] | None = None
    """What leaves some travel on the brakes, and the job it was worked out for."""
    _brakes: BrakesFigures | None = None
    """The machine on the brakes as it was last shown; None where an error of the program kept it away."""

    def figures(self) -> list[Widget]:
        """On the brakes, and the weights."""
        return [Pages(id="on-brakes", classes="pane")]

    def show_figures(self, session: Session) -> None:
        """Work the figures out and show them."""
        job, assessment, units = session.job, session.assessment, session.units
        none: BalanceFigures | None = None
        balance = session.judged("prediction", none, balance_figures, job, assessment)
        at, ridden = self.sheet.at, self._braking_of_runs(session)
        braking = None if ridden is None else braking_to_look_at(job, session.profiles, ridden)
        self._brakes = brakes = session.judged("prediction", None, brakes_figures, job, assessment, braking=braking)
        pane = self.query_one("#on-brakes", Pages)
        if balance is None or brakes is None:
            pane.draw_pages(lambda *_: [[present.NOT_JUDGED]], None)
            return
        left = None if do_words(at) else self._travel_left(session, ridden)
        nothing: SideView | None = None
        drawn = partial(side_view, riding=("brakes",), braking=braking)
        view = session.judged("prediction", nothing, drawn, job, assessment, units)
        states, plain = balance.states, self.program.only_ascii

        def pages(width: int, height: int) -> list[list[Content]]:
            return balance_pages(
                brakes, states, units, width - 1, height, ridden=ridden, left=left, at=at, view=view, plain=plain
            )

        pane.draw_pages(pages, at)

    def action_turn_page(self, step: int) -> None:
        """Show what there is no room for."""
        super().action_turn_page(step)
        self.query_one("#on-brakes", Pages).turn(step)

    def _braking_of_runs(self, session: Session) -> BrakingOfRuns | None:
        """What the markers of the runs stand for, worked out anew once anything but the braking looked at changes."""
        job = session.job
        job = replace(job, balance=replace(job.balance, braking_g=None))
        if self._ridden is None or self._ridden[0] != job:
            none: BrakingOfRuns | None = None
            self._ridden = job, session.judged("prediction", none, braking_of_runs, job, session.profiles)
        return self._ridden[1]

    def _travel_left(self, session: Session, ridden: BrakingOfRuns | None) -> TravelLeft | None:
        """What leaves some travel on the brakes, worked out anew once anything that it rests on changes."""
        job = session.job
        if self._left is None or self._left[0] != job:
            none: TravelLeft | None = None
            self._left = job, session.judged("prediction", none, travel_left, job, session.profiles, ridden)
        return self._left[1]

    def action_next_missing(self) -> None:
        """Go to the next reading that the figures on the brakes wait for."""
        slow = None if self._brakes is None else self._brakes.slow
        self.next_needed(() if slow is None else (getattr(slow, field) for _, field, _ in BRAKES_ROWS))

    def action_gas(self) -> None:
        """The machine on the gas, its swingarm and its chain."""
        self.program.action_go("gas")

    def action_take_ridden(self) -> None:
        """Look at the braking that the markers of the runs stand for."""
        session = self.session
        if session is None:
            return
        self.program.leave_fields()
        ridden = self._braking_of_runs(session)
        mean_g = None if ridden is None else ridden.mean_g.value
        if ridden is None or mean_g is None:
            why = clean(reason(ridden.mean_g)) if ridden is not None and ridden.runs else NO_MARKER
            self.program.say(f"No braking follows from the runs: {why}.")
            return
        refused = session.put(("balance", "braking_g"), round(mean_g, 2))
        self.program.refresh_after(refused or ridden_words(ridden))

    def action_guide_lifting(self) -> None:
        """Find the height of the centre of mass by lifting the front, one reading at a time."""
        self.begin_guide("lifting", self.chosen_field)

    def short(self, session: Session) -> Sequence[Content]:
        """The fork on the brakes, the load left at the rear, and the trail there."""
        return [present.NOT_JUDGED] if self._brakes is None else [*balance_short(self._brakes, session.units)]
