"""The screen of who, what, when and where: another rider is asked about here, and own targets are dropped."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Static

from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.job.aboard import RIDERS_NAME, without_rider_aboard
from stanchion.job.measured import RIDER
from stanchion.job.model import ENDS, SIDES, STATES, Targets
from stanchion.job.spec import Kind
from stanchion.job.venue import VenueNotes
from stanchion.judgement.results.assessment import PreloadFigures
from stanchion.judgement.results.figures import Figure
from stanchion.ui import keys, machine_form, present
from stanchion.ui.form_lines import Form
from stanchion.ui.screens.sheet_screen import SheetScreen
from stanchion.ui.short_lines import whole_short
from stanchion.ui.space import cut_within
from stanchion.ui.widgets.live_text import Figures
from stanchion.ui.widgets.path_sheet import PathSheet
from stanchion.ui.widgets.sheet import FormSheet
from stanchion.units.quantity import show, unit_name
from stanchion.wording.finding_words import field_label
from stanchion.wording.verdicts import PRELOAD_VERDICTS, SAG_VERDICTS

if TYPE_CHECKING:
    from stanchion.store.venues import FoundVenues

MUTED = "$text-muted"
PANE = 29
"""Columns of the figures beside the sheet on a terminal of 80."""


class MachineScreen(SheetScreen):
    """Who, what, when, where; and a summary of the whole job."""

    name_of = "machine"
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("machine")]
    form: ClassVar[Form] = staticmethod(machine_form.machine)
    sheet_type = PathSheet
    cell_width = 8

    class VenueWasRead(Message):
        """The notes on venues have been read."""

        def __init__(self, found: FoundVenues) -> None:
            self.found = found
            super().__init__()

    _venues: FoundVenues | None = None
    """The notes on venues as they were read last."""

    def on_mount(self) -> None:
        """Complete paths from the folder of the job's file, or from where the program was started."""
        if isinstance(self.sheet, PathSheet):
            self.sheet.complete = self._completed

    def _completed(self, text: str) -> str:
        """On a thread of its own."""
        from stanchion.bench.attached_files import completed  # noqa: PLC0415 - not needed to start

        current = self.program.workspace.current
        return "" if current is None else completed(text, current.open_job.file.path.parent)

    def on_path_sheet_offered(self) -> None:
        """Show what Tab would complete."""
        self.show_field()

    def show_field(self) -> None:
        """The current field; of a path what Tab completes it to."""
        super().show_field()
        whole = self.sheet.completion if isinstance(self.sheet, PathSheet) else ""
        if whole:
            hint = cut_within(clean(whole), max(10, self.size.width - 16))
            line = Content.styled(" Tab completes: ", "$primary bold") + Content.styled(hint, "$figure bold")
            self.query_one("#field", Static).update(line)

    def hints(self) -> list[str]:
        """As on every screen; the key for the standard targets only where own ones are entered."""
        standard = self.program.key("targets.standard")
        own = self.session is not None and self.session.job.targets != Targets()
        unneeded = "" if own else f"{keys.shown(standard.keys)} {standard.hint}"
        return [hint for hint in super().hints() if hint != unneeded]

    def on_form_sheet_entered(self, message: FormSheet.Entered) -> None:
        """Ask about another name of the rider; what every screen does then is done besides."""
        left = message.left
        if left == RIDERS_NAME:
            self._ask_about_rider()
        if left is not None and left[:1] == ("attached",):
            from stanchion.ui.commands.attached import AttachedFiles  # noqa: PLC0415 - not needed to start

            AttachedFiles(self.program).question(int(left[1]))

    def leave_field(self) -> None:
        """Accept what was typed; another name of the rider is asked about over whatever is shown next."""
        super().leave_field()
        self.call_later(self._ask_about_rider)

    def _ask_about_rider(self) -> None:
        """Ask whether another name is another rider, where scales or sags were read with the one before aboard."""
        session = self.session
        if session is None or not session.renamed_rider:
            return
        before, session.renamed_rider = session.renamed_rider, ""

        def answered(answer: str | None) -> None:
            if not answer:
                session.renamed_rider = before  # put off: asked again when this screen is left
            if answer != "another" or self.session is not session:
                return
            refused = session.put_all(without_rider_aboard(session.job))
            self.program.refresh_after(refused)
            if not refused:
                undo = keys.shown(self.program.key("undo").keys)
                kg = session.job.job.rider_mass_kg
                weight = "" if kg is None else f" {field_label(RIDER)} stays {show(kg, Kind.MASS, session.units)}."
                self.program.say(
                    f"Rider sag and scales with the rider aboard are cleared. {undo} brings them back.{weight}"
                )

        title = f"Is {clean(session.job.job.rider, 40)} another rider than {clean(before, 40)}?"
        text = "Rider sag or the scales were read with the rider aboard. They hold for that rider only."
        another = "Another rider: clear rider sag and the scales with the rider aboard"
        self.program.ask(title, text, [("same", "The same rider, the name corrected"), ("another", another)], answered)

    def action_standard_targets(self) -> None:
        """Drop the own targets, so that those of the profile count again."""
        session = self.session
        if session is None:
            return
        if session.job.targets == Targets():
            self.program.say("No own targets are entered: the standard ones apply. PgDn leads to their fields.")
            return
        self.program.leave_fields()
        refused = session.put(("targets",), Targets())
        self.program.refresh_after(refused)
        if not refused:
            undo = keys.shown(self.program.key("undo").keys)
            self.program.say(f"The standard targets apply again. {undo} brings yours back.")

    def action_venue_notes(self) -> None:
        """Show the notes on the venue, once they are read."""
        session, program = self.session, self.program
        if session is None:
            return
        program.leave_fields()
        venue = session.job.job.venue.strip()
        if not venue:
            program.say("Enter the venue first: the notes are kept under its name.")
            return
        program.run_worker(lambda: self._read_venue(venue), thread=True, exclusive=True, group="venue")

    def on_screen_resume(self) -> None:
        """Read the notes on venues again, which may have changed."""
        super().on_screen_resume()
        self.program.run_worker(self._read_venues, thread=True, exclusive=True, group="venues", exit_on_error=False)

    def _read_venues(self) -> None:
        """On a thread of its own."""
        from stanchion.store.venues import load_venues  # noqa: PLC0415 - not needed to start

        self.post_message(self.VenueWasRead(load_venues(self.program.workspace.places)))

    def on_machine_screen_venue_was_read(self, message: VenueWasRead) -> None:
        """Show the notes on the venue of the job."""
        self._venues = message.found
        self.show_derived()

    def _venue_lines(self, venue: str, room: int) -> list[Content]:
        """The notes on the venue, as far as there is room; the key shows all of them."""
        notes = self._venues.of(venue) if self._venues is not None and venue.strip() else VenueNotes()
        texts = [clean(text, 200) for text in (notes.surface, notes.bumps, notes.conditions, notes.more) if text]
        key = keys.shown(self.program.key("venue.notes").keys)
        here = self.session.job.job.altitude_m if self.session is not None else None
        if notes.altitude_m and not here:
            noted = show(notes.altitude_m, Kind.ALTITUDE, self.program.workspace.units)
            texts.insert(0, f"Altitude {noted}; this job has {'none' if here is None else '0'}")
        if not texts:
            return []
        width = self.query_one("#summary", Static).size.width or PANE
        lines = [Content(part) for text in texts for part in textwrap.wrap(text, width)]
        fits = max(0, room - 2)
        more = f", {key} for all" if len(lines) > fits else ""
        return [Content(""), Content.styled(f"VENUE NOTES{more}", "$primary bold"), *lines[:fits]]

    def _read_venue(self, venue: str) -> None:
        """On a thread of its own."""
        from stanchion.store.venues import load_venues  # noqa: PLC0415 - not needed to start
        from stanchion.ui.screens.venue import VenueScreen  # noqa: PLC0415

        places, units = self.program.workspace.places, self.program.workspace.units
        found = load_venues(places)

        def opened() -> None:
            if self.program.screen is self:
                self.program.push_screen(VenueScreen(found, venue, places, units))

        self.program.call_from_thread(opened)

    def figures(self) -> list[Widget]:
        """A summary of every part."""
        return [Figures(id="summary", classes="pane")]

    def short(self, session: Session) -> Sequence[Content]:
        """Preload and sag of both ends."""
        return [*whole_short(session.assessment, session.units, self.size.width - 2, split=session.job.front.split)]

    def show_figures(self, session: Session) -> None:
        """One line for each thing measured."""
        units, a = session.units, session.assessment
        unit = unit_name(Kind.LENGTH, units)

        def line(name: str, figure: Figure, word: str, within: str, unsure: str = "") -> Content:
            value = present.number(figure, Kind.LENGTH, units, 5)
            head = Content.styled(name.ljust(13), MUTED) + Content.styled(f"{value} {unsure}", "$figure bold")
            return head + present.verdict(word, within)

        def preload(name: str, of: PreloadFigures) -> Content:
            unsure = present.unsure(of, units)
            return line(name, of.installed_preload_mm, of.verdict, PRELOAD_VERDICTS["in"], unsure)

        lines = [Content.styled(f"INSTALLED PRELOAD, {unit}", "$primary bold")]
        for side in SIDES if session.job.front.split else SIDES[:1]:
            leg = a.front.leg(side)
            name = f"Fork, {side}" if session.job.front.split else "Fork, both"
            lines.append(preload(name, leg))
        lines.append(preload("Shock", a.rear.spring))
        lines += [Content(""), Content.styled(f"SAG, {unit}", "$primary bold")]
        for end in ENDS:
            for state in STATES:
                of = a.sag.end(end).state(state)
                lines.append(line(f"{end.capitalize()} {state}", of.shown_mm, of.verdict_now, SAG_VERDICTS["in"]))
        stale = present.stale_lines(a.findings, "geometry_stale")
        geometry = a.geometry
        if geometry.trail_mm.known:
            base = present.number(geometry.baseline.trail_mm, Kind.LENGTH, units, 0).strip()
            stale = [line("Trail now", geometry.trail_mm, "", "") + Content.styled(f"base {base}", MUTED), *stale]
        lines += [Content(""), Content.styled(f"GEOMETRY, {unit}", "$primary bold"), *stale] if stale else []
        job = session.job.job
        if job.carried_from:
            name = cut_within(clean(job.carried_from), self.query_one("#summary", Static).size.width or PANE)
            lines += [Content(""), Content.styled("Carried forward from", MUTED), Content(name)]
        if job.sample:
            lines += [Content(""), Content.styled("An invented sample job: try things out on it.", MUTED)]
        lines += self._venue_lines(job.venue, self.query_one("#figures").size.height - len(lines))
        self.query_one("#summary", Static).update(Content("\n").join(lines))
