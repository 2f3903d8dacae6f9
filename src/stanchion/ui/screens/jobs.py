"""The list of jobs: newest first, filtered as one types, opened with Enter, carried forward with one key."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.events import Key
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from stanchion.base.text import clean
from stanchion.store.listing import JobRow, copies_in, matching, twins
from stanchion.ui import keys
from stanchion.ui.commands.deleted_jobs import DeletedJobs
from stanchion.ui.commands.job_list import JobListReading, JobsListed, ListingProgressed
from stanchion.ui.job_rows import layout, row_lines
from stanchion.ui.saved_words import TRIAL_IN_HAND
from stanchion.ui.screens.app_screen import AppScreen
from stanchion.ui.space import cut, fitting, in_lines
from stanchion.ui.widgets.choices import Choices, Filter

if TYPE_CHECKING:
    from stanchion.ui.commands.jobs import Jobs
    from stanchion.ui.commands.story import StoryCommands
    from stanchion.ui.core import CoreApp

MOVES = ("up", "down", "pageup", "pagedown", "backspace")
ACTS_ON_A_ROW = ("job.forward", "screen.story", "job.compare", "job.delete")
"""Commands that wait until the list is read, as do Enter and the keys that move."""
MOST_SHOWN = 300
LOW = 16
"""Lines below which what is said has little room."""


class JobsScreen(AppScreen[None]):
    """Every job in the folder; with none yet, what to start from.

    Args:
        app: the application.
        jobs: opens and begins jobs.
        story: follows a machine.
    """

    CSS_PATH = "../styles/jobs.tcss"
    AUTO_FOCUS: ClassVar[str | None] = "#filter"
    BINDINGS: ClassVar[list[BindingType]] = [
        *keys.list_moves(),
        Binding("enter,ctrl+j", "choose", show=False, priority=True),
        Binding("escape", "back", show=False),
        Binding("ctrl+f", "story", id="screen.story", show=False, priority=True),
        Binding("ctrl+d", "delete_job", id="job.delete", show=False, priority=True),
        Binding("ctrl+k", "compare_job", id="job.compare", show=False, priority=True),
        Binding("f8", "carry_forward", id="job.forward", show=False),
        Binding("f7", "open_bin", id="jobs.bin", show=False),
    ]

    def __init__(self, app: CoreApp, jobs: Jobs, story: StoryCommands) -> None:
        super().__init__()
        self.program = app
        self._jobs, self._story = jobs, story
        self._reader = JobListReading(app, self.post_message)
        self._bin = DeletedJobs(app, self._reader.start)
        self.early_keys: list[Key] = []
        """Keys pressed before the list they are meant for was read."""
        self.rows: Sequence[JobRow] = ()
        self._numbers: Mapping[str, int] = {}
        """For jobs of one day that look alike: the number of each."""
        self._found: Sequence[JobRow] = ()
        """The jobs that fit the filter."""
        self.listed = False
        self._problem = ""
        self._warning = ""
        """A warning shown instead of words about a job, until the user moves on."""
        self._words = ""
        """How far reading is, or went."""
        self._reading = False

    def compose(self) -> ComposeResult:
        """Title, filter, heads, list, what can be done."""
        yield Static(id="jobs-title", markup=False)
        yield Filter("filter", "machine, rider, venue, date")
        yield Static(id="jobs-heads", markup=False)
        yield Choices(id="jobs-list", markup=False)
        yield Static(id="jobs-message", markup=False)
        yield Static(id="keys", markup=False)

    def on_mount(self) -> None:
        """Read the folder."""
        self.query_one(Choices).can_focus = False

    def on_screen_resume(self) -> None:
        """Read the folder again, which may have changed."""
        entry = self.query_one("#filter", Input)
        entry.value = ""
        entry.focus()
        self._reader.start()

    def gone_to_while_shown(self) -> None:
        """Read the list again."""
        self._reader.start()

    def on_resize(self) -> None:
        """Cut the rows to the new width."""
        if self.listed:
            self.call_after_refresh(self.fill)

    def on_screen_suspend(self) -> None:
        """Stop reading; it goes on when the list is shown again."""
        self._words, self._reading = "", False
        self._reader.drop()

    # --- reading the list -----------------------------------------------------------------------------------------

    def on_jobs_listed(self, message: JobsListed) -> None:
        """Show the jobs that were read, and why the others were not; then process the keys that came before."""
        program = self.program
        if not message.problem and not message.words:
            name = program.workspace.open_name
            self._jobs.merging.take_copies(name, copies_in(message.rows, name))
        self.rows, self._numbers = message.rows, twins(message.rows)
        self.listed = True
        self._problem, self._words, self._reading = message.problem, message.words, False
        self.fill()
        if message.problem or program.messages:
            self.warn(" ".join([message.problem, *program.messages]).strip())
            program.messages.clear()
        if self.early_keys:
            program.call_later(self._process_early_keys)

    def on_listing_progressed(self, message: ListingProgressed) -> None:
        """Show how far reading is."""
        if not self._reader.stopped:
            self._words, self._reading = message.words, True
            self._show_title()

    def holds_back(self, event: Key) -> bool:
        """Keep a key that is meant for a list that is not read yet."""
        if self.listed and not self.early_keys:
            return False
        commands = (self.program.key(name).keys for name in ACTS_ON_A_ROW)
        acts = {"enter", "ctrl+j", *(one for keys_of in commands for one in keys_of.split(","))}
        led_on = any(key.key in acts for key in self.early_keys)  # what comes after is for where that leads
        if event.key != "escape" and (event.is_printable or led_on or event.key in (*MOVES, *acts)):
            self.early_keys.append(event)
            return True
        self.early_keys.clear()
        return False

    async def _process_early_keys(self) -> None:
        """Run by the application, which takes no newer key meanwhile."""
        early, self.early_keys = self.early_keys, []
        for event in early:
            await self.program.on_event(event)

    # --- showing --------------------------------------------------------------------------------------------------

    def _show_title(self) -> None:
        """Show how many of how many jobs fit, and how far reading is."""
        if self._problem:
            title = "STANCHION: the jobs cannot be listed; the reason is below"
        elif self.rows:
            where = f" IN {folder}" if (folder := self.program.workspace.folder_of_this_start) else ""
            title = f"JOBS{where}, newest first: {len(self._found)} of {len(self.rows)}"
        elif self._words:
            title = "JOBS"
        else:
            title = "STANCHION: no jobs here yet. Start with one of these:"
        reading = f" · {self._words}" if self._words else ""
        if self.program.workspace.trial_in_hand:
            reading += f" · {TRIAL_IN_HAND}"
        line = Content.styled(cut(f" {title}", max(10, self.size.width - len(reading))), "$primary bold")
        if reading:
            line += Content.styled(cut(reading, self.size.width - line.cell_length), "bold")
        self.query_one("#jobs-title", Static).update(line)

    def say(self, message: str, *, bad: bool = False) -> None:
        """Show a line below the list, such as why a job cannot be opened."""
        style = "$fault bold" if bad else "$text-muted"
        most = 7 if self.size.height >= LOW else 2
        lines = in_lines(clean(message, 900), self.size.width - 2, most)
        self.query_one("#jobs-message", Static).update(Content.styled("\n".join(lines), style))

    def warn(self, message: str) -> None:
        """Show a warning below the list until the user moves on; one that is part of it already changes nothing."""
        if message not in self._warning:
            self._warning = message
        self.say(self._warning, bad=True)

    def on_input_changed(self, event: Input.Changed) -> None:
        """Filter as typed."""
        event.stop()
        self._warning = ""
        self._reader.pause()
        if self.listed:
            self.fill()

    def matching(self) -> list[JobRow]:
        """The jobs that contain every word of the filter."""
        return matching(self.rows, self.query_one("#filter", Input).value)

    def fill(self) -> None:
        """Show the rows, or what to start from where there are none."""
        choices = self.query_one(Choices)
        before = self._chosen_id()
        choices.clear_options()
        width = self.size.width - 4
        heads = self.query_one("#jobs-heads", Static)
        names = ("job.new", "job.forward", "screen.story", "job.compare", "job.delete", "jobs.bin")
        new, forward, story, compare, delete, bin_key = (keys.shown(self.program.key(name).keys) for name in names)
        self._found = self.matching()
        self._show_title()
        if not self.rows:
            heads.update("")
            choices.add_option(Option(Content("A new job, from an empty sheet"), id="new"))
            for sample in self._jobs.samples():
                words = f"A copy of a sample: {clean(sample.title)}"
                choices.add_option(Option(Content(words), id=f"sample:{sample.name}"))
            more, last = ["Enter starts", "Arrows choose", f"{bin_key} the bin", "F1 help"], ["^Q quit"]
        else:
            found = self._found[:MOST_SHOWN]
            how = layout(found, width, numbered=any(row.name in self._numbers for row in found))
            heads.update(Content.styled(f" {how.heads}", "$text-muted"))
            lines = row_lines(found, how, self._numbers)
            choices.add_options(Option(line, id=f"job:{row.name}") for row, line in zip(found, lines, strict=True))
            own = [
                f"{forward} next job",
                f"{new} new",
                f"{story} story",
                f"{compare} compare",
                f"{delete}/{bin_key} bin",
            ]
            more, last = ["Enter opens", *own], ["Esc"]
        foot = fitting(more, last, self.size.width - 1)
        self.query_one("#keys", Static).update(Content.styled(f" {foot}", "$text-muted"))
        if choices.option_count:
            at = next((i for i in range(choices.option_count) if choices.get_option_at_index(i).id == before), 0)
            choices.highlighted = at

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Show the words about the job that the bar has moved to."""
        event.stop()
        self._tell_row()

    def _tell_row(self) -> None:
        """Show below the list what the row of the job under the bar has no room for."""
        if self._warning:
            self.say(self._warning, bad=True)
            return
        row = self.chosen_row()
        if row is None:
            return
        if row.problem:
            self.say(f"{row.name}: {row.problem}", bad=True)
        else:
            if row.copy_of:
                self.say(f"{row.name}: another copy of {row.copy_of}. Enter offers to merge them.")
                return
            worst = f": {row.severity.upper()} {row.headline}" if row.severity else ""
            self.say(f"{row.name}{worst}")

    def _chosen_id(self) -> str:
        choices = self.query_one(Choices)
        if choices.highlighted is None or choices.highlighted >= choices.option_count:
            return ""
        return choices.get_option_at_index(choices.highlighted).id or ""

    def chosen_job(self) -> str:
        """File name of the job under the bar; empty for none."""
        name = self._chosen_id()
        return name.removeprefix("job:") if name.startswith("job:") else ""

    def chosen_row(self) -> JobRow | None:
        """The row of the job under the bar."""
        name = self.chosen_job()
        return next((row for row in self.rows if row.name == name), None)

    def copy_of(self, name: str) -> str:
        """The job of which this file is another copy; empty: it is a job of its own, or cannot be read."""
        row = next((row for row in self.rows if row.name == name), None)
        return row.copy_of if row is not None and not row.problem else ""

    def action_move(self, step: int) -> None:
        """Up or down the list while the filter keeps the keys."""
        self._warning = ""
        self._reader.pause()
        choices = self.query_one(Choices)
        if choices.option_count:
            choices.highlighted = max(0, min(choices.option_count - 1, (choices.highlighted or 0) + step))
        self._tell_row()

    def action_choose(self) -> None:
        """Open the job, or start from what was chosen."""
        if not self.listed:
            return
        name = self._chosen_id()
        if name == "new":
            self._jobs.new()
        elif name.startswith("sample:"):
            self._jobs.start_from_sample(name.removeprefix("sample:"))
        elif name:
            self.open(name.removeprefix("job:"))

    def open(self, name: str) -> None:
        """Open a job of the list; where it is another copy of a job, ask what to do with it."""
        main = self.copy_of(name)
        if not main:
            self._jobs.open(name)
            return

        def answered(answer: str | None) -> None:
            if answer == "merge":
                workspace = self.program.workspace
                if workspace.open_name == main or self._jobs.opened(lambda: workspace.open(main), "machine"):
                    self._jobs.merging.merge_copy(name)
            elif answer == "open":
                self._jobs.open(name)
            elif answer == "bin":
                self.action_delete_job()

        answers = (
            ("merge", "Merge it field by field into that job, which is opened"),
            ("open", "Open this copy by itself"),
            ("bin", "Move this copy to the bin"),
        )
        self.program.ask("Another copy of a job", f"{name} is another copy of {main}.", answers, answered)

    def action_carry_forward(self) -> None:
        """Begin a new job with the setup of the one under the bar."""
        self._jobs.carry_forward(self.chosen_job())

    def action_compare_job(self) -> None:
        """Show where the job under the bar differs from the open one."""
        self._jobs.compare_with_open(self.chosen_job())

    def action_story(self) -> None:
        """Show all occasions and runs of the machine under the bar."""
        row = self.chosen_row()
        if row is None or row.problem:
            self.program.say("Choose a job that can be read to see its machine's story.")
        else:
            self._story.follow(row.machine, row.name, from_list=True)

    # --- the bin --------------------------------------------------------------------------------------------------

    def action_delete_job(self) -> None:
        """Move the job under the bar to the bin, after asking."""
        self._bin.ask_to_delete(self.chosen_job())

    def action_open_bin(self) -> None:
        """Show the deleted jobs."""
        self._bin.open()

    def action_back(self) -> None:
        """Stop reading; clear the filter; with none, back to the open job."""
        entry = self.query_one("#filter", Input)
        if self._reading:
            self._reader.stop()
        elif entry.value:
            entry.value = ""
        elif self.program.session is not None:
            self.program.action_go(self.program.last_part)
        else:
            self.program.action_commands()
