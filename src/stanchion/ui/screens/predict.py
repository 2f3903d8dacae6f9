"""What loads and springs predict, beside what was measured; the geometry; force against travel."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widget import Widget

from stanchion.bench.session import Session
from stanchion.job.model import ENDS, End
from stanchion.judgement.results.balance import Braking
from stanchion.judgement.results.side import Standing
from stanchion.report.sheet_shape import SideView
from stanchion.ui import keys
from stanchion.ui.predicted_lines import machine_lines, picture_lines, predicted_lines
from stanchion.ui.screens.job_screen import JobScreen
from stanchion.ui.widgets.panes import Drawn

_PICTURES: tuple[End | Standing, ...] = (*ENDS, "rider", "brakes", "gas")
"""What Tab brings into the picture, one after the other."""


class PredictScreen(JobScreen):
    """Read only: the figures follow from the other screens."""

    CSS_PATH = "../styles/predict.tcss"
    name_of = "predict"
    AUTO_FOCUS = "#predicted-pane"
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("predict"), Binding("tab", "next_picture", show=False)]

    def __init__(self) -> None:
        super().__init__()
        self._picture: End | Standing = "front"

    def body(self) -> Iterable[Widget]:
        """Figures on the left, the picture on the right."""
        yield VerticalScroll(Drawn(id="predicted"), id="predicted-pane")
        yield Drawn(id="picture")

    def hints(self) -> list[str]:
        """The screens that this one leads to, the next picture, scrolling, and the other keys."""
        balance, gas, *others = super().hints()
        return [balance, gas, "Tab next picture", "Arrows scroll", *others]

    def another_job(self) -> None:
        """Scroll to the top."""
        self.query_one("#predicted-pane", VerticalScroll).scroll_home(animate=False)

    def show_figures(self, session: Session) -> None:
        """Figures and picture."""
        a, units, job = session.assessment, session.units, session.job
        self.query_one("#predicted", Drawn).draw(lambda width, _: predicted_lines(a, units, width, job))
        plain, shown = self.program.only_ascii, self._picture
        picture = self.query_one("#picture", Drawn)
        if shown == "front" or shown == "rear":  # noqa: PLR1714 - so that the type is known
            picture.draw(lambda width, height: picture_lines(session, shown, width - 1, height, plain=plain))
            return
        from stanchion.planning.braking_of_runs import braking_to_look_at  # noqa: PLC0415 - read when it is asked for
        from stanchion.report.side_view import side_view  # noqa: PLC0415

        nothing: SideView | None = None
        usual: Braking | None = None
        braking = session.judged("prediction", usual, braking_to_look_at, job, session.profiles)
        view = session.judged("prediction", nothing, side_view, job, a, units, braking=braking)
        picture.draw(lambda width, height: machine_lines(view, shown, width - 1, height, plain=plain))

    def action_balance(self) -> None:
        """Weights, the centre of mass, and the machine on the brakes."""
        self.program.action_go("balance")

    def action_gas(self) -> None:
        """The machine on the gas, its swingarm and its chain."""
        self.program.action_go("gas")

    def action_next_picture(self) -> None:
        """The other end in the picture, then the machine from the side in each of its states."""
        self._picture = _PICTURES[(_PICTURES.index(self._picture) + 1) % len(_PICTURES)]
        self.show_derived()
