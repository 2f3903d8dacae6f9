"""Earlier states of the open job: when each was kept, and what bringing it back would change."""

from __future__ import annotations

import datetime as dt
import textwrap
from collections.abc import Iterable, Sequence
from typing import ClassVar

from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.message import Message
from textual.widget import Widget
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from stanchion.base.errors import StanchionError
from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.store.history import Earlier
from stanchion.ui import keys
from stanchion.ui.paging import pages_of
from stanchion.ui.screens.job_screen import JobScreen
from stanchion.ui.space import in_lines
from stanchion.ui.widgets.choices import Choices
from stanchion.ui.widgets.pages import TURN_KEYS, Pages
from stanchion.wording.kept_states import reason_words, what_it_changes, when_words

WHEN, REASON_WIDTH = 13, 21
HEADED = 3
"""Lines from which there is room for a heading over what is changed."""
NONE_YET = (
    "No earlier state is kept yet.\nOne is kept before the first change of every session, and while work goes on "
    "every two minutes: the last ten, and one of each hour."
)


class EarlierScreen(JobScreen):
    """The states that can be brought back."""

    CSS_PATH = "../styles/earlier.tcss"
    name_of = "earlier"
    AUTO_FOCUS = "#earlier-list"
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("earlier"), *TURN_KEYS]

    class StatesRead(Message):
        """The earlier states of the open job have been read."""

        def __init__(self, found: Sequence[Earlier]) -> None:
            self.found = found
            super().__init__()

    def __init__(self) -> None:
        super().__init__()
        self._found: Sequence[Earlier] = ()

    def body(self) -> Iterable[Widget]:
        """The states on the left; on the right what the one under the bar would change."""
        with Vertical(id="earlier-states"):
            title = Content.styled(" EARLIER STATES, newest first", "$primary bold")
            yield Static(title, id="earlier-title", markup=False)
            yield Choices(id="earlier-list", markup=False)
        yield Vertical(Pages(id="earlier-changes"), id="earlier-pane")

    def hints(self) -> list[str]:
        """Choosing, bringing back, and the way back from that."""
        return ["Arrows choose", "Enter brings it back", f"{keys.shown(self.program.key('undo').keys)} undo"]

    def reload(self) -> None:
        """Read the states again: one may have been kept meanwhile."""
        super().reload()
        if self.session is not None and self.is_mounted:
            self.program.run_worker(
                lambda: self.post_message(self.StatesRead(self.program.workspace.earlier())),
                thread=True,
                exclusive=True,
                group="earlier",
                exit_on_error=False,
            )

    def on_earlier_screen_states_read(self, message: StatesRead) -> None:
        """Show the states, which another thread has read."""
        self._found = message.found
        self.show_derived()

    def chosen(self) -> Earlier | None:
        """The state under the bar."""
        at = self.query_one(Choices).highlighted
        return self._found[at] if at is not None and at < len(self._found) else None

    def show_figures(self, session: Session) -> None:
        """Show the list, each row with how much it differs, and the changes of the one under the bar."""
        choices = self.query_one(Choices)
        before = self.chosen()
        lines = [Option(_row(one, session, self.program.today())) for one in self._found]
        choices.clear_options()
        choices.add_options(lines or [Option(Content(NONE_YET), disabled=True)])
        if self._found:
            paths = [one.state.path for one in self._found]
            choices.highlighted = paths.index(before.state.path) if before and before.state.path in paths else 0
        self.show_changes()

    def show_changes(self) -> None:
        """Show what bringing back the state under the bar changes."""
        session, one = self.session, self.chosen()
        pane = self.query_one("#earlier-changes", Pages)
        if session is None or one is None:
            pane.draw(lambda width, height: ())
            return
        head = Content.styled("BRINGING IT BACK CHANGES", "$primary bold")
        if one.job is None:
            reason = f"This state cannot be brought back: {clean(one.problem, 300)}"
            pane.draw(
                lambda width, height: [
                    Content.styled(line, "$fault bold") for line in in_lines(reason, max(1, width), height)
                ]
            )
            return
        changes = [clean(line, 300) for line in what_it_changes(session.job, one.job, session.units)]
        changes = changes or ["Nothing: the job is like this now."]

        def pages(width: int, height: int) -> list[list[Content]]:
            wrapped = [Content(part) for line in changes for part in textwrap.wrap(line, max(1, width - 1))]
            headed = height > len(wrapped) or height > HEADED
            return pages_of([head, *wrapped] if headed else wrapped, max(1, width - 1), height)

        pane.draw_pages(pages, one.state.path)

    def action_turn_page(self, step: int) -> None:
        """Show the changes that there is no room for."""
        self.query_one("#earlier-changes", Pages).turn(step)

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Show the changes of the state that the bar has moved to."""
        event.stop()
        self.show_changes()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter."""
        event.stop()
        self.action_bring_back()

    # --- bringing one back ----------------------------------------------------------------------------------------

    def action_bring_back(self) -> None:
        """Make the state under the bar the job, after keeping the present one."""
        one, session, program = self.chosen(), self.session, self.program
        if one is None or session is None:
            return
        if one.job is None:
            program.say(f"This state cannot be brought back: {one.problem}.")
        elif session.read_only:
            program.say("This job is open read-only: save it as a copy first, or use 'stanchion earlier'.")
        else:
            program.run_worker(lambda: self._keep_present_and_bring(one), thread=True, exclusive=True, group="earlier")

    def _keep_present_and_bring(self, one: Earlier) -> None:
        """On a thread of its own: nothing is changed before the present state is safe."""
        current = self.program.workspace.current
        try:
            if current is not None:
                current.keep_present()
        except StanchionError as error:
            self.program.call_from_thread(self.program.say, f"Nothing was brought back. {error}")
        else:
            self.program.call_from_thread(self._bring, one)

    def _bring(self, one: Earlier) -> None:
        session, program = self.session, self.program
        if session is None or one.job is None:
            return
        refusal = session.bring_back(one.job)
        if not refusal:
            undo = keys.shown(program.key("undo").keys)
            when = when_words(one.state.at.astimezone(), program.today())
            program.say(
                f"The job is as it was at {when}. {undo} takes that back; what was there before is kept as well."
            )
        program.refresh_after(refusal)


def _row(one: Earlier, session: Session, today: dt.date) -> Content:
    """When, why, and how much is different now."""
    when = when_words(one.state.at.astimezone(), today)
    line = Content.styled(f" {when:<{WHEN}}", "$figure bold") + Content(
        f"{reason_words(one.state.reason):<{REASON_WIDTH}}"
    )
    if one.job is None:
        return line + Content.styled("not whole", "$fault bold")
    count = len(what_it_changes(session.job, one.job))
    return line + Content.styled(f"{count} change{'s' if count != 1 else ''}" if count else "as now", "$text-muted")
