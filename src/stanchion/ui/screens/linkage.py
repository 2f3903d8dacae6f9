"""The rear linkage by its points, and what they give over the travel."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget

from stanchion.bench.session import Session
from stanchion.judgement.predict.points_figures import PointsFigures, points_figures
from stanchion.ui import keys, present
from stanchion.ui.form_lines import Form
from stanchion.ui.linkage_form import linkage_form
from stanchion.ui.linkage_lines import linkage_pages, linkage_short
from stanchion.ui.screens.sheet_screen import SheetScreen
from stanchion.ui.widgets.pages import Pages


class LinkageScreen(SheetScreen):
    """The points of the linkage; what they give is worked out only while this screen is shown."""

    CSS_PATH = "../styles/linkage.tcss"
    name_of = "linkage"
    form: ClassVar[Form] = staticmethod(linkage_form)
    label_width = 22
    cell_width = 8
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("linkage")]

    _figures: PointsFigures | None = None
    """What was last shown; None where an error of the program kept it away."""

    def figures(self) -> list[Widget]:
        """Figures, plot and notes."""
        return [Pages(id="by-points", classes="pane")]

    def show_figures(self, session: Session) -> None:
        """Work the figures out and show them."""
        job, units, at = session.job, session.units, self.sheet.at
        none: PointsFigures | None = None
        self._figures = found = session.judged("rear", none, points_figures, job, session.assessment)
        pane = self.query_one("#by-points", Pages)
        if found is None:
            pane.draw_pages(lambda *_: [[present.NOT_JUDGED]], None)
            return
        plain = self.program.only_ascii
        pane.draw_pages(
            lambda width, height: linkage_pages(job, found, units, width - 1, height, at=at, plain=plain), at
        )

    def action_next_missing(self) -> None:
        """Go to the next reading that the figures of the linkage wait for."""
        found = self._figures
        self.next_needed(() if found is None else (found.known, found.full.wheel_mm))

    def action_turn_page(self, step: int) -> None:
        """Show what there is no room for."""
        super().action_turn_page(step)
        self.query_one("#by-points", Pages).turn(step)

    def short(self, session: Session) -> Sequence[Content]:
        """The ratio at full extension, now, and at full travel."""
        return [present.NOT_JUDGED] if self._figures is None else [*linkage_short(self._figures, session.units)]
