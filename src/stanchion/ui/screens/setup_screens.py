"""The screens on which fork, shock and sag are filled in."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.job.model import ENDS, End
from stanchion.job.spec import Kind
from stanchion.ui import forms, keys, present
from stanchion.ui.form_lines import Form
from stanchion.ui.screens.sheet_screen import SheetScreen
from stanchion.ui.short_lines import preload_short, sag_short
from stanchion.ui.widgets.live_text import LiveText
from stanchion.ui.widgets.panes import Drawn, PreloadPane, SagPane
from stanchion.units.quantity import show
from stanchion.wording.finding_words import sentence

MUTED = "$text-muted"
PANE = 29
"""Columns of the figures beside the sheet on a terminal of 80."""
WITH_WORDS = 24
"""Columns from which the marks on the travel have words."""


class FrontScreen(SheetScreen):
    """The fork."""

    name_of = "front"
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("front")]
    form: ClassVar[Form] = staticmethod(forms.front)
    cell_width = 8

    def action_split_legs(self) -> None:
        """Enter the legs separately, or as one again."""
        program, session = self.program, self.session
        if session is None:
            return
        front = session.job.front
        if front.right is None or front.right == front.left:
            program.refresh_after(session.split_legs())
            return

        def answered(answer: str | None) -> None:
            program.refresh_after(session.split_legs() if answer == "join" else "")

        answers = (("keep", "Keep the legs separate"), ("join", "Join them: the left leg's values stand for both"))
        text = "When they are joined, the right leg's own values are dropped. Undo brings them back."
        program.ask("The legs differ", text, answers, answered)

    def figures(self) -> list[Widget]:
        """Preload of both legs, and the leg to scale where there is room."""
        return [PreloadPane("preload"), Drawn(id="travel")]

    def short(self, session: Session) -> Sequence[Content]:
        """Preload of both legs, or of one for both."""
        front = session.assessment.front
        both = session.job.front.split
        heads, legs = (("left", "right"), (front.left, front.right)) if both else (("",), (front.left,))
        return [*preload_short(heads, legs, session.units)]

    def show_figures(self, session: Session) -> None:
        """Both legs side by side where they are split, otherwise one for both."""
        a, split = session.assessment.front, session.job.front.split
        columns = (a.left, a.right) if split else (a.left,)
        heads = ("left", "right") if split else ("both legs",)
        alone = split and not (a.left.has_spring and a.right.has_spring)
        rate = a.rate_n_per_mm
        text = "–" if rate.value is None else show(rate.value, Kind.RATE, session.units)
        text = text.replace(" ", f"{present.ESTIMATED} ", 1) if rate.estimate else text
        text = "varies" if rate.problem == "rate_changes" else text
        name = "Rate, one spring" if alone else "Combined fork rate"
        names = (name, "Rate, one") if alone else (name, "Combined rate", "Combined")
        extra = [Content.styled(f"{one} ", MUTED) + Content.styled(text, "$figure bold") for one in names]
        self.query_one(PreloadPane).show(heads, columns, session.units, [extra])
        _draw(self.query_one("#travel", Drawn), session, "front")


def _draw(pane: Drawn, session: Session, end: End) -> None:
    """Draw the travel of an end, as the job is set now."""
    if pane.display:
        from stanchion.planning.on_travel import on_travel  # noqa: PLC0415 - only wide screens have room for it
        from stanchion.ui.travel_drawing import travel_lines  # noqa: PLC0415

        on = on_travel(session.job, session.assessment, end)
        units = session.units
        pane.draw(lambda width, height: travel_lines(on, end, units, width, height, figures_only=width < WITH_WORDS))


class RearScreen(SheetScreen):
    """The shock."""

    name_of = "rear"
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("rear")]
    form: ClassVar[Form] = staticmethod(forms.rear)
    cell_width = 9

    def action_linkage(self) -> None:
        """Read the linkage by its points."""
        self.program.action_go("linkage")

    def figures(self) -> list[Widget]:
        """Preload of the shock spring, what the linkage makes of it, and the shaft to scale where there is room."""
        return [PreloadPane("preload"), Drawn(id="travel")]

    def short(self, session: Session) -> Sequence[Content]:
        """Preload of the shock spring."""
        return [*preload_short(("",), (session.assessment.rear.spring,), session.units)]

    def show_figures(self, session: Session) -> None:
        """Show the spring, then ratio and wheel rate with the travel they apply to."""
        rear, units = session.assessment.rear, session.units
        extra: list[list[Content]] = []
        at = f" at {show(rear.at_travel_mm, Kind.LENGTH, units)}"
        for name, (figure, expanded), kind, where in (
            ("Wheel rate", rear.best_wheel_rate, Kind.RATE, " smooth" if rear.smooth else ""),
            ("Ratio", rear.best_motion_ratio, Kind.RATIO, at),
        ):
            label = Content.styled(name.ljust(present.LABEL), MUTED)
            if figure.known:
                spellings = present.with_uncertainty(figure, expanded, kind, units)
                tails = (where, "") if rear.smooth and name == "Wheel rate" else (where,)
                words = [
                    Content.styled(" " * indent + one, "$figure bold") + Content.styled(tail, MUTED)
                    for one in spellings
                    for tail in tails
                    for indent in (2, 1, 0)
                ]
            else:
                words = [Content.styled(present.why_not(figure, PANE - present.LABEL), MUTED)]
            extra.append([label + one for one in words])
        extra += [[line] for line in present.stale_lines(session.assessment.findings, "motion_ratio_stale")]
        self.query_one(PreloadPane).show(("shock",), (rear.spring,), units, extra)
        _draw(self.query_one("#travel", Drawn), session, "rear")


class SagScreen(SheetScreen):
    """The sag capture."""

    name_of = "sag"
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("sag")]
    form: ClassVar[Form] = staticmethod(forms.sag)
    label_width = 13
    cell_width = 5

    def figures(self) -> list[Widget]:
        """Both ends, and the advice on their sags where there is room for it."""
        return [*(SagPane(end) for end in ENDS), LiveText(id="advice", classes="pane")]

    def short(self, session: Session) -> Sequence[Content]:
        """Both sags of both ends; the current end first."""
        lines = [*sag_short(session.assessment, session.units, self.size.width - 2)]
        at = self.sheet.at
        return [lines[1], lines[0], *lines[2:]] if at is not None and at[1:2] == ("rear",) else lines

    def show_figures(self, session: Session) -> None:
        """Show sags, targets and stiction, and below them the advice."""
        lines: list[Content] = []
        for pane in self.query(SagPane):
            pane.show(session.assessment, session.units)
            advice = session.assessment.sag.end(pane.end).advice
            if advice is not None:
                lines += [Content.styled(f"What the {pane.end} says", "$primary bold")]
                lines += [Content(clean(sentence(advice, session.units))), Content("")]
        self.query_one("#advice", Static).update(Content("\n").join(lines))

    def action_own_readings(self) -> None:
        """Show how well the technician's readings repeat, and offer a study of it."""
        from stanchion.ui.commands.readings import ask_readings  # noqa: PLC0415 - not needed to start

        ask_readings(self.program)

    def action_swap_readings(self) -> None:
        """Swap the pushed-down and the lifted-up readings of the state in hand."""
        session, at = self.session, self.sheet.at
        if session is None or at is None:
            return
        self.program.leave_fields()
        self.program.refresh_after(session.swap_readings(at))
