"""Two states side by side, only what differs: jobs or runs to compare, or copies of a job to merge field by field."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static
from textual.widgets.option_list import Option

from stanchion.base.text import clean
from stanchion.bench.merging import MergeLine, MergeSession
from stanchion.job.merge import Version
from stanchion.report.comparison import Comparison, comparison_lines
from stanchion.ui.screens.app_screen import Dialog
from stanchion.ui.space import cut
from stanchion.ui.widgets.choices import Choices
from stanchion.ui.widgets.panes import Drawn

FOOT = "Left and Right take a value, l and r all of them. Enter merges, Esc changes nothing."
KNOWN = "The oldest state of this job kept on this laptop shows who changed what."
COMMON = "The last state that both have in common shows who changed what."
UNKNOWN = "No common earlier state is known."
TWO_VALUES = 70
"""Columns from which both values fit on one line."""
SIDES: tuple[Version, Version] = ("left", "right")


class MergeFields(Choices):
    """The fields. All keys are bound here, where those of moving are: fast keys would change places otherwise."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "screen.take('left')", show=False),
        Binding("right", "screen.take('right')", show=False),
        Binding("l", "screen.take_all('left')", show=False),
        Binding("r", "screen.take_all('right')", show=False),
        Binding("enter,ctrl+j", "screen.merge", show=False),
    ]


class MergeScreen(Dialog[bool]):
    """Gives True where the merged job is to be taken, and False where all stays as it is.

    Args:
        merging: what is being merged; it takes what is chosen.
        heads: what the two are, over their values.
    """

    AUTO_FOCUS: ClassVar[str | None] = "MergeFields"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss(False)", show=False),
    ]

    def __init__(self, merging: MergeSession, heads: tuple[str, str]) -> None:
        super().__init__()
        self._merging, self._heads = merging, heads

    def compose(self) -> ComposeResult:
        """What the two are, the fields, what becomes of the runs, the keys."""
        with Vertical(classes="dialog full"):
            yield Static("MERGE TWO COPIES OF ONE JOB: only what differs", classes="dialog-title", markup=False)
            for side, name, head in zip(SIDES, self._merging.names, self._heads, strict=True):
                yield Static(clean(f"{side.capitalize():<5} {name}: {head}", 200), markup=False)
            yield MergeFields(markup=False)
            yield Static(id="merge-runs", markup=False)
            yield Static(FOOT, classes="dialog-foot", markup=False)

    def on_mount(self) -> None:
        """Fill the list to the width there is."""
        self.call_after_refresh(self._fill)

    def on_resize(self) -> None:
        """Cut the lines to the new width."""
        self.call_after_refresh(self._fill)

    def action_take(self, version: Version) -> None:
        """Take the field under the bar from one of the two."""
        at = self.query_one(MergeFields).highlighted
        if at is not None and at < len(self._merging.choices):
            self._merging.take(at, version)
            self._fill()

    def action_take_all(self, version: Version) -> None:
        """Take every field from one of the two."""
        self._merging.take_all(version)
        self._fill()

    def action_merge(self) -> None:
        """Take the merged job, once every field is chosen."""
        left = [at for at, line in enumerate(self._merging.lines) if not line.settled]
        if not left:
            self.dismiss(result=True)
            return
        self.query_one(MergeFields).highlighted = left[0]
        many = "One field waits" if len(left) == 1 else f"{len(left)} fields wait"
        words = f"{many} for Left or Right, marked '?'. {FOOT}"
        self.query_one(".dialog-foot", Static).update(Content.styled(words, "$fault bold"))

    def _fill(self) -> None:
        choices = self.query_one(MergeFields)
        at, width = choices.highlighted or 0, max(20, choices.size.width - 4)
        lines: Sequence[MergeLine] = self._merging.lines
        choices.clear_options()
        choices.add_options(Option(_shown(line, self._merging.names, width)) for line in lines)
        if not lines:
            choices.add_option(Option(Content("No field differs."), disabled=True))
        choices.highlighted = min(at, len(lines) - 1) if lines else None
        known = COMMON if self._merging.base_is_common else KNOWN if self._merging.base else UNKNOWN
        about = [self._merging.runs, self._merging.parts, known]
        self.query_one("#merge-runs", Static).update(Content.styled(" ".join(filter(None, about)), "$text-muted"))
        self.query_one(".dialog-foot", Static).update(FOOT)


def _shown(line: MergeLine, names: tuple[str, str], width: int) -> Content:
    """A field on two lines: what it is and who changed it, then both values, the one taken marked."""
    mark = "  " if line.settled else "? "
    head = Content.styled(
        cut(f"{mark}{line.place}", max(width // 2, width - len(line.changed) - 2)),
        "bold" if line.settled else "$warn bold",
    )
    gap = " " * max(2, width - head.cell_length - len(line.changed))
    values = Content("  ")
    for side, name, value in zip(SIDES, names, (line.left, line.right), strict=True):
        taken = line.settled and side == line.taken
        text = f"{'●' if taken else '○'} {name}: {value}"
        style = "$figure bold" if taken else "$text-muted"
        if width >= TWO_VALUES:
            values += Content.styled(cut(text, width // 2 - 2).ljust(width // 2 - 1), style)
        else:  # each on lines of its own
            wrapped = textwrap.wrap(text, width - 2, subsequent_indent="    ")
            values += Content.styled("\n  ".join(wrapped) + ("\n  " if side == SIDES[0] else ""), style)
    changed = cut(gap + line.changed, max(0, width - head.cell_length))
    return head + Content.styled(changed, "$text-muted") + Content("\n") + values


class CompareScreen(Dialog[None]):
    """What differs, both values, and by how much."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "dismiss(None)", show=False)]

    def __init__(self, comparison: Comparison) -> None:
        super().__init__()
        self._comparison = comparison

    def compose(self) -> ComposeResult:
        """Both names, then a line for each difference."""
        of = self._comparison
        with Vertical(classes="dialog full"):
            yield Static(clean(f"From {of.one} to {of.other}", 300), classes="dialog-title", markup=False)
            with VerticalScroll():
                yield Drawn(id="compared")
            yield Static("Arrows scroll, Esc goes back.", classes="dialog-foot", markup=False)

    def on_mount(self) -> None:
        """Give the text the focus, so that the arrows scroll it."""
        self.query_one("#compared", Drawn).draw(lambda width, _: self._lines(width))
        self.query_one(VerticalScroll).focus()

    def _lines(self, width: int) -> Iterator[Content]:
        for kind, line in comparison_lines(self._comparison, max(20, width - 1)):
            yield Content.styled(line, "$primary bold") if kind == "head" else Content(line)
