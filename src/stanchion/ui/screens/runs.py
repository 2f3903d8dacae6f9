"""Runs on the track: log one, read its markers, and see what was changed since the run before."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget

from stanchion.job.model import ENDS
from stanchion.job.runs import as_ridden, changes_before
from stanchion.job.spec import Kind
from stanchion.judgement.change_words import changes_in_words
from stanchion.judgement.runs import run_figures
from stanchion.judgement.wording import reason
from stanchion.quantity import show
from stanchion.session import Session
from stanchion.text import clean
from stanchion.ui import forms, keys
from stanchion.ui.forms import Form
from stanchion.ui.plot import Mark, scale
from stanchion.ui.screens.bench import BenchScreen
from stanchion.ui.widgets.panes import Drawn

MUTED = "$text-muted"
NAMES = {"front": "FORK, mm along the leg", "rear": "SHOCK, mm of stroke"}


class RunsScreen(BenchScreen):
    """Every run of the job."""

    name_of = "runs"
    form: ClassVar[Form] = staticmethod(forms.runs)
    cell_width = 8
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("runs")]

    def figures(self) -> list[Widget]:
        """What the run in hand tells."""
        return [Drawn(id="run")]

    def show_figures(self, session: Session) -> None:
        """Travel used at both ends by the run in hand, and what was changed before it."""
        at = self.run_in_hand(session)
        self.query_one("#run", Drawn).draw(lambda width, _: run_lines(session, at, width - 1))

    def run_in_hand(self, session: Session) -> int:
        """The run whose field is in hand; the latest where there is none."""
        path = self.sheet.at
        at = path[1] if path is not None and path[0] == "runs" else None
        last = len(session.job.runs) - 1
        return at if isinstance(at, int) and at <= last else last


def run_lines(session: Session, at: int, width: int) -> list[Content]:
    """The lines beside the sheet.

    Args:
        session: the open job.
        at: which run; -1: there is none yet.
        width: columns there are.
    """
    job, units = session.job, session.units
    if at < 0:
        key = keys.shown(keys.BY_ID["run.log"].keys)
        return [
            Content.styled("NO RUN YET", "$primary bold"),
            Content(f"{key} logs one: the time and the settings"),
            Content("ridden are filled in by themselves."),
        ]
    figures = run_figures(job, at, session.assessment.behind)
    lines = [Content.styled(f"RUN {at + 1}, TRAVEL USED", "$primary bold")]
    for end in ENDS:
        of = figures.end(end)
        lines.append(Content.styled(NAMES[end], "$primary"))
        if of.used_mm.value is None or of.available_mm.value is None:
            lines.append(Content.styled(f"– {clean(reason(of.used_mm) or reason(of.available_mm))}"[:width], MUTED))
            continue
        shown = [show(figure.value or 0.0, Kind.LENGTH, units) for figure in (of.used_mm, of.available_mm, of.left_mm)]
        used, full, left = (text.partition(" ")[0] for text in shown)
        lines.append(Content.styled(f"{used} of {full}", "$figure bold") + Content.styled(f", {left} left", MUTED))
        lines.append(Content(scale([Mark("M", of.used_mm.value)], of.available_mm.value, max(4, width))))
    changes = changes_before(job, at)
    lines += [Content(""), Content.styled("CHANGED SINCE THE RUN BEFORE", "$primary bold")]
    if at == 0:
        lines.append(Content.styled("This is the first run.", MUTED))
    elif not changes:
        lines.append(Content.styled("Nothing at fork or shock.", MUTED))
    told = changes_in_words(changes, as_ridden(job, job.runs[at]), units)
    lines += [Content(clean(change, 200)) for change in told]
    return lines
