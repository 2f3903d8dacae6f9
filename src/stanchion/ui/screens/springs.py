"""Which springs to fit: the rate needed, then those to hand, best first. One key puts a choice in as a trial."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widget import Widget
from textual.widgets import OptionList, Static

from stanchion.bench.session import Session
from stanchion.job.model import ENDS, End, Path
from stanchion.job.spec import Kind
from stanchion.judgement.results.figures import absent
from stanchion.judgement.springs.spring_option import Option
from stanchion.planning.one_rate import changes
from stanchion.ui import keys, present
from stanchion.ui.paging import pages_of
from stanchion.ui.screens.job_screen import JobScreen
from stanchion.ui.space import LEAST
from stanchion.ui.springs_lines import (
    ALL_COLUMNS,
    LEAST_NAME,
    WITHOUT_TRIAL,
    SpringColumns,
    by_air,
    detail,
    indented,
    layout_of,
    needed_sentences,
    pressure_to_set,
    row_line,
    verdict_line,
    whole_sentences,
)
from stanchion.ui.widgets.choices import Choices, Choosable
from stanchion.ui.widgets.live_text import LiveText
from stanchion.ui.widgets.pages import TURN_KEYS, Pages
from stanchion.ui.widgets.panes import Drawn
from stanchion.units.quantity import unit_name

USUAL = 24


class SpringsScreen(JobScreen):
    """The choice of springs for one end."""

    CSS_PATH = "../styles/springs.tcss"
    name_of = "springs"
    AUTO_FOCUS = "#springs-list"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("tab", "other_end", show=False),
        *keys.bindings("springs"),
        *TURN_KEYS,
    ]

    def __init__(self) -> None:
        super().__init__()
        self._end: End = "front"
        self._shown_for: object = None
        self._waits_for: tuple[Path, ...] = ()
        """The missing readings from which the rate needed would follow."""
        self._columns = SpringColumns(LEAST_NAME, ())

    def body(self) -> Iterable[Widget]:
        """What is needed, the heads, the list, the current row."""
        yield Vertical(
            Drawn(id="springs-needed"),
            LiveText(id="springs-heads"),
            Choices(id="springs-list", markup=False),
            Pages(id="springs-detail"),
        )

    def hints(self) -> list[str]:
        """Choosing, the other end, what is missing, the stock; no key that has nothing to do here."""
        session = self.session
        useful = {
            "springs.one_rate": session is not None and changes(session.job, self._end),
            "missing.springs": bool(self._waits_for),
        }
        idle = tuple(f"{keys.shown(self.program.key(name).keys)} " for name, has in useful.items() if not has)
        own = [hint for hint in super().hints() if not hint.startswith(idle)]
        return ["Enter tries them", "Tab other end", *own]

    def show_figures(self, session: Session) -> None:
        """Choose again where anything has changed."""
        subject = (
            session.job,
            session.units,
            self._end,
            self.program.workspace.spring_stock.session.stock,
            self.size.width,
            self._trial_open,
        )
        if subject == self._shown_for:
            return
        self._shown_for = subject
        choice = session.judged("choice", None, self.program.workspace.spring_stock.choose, session, self._end)
        before, self._waits_for = self._waits_for, choice.needed_n_per_mm.needs if choice is not None else ()
        if bool(before) is not bool(self._waits_for):
            self.show_bar(session)
        choices = self.query_one(Choices)
        choices.clear_options()
        pane = self.query_one("#springs-needed", Drawn)
        if choice is None:
            pane.draw(lambda width, _: self._in_room([present.NOT_JUDGED], width))
            self.query_one("#springs-detail", Pages).draw(lambda width, height: ())
            return
        needed = needed_sentences(choice, session)
        if self._trial_open:
            needed.insert(1, Content.styled(WITHOUT_TRIAL, "$warn"))
        if by_air(choice):
            self._show_pressure(session, needed)
            return
        pane.draw(lambda width, _: self._in_room(needed, width))
        rates = f" {unit_name(Kind.RATE, session.units)}"
        layout = self._columns = layout_of(choice.options, session.units, self.size.width)
        a = session.assessment
        turned_in = (a.rear.spring if self._end == "rear" else a.front.left).turned_in
        counted = "click" if turned_in == "clicks" else "turns"  # one letter more would touch the column before
        names = ((counted if name == "turns" else name, width) for name, width in layout.columns)
        heads = rates.ljust(layout.name) + "".join(name.rjust(width) for name, width in names)
        self.query_one("#springs-heads", Static).update(Content.styled(heads if choice.options else "", "$primary"))
        for one in choice.options:
            choices.add_option(Choosable(row_line(one, session.units, layout, self.size.width - 2), one))
        if choice.options:
            choices.highlighted = 0
        else:
            self.query_one("#springs-detail", Pages).draw(lambda width, height: ())

    @property
    def _trial_open(self) -> bool:
        """Whether something is tried that is not part of the job yet."""
        trial = self.program.trial
        return trial is not None and trial.tried

    def _show_pressure(self, session: Session, needed: list[Content]) -> None:
        """No list for an end sprung by air: the pressure to set, and where it is entered and what it does stands."""
        entered, does = (keys.shown(self.program.key(f"screen.{name}").keys) for name in (self._end, "predict"))
        where = Content(f"{entered} has its pressure; {does} says what pressure does.")
        advice = pressure_to_set(session, self._end)
        self.query_one("#springs-needed", Drawn).draw(lambda width, _: self._in_room([*needed, where], width))
        self.query_one("#springs-heads", Static).update("")
        self.query_one("#springs-detail", Drawn).draw(
            lambda width, height: [part for line in advice for part in indented(line, width)][:height]
        )

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Show the current row in full."""
        session, one = self.session, event.option
        if session is not None and isinstance(one, Choosable):
            from stanchion.planning.damping_compared import damping_with_option  # noqa: PLC0415

            option: Option = one.what
            stock = self.program.workspace.spring_stock.session.stock
            none: float | None = None
            given = (session.job, option, self._end, session.profiles, session.previous)
            damping = session.judged("prediction", none, damping_with_option, *given)
            lines_of = detail(option, session.units, stock, damping)
            if self.size.width < ALL_COLUMNS:
                lines_of = [verdict_line(option, session.units, self._columns), *lines_of]

            def pages(width: int, height: int) -> list[list[Content]]:
                return pages_of([part for line in lines_of for part in indented(line, width)], width, height)

            self.query_one("#springs-detail", Pages).draw_pages(pages, option)

    def action_next_missing(self) -> None:
        """Go to the first reading that the rate needed waits for."""
        if self._waits_for:
            self.program.jump(self._waits_for[0])
        else:
            self.program.say("The choice of springs waits for no reading.")

    def action_turn_page(self, step: int) -> None:
        """Show what there is no room for of the current row."""
        self.query_one("#springs-detail", Pages).turn(step)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Put these springs in as a trial."""
        if isinstance(event.option, Choosable):
            self.try_springs(event.option.what)

    def try_springs(self, option: Option) -> None:
        """Put a choice of springs in as a trial, and show it beside what is fitted."""
        trial = self.program.trial
        if trial is None:
            return
        from stanchion.planning.spring_edits import as_edits  # noqa: PLC0415

        trial.follow()
        refusal = trial.copy.put_all(as_edits(option, trial.copy.job, set_adjuster=True))
        if refusal:
            self.program.say(refusal)
        else:
            trial.choose(option)
        self.program.action_go("trial")

    def action_one_rate(self) -> None:
        """Compare springs whose rate changes with one rate in their place."""
        session = self.session
        if session is None:
            return
        from stanchion.planning.one_rate import one_rate  # noqa: PLC0415
        from stanchion.ui.screens.one_rate import OneRateScreen  # noqa: PLC0415

        of = session.judged("choice", absent("program_fault"), one_rate, session.job, session.assessment, self._end)
        self.program.push_screen(OneRateScreen(of, session.units, plain=self.program.only_ascii))

    def action_edit_stock(self) -> None:
        """Edit the spring stock."""
        from stanchion.ui.screens.stock import StockScreen  # noqa: PLC0415

        self.program.push_screen(StockScreen(), lambda _: self.program.refresh_screens())

    def _in_room(self, sentences: Sequence[Content], width: int) -> list[Content]:
        """What is needed, in as many lines as the screen has for it."""
        most = 3 if self.app.size.height >= USUAL else 2 if self.app.size.height >= LEAST[1] else 1
        return whole_sentences(sentences, width, most)

    def action_other_end(self) -> None:
        """The other end."""
        self._end = ENDS[1 - ENDS.index(self._end)]
        self.show_derived()
