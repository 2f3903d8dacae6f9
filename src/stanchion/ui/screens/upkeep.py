"""What was done to the machine: hours, services, chain, tyres, torques."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget

from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.job.edit import Edit
from stanchion.job.measured import on_now
from stanchion.job.model import Path
from stanchion.job.spec import Kind
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.track.drive import changed_since_swingarm
from stanchion.judgement.track.upkeep import changed_since_geometry, changed_since_ratio
from stanchion.ui import keys
from stanchion.ui.form_lines import Form
from stanchion.ui.run_form import SERVICES, upkeep_form
from stanchion.ui.screens.sheet_screen import SheetScreen
from stanchion.ui.space import cut
from stanchion.ui.widgets.panes import Drawn
from stanchion.units.quantity import show
from stanchion.wording.american import worded
from stanchion.wording.finding_words import reason
from stanchion.wording.labels import field_label, uncapitalised
from stanchion.wording.upkeep_sentences import chain_and_tyres

MUTED, HEAD, FIGURE = "$text-muted", "$primary bold", "$figure bold"
NAME = 12
TORQUES = "Torques "
TORQUE_ROWS: Path = ("upkeep", "torques")


class UpkeepScreen(SheetScreen):
    """Upkeep, carried along with the machine."""

    name_of = "upkeep"
    form: ClassVar[Form] = staticmethod(upkeep_form)
    label_width = 16
    cell_width = 10
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("upkeep")]

    def figures(self) -> list[Widget]:
        """Hours since, what is stale, torques open."""
        return [Drawn(id="upkeep")]

    def show_figures(self, session: Session) -> None:
        """What follows from what was recorded."""
        again = keys.shown(self.program.key("upkeep.measured").keys)
        self.query_one("#upkeep", Drawn).draw(lambda width, _: upkeep_lines(session, again, width))

    def short(self, session: Session) -> Sequence[Content]:
        """What is from before a change, the torques open, hours since."""
        return [*_stale(session), *_torques(session), *_hours(session, self.size.width - 2)]

    def hints(self) -> list[str]:
        """Ticking first."""
        own = (("torque.tick", worded("tick")), ("upkeep.measured", "measured again"), ("torque.delete", "delete"))
        return [*(f"{keys.shown(self.program.key(name).keys)} {words}" for name, words in own), "Enter next"]

    # --- commands -------------------------------------------------------------------------------------------------

    def action_tick_torque(self) -> None:
        """Tick the current torque, or the first open one; the next open one becomes the current field."""
        session, program = self.session, self.program
        if session is None:
            return
        program.leave_fields()
        torques = session.job.upkeep.torques
        at = self._current_torque
        if at is None or torques[at].done:
            at = next((i for i, torque in enumerate(torques) if not torque.done), None)
        if at is None:
            program.say(worded("Every torque is ticked." if torques else "No torque is listed yet: add one below."))
            return
        if torques[at].torque_nm is None and not session.read_only:
            name = clean(torques[at].what) or f"torque {at + 1}"
            program.say(f"{worded('Not ticked')}: {name} has no torque yet. Enter it from the manual first.")
            self.go_to((*TORQUE_ROWS, at, "torque_nm"))
            return
        program.refresh_after(session.put((*TORQUE_ROWS, at, "done"), value=True))
        still_open = [i for i, torque in enumerate(session.job.upkeep.torques) if not torque.done]
        following = next((i for i in still_open if i > at), still_open[0] if still_open else at)
        self.go_to((*TORQUE_ROWS, following, "done"))

    def action_delete_torque(self) -> None:
        """Delete the current torque; undo brings it back."""
        session, at = self.session, self._current_torque
        if session is None:
            return
        if at is None:
            self.program.say("Go to the torque that is to be deleted first.")
            return
        name = clean(session.job.upkeep.torques[at].what) or "The torque"
        self.program.refresh_after(session.remove_row(TORQUE_ROWS, at) or f"{name} is deleted. Undo brings it back.")

    @property
    def _current_torque(self) -> int | None:
        path = self.sheet.at
        if path is None or path[:2] != TORQUE_ROWS or self.session is None:
            return None
        at = path[2]
        return at if isinstance(at, int) and at < len(self.session.job.upkeep.torques) else None

    def action_measured_again(self) -> None:
        """Confirm that what is stale was measured again and is still so."""
        session = self.session
        if session is None:
            return
        stale = [name for name, changed in _changed(session).items() if changed]
        if not stale:
            self.program.say(worded("Nothing here was measured before a change of chain or tyres."))
            return
        answers = [("no", "No: leave it marked")]
        answers += [(name, f"The {uncapitalised(_MEASURED[name])}, and it is still as entered") for name in stale]
        if len(stale) > 1:
            every = "Both" if len(stale) == len(("one", "other")) else "All of them"
            answers.append(("all", f"{every}, and they are still as entered"))

        def answered(answer: str | None) -> None:
            now = on_now(session.job.upkeep)
            again = [name for name in stale if answer in (name, "all")]
            self.program.refresh_after(session.put_all(Edit(("upkeep", name), now) for name in again))

        text = (
            "Confirm only what was measured again with the chain and tyres that are on now. Where it came out "
            "differently, type the new value in its field instead."
        )
        self.program.ask("What was measured again?", worded(text), tuple(answers), answered)


def upkeep_lines(session: Session, again: str, width: int) -> Iterator[Content]:
    """The lines beside the sheet.

    Args:
        session: the open job.
        again: the key that says "measured again, and still so".
        width: columns there are.
    """
    yield Content.styled("HOURS SINCE", HEAD)
    yield from _hours(session, width)
    yield Content("")
    yield _figure("Gear ratio", session.assessment.upkeep.gear_ratio, "", width, decimals=3)
    stale = [*_stale(session)]
    if stale:
        yield Content("")
        yield Content.styled("FROM BEFORE A CHANGE", "$warn bold")
        yield from stale
        yield Content.styled("Measure again and enter it;", MUTED)
        yield Content.styled(f"{again}: the same value", MUTED)
    if session.job.upkeep.torques:
        yield Content("")
        yield Content.styled("TORQUES", HEAD)
        for line in _torques(session):
            yield line[len(TORQUES) :]


def _hours(session: Session, width: int) -> Iterator[Content]:
    for name, label in SERVICES:
        yield _figure(label, getattr(session.assessment.upkeep, f"{name}_hours"), " h", width)


_MEASURED = {"ratio_with": "Motion ratio", "geometry_with": "Geometry", "swingarm_with": "Swingarm"}
"""What was measured with a chain and tyres, by the field of upkeep that notes them."""


def _changed(session: Session) -> dict[str, list[str]]:
    """What of chain and tyres was changed since each of _MEASURED."""
    job, previous = session.job, session.previous
    return {
        "ratio_with": changed_since_ratio(job, previous),
        "geometry_with": changed_since_geometry(job, previous),
        "swingarm_with": changed_since_swingarm(job, previous),
    }


def _stale(session: Session) -> Iterator[Content]:
    """What was measured before chain or tyres were changed."""
    for name, changed in _changed(session).items():
        if changed:
            yield Content.styled(f"▲ {_MEASURED[name]}", "$warn bold") + Content(f": {chain_and_tyres(changed)}")


def _torques(session: Session) -> Iterator[Content]:
    torques = session.job.upkeep.torques
    if torques:
        done = sum(torque.done for torque in torques)
        style = "$good bold" if done == len(torques) else FIGURE
        yield Content.styled(TORQUES, MUTED) + Content.styled(f"{done} of {len(torques)} done", style)


def _figure(name: str, figure: Figure, unit: str, width: int, decimals: int | None = None) -> Content:
    head = Content.styled(name.ljust(NAME), MUTED)
    if figure.value is None:
        missing = uncapitalised(field_label(figure.needs[0])) if figure.needs else clean(reason(figure))
        return head + Content.styled(cut(f"– {missing}", width - NAME), MUTED)
    text = show(figure.value, Kind.COUNT) if decimals is None else f"{figure.value:.{decimals}f}"
    return head + Content.styled(f"{text}{unit}", FIGURE)
