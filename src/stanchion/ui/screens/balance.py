"""Weights on both wheels, the centre of mass, and how the machine stands on the brakes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget

from stanchion.bench.session import Session
from stanchion.judgement.predict.balance import balance_figures
from stanchion.judgement.predict.brakes import brakes_figures
from stanchion.judgement.results.balance import BalanceFigures, BrakesFigures
from stanchion.ui import keys, present
from stanchion.ui.balance_form import balance_form
from stanchion.ui.balance_lines import balance_lines, balance_short
from stanchion.ui.form_lines import Form
from stanchion.ui.screens.sheet_screen import SheetScreen
from stanchion.ui.widgets.panes import Drawn


class BalanceScreen(SheetScreen):
    """What the scales give, and what braking makes of it; worked out only while this screen is shown."""

    CSS_PATH = "../styles/balance.tcss"
    name_of = "balance"
    form: ClassVar[Form] = staticmethod(balance_form)
    label_width = 21
    cell_width = 6
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("balance")]

    _brakes: BrakesFigures | None = None
    """The machine on the brakes as it was last shown; None where an error of the program kept it away."""

    def figures(self) -> list[Widget]:
        """On the brakes, and the weights."""
        return [Drawn(id="on-brakes", classes="pane")]

    def show_figures(self, session: Session) -> None:
        """Work the figures out and show them."""
        job, assessment, units = session.job, session.assessment, session.units
        none: BalanceFigures | None = None
        balance = session.judged("prediction", none, balance_figures, job, assessment)
        self._brakes = brakes = session.judged("prediction", None, brakes_figures, job, assessment)
        pane = self.query_one("#on-brakes", Drawn)
        if balance is None or brakes is None:
            pane.draw(lambda *_: [present.NOT_JUDGED])
            return
        pane.draw(lambda width, height: balance_lines(brakes, balance.states, units, width - 1, height))

    def short(self, session: Session) -> Sequence[Content]:
        """The fork on the brakes, the load left at the rear, and the trail there."""
        return [present.NOT_JUDGED] if self._brakes is None else [*balance_short(self._brakes, session.units)]
