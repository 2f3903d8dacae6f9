"""What the machine, front, rear and sag screens share: the bar, the sheet, the field in hand, findings, keys."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, cast

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Static

from stanchion.job.edit import spec_at, value_at
from stanchion.job.model import Path
from stanchion.job.spec import Day, Flag, Number
from stanchion.judgement.cautions import PART_OF
from stanchion.judgement.wording import choice_word, field_label, label
from stanchion.quantity import readback, show
from stanchion.session import Session
from stanchion.text import clean
from stanchion.ui import keys, present
from stanchion.ui.forms import Form
from stanchion.ui.widgets.panes import FindingsStrip
from stanchion.ui.widgets.sheet import Sheet

if TYPE_CHECKING:
    from stanchion.ui.app import StanchionApp

TABS = (("machine", "Machine"), ("front", "Front"), ("rear", "Rear"), ("sag", "Sag"))
SMALLEST = (80, 24)


class BenchScreen(Screen[None]):
    """One part of the open job: a sheet to fill on the left, what follows from it on the right."""

    name_of: ClassVar[str] = ""
    form: ClassVar[Form]
    label_width: ClassVar[int] = 24
    cell_width: ClassVar[int] = 9
    AUTO_FOCUS: ClassVar[str | None] = ""
    HORIZONTAL_BREAKPOINTS = [  # noqa: RUF012 - Textual declares it on the instance
        (0, "-narrow"),
        (80, "-std"),
        (110, "-wide"),
    ]
    VERTICAL_BREAKPOINTS = [  # noqa: RUF012
        (0, "-low"),
        (24, "-usual"),
        (34, "-tall"),
    ]
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "app.commands", show=False)]

    @property
    def bench(self) -> StanchionApp:
        """The application, by its own type."""
        return cast("StanchionApp", self.app)

    @property
    def session(self) -> Session | None:
        """The open job."""
        return self.bench.session

    @property
    def sheet(self) -> Sheet:
        """The fields."""
        return self.query_one(Sheet)

    def compose(self) -> ComposeResult:
        """Bar, tabs, sheet and figures, the field in hand, findings, keys."""
        yield Static(id="bar", markup=False)
        yield Static(id="tabs", markup=False)
        with Horizontal(id="body"):
            with VerticalScroll(id="sheet-pane", can_focus=False):
                yield Sheet(type(self).form, label_width=self.label_width, cell_width=self.cell_width)
            with Vertical(id="figures"):
                yield from self.figures()
        yield Static(id="field", markup=False)
        yield FindingsStrip()
        yield Static(id="keys", markup=False)
        yield Static(
            f"stanchion needs {SMALLEST[0]} columns and {SMALLEST[1]} lines here.\nMake the window larger; "
            "nothing entered is lost.",
            id="too-small",
            markup=False,
        )

    def figures(self) -> list[Widget]:
        """The widgets of the right-hand side."""
        return []

    def show_figures(self, session: Session) -> None:
        """Bring the right-hand side up to date."""

    # --- keeping up -----------------------------------------------------------------------------------------------

    def on_mount(self) -> None:
        """Show the job as soon as the layout is known."""
        self.call_after_refresh(self.reload)

    def on_screen_resume(self) -> None:
        """Another screen may have changed the job meanwhile."""
        self.call_after_refresh(self.reload)

    def on_resize(self) -> None:
        """Lines are wrapped to the width there is."""
        self.call_after_refresh(self.show_derived)

    def reload(self) -> None:
        """Show the whole job anew."""
        session = self.session
        if session is None or not self.is_mounted:
            return
        self.sheet.show(session)
        self.sheet.take_focus()
        self.show_derived()

    def show_derived(self) -> None:
        """Show what follows from the job: bar, figures, field in hand, findings."""
        session = self.session
        if session is None or not self.is_mounted:
            return
        self.show_bar()
        self.show_figures(session)
        self.show_field()
        assessment = session.assessment
        more = keys.shown(self.bench.key("screen.warnings").keys)
        ordered = present.order_for(assessment.findings, self.name_of)
        trouble = self.bench.save_trouble()
        self.query_one(FindingsStrip).show(ordered, self.cautions(session), session.units, more, trouble)

    def cautions(self, session: Session) -> list[str]:
        """The cautions that apply, those of the work on this screen first."""
        return sorted(session.assessment.cautions, key=lambda code: PART_OF.get(code) != self.name_of)

    def show_bar(self) -> None:
        """Who and what is on the bench, and whether it is saved."""
        session = self.session
        if session is None:
            return
        job = session.job.job
        parts = [job.machine or "unnamed machine", job.rider, job.date.isoformat(), job.venue, job.use]
        title = clean(" · ".join(part for part in parts if part))
        saved = self.bench.saved_mark()
        width = self.size.width - saved.cell_length - 3
        bar = Content(" " + title[:width].ljust(width) + " ")
        self.query_one("#bar", Static).update(bar + saved + Content(" "))
        tabs = Content(" ")
        for screen, name in TABS:
            key = keys.shown(self.bench.key(f"screen.{screen}").keys)
            style = "$primary bold reverse" if screen == self.name_of else "$text-muted"
            tabs += Content.styled(f" {key} {name} ", style) + Content(" ")
        count = len(session.assessment.findings)
        for identity, name in (("screen.warnings", f"Warnings {count}"), ("jobs", "Jobs"), ("help", "Help")):
            tabs += Content.styled(f" {keys.shown(self.bench.key(identity).keys)} {name} ", "$text-muted")
        self.query_one("#tabs", Static).update(tabs)
        self.query_one("#keys", Static).update(self.key_line())

    def key_line(self) -> Content:
        """The keys that apply here."""
        own = [key for key in self.bench.keys if key.on == self.name_of and key.keys]
        parts = ["Enter next", "Tab across", "+ − step", *(f"{keys.shown(k.keys)} {k.words.lower()}" for k in own)]
        parts += [f"{keys.shown(self.bench.key('undo').keys)} undo", "Esc commands"]
        return Content.styled(" " + " · ".join(parts), "$text-muted")

    def show_field(self) -> None:
        """The field in hand: its whole name, the value as it was understood, or why it was not."""
        session, path = self.session, self.sheet.at
        line = self.query_one("#field", Static)
        if session is None or path is None:
            line.update("")
            return
        draft = session.drafts.get(path)
        value = value_at(session.job, path)
        spec = spec_at(path)
        both = not session.job.front.split
        name = Content.styled(f" {label(path, both_legs=both)}: ", "$primary bold")
        kept = "empty" if value is None else show(value, spec.kind, session.units) if isinstance(spec, Number) else ""
        if draft is not None and draft.reason:
            keeps = f" (kept: {kept})" if kept else ""
            line.update(Content.styled(f" {field_label(path)}: ✖ {clean(draft.reason)}{keeps}", "$fault bold"))
        elif isinstance(spec, Number):
            said = kept
            if value is not None:
                said = readback(session.text_of(path), spec, session.units)
            line.update(name + Content.styled(said, "$figure bold"))
        elif isinstance(spec, Day):
            line.update(name + Content.styled(value.strftime("%A, %d %B %Y"), "$figure bold"))
        elif session.options(path) or isinstance(spec, Flag):
            words = Content.styled(choice_word(path, value), "$figure bold")
            line.update(name + words + Content.styled("   + or − changes it", "$text-muted"))
        else:
            line.update(name)

    # --- what the sheet reports -----------------------------------------------------------------------------------

    def on_sheet_changed(self, message: Sheet.Changed) -> None:
        """A key changed the job or a draft."""
        message.stop()
        self.show_derived()

    def on_sheet_entered(self, message: Sheet.Entered) -> None:
        """Another field is in hand."""
        message.stop()
        self.bench.remember(self.name_of)
        self.show_derived()

    def on_sheet_opened(self, message: Sheet.Opened) -> None:
        """A text of several lines is to be written."""
        message.stop()
        self.bench.write_text(message.path)

    def go_to(self, path: Path) -> None:
        """Take a field in hand."""
        self.sheet.go(path)
        self.sheet.take_focus()
