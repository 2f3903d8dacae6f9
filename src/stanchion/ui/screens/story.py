"""One machine through time: a row for each occasion and run, the current row in full, and plots."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from stanchion.base.text import clean
from stanchion.bench.story_reading import Story
from stanchion.job.name_match import has_words
from stanchion.planning.machine_story import StoryRow, filtered, row_of
from stanchion.store.machines import Unreadable
from stanchion.ui import keys
from stanchion.ui.saved_words import TRIAL_IN_HAND
from stanchion.ui.screens.app_screen import AppScreen
from stanchion.ui.space import cut, fitting
from stanchion.ui.story_lines import heads, identity, line, plot_lines, row_contents, title, unreadable_line
from stanchion.ui.widgets.choices import Choices, Filter
from stanchion.ui.widgets.panes import Drawn

if TYPE_CHECKING:
    from stanchion.ui.commands.jobs import Jobs
    from stanchion.ui.commands.story import StoryCommands
    from stanchion.ui.core import CoreApp

MUTED = "$text-muted"
MOST_SHOWN = 600


class StoryScreen(AppScreen[None]):
    """All occasions and runs of one machine, oldest first.

    Args:
        app: the application.
        jobs: opens and compares jobs.
        story: reads the story.
    """

    CSS_PATH = "../styles/story.tcss"
    AUTO_FOCUS: ClassVar[str | None] = "#story-filter"
    BINDINGS: ClassVar[list[BindingType]] = [
        *keys.list_moves(),
        Binding("ctrl+down", "scroll_row(1)", show=False, priority=True),
        Binding("ctrl+up", "scroll_row(-1)", show=False, priority=True),
        Binding("enter,ctrl+j", "choose", show=False, priority=True),
        Binding("escape", "back", show=False),
        Binding("ctrl+f", "story", id="screen.story", show=False, priority=True),
        Binding("f7", "mark_row", id="story.mark", show=False, priority=True),
        Binding("ctrl+k", "compare_rows", id="story.compare", show=False, priority=True),
    ]

    def __init__(self, app: CoreApp, jobs: Jobs, story: StoryCommands) -> None:
        super().__init__()
        self.program = app
        self._jobs, self._story = jobs, story
        story.on_progress = self.show
        self.marked: StoryRow | None = None
        self._rows: Sequence[StoryRow] = ()
        self._unreadable: Sequence[Unreadable] = ()
        self._words = ""
        self._shown_story: Story | None = None

    def compose(self) -> ComposeResult:
        """Title, filter, heads, rows, the current row and its plots, keys."""
        yield Static(id="story-title", markup=False)
        yield Filter("story-filter", "rider, venue, date, what was said")
        yield Static(id="story-heads", markup=False)
        yield Choices(id="story-list", markup=False)
        with Horizontal(id="story-below"):
            with VerticalScroll(id="story-row", can_focus=False):
                yield Drawn(id="story-details")
            yield Drawn(id="story-plots")
        yield Static(id="keys", markup=False)

    def on_mount(self) -> None:
        """Show what there is by now."""
        self.query_one(Choices).can_focus = False
        self.call_after_refresh(lambda: self.show(self._words))

    def on_screen_resume(self) -> None:
        """Give the filter the focus."""
        self.query_one("#story-filter", Input).focus()

    def on_resize(self) -> None:
        """Choose the columns by the new width."""
        self.call_after_refresh(self.fill)

    # --- what is shown --------------------------------------------------------------------------------------------

    def show(self, words: str) -> None:
        """Show the story of the application as it is now.

        Args:
            words: how far reading is, or why it failed; empty: nothing to say.
        """
        self._words = words
        if not self.is_mounted:
            return
        story = self._story.story
        if story is not self._shown_story:
            self._shown_story = story
            self.marked = None
            self.query_one(Choices).clear_options()
            with self.prevent(Input.Changed):
                self.query_one("#story-filter", Input).value = ""
            self.fill()
        else:
            self._show_title()

    def fill(self) -> None:
        """Show the rows that fit the filter, with the bar on the latest."""
        if not self.is_mounted or not self.size.width:
            return
        story, choices = self._story.story, self.query_one(Choices)
        before = self._chosen_id()
        typed = self.query_one("#story-filter", Input).value
        found = filtered(story.rows, typed) if story is not None else ()
        self._rows = found[-MOST_SHOWN:]
        unreadable = story.unreadable if story is not None else ()
        self._unreadable = [one for one in unreadable if has_words(one.name, typed)]
        units, width = self.program.workspace.units, self.size.width - 4
        self.query_one("#story-heads", Static).update(Content.styled(heads(self.size.width, width), "$primary"))
        choices.clear_options()
        options = [
            Option(line(row, units, self.size.width, width, marked=row is self.marked), id=identity(row))
            for row in self._rows
        ]
        options += [Option(unreadable_line(one, width), id=f"bad:{one.name}") for one in self._unreadable]
        choices.add_options(options)
        if options:
            ids = [option.id for option in options]
            choices.highlighted = ids.index(before) if before in ids else max(0, len(self._rows) - 1)
        self._show_title()
        self._show_row()
        rows, plain = tuple(self._rows), self.program.only_ascii
        self.query_one("#story-plots", Drawn).draw(
            lambda across, down: plot_lines(rows, units, across, down, plain=plain)
        )

    def _show_title(self) -> None:
        story, reading = self._story.story, self._story.reading
        if story is None:
            words = f" STORY: {clean(self._words, 200)}" + (" Esc stops." if reading else "")
        else:
            words = title(story, len(self._rows), self.program.workspace.units)
        trial = f" · {TRIAL_IN_HAND}" if self.program.workspace.trial_in_hand else ""
        words = cut(words, self.size.width - len(trial)) + trial
        self.query_one("#story-title", Static).update(Content.styled(words, "$primary bold"))
        mark, compare = (keys.shown(self.program.key(name).keys) for name in ("story.mark", "story.compare"))
        against = "with the mark" if self.marked is not None else "with now"
        hints = ["Enter opens", f"{mark} mark", f"{compare} compare {against}", "F9 other machines"]
        foot = fitting(hints, ["Esc back"], self.size.width - 1)
        self.query_one("#keys", Static).update(Content.styled(f" {foot}", MUTED))

    def _show_row(self) -> None:
        """Everything about the current row."""
        row, bad = self.chosen(), self._chosen_bad()
        units = self.program.workspace.units

        def lines(width: int, _: int) -> Iterator[Content]:
            if bad is not None:
                whose = "" if bad.certain else " It may be of this machine."
                for part in textwrap.wrap(clean(f"{bad.name}: {bad.problem}.{whose}", 600), max(20, width - 1)):
                    yield Content.styled(part, "$fault bold")
            if row is not None:
                yield from row_contents(row, units, max(20, width - 1))

        self.query_one("#story-details", Drawn).draw(lines)
        self.query_one("#story-row", VerticalScroll).scroll_home(animate=False)

    # --- the current row ------------------------------------------------------------------------------------------

    def _chosen_id(self) -> str:
        choices = self.query_one(Choices)
        if choices.highlighted is None or choices.highlighted >= choices.option_count:
            return ""
        return choices.get_option_at_index(choices.highlighted).id or ""

    def chosen(self) -> StoryRow | None:
        """The row under the bar."""
        name = self._chosen_id()
        return next((row for row in self._rows if identity(row) == name), None)

    def _chosen_bad(self) -> Unreadable | None:
        name = self._chosen_id().removeprefix("bad:")
        return next((one for one in self._unreadable if one.name == name), None)

    def action_mark_row(self) -> None:
        """Mark the row under the bar, to compare others with, or take its mark away."""
        row = self.chosen()
        if row is not None:
            self.marked = None if row is self.marked else row
            self.fill()

    # --- keys -----------------------------------------------------------------------------------------------------

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Show the row that the bar has moved to."""
        event.stop()
        self._show_row()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Filter as typed."""
        event.stop()
        self.fill()

    def action_move(self, step: int) -> None:
        """Up or down the rows while the filter keeps the keys."""
        choices = self.query_one(Choices)
        if choices.option_count:
            choices.highlighted = max(0, min(choices.option_count - 1, (choices.highlighted or 0) + step))

    def action_scroll_row(self, step: int) -> None:
        """Read on in the current row."""
        self.query_one("#story-row", VerticalScroll).scroll_relative(y=3 * step, animate=False)

    def action_choose(self) -> None:
        """Open the job, at the run."""
        row = self.chosen()
        if row is not None:
            self._jobs.open(row.file)
            if row.at is not None and self.program.workspace.open_name == row.file:
                self.program.jump(("runs", row.at, "front_marker_mm"))

    def action_story(self) -> None:
        """Read the story of the same machine again."""
        self._story.read_again()

    def action_compare_rows(self) -> None:
        """Compare the marked row with the one under the bar; without a mark, that one with the open job."""
        chosen, marked, program = self.chosen(), self.marked, self.program
        if chosen is None:
            return
        mark = keys.shown(program.key("story.mark").keys)
        if marked is not None:
            pair = marked, chosen
        elif chosen.at is None and chosen.file == program.workspace.open_name:
            program.say(f"This row is the open job itself: go to another, or mark one with {mark} first.")
            return
        elif program.session is not None:
            workspace = program.workspace
            pair = chosen, row_of(workspace.open_name, program.session.job, None, workspace.profiles)
        else:
            program.say(f"Mark a row with {mark} first, then go to the one to compare.")
            return
        self._jobs.show_comparison(*pair)

    def action_back(self) -> None:
        """Stop reading; clear the filter; go back."""
        entry = self.query_one("#story-filter", Input)
        if self._story.reading:
            self._story.stop()
        elif entry.value:
            entry.value = ""
        else:
            self._story.leave()
