"""What to try after a complaint of the rider: what to check first, then the changes this machine can take, in order."""

from __future__ import annotations

import contextlib
from collections.abc import Iterable
from dataclasses import replace
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.message import Message
from textual.widget import Widget
from textual.widgets import OptionList
from textual.widgets.option_list import Option
from textual.worker import get_current_worker

from stanchion.bench.own_words import riders_words_of
from stanchion.bench.past_verdicts import PastRead, PastVerdicts
from stanchion.bench.session import Session
from stanchion.job.edit import spec_at
from stanchion.job.model import Path
from stanchion.job.spec import Text
from stanchion.planning.complaint_readings import ReadingState
from stanchion.planning.what_helped import EarlierChange, Helped, PastVerdict, helped, helped_otherwise, key_of_edits
from stanchion.planning.what_to_try import Suggestion, WhatToTry, what_to_try
from stanchion.ui import keys, present
from stanchion.ui.commands.changes import put_on_work_list
from stanchion.ui.paging import pages_of
from stanchion.ui.screens.complaint_dialog import NO_RUN, enter_complaint
from stanchion.ui.screens.job_screen import JobScreen
from stanchion.ui.try_lines import TryItem, detail_lines, first_to_show, head_lines, try_list
from stanchion.ui.widgets.choices import Choices, Choosable
from stanchion.ui.widgets.pages import TURN_KEYS, Pages
from stanchion.ui.widgets.panes import Drawn
from stanchion.wording.complaint_labels import complaint_words
from stanchion.wording.finding_words import label
from stanchion.wording.try_sentences import hand_words, hindrance_words


class WhatToTryScreen(JobScreen):
    """Worked out only while this screen is shown."""

    CSS_PATH = "../styles/try.tcss"
    name_of = "what_to_try"
    AUTO_FOCUS = "#try-list"
    BINDINGS: ClassVar[list[BindingType]] = [
        *keys.bindings("what_to_try"),
        *TURN_KEYS,
        *(Binding(str(number), f"change({number})", show=False) for number in range(1, 10)),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._at: int | None = None
        """The run; None: the latest with a complaint, else the latest."""
        self._shown_for: object = None
        self._found: WhatToTry | None = None
        self._judged_for: object = None
        """What that was worked out for."""
        self._verdicts: PastVerdicts | None = None
        """Reads the verdicts on earlier runs of the machine."""
        self._past: tuple[PastVerdict, ...] = ()

    def body(self) -> Iterable[Widget]:
        """What the rider says over the list; on the right the line under the bar in full."""
        yield Vertical(Drawn(id="try-head"), Choices(id="try-list", markup=False), id="try-left")
        yield Vertical(Pages(id="try-detail"), id="try-right")

    @property
    def tab(self) -> str:
        """Runs lead here."""
        return "runs"

    def hints(self) -> list[str]:
        """Choosing, trying, then the keys of this screen."""
        found = self._found
        return ["Enter: work list", *super().hints()] if found is not None and found.offered else super().hints()

    def go_to(self, path: Path) -> None:
        """Show what answers the complaints about one run."""
        if path[:1] == ("runs",) and len(path) > 1 and isinstance(path[1], int):
            self._at = path[1]
            if self.is_built:
                self.show_derived()

    def another_job(self) -> None:
        """Of another job the latest run."""
        if self._about is not None:
            self._at = None

    def _run(self, session: Session) -> int:
        """Which run is shown; -1: there is none."""
        runs = session.job.runs
        if self._at is not None and self._at < len(runs):
            return self._at
        said = [at for at, run in enumerate(runs) if run.complaints]
        return said[-1] if said else len(runs) - 1

    def show_figures(self, session: Session) -> None:
        """Work it out again where anything has changed."""
        at = self._run(session)
        stock = self.program.workspace.spring_stock.session.stock
        subject = (session.job, session.units, at, stock, self.size, self._past)
        if subject == self._shown_for:
            return
        before, self._shown_for = self._shown_for, subject
        choices, head = self.query_one(Choices), self.query_one("#try-head", Drawn)
        keep = choices.highlighted if isinstance(before, tuple) and before[0] == session.job else None
        choices.clear_options()
        judged_for = (session.job, at, stock)
        if judged_for != self._judged_for:
            self._judged_for, self._found = judged_for, self._worked_out(session, at)
        found = self._found
        if found is None:
            words = NO_RUN if at < 0 else present.NOT_JUDGED
            head.draw(lambda width, _: [Content(words) if isinstance(words, str) else words])
            self.query_one("#try-detail", Pages).draw(lambda width, height: ())
            return
        offered = sorted(found.offered, key=lambda one: self._helped(one).made_worse)
        found = replace(found, offered=tuple(offered))  # the order stays but for what was found worse here
        job, units = session.job, session.units
        asks = f"{keys.shown(self.program.key('try.complaint').keys)} enters what the rider says."
        more = [] if found.complaints else [Content(asks)]
        head.draw(lambda width, _: [*head_lines(found, at, job, units, width - 1), *more])
        width = max(20, (choices.size.width or self.size.width) - 3)
        first = first_to_show(found)
        rows, earlier = choices.size.height, self._earlier(found)
        lines = try_list(found, job, units, width, self._helped, earlier=earlier, rows=rows)
        for number, line in enumerate(lines):
            if line.item is None:
                choices.add_option(Option(line.words, disabled=True))
            else:
                choices.add_option(Choosable(line.words, line.item))
                if keep is None and line.item is first:
                    keep = number
        choices.highlighted = keep
        if first is None:
            self.query_one("#try-detail", Pages).draw(lambda width, height: ())

    def _worked_out(self, session: Session, at: int) -> WhatToTry | None:
        if at < 0:
            return None
        words, problems = riders_words_of(self.program.workspace.places)
        for problem in problems[:1]:
            more = f" And {len(problems) - 1} more." if len(problems) > 1 else ""
            self.program.say(f"{problem}.{more}", "riders_words")
        none: WhatToTry | None = None
        return session.judged(
            "changes",
            none,
            what_to_try,
            session.job,
            at,
            session.assessment,
            session.profiles,
            words,
            stock=self.program.workspace.spring_stock.session.stock,
            previous=session.previous,
        )

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Show the line under the bar in full."""
        event.stop()
        session = self.session
        if session is None or not isinstance(event.option, Choosable):
            return
        item: TryItem = event.option.what
        job, units, found = session.job, session.units, self._found
        if found is None:
            return

        def pages(width: int, height: int) -> list[list[Content]]:
            room = max(12, width - 1)
            return pages_of(detail_lines(item, found, job, units, room, known=self._helped), room, height)

        self.query_one("#try-detail", Pages).draw_pages(pages, item)

    # --- what helped before ---------------------------------------------------------------------------------------

    class PastWasRead(Message):
        """The verdicts on earlier runs of the machine have been read."""

        def __init__(self, past: PastRead) -> None:
            self.past = past
            super().__init__()

    def on_screen_resume(self) -> None:
        """Read the verdicts again, which may have changed: only files that were written since are read."""
        super().on_screen_resume()
        library = self.program.workspace.library
        if self._verdicts is None or self._verdicts.library is not library:
            self._verdicts = PastVerdicts(library)
        self.program.run_worker(self._read_past, thread=True, exclusive=True, group="past", exit_on_error=False)

    def on_screen_suspend(self) -> None:
        """Stop reading; it goes on when this screen is shown again."""
        self.program.workers.cancel_group(self.program, "past")

    def _read_past(self) -> None:
        """On a thread of its own."""
        worker, current, verdicts = get_current_worker(), self.program.workspace.current, self._verdicts
        if current is None or verdicts is None:
            return
        job = current.session.job
        with contextlib.suppress(OSError):  # the list of jobs says so; here the suggestions stand without a memory
            name = current.open_job.name
            found = verdicts.of_machine(
                job.job.machine, name, instead={name: job}, cancelled=lambda: worker.is_cancelled
            )
            if not worker.is_cancelled:
                self.post_message(self.PastWasRead(found))

    def on_what_to_try_screen_past_was_read(self, message: PastWasRead) -> None:
        """Show what helped before beside each change."""
        self._past = message.past.verdicts
        self.show_derived()

    def _helped(self, one: Suggestion) -> Helped:
        """What is known of a change against its complaint, from earlier runs of this machine."""
        session = self.session
        if session is None or not self._past or not one.edits:
            return Helped()
        job = session.job
        return helped(self._past, key_of_edits(job, one.edits), (one.complaint,), job.job.rider, job.job.venue)

    def _earlier(self, found: WhatToTry) -> tuple[EarlierChange, ...]:
        """What else helped before against these complaints, on this machine."""
        session = self.session
        if session is None or not self._past:
            return ()
        job = session.job
        suggested = {key_of_edits(job, one.edits) for one in found.offered}
        return helped_otherwise(self._past, suggested, found.complaints, job.job.rider, job.job.venue)

    # --- commands -------------------------------------------------------------------------------------------------

    def action_turn_page(self, step: int) -> None:
        """Show what there is no room for of the line under the bar."""
        self.query_one("#try-detail", Pages).turn(step)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Go to a reading, or put a change on the work list; of one that is not offered go to what it waits for."""
        event.stop()
        session = self.session
        if session is None or not isinstance(event.option, Choosable):
            return
        item: TryItem = event.option.what
        if isinstance(item, ReadingState):
            self.program.jump(item.to_read)
        elif isinstance(item, Suggestion) and item.hindered is None:
            put_on_work_list(self.program, session, item.edits, (item.complaint,))
        elif isinstance(item, Suggestion) and item.hindered is not None and item.hindered.needs is not None:
            self.program.jump(item.hindered.needs)
        elif isinstance(item, Suggestion) and item.hindered is not None:
            self.program.say(hindrance_words(item.hindered, session.job))
        elif isinstance(item, str):
            self.program.say(hand_words(item)[1])
        elif isinstance(item, EarlierChange):
            self.program.say("This is what was done before. To do it again, set it in a trial.")

    def action_change(self, number: int) -> None:
        """Move the bar to a change by its number."""
        choices, found = self.query_one(Choices), self._found
        if found is None or number > len(found.offered):
            return
        for at, option in enumerate(choices.options):
            if isinstance(option, Choosable) and option.what is found.offered[number - 1]:
                choices.highlighted = at

    def action_try_change(self) -> None:
        """Put the change under the bar into a trial, and show it beside what is set."""
        program, trial, choices = self.program, self.program.trial, self.query_one(Choices)
        at = choices.highlighted
        option = None if at is None else choices.get_option_at_index(at)
        item: TryItem | None = option.what if isinstance(option, Choosable) else None
        if trial is None or not isinstance(item, Suggestion) or item.hindered is not None:
            program.say("Move the bar to one of the changes that can be made.")
            return
        if trial.tried:
            key = keys.shown(program.key("screen.trial").keys)
            program.say(f"Something else is being tried: {key} shows it. Apply or drop it first, one change at a time.")
            return
        trial.follow()
        if refusal := trial.copy.put_all(item.edits):
            program.say(refusal)
        else:
            program.action_go("trial")

    def action_add_complaint(self) -> None:
        """Enter another complaint about this run."""
        session = self.session
        if session is not None:
            enter_complaint(self.program, session, self._run(session), self._write_own_words)

    def _write_own_words(self, begun: str) -> None:
        """Write what the rider said in his own words."""
        session, program = self.session, self.program
        if session is None:
            return
        path: Path = ("runs", self._run(session), "said")
        spec = spec_at(path)

        def done(text: str | None) -> None:
            changed = text is not None and text != session.text_of(path)
            program.refresh_after(session.put(path, text) if changed else "")

        longest = spec.longest if isinstance(spec, Text) else 80
        from stanchion.ui.screens.dialogs import WriteText  # noqa: PLC0415 - seldom needed

        program.push_screen(WriteText(label(path), session.text_of(path) + begun, longest), done)

    def action_remove_complaint(self) -> None:
        """Take a complaint out: the only one at once, else the one that is chosen."""
        session, program = self.session, self.program
        at = -1 if session is None else self._run(session)
        if session is None or at < 0 or not session.job.runs[at].complaints:
            program.say("This run has no complaint to take out.")
            return
        complaints = session.job.runs[at].complaints

        def remove(answer: str | None) -> None:
            if answer:
                kept = tuple(one for number, one in enumerate(complaints) if str(number) != answer)
                program.refresh_after(session.put(("runs", at, "complaints"), kept))

        if len(complaints) == 1:
            remove("0")
            return
        answers = [(str(number), complaint_words(one)) for number, one in enumerate(complaints)]
        program.ask("Which complaint is to go?", "", answers, remove)
