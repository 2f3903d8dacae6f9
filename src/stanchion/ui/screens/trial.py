"""A change tried on a copy of the job, side by side with the job as it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget

from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.bench.trial import Trial
from stanchion.job.model import End, Path
from stanchion.job.spec import Kind
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.planning.whatif import WhatIf, compare
from stanchion.planning.whatif_rows import WhatifRow
from stanchion.ui import forms, keys, present
from stanchion.ui.commands.changes import made_by_trial, put_on_work_list
from stanchion.ui.form_lines import Form
from stanchion.ui.paging import pages_of
from stanchion.ui.screens.sheet_screen import SheetScreen
from stanchion.ui.space import wrapped_whole
from stanchion.ui.widgets.pages import PagedFigures
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, show_settable, unit_name
from stanchion.wording.finding_words import sentence
from stanchion.wording.prediction_sentences import GEOMETRY_STATES
from stanchion.wording.verdicts import SAG_VERDICTS
from stanchion.wording.whatif_sentences import (
    BASIS,
    BRAKES_ROWS,
    GAS_ROWS,
    NOW_AND_THEN,
    ROWS,
    axle_words,
    basis_of,
    brakes_sentence,
    preload_sentence,
    rider_note,
    riding_words,
    row_name,
    row_part,
)

MUTED = "$text-muted"
NAME, NUMBER = 16, 7
LEAST_CHANGE = 0.005
"""A change below this is none."""
SHORT = {
    **{code: ROWS[code] for code in ("rise", *BRAKES_ROWS, *GAS_ROWS, "change_over_mm", "rake_deg", "trail_mm")},
    "static_predicted": "Static sag",
    "static_captured": "Static sag",
    "rider_predicted": "Rider sag",
    "rider_captured": "Rider sag",
    "damping_pct": "Rebound",
    "axle_back_mm": "Axle back",
    "axle_forward_mm": "Axle forward",
    "axle_room_mm": "Left in slots",
    "axle_back_beyond_mm": "Axle past slots",
    "axle_forward_beyond_mm": "Axle past slots",
    "headroom_in_turns": "Turns to in",
    "headroom_in_clicks": "Clicks to in",
}
"""The rows that are always shown, with names short enough for eighty columns."""
SLOWLY = "slow stroke"
"""Which figures on the brakes a trial compares."""


class TrialScreen(SheetScreen):
    """What if: the sheet changes a copy, the job stays as it is until the change is applied."""

    CSS_PATH = "../styles/predict.tcss"
    name_of = "trial"
    form: ClassVar[Form] = staticmethod(forms.trial)
    label_width = 23
    cell_width = 7
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("trial")]

    @property
    def trial(self) -> Trial | None:
        """What is being tried."""
        return self.program.trial

    @property
    def session(self) -> Session | None:
        """The copy, not the job."""
        return self.trial.copy if self.trial is not None else None

    _seen: WhatIf | None = None
    """The comparison as it was last shown."""

    def figures(self) -> list[Widget]:
        """Now and then, side by side; below it what the change of preload does."""
        return [PagedFigures(id="beside", classes="pane")]

    def reload(self) -> None:
        """Take over what was changed in the job meanwhile."""
        if self.trial is not None:
            self.trial.follow()
        super().reload()

    def unsaved(self, session: Session) -> str:
        """That what is tried is not saved until it is applied."""
        tried = self.trial is not None and self.trial.tried
        return "tried, not saved" if tried else super().unsaved(session)

    def show_figures(self, session: Session) -> None:
        """The comparison."""
        trial = self.trial
        if trial is None:
            return
        self.program.workspace.keep_drafts()
        both = trial.session.job, session.job
        self._seen = session.judged("changes", None, compare, *both, session.profiles, session.previous)
        seen, full = self._seen, self.has_class("-tall")

        def pages(width: int, height: int) -> list[list[Content]]:
            lines = [present.NOT_JUDGED] if seen is None else beside(seen, session.units, width - 1, full=full)
            return pages_of(lines, width - 1, height)

        self.query_one("#beside", PagedFigures).draw_pages(pages, session.job.job.id)

    def action_turn_page(self, step: int) -> None:
        """Show the figures that there is no room for."""
        super().action_turn_page(step)
        self.query_one("#beside", PagedFigures).turn(step)

    def findings_in_order(self, session: Session) -> list[Finding]:
        """Worst first; among equals those that the trial brings."""
        found = super().findings_in_order(session)
        return found if self.trial is None else self.trial.own_first(found)

    def short(self, session: Session) -> Sequence[Content]:
        """Now and then of what the change does; what it changes first."""
        return [*in_short(self._seen, session.units)] if self._seen is not None else [present.NOT_JUDGED]

    # --- commands -------------------------------------------------------------------------------------------------

    def action_apply_trial(self) -> None:
        """Make what is being tried part of the job; where it brings a fault, ask first."""
        trial, program = self.trial, self.program
        if trial is None:
            return
        program.leave_fields()
        before, after = trial.session.assessment.worst, trial.copy.assessment.worst
        if after is Severity.FAULT and before is not Severity.FAULT:
            fault = sentence(trial.copy.assessment.findings[0], trial.copy.units)
            answers = (("no", "Back to the trial"), ("yes", "Make it part of the job all the same"))
            program.ask(
                "The change brings a fault",
                fault,
                answers,
                lambda answer: self._apply(trial) if answer == "yes" else None,
            )
            return
        self._apply(trial)

    def _apply(self, trial: Trial) -> None:
        program, count = self.program, len(trial.changes)
        before = trial.session.job
        stock = program.workspace.spring_stock if trial.springs_chosen else None
        option = stock.chosen(trial) if stock is not None else None
        judged = made_by_trial(trial, program.now())
        refusal = trial.apply(judged)
        if not refusal and count:
            moved = stock is not None and option is not None and stock.fit(option, before, trial.session.job)
            if moved:
                program.save_stock()
            what = f"{count} change{'s' if count != 1 else ''} made in the job"
            undo = keys.shown(program.key("undo").keys)
            off_stock = " They have come off your stock, and those taken out have gone into it." if moved else ""
            it = "it" if count == 1 else "them"
            next_run = " The next run tells whether it is better." if judged else ""
            program.say(f"{what}; {undo} takes {it} back. Measure sag again.{off_stock}{next_run}")
        program.refresh_after(refusal)

    def action_list_trial(self) -> None:
        """Put what is being tried on the work list, to be made on the machine first and judged by the next run."""
        trial, program = self.trial, self.program
        if trial is None:
            return
        program.leave_fields()
        trial.follow()
        put_on_work_list(program, trial.session, trial.edits)

    def action_drop_trial(self) -> None:
        """Forget what is being tried."""
        if self.trial is not None:
            if self.trial.drop():
                undo = keys.shown(self.program.key("undo").keys)
                self.program.say(f"What was tried is dropped. {undo} brings it back.")
            self.program.refresh_screens()


def beside(seen: WhatIf, units: Units, width: int, *, full: bool) -> list[Content]:
    """The lines of the comparison.

    Args:
        seen: the comparison.
        units: display units.
        width: columns there are.
        full: every row with its whole name, instead of the ones that matter most.
    """
    name = 24 if full else NAME
    what = f"{len(seen.differences)} changed" if seen.differences else "Unchanged"
    lines = [Content.styled(what.ljust(name) + "now".rjust(NUMBER) + "then".rjust(NUMBER), "$primary bold")]
    if note := rider_note(seen, units):  # all below rests on it
        lines += map(Content, wrapped_whole(note, max(20, width)))
    last_head = ("", "")
    for row in _rows(seen, full=full):
        part, basis = row_part(row) if full else riding_words(row) or str(row.where[0]), basis_of(row)
        if part != last_head[0] or basis not in ("", last_head[1]):
            last_head = (part, basis)
            head = Content.styled(part.upper(), "$primary bold")
            of = BASIS[basis] if basis else SLOWLY if row.code in BRAKES_ROWS else ""
            if row.where == ("geometry",) and not of:
                of = GEOMETRY_STATES[seen.state]
            if basis == "predicted" and _in_doubt(seen, row):
                of += f", {SAG_VERDICTS['doubtful']}"
            lines.append(head + Content.styled(f" · {of}", MUTED) if of else head)
        lines.append(_line(row, units, full=full))
    said = [axle_words(seen)]
    if seen.differences:
        effects = [*(preload_sentence(effect, units) for effect in seen.preload), brakes_sentence(seen, units)]
        said += [clean(effect, 400) for effect in reversed(effects)]
    return [*lines, *(Content(line) for words in said if words for line in ["", *wrapped_whole(words, max(20, width))])]


def _in_doubt(seen: WhatIf, row: WhatifRow) -> bool:
    """Whether what the predicted sags of a row's end rest on contradicts itself, now or after the change."""
    end: End = "front" if row.where[0] == "front" else "rear"
    return any(one.predicted.end(end).doubted for one in (seen.present, seen.changed))


def in_short(seen: WhatIf, units: Units) -> Iterator[Content]:
    """A line each for sags, headroom and geometry; what the change changes comes first."""
    rows = sorted(_rows(seen, full=False), key=lambda row: not _changes(row))
    for row in rows:
        if row.present.known or row.changed.known:
            place = _group(row).capitalize()
            yield Content.styled(f"{place} ", MUTED) + _line(row, units, full=False, alone=True)


def _changes(row: WhatifRow) -> bool:
    return row.change is not None and abs(row.change) >= LEAST_CHANGE


def _rows(seen: WhatIf, *, full: bool) -> list[WhatifRow]:
    """The rows to show, first where the axle goes, then parts of the machine where something changes: a measured sag
    takes the place of the predicted one, which it corrects."""
    rows = [row for row in seen.rows if _is_shown(seen, row, full=full) and (full or row.code in SHORT)]
    changed = {_group(row) for row in rows if _changes(row)}
    return sorted(
        rows,
        key=lambda row: (
            not row.code.startswith("axle_"),
            _group(row) not in changed,
            bool(riding_words(row)),
            riding_words(row),
        ),
    )


def _group(row: WhatifRow) -> str:
    """What a row stands under: a part of the machine, on the brakes, or on the gas."""
    return riding_words(row) or str(row.where[0])


def _is_shown(seen: WhatIf, row: WhatifRow, *, full: bool) -> bool:
    """Whether a row has something to say beside the others."""
    if row.code.endswith("_predicted"):
        return full or not seen.row(row.where, row.code.replace("_predicted", "_captured")).present.known
    if row.code.endswith("_captured"):
        return row.present.known
    if row.code in (*BRAKES_ROWS, *GAS_ROWS):
        return row.present.known or row.changed.known
    # where nothing of the end is known it has not risen by nothing
    return row.code != "rise" or bool(row.change) or _sag_known(seen, row.where)


def _sag_known(seen: WhatIf, where: Path) -> bool:
    codes = ("static_predicted", "rider_predicted", "static_captured", "rider_captured")
    return any(seen.row(where, code).present.known for code in codes)


def _line(row: WhatifRow, units: Units, *, full: bool, alone: bool = False) -> Content:
    """A row as a line.

    Args:
        row: the row.
        units: display units.
        full: with its whole name.
        alone: without a heading that says what its sags are.
    """
    name = row_name(row) if full else SHORT[row.code]
    if not full and row.where[1:] == ("right",):
        name += " R"
    elif not full and row.where[1:] == ("left",) and not row.both_legs:
        name += " L"
    width = 24 if full else NAME
    values = [
        SAG_VERDICTS["topped_out"]
        if at_stop
        else "–"
        if figure.value is None
        else _short(figure.value, row.kind, units, settable=row.code in present.BY_ADJUSTER)
        for figure, at_stop in zip((row.present, row.changed), row.topped_out, strict=True)
    ]
    basis = basis_of(row)
    changed = values[0] != values[1] and (row.change is not None or any(row.topped_out))
    unit = unit_name(row.kind, units)
    unit = "" if not unit or (unit == "turns" and not full) else f" {unit}"  # the short name says so
    marks = [present.ESTIMATED if _estimate(row, at) and not row.topped_out[at] else "" for at in (0, 1)]
    if row.topped_out[1]:  # mark and unit stand beside the number, not behind words
        values[0] += "" if row.topped_out[0] else marks[0] + unit
        marks, unit = ["", ""], ""
    if basis and alone:
        line = Content.styled(f"{name} ", MUTED)
        for word, text in zip(NOW_AND_THEN[basis], values, strict=True):
            line += Content.styled(word, MUTED) + Content.styled(text, "$figure bold")
    else:
        first = f" {values[0]}".rjust(NUMBER) + marks[0]  # a mark stands in the margin of the next column
        if len(name) > width and first.startswith(" " * (len(name) - width + 1)):
            first = first[len(name) - width :]  # a name takes what it needs more from beside the number
        cells = [first, f" {values[1]}".rjust(NUMBER - len(marks[0]))]
        over = sum(map(len, cells)) + max(0, len(name) - width) - 2 * NUMBER  # and words theirs from beside the name
        line = Content.styled(f"{name:<{max(len(name), width - over)}}", MUTED)
        line += Content.styled("".join(cells) + marks[1], "$figure bold")
    return line + Content.styled(unit, MUTED) + Content("◂" if changed else "")


def _estimate(row: WhatifRow, at: int) -> bool:
    """Whether the figure now (0) or then (1) is known and rests on an estimate."""
    figure = (row.present, row.changed)[at]
    return figure.known and figure.estimate


def _short(value: float, kind: Kind, units: Units, *, settable: bool = False) -> str:
    written = show_settable if settable else show
    return written(value, kind, units).split(" ")[0].rstrip("°")
