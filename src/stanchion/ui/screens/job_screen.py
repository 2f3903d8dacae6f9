"""What every screen of an open job has: the bar, the tabs, a body of its own, findings, keys, shared commands."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Any, ClassVar, cast

from rich.cells import set_cell_size
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.events import Resize
from textual.geometry import Size
from textual.timer import Timer
from textual.widget import Widget
from textual.widgets import Static

from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.job.model import Path
from stanchion.judgement.missing import PARTS, next_missing
from stanchion.judgement.results.codes import Caution
from stanchion.judgement.results.findings import Finding
from stanchion.ui import keys, present
from stanchion.ui.core import CoreApp
from stanchion.ui.saved_words import TRIAL_IN_HAND, save_trouble, saved_mark
from stanchion.ui.screens.app_screen import ClosesOnce
from stanchion.ui.space import classes, cut, fitting
from stanchion.ui.tabs import TABS, Tab, tabs_that_fit
from stanchion.ui.textual_hooks import draw_now
from stanchion.ui.widgets.live_text import MARKED_S, BigFigure, Figures, LiveText
from stanchion.ui.widgets.panes import FindingsStrip
from stanchion.ui.widgets.sheet import FormSheet
from stanchion.units.known_units import Units
from stanchion.wording.american import worded
from stanchion.wording.finding_words import label

if TYPE_CHECKING:
    from stanchion.bench.edit_session import EditSession

EXERCISE = "Exercise: "
"""How the name of the machine begins in the copy of a sample that an exercise is solved on."""
BESIDE = 80
"""Columns from which there is room for figures beside the sheet."""


CORRECT = "correct_reading"
"""The command that answers the question below the sheet: it is named there, not among the keys."""

CAUTIONS_OF_WORK: dict[Caution, frozenset[str]] = {
    "fork_caps": frozenset({"front"}),
    "fork_air": frozenset({"front"}),
    "air_pump": frozenset({"front", "rear"}),
    "air_shock": frozenset({"rear"}),
    "one_leg": frozenset({"front"}),
    "adjuster_end": frozenset({"front", "rear", "adjusters"}),
    "bleed_extended": frozenset({"front"}),
    "fork_height": frozenset({"front", "adjusters"}),
    "used_oil": frozenset({"front"}),
    "oil_on_discs": frozenset({"front"}),
    "shock_spring": frozenset({"rear"}),
    "shock_gas": frozenset({"rear"}),
    "hot_shock": frozenset({"rear", "adjusters", "damping"}),
    "keep_clear": frozenset({"rear", "sag", "adjusters", "linkage"}),
    "support": frozenset({"sag", "rear", "balance", "linkage"}),
    "lift_front": frozenset({"balance"}),
    "chain_still": frozenset({"gas"}),
    "rider_steadied": frozenset({"sag"}),
    "after_work_torque": frozenset({"upkeep", "worklist"}),
    "after_work_brakes": frozenset({"upkeep", "worklist"}),
    "after_work_chain": frozenset({"upkeep", "worklist"}),
    "before_riding": frozenset({"runs", "worklist"}),
    "road_machine": frozenset({"runs", "machine"}),
    "judgement": frozenset({"machine", "predict", "balance", "gas", "damping", "trial", "springs"}),
}
"""The screens of the work that each caution belongs to."""


class WorkScreen(ClosesOnce[None]):
    """A screen on which something is changed that can be undone."""

    edits: ClassVar[bool] = True

    @property
    def program(self) -> CoreApp:
        """The application, by its own type."""
        return cast("CoreApp", self.app)

    @property
    def is_built(self) -> bool:
        """Whether its widgets are there: they are not yet while it is built, and no longer while it is taken down, when
        Textual shows it no more though some of them are left."""
        return self.is_mounted and self.display and bool(self.children)

    @property
    def edited(self) -> EditSession[Any] | None:
        """What this screen changes."""
        return None

    @property
    def may_draw(self) -> bool:
        """Not before the application is mounted, when nothing drawn is sent to the terminal."""
        return self.program.started

    def update_node_styles(self, animate: bool = True) -> None:  # noqa: FBT001, FBT002 - as Textual has it
        """Apply the styles again; not before the application is mounted, when they have just been applied."""
        if self.program.started:
            super().update_node_styles(animate)

    @property
    def takes_keys(self) -> bool:
        """Whether keys go where the user sees them go."""
        return self.is_built and super().takes_keys

    @property
    def current_field(self) -> Path | None:
        """The field in which the user types."""
        sheets = self.query(FormSheet)
        return sheets.first().at if sheets else None


class JobScreen(WorkScreen):
    """A screen that shows a part of the open job."""

    AUTO_FOCUS: ClassVar[str | None] = ""
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "app.commands", show=False)]

    _trouble_shown = ""
    _mark_timer: Timer | None = None
    _shown_at: Size | None = None
    """The size it was last shown at."""
    _about: tuple[Session, Units] | None = None
    """The job, and the units, that its figures were last shown of."""

    @property
    def edited(self) -> Session | None:
        """What this screen changes."""
        return self.session

    @property
    def session(self) -> Session | None:
        """The job this screen shows and changes."""
        return self.program.session

    def compose(self) -> ComposeResult:
        """Bar, tabs, body, findings, keys."""
        self._take_size_classes()
        yield LiveText(id="bar")
        yield LiveText(id="tabs")
        with Horizontal(id="body"):
            yield from self.body()
        yield from self.below()
        yield FindingsStrip()
        yield LiveText(id="keys")

    def _take_size_classes(self) -> None:
        """Set the classes of the present size, so that the first layout is right: Textual would set them after it."""
        self.add_class(*classes(*self.app.size), update=False)

    @property
    def narrow(self) -> bool:
        """Whether there is no room for figures beside what they follow from."""
        return self.app.size.width < BESIDE

    def body(self) -> Iterable[Widget]:
        """The widgets of the middle."""
        return ()

    def below(self) -> Iterable[Widget]:
        """The widgets between the body and the findings."""
        return ()

    def another_job(self) -> None:
        """Begin at the top: the job about to be shown is another one than before."""

    def show_figures(self, session: Session) -> None:
        """Bring the body up to date."""

    # --- keeping up -----------------------------------------------------------------------------------------------

    def on_screen_resume(self) -> None:
        """Show the job, which another screen may have changed: once the layout is known, before it is drawn."""
        self.call_next(self.reload)

    def on_resize(self, event: Resize) -> None:
        """Wrap the lines to the new width."""
        if event.size != self._shown_at:
            self.call_after_refresh(self.show_derived)

    def reload(self) -> None:
        """Show the whole job again."""
        self.show_derived()

    def show_derived(self) -> None:
        """Show what follows from the job: bar, body, findings."""
        session = self.session
        if session is None or not self.is_built:
            return
        self._shown_at = self.size
        if self._about is None or self._about[0] is not session:
            self.another_job()
        self.show_bar(session)
        self.show_figures(session)
        self._unmark_in_a_moment(session)
        more = keys.shown(self.program.key("screen.warnings").keys)
        findings, cautions = self.findings_in_order(session), self.cautions(session)
        self._trouble_shown = self.trouble()
        strip, exercise = self.query_one(FindingsStrip), self._exercise(session)
        strip.show(findings, cautions, session.units, more, self._trouble_shown, exercise=exercise)

    def _exercise(self, session: Session) -> str:
        """How far an exercise of the help is; empty where the job is none, as almost every one."""
        if not session.job.job.machine.startswith(EXERCISE):
            return ""
        from stanchion.bench.exercise import progress_words  # noqa: PLC0415 - few jobs are exercises

        return progress_words(session.job, session.profiles, session.units)

    def _unmark_in_a_moment(self, session: Session) -> None:
        """Start the timer that removes marks; for another job or other units, remove them at once."""
        if self._mark_timer is not None:
            self._mark_timer.stop()
            self._mark_timer = None
        about = (session, session.units)
        if about != self._about:
            self._about = about
            self.unmark()
        elif any(figure.has_changed for figure in self._marking):
            self._mark_timer = self.set_timer(MARKED_S, self.unmark)

    def unmark(self) -> None:
        """Remove the marks: the user has seen what is shown."""
        marked = [figure for figure in self._marking if figure.has_changed]
        for figure in self._marking:
            figure.mark_seen()
        if marked and self.session is not None and self.is_built:
            self.show_figures(self.session)

    @property
    def _marking(self) -> Iterator[Figures | BigFigure]:
        return (
            widget for widget in self.query("Figures, BigFigure").results() if isinstance(widget, Figures | BigFigure)
        )

    def show_saving(self) -> None:
        """Show the state of saving; the job is the same."""
        if not self.is_built:
            return
        if self.session is not None and self.trouble() == self._trouble_shown:
            self.show_bar(self.session)
        else:
            self.show_derived()

    def findings_in_order(self, session: Session) -> list[Finding]:
        """The findings, worst first."""
        return present.order_for(session.assessment.findings, self.name_of)

    def trouble(self) -> str:
        """Why the job is not saved; shown before all findings."""
        return save_trouble(self.program.workspace, self.program.copies)

    def cautions(self, session: Session) -> list[Caution]:
        """The cautions that belong to the work on this screen; the list of warnings has all of them."""
        own = [code for code in session.assessment.cautions if self.tab in CAUTIONS_OF_WORK[code]]
        return own or list(session.assessment.cautions[-1:])

    @property
    def tab(self) -> str:
        """The tab that is marked while it is shown."""
        return self.name_of

    def show_bar(self, session: Session) -> None:
        """Show which job is open and whether it is saved, the other screens, and the keys."""
        self.show_saved(session)
        tabs: Sequence[Tab] = TABS
        fit = tabs_that_fit(tabs, self._keys_of(tabs), self.size.width)
        if self.tab not in [tab.key.removeprefix("screen.") for tab in tabs[: len(fit)]]:
            tabs = tuple(sorted(TABS, key=lambda tab: tab.key != f"screen.{self.tab}"))  # where one is comes first
            fit = tabs_that_fit(tabs, self._keys_of(tabs), self.size.width)
        parts = []
        for tab, words in zip(tabs, fit, strict=False):
            now = tab.key == f"screen.{self.tab}"
            parts.append(Content.styled(words, "$primary bold reverse" if now else "$text-muted"))
        self.query_one("#tabs", Static).update(Content(" ").join(parts))
        hints = fitting(self.hints(), self.last_hints(), self.size.width - 1)
        self.query_one("#keys", Static).update(Content.styled(f" {hints}", "$text-muted"))

    def show_saved(self, session: Session) -> None:
        """Show which job is open, and whether it is saved."""
        job = session.job.job
        path = self.program.workspace.opened_in_place
        how = "read" if session.read_only else "saved"
        about = [f"{path.name}, {how} in place" if path is not None else "", job.machine or "unnamed machine"]
        about += [job.rider, job.date.isoformat(), job.venue, job.use]
        title = clean(" · ".join(part for part in about if part))
        saved = saved_mark(self.program.workspace, self.unsaved(session))
        if self.program.workspace.trial_in_hand and session is self.program.session:
            saved = Content.styled(f"{TRIAL_IN_HAND}, ", "bold") + saved
        width = max(0, self.size.width - saved.cell_length - 3)
        bar = Content(" " + set_cell_size(cut(title, width), width) + " ")
        bar_text = self.query_one("#bar", LiveText)
        bar_text.update(bar + saved + Content(" "))
        draw_now(bar_text)  # a frame already due would show the key, and beside it the word from before the key

    def unsaved(self, session: Session) -> str:
        """What is typed but is no part of the job, in a word or two; empty where all is."""
        unread = sum(bool(draft.reason) for draft in session.drafts.values())
        return f"{unread} not read" if unread else "unfinished" if session.drafts else ""

    def _keys_of(self, tabs: Sequence[Tab]) -> list[str]:
        return [keys.shown(self.program.key(tab.key).keys) for tab in tabs]

    def hints(self) -> list[str]:
        """The keys that matter here, the most needed first: where room is short the others are not named."""
        own = (key for key in self.program.keys if key.on == self.name_of and key.keys and key.action != CORRECT)
        return [f"{keys.shown(key.keys)} {worded(key.hint or key.words.lower())}" for key in own]

    def last_hints(self) -> list[str]:
        """The keys that are named however narrow it is."""
        return [f"{keys.shown(self.program.key('screen.warnings').keys)} warnings", "Esc all keys"]

    # --- commands that several screens have -----------------------------------------------------------------------

    def action_next_missing(self) -> None:
        """Go to the next reading that a figure of this screen waits for; then to those of the other screens."""
        if self.program.session is None or self.name_of not in PARTS:
            return
        path = next_missing(self.name_of, self.program.session.assessment, self.current_field)
        if path is None:
            self.program.say("No figure needs another reading.")
            return
        if present.on_screen(path) != self.name_of and self.name_of != "predict":
            place = label(path, both_legs=not self.program.session.job.front.split)
            self.program.say(f"Nothing more is missing on this screen. Next: {place}.")
        self.program.jump(path)

    def action_correct_reading(self) -> None:
        """Take the number just entered as a correction of one that was measured wrong, not as another part."""
        program, session = self.program, self.program.session
        if session is None:
            return
        program.leave_fields()
        asked = session.asked
        if asked is None:
            program.say("Nothing to correct: first change a rate, a length, an air gap or the rider's mass.")
            return
        refusal = session.correct()
        if not refusal:
            undo = keys.shown(program.key("undo").keys)
            of = " and ".join(asked.ends)
            program.say(
                f"Corrected: {of} sag and runs stay valid with the new number. If another part was fitted: {undo}."
            )
        program.refresh_after(refusal)
