"""Why a figure is what it is, over the screen that shows it: the figures there, and each with its formula and steps."""

from __future__ import annotations

from typing import Any, ClassVar, cast

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.events import Key
from textual.widgets import OptionList, Static

from stanchion.bench.session import Session
from stanchion.job.model import Path
from stanchion.job.name_match import begins
from stanchion.report.why import why
from stanchion.report.why_figures import FollowedFigures, explained_first, followed_figures
from stanchion.report.why_sure import largest_part, sure_line
from stanchion.report.why_text import Explained, explained
from stanchion.ui.screens.app_screen import Dialog
from stanchion.ui.why_lines import FiguresOf, figure_row, figures_of, keys_of, page_lines
from stanchion.ui.widgets.choices import Choices, Choosable
from stanchion.wording import why_words

_FOOT_OF_LIST = "Letters narrow the list. Enter explains a figure, Esc goes back."
_MOST_LETTERS = 40
_FOOT_OF_FIGURE = "Enter on a step goes on, on a reading to its field. Esc goes back."


class WhyScreen(Dialog[Path | None]):
    """The figures of a screen; Enter explains one, and leads on to its steps and readings. Gives the field to go to.

    Args:
        session: the job, or the copy on which something is tried.
        screen: the name of the screen beneath.
        field: the field in hand on it.
    """

    closed_by: ClassVar[str] = "why"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", show=False),
        Binding("backspace", "rub_out", show=False),
        Binding("f12", "dismiss(None)", show=False),
    ]

    def __init__(self, session: Session, screen: str, field: Path | None) -> None:
        super().__init__()
        self._session, self._of_screen, self._field = session, screen, field
        self._followed: FollowedFigures | None = None
        self._figures = FiguresOf((), (), "")
        self._letters = ""
        """What was typed to narrow the list."""
        self._way: list[tuple[Explained, int | None]] = []
        """The numbers gone through, each with the line that was chosen in the list before it."""
        self._sure: dict[str, str] = {}
        """How sure each figure is that was explained, by its title."""

    def compose(self) -> ComposeResult:
        """Title, lines, and what the keys do."""
        with Vertical(classes="dialog full"):
            yield Static(why_words.TITLE, classes="dialog-title", markup=False)
            yield Choices(markup=False)
            yield Static(_FOOT_OF_LIST, classes="dialog-foot", markup=False)

    def on_mount(self) -> None:
        """Work the figures out, which takes some ten times as long as judging the job."""
        super().on_mount()
        self._show([Choosable(Content(why_words.WORKING), None, disabled=True)], None)
        program, session = self.app, self._session
        job, profiles, previous, keys = session.job, session.profiles, session.previous, keys_of(self._of_screen)

        def work() -> None:
            followed = followed_figures(job, profiles, previous, keys)
            figures = figures_of(followed, self._of_screen, self._field)
            program.call_from_thread(self._take, followed, figures)

        program.run_worker(work, thread=True, exclusive=True, group="why")

    def _take(self, followed: FollowedFigures, figures: FiguresOf) -> None:
        """Show the figures once they are worked out, with the bar on the one for the field in hand."""
        if not self.dismissed:
            self._followed, self._figures = followed, figures
            self._draw(next((at for at, row in enumerate(self._rows(followed)) if row.what == figures.nearest), 0))

    def _rows(self, followed: FollowedFigures) -> list[Choosable[Any]]:
        """The figures that have the letters typed: those which the screen shows, then the others under a heading."""
        units, of = self._session.units, self._figures
        shown, also = (
            [
                Choosable(Content(text), path)
                for path in paths
                if begins(text := figure_row(followed, path, units), self._letters)
            ]
            for paths in (of.shown, of.also)
        )
        heading = Choosable(Content.styled(why_words.ALSO, "$primary bold"), None, disabled=True)
        return [*shown, *([heading] if shown and also else []), *also]

    def on_key(self, event: Key) -> None:
        """Letters typed in the list of figures narrow it."""
        if self._way or self._followed is None:
            return
        if event.is_printable and event.character and len(self._letters) < _MOST_LETTERS:
            event.stop()
            self._narrow(self._letters + event.character)

    def action_rub_out(self) -> None:
        """Take back the last letter; where there is none, go back."""
        if self._letters and not self._way:
            self._narrow(self._letters[:-1])
        else:
            self.action_back()

    def _narrow(self, letters: str) -> None:
        self._letters = letters
        typed = f": {letters}" if letters else ""
        self.query_one(".dialog-title", Static).update(f"{why_words.TITLE}{typed}")
        self._draw(0)

    def on_resize(self) -> None:
        """Draw to the new width."""
        self._draw(self.query_one(Choices).highlighted)

    def _draw(self, at: int | None) -> None:
        followed, units = self._followed, self._session.units
        if followed is None:
            return
        foot = self.query_one(".dialog-foot", Static)
        if not self._way:
            none = why_words.NONE_LIKE_IT if self._letters else why_words.NOTHING
            foot.update(_FOOT_OF_LIST)
            self._show(self._rows(followed) or [Choosable(Content(none), None, disabled=True)], at)
            return
        width = max(20, self.query_one(Choices).size.width - 4)
        foot.update(_FOOT_OF_FIGURE)
        of = self._way[-1][0]
        lines = page_lines(of, units, width, self._sure.get(of.title, ""))
        self._show([Choosable(Content(text or " "), term) for text, term in lines], at)

    def _show(self, rows: list[Choosable[Any]], at: int | None) -> None:
        choices = self.query_one(Choices)
        choices.clear_options()
        choices.add_options(rows)
        choices.highlighted = None if at is None else min(at, len(rows) - 1)
        choices.focus()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Explain the figure or step, or go to the field of the reading."""
        followed, what = self._followed, cast("Choosable[Any]", event.option).what
        if followed is None or what is None:
            return
        at = self.query_one(Choices).highlighted
        if isinstance(what, str):
            if what in followed.by_path:
                of = explained_first(followed, what, why(followed.by_path[what]))
                self._go(of, at)
                self._work_out_sure(followed, what, of.title)
        elif what.came_from == "step":
            self._go(explained(why(what.number), followed.job), at)
        elif what.came_from == "reading":
            self.dismiss(what.number.of[0].path)

    def _go(self, to: Explained, at: int | None) -> None:
        self._way.append((to, at))
        self._draw(0)

    def _work_out_sure(self, followed: FollowedFigures, figure: str, title: str) -> None:
        """Work out how sure a figure is: the job is judged twice for each of its readings."""
        program, session = self.app, self._session
        profiles, previous, units = session.profiles, session.previous, session.units

        def work() -> None:
            most = largest_part(followed, figure, profiles, previous)
            if most is not None:
                program.call_from_thread(self._take_sure, title, sure_line(most, figure, units))

        if title not in self._sure:
            program.run_worker(work, thread=True, exclusive=True, group="why")

    def _take_sure(self, title: str, line: str) -> None:
        """Show how sure the figure is, where it is still shown."""
        self._sure[title] = line
        if not self.dismissed and self._way and self._way[-1][0].title == title:
            self._draw(self.query_one(Choices).highlighted)

    def action_back(self) -> None:
        """Go back to the number before, to the list, to the whole list, or to the screen beneath."""
        if self._letters and not self._way:
            self._narrow("")
            return
        if not self._way:
            self.dismiss(None)
            return
        _, at = self._way.pop()
        self._draw(at)
