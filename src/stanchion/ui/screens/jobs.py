"""The list of jobs: newest first, filtered as one types, opened with Enter, carried forward with one key."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, ClassVar, cast

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from stanchion.base.text import clean
from stanchion.store.listing import JobRow, matching, twins
from stanchion.ui import keys
from stanchion.ui.job_rows import layout, row_lines
from stanchion.ui.screens.modal import OnStack
from stanchion.ui.space import cut, fitting, in_lines
from stanchion.ui.widgets.choices import Choices
from stanchion.ui.widgets.filter import Filter

if TYPE_CHECKING:
    from stanchion.ui.app import StanchionApp

MOST_SHOWN = 300
LOW = 16
"""Lines below which what is said has little room."""


class JobsScreen(OnStack[None]):
    """Every job in the folder; with none yet, what to start from."""

    CSS_PATH = "../styles/jobs.tcss"
    AUTO_FOCUS: ClassVar[str | None] = "#filter"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("down", "move(1)", show=False, priority=True),
        Binding("up", "move(-1)", show=False, priority=True),
        Binding("pagedown", "move(10)", show=False, priority=True),
        Binding("pageup", "move(-10)", show=False, priority=True),
        Binding("enter,ctrl+j", "choose", show=False, priority=True),
        Binding("escape", "back", show=False),
        Binding("ctrl+f", "app.story", id="screen.story", show=False, priority=True),
        Binding("ctrl+d", "app.delete_job", show=False, priority=True),
        Binding("ctrl+k", "app.compare_job", show=False, priority=True),
        Binding("f7", "app.open_bin", id="jobs.bin", show=False),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.rows: Sequence[JobRow] = ()
        self._numbers: Mapping[str, int] = {}
        """Which of several jobs of one day each is."""
        self._found: Sequence[JobRow] = ()
        """Those that fit the filter."""
        self.listed = False
        self._problem = ""
        self._warning = ""
        """What is to be known before anything of a job; it stands until somebody moves on."""
        self._words = ""
        """How far reading is, or went."""
        self._reading = False

    @property
    def bench(self) -> StanchionApp:
        """The application, by its own type."""
        return cast("StanchionApp", self.app)

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
        """The folder may have changed."""
        entry = self.query_one("#filter", Input)
        entry.value = ""
        entry.focus()
        self.bench.list_jobs()

    def on_resize(self) -> None:
        """Rows are cut to the width there is."""
        if self.listed:
            self.call_after_refresh(self.fill)

    def on_screen_suspend(self) -> None:
        """What is done now comes first: the list is read on when it is shown again."""
        self._words, self._reading = "", False
        self.bench.drop_listing()

    def take(self, rows: Sequence[JobRow], problem: str = "", words: str = "") -> None:
        """Show these jobs.

        Args:
            rows: the list.
            problem: why it cannot be read; empty: it was.
            words: how far reading went, where it was stopped.
        """
        self.rows, self._numbers = rows, twins(rows)
        self.listed = True
        self._problem, self._words, self._reading = problem, words, False
        self.fill()

    def tell(self, words: str) -> None:
        """Show how far reading is."""
        self._words, self._reading = words, True
        self._show_title()

    def _show_title(self) -> None:
        """How many of how many jobs there are, and how far reading is."""
        if self._problem:
            told = "STANCHION: the jobs cannot be listed; why stands below"
        elif self.rows:
            told = f"JOBS, newest first: {len(self._found)} of {len(self.rows)}"
        elif self._words:
            told = "JOBS"
        else:
            told = "STANCHION: no jobs here yet. Start with one of these:"
        reading = f" · {self._words}" if self._words else ""
        line = Content.styled(cut(f" {told}", max(10, self.size.width - len(reading))), "$primary bold")
        if reading:
            line += Content.styled(cut(reading, self.size.width - line.cell_length), "bold")
        self.query_one("#jobs-title", Static).update(line)

    def say(self, message: str, *, bad: bool = False) -> None:
        """A line below the list, such as why a job cannot be opened."""
        style = "$fault bold" if bad else "$text-muted"
        most = 7 if self.size.height >= LOW else 2
        told = in_lines(clean(message, 900), self.size.width - 2, most)
        self.query_one("#jobs-message", Static).update(Content.styled("\n".join(told), style))

    def warn(self, message: str) -> None:
        """A line below the list that stays until somebody moves on; what it says already is not taken from it."""
        if message not in self._warning:
            self._warning = message
        self.say(self._warning, bad=True)

    def on_input_changed(self, event: Input.Changed) -> None:
        """Filter as typed."""
        event.stop()
        self._warning = ""
        self.bench.hold_listing()
        if self.listed:
            self.fill()

    def matching(self) -> list[JobRow]:
        """The jobs that hold every word of the filter."""
        return matching(self.rows, self.query_one("#filter", Input).value)

    def fill(self) -> None:
        """The rows, or what to start from where there are none."""
        choices = self.query_one(Choices)
        before = self._chosen_id()
        choices.clear_options()
        width = self.size.width - 4
        heads = self.query_one("#jobs-heads", Static)
        new, forward, bin_key = (
            keys.shown(self.bench.key(name).keys) for name in ("job.new", "job.forward", "jobs.bin")
        )
        self._found = self.matching()
        self._show_title()
        if not self.rows:
            heads.update("")
            choices.add_option(Option(Content("A new job, from an empty sheet"), id="new"))
            for sample in self.bench.samples():
                words = f"A copy of a sample: {clean(sample.title)}"
                choices.add_option(Option(Content(words), id=f"sample:{sample.name}"))
            more, last = ["Enter starts", "Arrows choose", f"{bin_key} the bin", "F1 help"], ["^Q quit"]
        else:
            found = self._found[:MOST_SHOWN]
            how = layout(found, width, numbered=any(row.name in self._numbers for row in found))
            heads.update(Content.styled(f" {how.heads}", "$text-muted"))
            lines = row_lines(found, how, self._numbers)
            choices.add_options(Option(line, id=f"job:{row.name}") for row, line in zip(found, lines, strict=True))
            own = [f"{forward} next job", f"{new} new", "^F story", "^K compare", f"^D/{bin_key} bin"]
            more, last = ["Enter opens", *own], ["Esc"]
        foot = fitting(more, last, self.size.width - 1)
        self.query_one("#keys", Static).update(Content.styled(f" {foot}", "$text-muted"))
        if choices.option_count:
            at = next((i for i in range(choices.option_count) if choices.get_option_at_index(i).id == before), 0)
            choices.highlighted = at

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Another job is under the bar."""
        event.stop()
        self._tell_row()

    def _tell_row(self) -> None:
        """Say of the job under the bar what its row has no room for."""
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
        """What the list says of the job under the bar."""
        name = self.chosen_job()
        return next((row for row in self.rows if row.name == name), None)

    def copy_of(self, name: str) -> str:
        """The job that the file of this name is another copy of; empty: it is a job of its own, or cannot be read."""
        row = next((row for row in self.rows if row.name == name), None)
        return row.copy_of if row is not None and not row.problem else ""

    def action_move(self, step: int) -> None:
        """Up or down the list while the filter keeps the keys."""
        self._warning = ""
        self.bench.hold_listing()
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
            self.bench.action_new_job()
        elif name.startswith("sample:"):
            self.bench.start_from_sample(name.removeprefix("sample:"))
        elif name:
            self.bench.open_named(name.removeprefix("job:"))

    def action_back(self) -> None:
        """Stop reading; clear the filter; with none, back to the open job."""
        entry = self.query_one("#filter", Input)
        if self._reading:
            self.bench.stop_listing()
        elif entry.value:
            entry.value = ""
        elif self.bench.session is not None:
            self.bench.action_go(self.bench.last_part)
        else:
            self.bench.action_commands()
