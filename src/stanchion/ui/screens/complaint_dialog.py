"""Choosing what the rider complains of, and where, by a few letters; words that fit none become the rider's own."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Input, OptionList, Static

from stanchion.base.record import record
from stanchion.bench.own_words import riders_words_of
from stanchion.bench.session import Session
from stanchion.job.complaint import Complaint
from stanchion.job.model import Path
from stanchion.job.name_match import begins
from stanchion.ui.core import CoreApp
from stanchion.ui.keys import list_moves
from stanchion.ui.screens.app_screen import Dialog
from stanchion.ui.widgets.choices import Choices, Choosable, Filter
from stanchion.wording.complaint_labels import complaint_words, complaints_words, what_word

SHOW = "what to try"
IN_OWN_WORDS = "in the rider's own words"
NO_RUN = "No run is logged yet: log one on Runs, then enter what the rider says."


def _by_place(one: Complaint | OwnWords | str, typed: str) -> int:
    """How many of the words typed are found only in where it happens: what the machine does comes before that."""
    what = what_word(one.what) if isinstance(one, Complaint) else ""
    return sum(not begins(what, word) for word in typed.split())


@record
class OwnWords:
    """The rider's own words are to be written, beginning with these."""

    begun: str = ""
    finished: bool = False
    """Whether that is all: the program is being closed."""


class ComplaintDialog(Dialog[Complaint | OwnWords | str]):
    """A list of complaints that letters narrow. Gives the complaint, OwnWords, or SHOW for those entered already.

    Args:
        offered: the complaints that are answered.
        entered: those that the run has already.
    """

    AUTO_FOCUS: ClassVar[str | None] = "#complaint-filter"
    BINDINGS: ClassVar[list[BindingType]] = [
        *list_moves(),
        Binding("enter,ctrl+j", "choose", show=False, priority=True),
        Binding("escape", "dismiss(None)", show=False),
    ]

    def __init__(self, offered: Sequence[Complaint], entered: Sequence[Complaint]) -> None:
        super().__init__()
        self._all: list[tuple[str, Complaint | OwnWords | str]] = []
        if entered:
            self._all.append((f"what to try: {complaints_words(entered)}", SHOW))
        self._all += [(complaint_words(one), one) for one in offered if one not in entered]
        self._filled_for: str | None = None

    def close_to_quit(self) -> bool:
        """Close it; what was typed and fits no complaint is kept as the rider's own words."""
        (_, last) = self._matching()[-1]
        begun = last.begun if isinstance(last, OwnWords) else ""
        self.dismiss(OwnWords(begun, finished=True) if begun else None)
        return True

    def compose(self) -> ComposeResult:
        """Title, filter, list."""
        with Vertical(classes="dialog full"):
            yield Static("What does the rider say? First letters of what and where.", classes="dialog-title")
            yield Filter("complaint-filter", "turn, exit, bumps")
            yield Choices(id="complaint-list", markup=False)
            yield Static("Arrows and Enter choose; Esc goes back.", classes="dialog-foot", markup=False)

    def on_mount(self) -> None:
        """Show them all."""
        self._fill()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Show those that have every word typed."""
        event.stop()
        self._fill()

    def _matching(self) -> list[tuple[str, Complaint | OwnWords | str]]:
        """Those of which every word typed begins a word; last the rider's own words, begun with what fits nothing."""
        typed = self.query_one(Filter).value
        found = [(words, one) for words, one in self._all if begins(words, typed)]
        if typed.strip():
            found.sort(key=lambda one: _by_place(one[1], typed))
        begun = "" if found or begins(IN_OWN_WORDS, typed) else typed
        return [*found, (IN_OWN_WORDS, OwnWords(begun))]

    def _fill(self) -> None:
        typed = self.query_one(Filter).value
        if typed == self._filled_for:
            return
        self._filled_for = typed
        choices = self.query_one(Choices)
        choices.clear_options()
        found = self._matching()
        for words, one in found:
            choices.add_option(Choosable(Content(words), one))
        choices.highlighted = 0

    def action_move(self, step: int) -> None:
        """Up or down the list while the filter keeps the keys."""
        self._fill()
        choices = self.query_one(Choices)
        choices.highlighted = max(0, min((choices.highlighted or 0) + step, choices.option_count - 1))

    def action_choose(self) -> None:
        """Give what is under the bar, by what is typed now."""
        self._fill()
        found, at = self._matching(), self.query_one(Choices).highlighted
        self.dismiss(found[at or 0][1])

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Give what was chosen."""
        event.stop()
        self.action_choose()


def enter_complaint(program: CoreApp, session: Session, at: int, own_words: Callable[[str], None]) -> None:
    """Ask for a complaint in standard words, put it into a run and show what to try.

    Args:
        program: the application.
        session: the open job.
        at: which run; below 0: there is none.
        own_words: called where the rider's own words are to be written instead, with their beginning.
    """
    if at < 0:
        program.say(NO_RUN)
        return
    program.leave_fields()
    path: Path = ("runs", at, "complaints")
    words, _ = riders_words_of(program.workspace.places)

    def chosen(answer: Complaint | OwnWords | str | None) -> None:
        if isinstance(answer, OwnWords):
            own: Path = ("runs", at, "said")
            before = session.text_of(own)
            begun = f" {answer.begun}" if before.strip() and answer.begun else answer.begun
            if answer.finished:
                session.put(own, before + begun)
            else:
                own_words(begun)
        elif isinstance(answer, Complaint):
            refusal = session.put(path, (*session.job.runs[at].complaints, answer))
            program.refresh_after(refusal)
            if not refusal:
                program.jump(path)
        elif answer:
            program.jump(path)

    program.push_screen(ComplaintDialog(words.complaints, session.job.runs[at].complaints), chosen)
