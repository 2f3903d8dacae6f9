"""All clickers and preload adjusters of both ends, and both heights: turn one, and see what its last change did."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import ClassVar

from textual.binding import BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widget import Widget

from stanchion.bench.session import Session
from stanchion.job.edit import Edit
from stanchion.job.found import AT as FOUND
from stanchion.job.found import all_recorded, is_taken
from stanchion.job.model import Job, Path, Run
from stanchion.planning.adjuster_history import Ridden, ridden
from stanchion.ui import keys
from stanchion.ui.adjuster_form import CELL, adjuster_form, position_of, positions
from stanchion.ui.adjuster_lines import adjuster_lines, in_large_digits
from stanchion.ui.form_lines import FormLine
from stanchion.ui.screens.sheet_screen import SheetScreen
from stanchion.ui.space import short_lines
from stanchion.ui.widgets.live_text import BigFigure
from stanchion.ui.widgets.pages import Pages
from stanchion.ui.widgets.panes import Drawn
from stanchion.ui.widgets.sheet import FormSheet
from stanchion.units.known_units import Units
from stanchion.wording.american import worded


class AdjusterSheet(FormSheet):
    """The adjusters; its edges are the first and the last position, whatever stands beside them."""

    def action_edge(self, which: int) -> None:
        """The first (0) or the last (-1) position."""
        last = self.grid.edge(which)
        if last is not None:
            self.go(position_of(last))


class AdjustersScreen(SheetScreen):
    """Every adjuster on one screen; below them what is known of the current one."""

    CSS_PATH = "../styles/adjusters.tcss"
    name_of = "adjusters"
    label_width = 18
    cell_width = CELL
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("adjusters")]

    def __init__(self) -> None:
        super().__init__()
        self._known: dict[Path, Ridden] = {}
        """What the runs say of each adjuster, worked out once for the runs of `_known_of`."""
        self._known_of: tuple[tuple[Run, ...], object] = ((), None)

    def body(self) -> Iterable[Widget]:
        """The adjusters over the whole width; the current one below, its position in large digits."""
        self._sheet = AdjusterSheet(self._lines, label_width=self.label_width, cell_width=self.cell_width)
        yield VerticalScroll(self._sheet, id="sheet-pane", can_focus=False)
        yield Horizontal(BigFigure("", id="stands"), Drawn(id="adjuster"), id="figures")
        yield Pages(id="short")

    def _lines(self, job: Job, units: Units) -> tuple[FormLine, ...]:
        return adjuster_form(job, units, lambda path: self._ridden(job, path))

    def _ridden(self, job: Job, path: Path) -> Ridden:
        """What the runs say of an adjuster: the same as long as neither they nor what is counted changes."""
        counted = _counting(job)
        if self._known_of[0] is not job.runs or self._known_of[1] != counted:
            self._known, self._known_of = {}, (job.runs, counted)
        found = self._known.get(path)
        if found is None:
            found = self._known[path] = ridden(job, path)
        return found

    def keeps(self, path: Path) -> bool:
        """Whether a field that a warning leads to is on this screen, which then stays."""
        return path in self.sheet.grid

    def show_figures(self, session: Session) -> None:
        """Show the current adjuster."""
        field = self.sheet.at
        large = "" if field is None else in_large_digits(session, position_of(field))
        self.query_one("#stands", BigFigure).update(large)
        self.query_one("#adjuster", Drawn).draw(lambda width, height: self._said(session, width - 1, height))

    def short(self, session: Session) -> Sequence[Content]:
        """The same in the few lines there are."""
        return self._said(session, self.size.width - 2, short_lines(self.app.size.height))

    def _said(self, session: Session, width: int, height: int) -> list[Content]:
        field = self.sheet.at
        if field is None or height < 1:
            return []
        at = position_of(field)
        shown = {"log": "screen.runs", "found": "guide.found", "front": "screen.front", "rear": "screen.rear"}
        names = {name: keys.shown(self.program.key(key).keys) for name, key in shown.items()}
        return adjuster_lines(session, at, self._ridden(session.job, at), names, width=width, height=height)

    def hints(self) -> list[str]:
        """Hints, those on stepping first."""
        return ["+ − step", *(hint for hint in super().hints() if hint != "+ − step")]

    def action_damping(self) -> None:
        """Frequency and damping of both ends."""
        self.program.action_go("damping")

    def action_guide_found(self) -> None:
        """Take the machine as it was found, one reading at a time."""
        self.begin_guide("found")

    def action_take_found(self) -> None:
        """Record everything as it is now for the machine as found; over an earlier record only after asking."""
        session, program = self.session, self.program
        if session is None:
            return
        program.leave_fields()
        undo = keys.shown(program.key("undo").keys)

        def take() -> None:
            record = all_recorded(session.job, program.today())
            done = f"What is recorded now is kept as the machine as found, with today's date. {undo} takes that back."
            program.refresh_after(session.put(FOUND, record) or done)

        found = session.job.found
        if not is_taken(found) and not session.job.runs:
            take()
            return
        on = found.on.isoformat() if found is not None and found.on is not None else ""
        title = f"The machine as found is recorded already{f', on {on}' if on else ''}"
        text = worded("What is recorded now would replace it. Tyre pressures stay.")
        if not is_taken(found):
            title = "Runs were ridden since the machine came"
            text = "As found means before anything was touched. What is recorded now may differ."
        answers = (("back", "Leave it as it is"), ("take", "Take what is recorded now"))
        program.ask(title, text, answers, lambda answer: take() if answer == "take" else None)

    def action_set_base(self) -> None:
        """Record every position as it is now as the base setting."""
        session, program = self.session, self.program
        if session is None:
            return
        program.leave_fields()
        known = positions(session.job, self.sheet.grid.lines)
        edits = [Edit((*path[:-1], "base"), now) for path, now in known]
        undo = keys.shown(program.key("undo").keys)
        done = f"The base is now where the {len(edits)} adjusters stand. {undo} takes that back."
        program.refresh_after(session.put_all(edits) or done if edits else "No position is recorded yet.")


def _counting(job: Job) -> object:
    """How everything is counted, and whether the legs are apart."""
    fork = [
        (leg.adjuster.counting, leg.compression.unit, leg.high_speed_compression.unit, leg.rebound.unit)
        for leg in (job.front.left, job.front.right)
        if leg is not None
    ]
    rear = job.rear
    shock = (rear.collar.counting, *(one.unit for one in (rear.low_speed_compression, rear.high_speed_compression)))
    return fork, shock, rear.rebound.unit
