"""The screens on which a job is filled in: machine, front, rear, sag."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.job.aboard import RIDERS_NAME, without_rider_aboard
from stanchion.job.measured import RIDER
from stanchion.job.model import ENDS, SIDES, STATES, End, Targets
from stanchion.job.spec import Kind
from stanchion.judgement.results.figures import Figure
from stanchion.ui import forms, keys, machine_form, present
from stanchion.ui.form_lines import Form
from stanchion.ui.screens.sheet_screen import SheetScreen
from stanchion.ui.short_lines import preload_short, sag_short, whole_short
from stanchion.ui.space import cut_within
from stanchion.ui.widgets.live_text import Figures, LiveText
from stanchion.ui.widgets.panes import Drawn, PreloadPane, SagPane
from stanchion.ui.widgets.path_sheet import PathSheet
from stanchion.ui.widgets.sheet import FormSheet
from stanchion.units.quantity import show, unit_name
from stanchion.wording.finding_words import field_label, sentence
from stanchion.wording.verdicts import PRELOAD_VERDICTS, SAG_VERDICTS

MUTED = "$text-muted"
PANE = 29
"""Columns of the figures beside the sheet on a terminal of 80."""
WITH_WORDS = 24
"""Columns from which the marks on the travel have words."""


class MachineScreen(SheetScreen):
    """Who, what, when, where; and a summary of the whole job."""

    name_of = "machine"
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("machine")]
    form: ClassVar[Form] = staticmethod(machine_form.machine)
    sheet_type = PathSheet
    cell_width = 8

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

        def line(name: str, figure: Figure, word: str, within: str) -> Content:
            value = present.number(figure, Kind.LENGTH, units, 5)
            head = Content.styled(name.ljust(13), MUTED) + Content.styled(f"{value} ", "$figure bold")
            return head + present.verdict(word, within)

        lines = [Content.styled(f"INSTALLED PRELOAD, {unit}", "$primary bold")]
        for side in SIDES if session.job.front.split else SIDES[:1]:
            leg = a.front.leg(side)
            name = f"Fork, {side}" if session.job.front.split else "Fork, both"
            lines.append(line(name, leg.installed_preload_mm, leg.verdict, PRELOAD_VERDICTS["in"]))
        spring = a.rear.spring
        lines.append(line("Shock", spring.installed_preload_mm, spring.verdict, PRELOAD_VERDICTS["in"]))
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
        self.query_one("#summary", Static).update(Content("\n").join(lines))


class FrontScreen(SheetScreen):
    """The fork."""

    name_of = "front"
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("front")]
    form: ClassVar[Form] = staticmethod(forms.front)
    cell_width = 8

    def action_split_legs(self) -> None:
        """Enter the legs separately, or as one again."""
        program, session = self.program, self.session
        if session is None:
            return
        front = session.job.front
        if front.right is None or front.right == front.left:
            program.refresh_after(session.split_legs())
            return

        def answered(answer: str | None) -> None:
            program.refresh_after(session.split_legs() if answer == "join" else "")

        answers = (("keep", "Keep the legs separate"), ("join", "Join them: the left leg's values stand for both"))
        text = "When they are joined, the right leg's own values are dropped. Undo brings them back."
        program.ask("The legs differ", text, answers, answered)

    def figures(self) -> list[Widget]:
        """Preload of both legs, and the leg to scale where there is room."""
        return [PreloadPane("preload"), Drawn(id="travel")]

    def short(self, session: Session) -> Sequence[Content]:
        """Preload of both legs, or of one for both."""
        front = session.assessment.front
        both = session.job.front.split
        heads, legs = (("left", "right"), (front.left, front.right)) if both else (("",), (front.left,))
        return [*preload_short(heads, legs, session.units)]

    def show_figures(self, session: Session) -> None:
        """Both legs side by side where they are split, otherwise one for both."""
        a, split = session.assessment.front, session.job.front.split
        columns = (a.left, a.right) if split else (a.left,)
        heads = ("left", "right") if split else ("both legs",)
        alone = split and not (a.left.has_spring and a.right.has_spring)
        rate = a.rate_n_per_mm
        text = "–" if rate.value is None else show(rate.value, Kind.RATE, session.units)
        text = text.replace(" ", f"{present.ESTIMATED} ", 1) if rate.estimate else text
        text = "varies" if rate.problem == "rate_changes" else text
        name = "Rate, one spring" if alone else "Combined fork rate"
        names = (name, "Rate, one") if alone else (name, "Combined rate", "Combined")
        extra = [Content.styled(f"{one} ", MUTED) + Content.styled(text, "$figure bold") for one in names]
        self.query_one(PreloadPane).show(heads, columns, session.units, [extra])
        _draw(self.query_one("#travel", Drawn), session, "front")


def _draw(pane: Drawn, session: Session, end: End) -> None:
    """Draw the travel of an end, as the job is set now."""
    if pane.display:
        from stanchion.planning.on_travel import on_travel  # noqa: PLC0415 - only wide screens have room for it
        from stanchion.ui.travel_drawing import travel_lines  # noqa: PLC0415

        on = on_travel(session.job, session.assessment, end)
        units = session.units
        pane.draw(lambda width, height: travel_lines(on, end, units, width, height, figures_only=width < WITH_WORDS))


class RearScreen(SheetScreen):
    """The shock."""

    name_of = "rear"
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("rear")]
    form: ClassVar[Form] = staticmethod(forms.rear)
    cell_width = 9

    def action_linkage(self) -> None:
        """Read the linkage by its points."""
        self.program.action_go("linkage")

    def figures(self) -> list[Widget]:
        """Preload of the shock spring, what the linkage makes of it, and the shaft to scale where there is room."""
        return [PreloadPane("preload"), Drawn(id="travel")]

    def short(self, session: Session) -> Sequence[Content]:
        """Preload of the shock spring."""
        return [*preload_short(("",), (session.assessment.rear.spring,), session.units)]

    def show_figures(self, session: Session) -> None:
        """Show the spring, then ratio and wheel rate with the travel they apply to."""
        rear, units = session.assessment.rear, session.units
        extra: list[list[Content]] = []
        at = f" at {show(rear.at_travel_mm, Kind.LENGTH, units)}"
        for name, (figure, expanded), kind, where in (
            ("Wheel rate", rear.best_wheel_rate, Kind.RATE, " smooth" if rear.smooth else ""),
            ("Ratio", rear.best_motion_ratio, Kind.RATIO, at),
        ):
            label = Content.styled(name.ljust(present.LABEL), MUTED)
            if figure.known:
                spellings = present.with_uncertainty(figure, expanded, kind, units)
                tails = (where, "") if rear.smooth and name == "Wheel rate" else (where,)
                words = [
                    Content.styled(" " * indent + one, "$figure bold") + Content.styled(tail, MUTED)
                    for one in spellings
                    for tail in tails
                    for indent in (2, 1, 0)
                ]
            else:
                words = [Content.styled(present.why_not(figure, PANE - present.LABEL), MUTED)]
            extra.append([label + one for one in words])
        extra += [[line] for line in present.stale_lines(session.assessment.findings, "motion_ratio_stale")]
        self.query_one(PreloadPane).show(("shock",), (rear.spring,), units, extra)
        _draw(self.query_one("#travel", Drawn), session, "rear")


class SagScreen(SheetScreen):
    """The sag capture."""

    name_of = "sag"
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("sag")]
    form: ClassVar[Form] = staticmethod(forms.sag)
    label_width = 13
    cell_width = 5

    def figures(self) -> list[Widget]:
        """Both ends, and the advice on their sags where there is room for it."""
        return [*(SagPane(end) for end in ENDS), LiveText(id="advice", classes="pane")]

    def short(self, session: Session) -> Sequence[Content]:
        """Both sags of both ends; the current end first."""
        lines = [*sag_short(session.assessment, session.units, self.size.width - 2)]
        at = self.sheet.at
        return [lines[1], lines[0], *lines[2:]] if at is not None and at[1:2] == ("rear",) else lines

    def show_figures(self, session: Session) -> None:
        """Show sags, targets and stiction, and below them the advice."""
        lines: list[Content] = []
        for pane in self.query(SagPane):
            pane.show(session.assessment, session.units)
            advice = session.assessment.sag.end(pane.end).advice
            if advice is not None:
                lines += [Content.styled(f"What the {pane.end} says", "$primary bold")]
                lines += [Content(clean(sentence(advice, session.units))), Content("")]
        self.query_one("#advice", Static).update(Content("\n").join(lines))

    def action_swap_readings(self) -> None:
        """Swap the pushed-down and the lifted-up readings of the state in hand."""
        session, at = self.session, self.sheet.at
        if session is None or at is None:
            return
        self.program.leave_fields()
        self.program.refresh_after(session.swap_readings(at))
