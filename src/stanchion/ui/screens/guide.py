"""One reading at a time, in large digits, with what to do to take it: for one hand on the tape and one on the keys."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.widget import Widget

from stanchion.base.text import clean
from stanchion.bench.guided_measuring import GuideStep, StepGroup, half_taken, not_found_yet
from stanchion.bench.guided_readings import Guided, Hindrance
from stanchion.bench.session import Session
from stanchion.job.edit import spec_at
from stanchion.job.model import STATES, Path
from stanchion.job.spec import Number
from stanchion.judgement.results.codes import Caution
from stanchion.judgement.results.findings import Finding
from stanchion.ui import guide_lines, keys, present
from stanchion.ui.field_line import asked_words
from stanchion.ui.screens.job_screen import JobScreen
from stanchion.ui.widgets.guide_pane import GuidePane, ReadingEditor, ShownStep
from stanchion.ui.widgets.pages import TURN_KEYS, Pages
from stanchion.ui.widgets.panes import Drawn
from stanchion.wording.guide_sentences import TIGHTEN

NOTES: dict[Hindrance, str] = {
    "": "",
    "doubtful": "? Enter keeps it · * again · / back",
    "unread": "not read; Backspace empties it",
    "nothing_yet": "take this one first, then repeat it",
    "once": "read once: type over it to correct",
    "dropped": "dropped; ^Z brings it back",
    "nothing_to_drop": "nothing is taken here yet",
}
"""What is said where a key could not do its work."""

USUAL_WIDTH = 80
"""Columns from which * says that what is read again goes into the mean."""


class GuideScreen(JobScreen):
    """The readings of sag, fork, shock, the machine as found, or the front lifted, one after the other.

    Args:
        part: what is measured.
        chosen: the field to begin at where no reading is missing or old; None: the end of the list.
    """

    CSS_PATH = "../styles/guide.tcss"
    name_of = "guide"
    closes_on_go: ClassVar[bool] = True
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", show=False),
        Binding("pagedown", "first_missing", show=False),
        *keys.bindings("guide"),
        *TURN_KEYS,
    ]

    def __init__(self, part: StepGroup, chosen: Path | None = None) -> None:
        super().__init__()
        self.part: StepGroup = part
        self.last_field: Path | None = None
        """The current reading when the screen was closed; None after the last."""
        self._chosen = chosen
        self._guided: Guided | None = None

    @property
    def tab(self) -> str:
        """The tab of what is measured."""
        return {"found": "adjusters", "lifting": "balance", "swingarm": "gas"}.get(self.part, self.part)

    @property
    def guided(self) -> Guided | None:
        """The state of the guide: which reading is current; None before a job is shown."""
        if self._guided is None and self.session is not None:
            self._guided = Guided(self.session, self.part, self._chosen, today=self.program.today())
        return self._guided

    @property
    def step(self) -> GuideStep | None:
        """The current reading; None after the last."""
        return self.guided.step if self.guided is not None else None

    @property
    def current_field(self) -> Path | None:
        """The field in which the user types."""
        return self.guided.field if self.guided is not None else None

    @property
    def editor(self) -> ReadingEditor:
        """The editor of the current reading."""
        return self.query_one(ReadingEditor)

    def on_mount(self) -> None:
        """Take the focus at once: what is typed fast after the key that led here belongs to the first reading."""
        self.reload()

    # --- what is shown --------------------------------------------------------------------------------------------

    def body(self) -> Iterable[Widget]:
        """Instruction, figure, outcome; beside them all readings."""
        yield GuidePane(self)
        yield Drawn(id="guide-list")

    def hints(self) -> list[str]:
        """The keys that matter here."""
        alone = self.guided is not None and self.guided.alone
        own = [f"{keys.shown(self.program.key('guide.alone').keys)} {'two' if alone else 'alone'}"]
        once_more = "* once more, for the mean" if self.size.width >= USUAL_WIDTH else "* repeat"
        again = {"repeat": [once_more], "piece": ["* next piece"]}
        step = self.step
        dropped = [f"{keys.shown(self.program.key('guide.drop').keys)} drop"] if step is not None and step.again else []
        first = again.get(step.again if step is not None else "", [])
        asks_sag = self.guided is not None and self.guided.asks_sag
        return [*first, "/ back", *dropped, *(own if asks_sag else [])]

    def last_hints(self) -> list[str]:
        """Going on and leaving."""
        return [
            "Enter next" if self.step else "Enter goes on",
            f"{keys.shown(self.program.key('undo').keys)} undo",
            *super().last_hints()[:1],
            "Esc leaves",
        ]

    def reload(self) -> None:
        """Show the job again after it was changed elsewhere, or for the first time."""
        if self.guided is not None and self.is_built:
            self.guided.follow()
            self._show()

    def on_screen_suspend(self) -> None:
        """Let the first key after coming back replace the current reading."""
        self.editor.put_down()

    def _show(self) -> None:
        """Put the current reading into the editor, and show it with all around it."""
        self._fill()
        self.show_derived()

    def show_figures(self, session: Session) -> None:
        """Show everything but bar and findings."""
        guided = self.guided
        if guided is None:
            return
        ordered, step, pane = guided.steps, guided.step, self.query_one(GuidePane)
        if step is None:
            pane.show_end(session, self.part, ordered, self._asked())
        else:
            not_found = not_found_yet(ordered, session.job)
            reported = guided.reported
            if reported is not None and all(("sag", reported.end, state) in not_found for state in STATES):
                reported = None  # nothing is to be shown of that end yet
            shown = ShownStep(
                step=step,
                number=guided.at + 1,
                repeat_at=guided.repeat_at,
                note=NOTES[guided.hindrance],
                ordered=ordered,
                outcome_of=reported or step,
                not_found=not_found,
                settled=guided.settled,
                settled_job=guided.settled_job,
                asked=self._asked(),
            )
            pane.show_step(session, shown, plain=self.program.only_ascii)
        self.query_one("#guide-list", Drawn).draw(
            lambda width, height: guide_lines.step_lines(session, ordered, guided.at, width, height)
        )

    def findings_in_order(self, session: Session) -> list[Finding]:
        """Those of what is measured first; doubts about the reading just taken before all."""
        guided = self.guided
        if guided is None:
            return super().findings_in_order(session)
        half = half_taken(guided.steps, guided.settled) | not_found_yet(guided.steps, session.job)
        # what is missing the list shows
        found = (one for one in guided.settled.findings if one.code != "missing" and one.where not in half)
        ordered = present.order_for(found, self.tab)
        fresh = guided.fresh_doubts if guided.hindrance == "doubtful" else ()
        return [*fresh, *(finding for finding in ordered if finding not in fresh)]

    def cautions(self, session: Session) -> list[Caution]:
        """The caution of the current reading, then those of the part."""
        step = self.step
        own: list[Caution] = [step.caution] if step is not None and step.caution else []
        if step is None and self.part not in ("sag", "found"):
            ends: dict[str, Caution] = {"lifting": "lift_front", "swingarm": "chain_still"}
            own = [ends.get(self.part, TIGHTEN)]
        return [*own, *(code for code in super().cautions(session) if code not in own)]

    def trouble(self) -> str:
        """Why the current reading cannot be read, before what is not saved."""
        session, path = self.session, self.current_field
        draft = session.drafts.get(path) if session is not None and path is not None else None
        unread = f"Not read: {clean(draft.reason, 300)}" if draft is not None and draft.reason else ""
        return unread or super().trouble()

    def _asked(self) -> str:
        """The question whether the reading just taken had been measured wrong; empty where it is not asked."""
        session = self.session
        if session is None or session.asked is None:
            return ""
        return asked_words(session, session.asked, keys.shown(self.program.key("reading.guide").keys))

    def _fill(self) -> None:
        path, session, editor = self.current_field, self.session, self.editor
        if self.step is not None and self.step.confirms:
            path = None
        editor.display = path is not None
        if path is not None and session is not None:
            spec = spec_at(path)
            signed = isinstance(spec, Number) and spec.low < 0
            editor.fill((session, path), clean(session.text_of(path)), numeric=True, signed=signed)
        if self.is_current:
            self.set_focus(editor if path is not None else None)

    # --- moving ---------------------------------------------------------------------------------------------------

    def leave_field(self) -> None:
        """Accept or drop what was typed and is unfinished."""
        if self.guided is not None:
            self.guided.leave()

    def entered(self) -> None:
        """Take the reading and go on; a doubtful one only when Enter is pressed again, an unreadable one not at all."""
        guided = self.guided
        if guided is None:
            return
        before = (guided.at, guided.repeat_at)
        guided.take()
        if (guided.at, guided.repeat_at) != before:
            self._show()
            return
        if guided.hindrance in ("doubtful", "unread"):
            self.editor.action_select_all()  # the next key replaces it
        self.show_derived()

    def repeat(self) -> None:
        """Go to another reading of the same, or another piece; after the last, to the first again."""
        if self.guided is not None:
            self.guided.repeat()
            if self.guided.hindrance:
                self.show_derived()
            else:
                self._show()

    def action_turn_page(self, step: int) -> None:
        """Show what there is no room for of the results at the end."""
        self.query_one("#guide-end", Pages).turn(step)

    def action_drop_reading(self) -> None:
        """Remove the current repeat or piece."""
        if self.guided is not None:
            self.guided.drop()
            self._show()

    def action_move(self, step: int) -> None:
        """Go back to the reading before, whatever is in this one; or on."""
        if step > 0:
            self.entered()
        elif self.guided is not None:
            self.guided.back()
            self._show()

    def action_down_past(self) -> None:
        """On, as Enter."""
        self.entered()

    def action_along(self, step: int) -> None:
        """Tab repeats, as it goes to the next repeat on the sheet."""
        if step > 0:
            self.repeat()
        else:
            self.action_move(-1)

    def stepped(self, direction: int) -> None:
        """Left of the text: back. To its right there is nothing."""
        if direction < 0:
            self.action_move(-1)

    def action_section(self, step: int) -> None:
        """PgDn leads to the first reading that is missing; there are no sections here."""
        if step > 0:
            self.action_first_missing()

    def action_edge(self, which: int) -> None:
        """Nothing: the readings are gone through one by one."""

    def action_first_missing(self) -> None:
        """On to the first reading that is missing."""
        if self.guided is not None:
            self.guided.first_missing()
            self._show()

    def action_leave(self) -> None:
        """Back to the sheet, at the current reading."""
        self.leave_field()
        self.last_field = self.current_field
        self.dismiss(None)

    def action_guide_alone(self) -> None:
        """Take sag as one person with a travel marker, or as two with a tape."""
        if self.guided is not None and self.guided.asks_sag:
            self.guided.turn_alone()
            self._show()

    async def on_key(self, event: events.Key) -> None:
        """Where nothing is typed there is no editor: Enter confirms what was done, and after the last reading goes to
        what is missing, or leaves. Back goes back."""
        if self.guided is None:
            return
        step = self.step
        if step is not None and not step.confirms:
            if not self.editor.has_focus:
                await self.editor.press(event)
        elif event.key in ("enter", "ctrl+j", "down"):
            event.stop()
            if step is not None:
                self.entered()
            elif self.guided.complete:
                self.action_leave()
            else:
                self.action_first_missing()
        elif event.key in ("up", "left", "shift+tab") or event.character == "/":
            event.stop()
            self.action_move(-1)

    # --- what the editor reports ----------------------------------------------------------------------------------

    def typed(self, text: str) -> None:
        """A key changed the text."""
        if self.guided is not None and self.guided.type(text):
            self._changed()

    def nudged(self, direction: int) -> None:
        """+ or - steps the number, as on the sheet."""
        if self.guided is not None:
            self.guided.nudge(direction)
            self._fill()
            self._changed()

    def _changed(self) -> None:
        self.program.workspace.keep_drafts()
        self.show_derived()
