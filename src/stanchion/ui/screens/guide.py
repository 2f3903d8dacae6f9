"""One reading at a time, in large digits, with what to do to take it: for one hand on the tape and one on the keys."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.widget import Widget

from stanchion.job.edit import Edit, spec_at, value_at
from stanchion.job.model import Job, Path
from stanchion.job.spec import Number
from stanchion.judgement.assessment import Assessment
from stanchion.judgement.findings import Finding
from stanchion.judgement.guide import Part, Step, alone_so_far, doubts, first_open, half_taken, outdated, steps, taken
from stanchion.judgement.guide_sentences import TIGHTEN
from stanchion.session import Session
from stanchion.text import clean
from stanchion.ui import guide_lines, keys, present
from stanchion.ui.screens.job_screen import JobScreen
from stanchion.ui.widgets.guide_pane import GuidePane, ReadingEditor, Shown
from stanchion.ui.widgets.panes import Drawn, FindingsStrip

KEEP = "? Enter keeps it · * again · / back"
UNREAD = "not read; Backspace empties it"
NOTHING_YET = "take this one first, then repeat it"
ONCE = "read once: type over it to correct"


class GuideScreen(JobScreen):
    """The readings of sag, fork or shock, one after the other.

    What is typed goes into the job as on the sheet. Figures and warnings stand still while a reading is typed and
    follow when it is taken, for half a number swaps readings and breaks limits.

    Args:
        part: what is measured.
        chosen: the field to begin at; None: the first reading missing.
    """

    name_of = "guide"
    passing: ClassVar[bool] = True
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", show=False),
        Binding("pagedown", "first_missing", show=False),
        *keys.bindings("guide"),
    ]

    def __init__(self, part: Part, chosen: Path | None = None) -> None:
        super().__init__()
        self.part: Part = part
        self.alone = False
        self.at = 0
        self.repeat_at = 0
        self.left_at: Path | None = None
        """The reading in hand when it was left; none after the last."""
        self._chosen = chosen
        self._begun = False
        self._asked = False
        """Enter was pressed on a doubtful reading; once more keeps it."""
        self._note = ""
        """What stood in the way of the last key."""
        self._known: set[tuple[str, Path]] = set()
        """What was found before the reading in hand was typed."""
        self._told: Step | None = None
        """The reading whose outcome is shown: the one last taken."""
        self._settled: Assessment | None = None
        self._seen: Job | None = None

    # --- where we are ---------------------------------------------------------------------------------------------

    @property
    def tab(self) -> str:
        """The tab of what is measured."""
        return self.part

    @property
    def steps(self) -> tuple[Step, ...]:
        """The readings as the job now asks for them."""
        return steps(self.part, self.session.job, alone=self.alone) if self.session is not None else ()

    @property
    def step(self) -> Step | None:
        """The reading in hand; None after the last."""
        ordered = self.steps
        return ordered[self.at] if self.at < len(ordered) else None

    @property
    def field_in_hand(self) -> Path | None:
        """Where what is typed goes."""
        return self.step.field(self.repeat_at) if self.step is not None else None

    @property
    def editor(self) -> ReadingEditor:
        """Where it is typed."""
        return self.query_one(ReadingEditor)

    def on_mount(self) -> None:
        """Take the keys at once: what is typed fast after the key that led here belongs to the first reading."""
        self.reload()
        super().on_mount()

    # --- what is shown --------------------------------------------------------------------------------------------

    def body(self) -> Iterable[Widget]:
        """Instruction, figure, outcome; beside them all readings."""
        yield GuidePane(self)
        yield Drawn(id="guide-list")

    def hints(self) -> list[str]:
        """The keys that matter here."""
        own = [f"{keys.shown(self.bench.key('guide.alone').keys)} {'two' if self.alone else 'alone'}"]
        again = {"repeat": ["* repeat"], "piece": ["* next piece"]}.get(self.step.again if self.step else "", [])
        return [*(own if self.part == "sag" else []), "/ back", *again]

    def last_hints(self) -> list[str]:
        """Going on and leaving."""
        return [
            "Enter next" if self.step else "Enter goes on",
            f"{keys.shown(self.bench.key('undo').keys)} undo",
            *super().last_hints()[:1],
            "Esc leaves",
        ]

    def reload(self) -> None:
        """The job was changed from outside, or is shown for the first time."""
        session = self.session
        if session is None or not self.stands:
            return
        if not self._begun:
            self._begun = True
            self.alone = self.part == "sag" and alone_so_far(session.job)
            self._begin(session)
        elif self._seen is not None and self._seen != session.job:
            ordered, seen = self.steps, self._seen
            changed = (n for n, s in enumerate(ordered) if value_at(seen, s.path) != value_at(session.job, s.path))
            self._go(next(changed, min(self.at, len(ordered))), self.repeat_at)
        else:
            self._fill(session)
            self.show_derived()

    def _begin(self, session: Session) -> None:
        ordered, chosen = self.steps, self._chosen
        at = next((n for n, step in enumerate(ordered) if chosen is not None and step.covers(chosen)), None)
        if at is None or chosen is None:
            self._go(first_open(ordered, session.job))
            return
        last = chosen[-1]
        self._go(at, last if isinstance(last, int) else 0)

    def show_figures(self, session: Session) -> None:
        """Everything but bar and findings."""
        ordered, step, pane = self.steps, self.step, self.query_one(GuidePane)
        if step is None:
            pane.show_end(session, self.part, ordered)
        else:
            shown = Shown(
                step=step,
                number=self.at + 1,
                repeat_at=self.repeat_at,
                note=KEEP if self._asked else self._note,
                ordered=ordered,
                told=self._told or step,
                settled=self._settled or session.assessment,
            )
            pane.show_step(session, shown, plain=self.bench.only_ascii)
        self.query_one("#guide-list", Drawn).draw(
            lambda width, height: guide_lines.step_lines(session, ordered, self.at, width, height)
        )

    def show_derived(self) -> None:
        """The caution of the reading in hand is shown whole, unless there is a doubt to be read."""
        if self.stands:
            self.query_one(FindingsStrip).whole_caution = not self._asked
        super().show_derived()

    def told_findings(self, session: Session) -> list[Finding]:
        """Those of what is measured first; doubts about the reading just taken before all."""
        settled = self._settled or session.assessment
        half = half_taken(self.steps, settled)
        # what is missing the list shows
        found = (one for one in settled.findings if one.code != "missing" and one.where not in half)
        ordered = present.order_for(found, self.part)
        fresh = self._fresh(session) if self._asked else ()
        return [*fresh, *(finding for finding in ordered if finding not in fresh)]

    def cautions(self, session: Session) -> list[str]:
        """The caution of the reading in hand, then those of the part."""
        step = self.step
        own = [step.caution] if step is not None and step.caution else []
        if step is None and self.part != "sag":
            own = [TIGHTEN]
        return [*own, *(code for code in super().cautions(session) if code not in own)]

    def trouble(self) -> str:
        """Why the reading in hand cannot be read, before what is not saved."""
        session, path = self.session, self.field_in_hand
        draft = session.drafts.get(path) if session is not None and path is not None else None
        unread = f"Not read: {clean(draft.reason, 300)}" if draft is not None and draft.reason else ""
        return unread or super().trouble()

    # --- moving ---------------------------------------------------------------------------------------------------

    def _go(self, at: int, repeat: int = 0) -> None:
        """Take a reading in hand, leaving the one there was."""
        session = self.session
        if session is None:
            return
        self.leave_field()
        ordered = self.steps
        self.at = max(0, min(at, len(ordered)))
        step = self.step
        count = len(value_at(session.job, step.path)) if step is not None and step.again else 0
        self.repeat_at = min(repeat, count, step.most - 1) if step is not None else 0
        self._asked, self._note = False, ""
        self._settle(session)
        self._fill(session)
        self.show_derived()

    def _settle(self, session: Session) -> None:
        self._seen = session.job
        self._settled = session.assessment
        self._known = {(finding.code, finding.where) for finding in session.assessment.findings}

    def _fill(self, session: Session) -> None:
        """Let the editor stand for the reading in hand."""
        path = self.field_in_hand
        editor = self.editor
        editor.display = path is not None
        if path is not None:
            spec = spec_at(path)
            editor.fill(clean(session.text_of(path)), numeric=True, signed=isinstance(spec, Number) and spec.low < 0)
        if self.is_current:
            self.set_focus(editor if path is not None else None)

    def leave_field(self) -> None:
        """What was merely unfinished is settled."""
        path = self.field_in_hand
        if self.session is not None and path is not None:
            self.session.leave(path)

    def _fresh(self, session: Session) -> tuple[Finding, ...]:
        """Doubts that the reading in hand brought up."""
        step = self.step
        found = doubts(step, session.assessment.findings) if step is not None else ()
        return tuple(finding for finding in found if (finding.code, finding.where) not in self._known)

    def entered(self) -> None:
        """Take the reading and go on; a doubtful one only when Enter is pressed again, an unreadable one not at all."""
        session, step, path = self.session, self.step, self.field_in_hand
        if session is None or step is None or path is None:
            return
        draft = session.drafts.get(path)
        if draft is not None and draft.reason:
            self._say(UNREAD)
            return
        if self._fresh(session) and not self._asked:
            self._asked = True
            self._told, self._settled = step, session.assessment
            self.editor.action_select_all()
            self.show_derived()
            return
        if value_at(session.job, path) is not None:
            self._told = step
        self._go(self.at + 1)

    def repeat(self) -> None:
        """Another reading of the same, or another piece; after the last the first again."""
        session, step, path = self.session, self.step, self.field_in_hand
        if session is None or step is None or path is None:
            return
        if not step.again:
            self._say(ONCE)
        elif path in session.drafts and session.drafts[path].reason:
            self._say(UNREAD)
        elif value_at(session.job, path) is None:
            self._say(NOTHING_YET)
        else:
            self._told = step
            self._go(self.at, (self.repeat_at + 1) % step.most)

    def _say(self, words: str) -> None:
        self._note = words
        self.show_derived()

    def action_move(self, step: int) -> None:
        """Back to the reading before, whatever is in this one; or on."""
        if step > 0:
            self.entered()
        elif self.repeat_at:
            self._told = self.step
            self._go(self.at, self.repeat_at - 1)
        elif self.at and self.session is not None:
            self._told = self.steps[self.at - 1]
            self._go(self.at - 1, max(0, len(taken(self._told, self.session.job)) - 1))

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

    def action_first_missing(self) -> None:
        """On to the first reading that is missing."""
        if self.session is not None:
            self._go(first_open(self.steps, self.session.job))

    def action_leave(self) -> None:
        """Back to the sheet, at the reading in hand."""
        self.leave_field()
        self.left_at = self.field_in_hand
        self.dismiss(None)

    def toggle_alone(self) -> None:
        """One person with a travel marker, or two with a tape."""
        if self.part != "sag" or self.session is None:
            return
        path = self.field_in_hand
        self.leave_field()
        self.alone = not self.alone
        ordered = self.steps
        kept = next((n for n, step in enumerate(ordered) if path is not None and step.covers(path)), None)
        self._told = None
        self._go(first_open(ordered, self.session.job) if kept is None else kept)

    async def on_key(self, event: events.Key) -> None:
        """After the last reading there is no editor: Enter goes to what is missing or leaves, back goes back."""
        if self.step is not None or self.session is None:
            if self.step is not None and not self.editor.has_focus:
                await self.editor.press(event)
            return
        if event.key in ("enter", "ctrl+j", "down"):
            event.stop()
            if first_open(self.steps, self.session.job) < len(self.steps):
                self.action_first_missing()
            else:
                self.action_leave()
        elif event.key in ("up", "left", "shift+tab") or event.character == "/":
            event.stop()
            self.action_move(-1)

    # --- what the editor reports ----------------------------------------------------------------------------------

    def typed(self, text: str) -> None:
        """A key changed the text."""
        session, path = self.session, self.field_in_hand
        if session is None or path is None or text == clean(session.text_of(path)):
            return
        session.type(self._taken_anew(session, path), text)
        self._changed(session)

    def nudged(self, direction: int) -> None:
        """+ or - steps the number, as on the sheet."""
        session, path = self.session, self.field_in_hand
        if session is None or path is None:
            return
        value = value_at(session.job, path)
        anew = self._taken_anew(session, path)
        if anew != path or value_at(session.job, anew) is None:
            session.put(anew, value)
        session.nudge(anew, direction)
        self._fill(session)
        self._changed(session)

    def _taken_anew(self, session: Session, path: Path) -> Path:
        """Where a reading goes; what was read of its state with other springs or preload is not averaged with it."""
        step = self.step
        if step is None or not outdated(step, session.job):
            return path
        session.put_all([Edit((*step.path[:-1], name), ()) for name in ("down_mm", "up_mm")])
        self.repeat_at = 0
        return step.field(0)

    def _changed(self, session: Session) -> None:
        self._seen = session.job
        self._asked, self._note = False, ""
        self.bench.desk.keep_drafts()
        self.show_derived()
