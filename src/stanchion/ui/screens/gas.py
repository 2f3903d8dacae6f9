"""The machine on the gas: anti-squat, where both ends stand, what small changes do, and the chain."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget

from stanchion.bench.session import Session
from stanchion.judgement.predict.balance import wheel_weights
from stanchion.judgement.predict.gas import gas_figures
from stanchion.judgement.results.gas import GasFigures
from stanchion.report.sheet_shape import SideView
from stanchion.report.side_view import side_view
from stanchion.ui import keys, present
from stanchion.ui.form_lines import Form
from stanchion.ui.gas_form import gas_form
from stanchion.ui.gas_lines import gas_pages, gas_short
from stanchion.ui.screens.sheet_screen import SheetScreen
from stanchion.ui.widgets.pages import Pages
from stanchion.wording.gas_sentences import GAS_ROWS


class GasScreen(SheetScreen):
    """Swingarm and chain, and what thrust makes of them; worked out only while this screen is shown."""

    CSS_PATH = "../styles/gas.tcss"
    name_of = "gas"
    form: ClassVar[Form] = staticmethod(gas_form)
    label_width = 23
    cell_width = 8
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("gas")]

    _gas: GasFigures | None = None
    """The machine on the gas as it was last shown; None where an error of the program kept it away."""

    def figures(self) -> list[Widget]:
        """On the gas."""
        return [Pages(id="on-gas", classes="pane")]

    def show_figures(self, session: Session) -> None:
        """Work the figures out and show them."""
        job, assessment, units = session.job, session.assessment, session.units
        self._gas = gas = session.judged("prediction", None, gas_figures, job, assessment)
        weights = session.judged("prediction", None, wheel_weights, job, assessment, "rider")
        pane, at, plain = self.query_one("#on-gas", Pages), self.sheet.at, self.program.only_ascii
        if gas is None or weights is None:
            pane.draw_pages(lambda *_: [[present.NOT_JUDGED]], None)
            return
        measured = weights.height_from == "lifted"
        nothing: SideView | None = None
        view = session.judged("prediction", nothing, side_view, job, assessment, units, riding=("gas",))
        pane.draw_pages(
            lambda width, height: gas_pages(
                job, gas, units, width - 1, height, measured_height=measured, at=at, view=view, plain=plain
            ),
            session.job.job.id,
        )

    def action_guide_swingarm(self) -> None:
        """Measure swingarm, sprockets and chain, one reading at a time."""
        self.begin_guide("swingarm", self.chosen_field)

    def action_next_missing(self) -> None:
        """Go to the next reading that the figures on the gas and on the chain wait for."""
        gas = self._gas
        rows = () if gas is None else (gas.stands.anti_squat_pct, *(getattr(gas, field) for _, field, _ in GAS_ROWS))
        self.next_needed((*rows, *(() if gas is None else (gas.chain.needed_links,))))

    def action_turn_page(self, step: int) -> None:
        """Show the figures that there is no room for."""
        super().action_turn_page(step)
        self.query_one("#on-gas", Pages).turn(step)

    def short(self, session: Session) -> Sequence[Content]:
        """Anti-squat, the rear, and what is left at the front."""
        return [present.NOT_JUDGED] if self._gas is None else [*gas_short(self._gas, session.units)]
