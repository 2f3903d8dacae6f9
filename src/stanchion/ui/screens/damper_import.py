"""Reading a dynamometer's file: its path, its first lines, and which of its columns is which."""

from __future__ import annotations

from typing import ClassVar, cast

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.events import Key
from textual.widgets import Static

from stanchion.base.errors import StanchionError
from stanchion.base.text import clean
from stanchion.bench.attached_files import completed
from stanchion.bench.columns_session import PATH, TYPE_A_PATH, Choosing, ColumnsSession, read_now
from stanchion.bench.damper_files import FoundFile, add_sheet, find_file, keep_columns
from stanchion.bench.damper_import import ReadSheet
from stanchion.ui import keys
from stanchion.ui.core import CoreApp
from stanchion.ui.damper_form import columns_form
from stanchion.ui.damper_lines import preview_lines
from stanchion.ui.screens.app_screen import ClosesOnce
from stanchion.ui.space import cut_within, fitting
from stanchion.ui.widgets.panes import Drawn
from stanchion.ui.widgets.path_sheet import PathSheet
from stanchion.ui.widgets.sheet import FormSheet

READING = "reading the file"
"""Group of the workers that read it."""


class DamperImportScreen(ClosesOnce[str]):
    """The file is read when its path is left; what its columns give is said at every choice. Closes with what was done,
    or with nothing."""

    CSS_PATH = "../styles/dampers.tcss"
    AUTO_FOCUS: ClassVar[str | None] = ""
    edits: ClassVar[bool] = True
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", show=False, priority=True),
        Binding("f7", "take", show=False, priority=True),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._choosing = ColumnsSession()
        self._file: FoundFile | None = None
        self._read: tuple[Choosing, ReadSheet | str] | None = None
        self._trouble = ""
        self._take_when_read = False

    @property
    def program(self) -> CoreApp:
        """The application, by its own type."""
        return cast("CoreApp", self.app)

    def compose(self) -> ComposeResult:
        """Title, form, first lines of the file, what it gives, keys."""
        yield Static(Content.styled(" DAMPER SHEET FROM A FILE", "$primary bold"), id="import-title", markup=False)
        yield VerticalScroll(PathSheet(columns_form, label_width=21, cell_width=22), can_focus=False)
        yield Drawn(id="preview")
        yield Static(id="import-message", markup=False)
        yield Static(id="keys", markup=False)

    def on_mount(self) -> None:
        """Begin with an empty path."""
        sheet = self.query_one(PathSheet)
        sheet.complete = self._completed
        self.reload()

    def _completed(self, text: str) -> str:
        """On a thread of its own."""
        current = self.program.workspace.current
        return "" if current is None else completed(text, current.open_job.file.path.parent)

    def on_resize(self) -> None:
        """As many keys are named as there is room for."""
        hints = ["Enter next", "Tab across, completes a path", "+ − another column", "first letters choose", "^Z undo"]
        foot = fitting(hints, ["F7 takes it into the job", "Esc goes back"], self.size.width - 1)
        self.query_one("#keys", Static).update(Content.styled(f" {foot}", "$text-muted"))

    @property
    def edited(self) -> ColumnsSession:
        """The path and the columns as they are chosen."""
        return self._choosing

    @property
    def current_field(self) -> tuple[str | int, ...] | None:
        """The field in which the user types."""
        return self.query_one(FormSheet).at

    async def on_key(self, event: Key) -> None:
        """Give the sheet a key that came before it had the focus."""
        await self.query_one(FormSheet).on_key(event)

    def reload(self) -> None:
        """Show the form again, and what it gives."""
        sheet = self.query_one(FormSheet)
        sheet.show(self._choosing)
        self._work_out()
        self.call_after_refresh(sheet.take_focus)

    # --- reading --------------------------------------------------------------------------------------------------

    def on_form_sheet_entered(self, message: FormSheet.Entered) -> None:
        """A field was left: from the path on, the file is read."""
        message.stop()
        if message.left == PATH:
            self._begin_reading()
        self._show()

    def on_form_sheet_past_end(self, message: FormSheet.PastEnd) -> None:
        """Enter on the path while there is nothing below it."""
        message.stop()
        self._begin_reading()

    def on_form_sheet_changed(self, message: FormSheet.Changed) -> None:
        """Work out what the columns give."""
        message.stop()
        self._work_out()

    def on_path_sheet_offered(self) -> None:
        """Show what Tab would complete."""
        self._show()

    def _begin_reading(self) -> None:
        """Read the file on a thread."""
        current, typed = self.program.workspace.current, self._choosing.subject.path
        if self._choosing.subject.file is not None or current is None or not typed.strip():
            return
        self._trouble = "Reading the file …"
        job_file, places = current.open_job.file.path, self.program.workspace.places

        def read() -> None:
            try:
                found: FoundFile | str = find_file(typed, job_file, places)
            except StanchionError as error:
                found = str(error)
            self.program.call_from_thread(self._take_file, typed, found)

        self.run_worker(read, thread=True, exclusive=True, group=READING)

    def _take_file(self, typed: str, found: FoundFile | str) -> None:
        if self.dismissed or typed != self._choosing.subject.path:
            return
        if isinstance(found, str):
            self._trouble, self._take_when_read = found, False
            self._show()
            return
        self._trouble = found.problem
        self._file = found
        self._choosing.take(typed, found.table, found.kept)
        sheet = self.query_one(FormSheet)
        sheet.show(self._choosing)
        sheet.go(("speed",))
        self.query_one("#preview", Drawn).draw(lambda width, height: preview_lines(found.table, width - 1, height))
        self._work_out()

    def _work_out(self) -> None:
        """Work out on a thread what the columns chosen give: a large file takes a moment."""
        now = self._choosing.subject

        def work() -> None:
            result = read_now(now)
            self.program.call_from_thread(self._take_result, now, result)

        if now.file is None:
            self._read = None
            self._show()
        else:
            self.run_worker(work, thread=True, exclusive=True, group=READING)

    def _take_result(self, of: Choosing, result: ReadSheet | str) -> None:
        if self.dismissed or of is not self._choosing.subject:
            return
        self._read = of, result
        self._show()
        if self._take_when_read:
            self.action_take()

    # --- showing --------------------------------------------------------------------------------------------------

    def _show(self) -> None:
        """Say below the form what the columns give, or what is still to be done."""
        sheet, choosing = self.query_one(PathSheet), self._choosing
        draft = choosing.drafts.get(sheet.at) if sheet.at is not None else None
        if draft is not None and draft.reason:
            line = Content.styled(f"Not read: {clean(draft.reason, 200)}", "$fault bold")
        elif sheet.completion:
            hint = cut_within(clean(sheet.completion), max(10, self.size.width - 18))
            line = Content.styled("Tab completes: ", "$primary bold") + Content.styled(hint, "$figure bold")
        elif self._trouble:
            line = Content.styled(clean(self._trouble, 300), "$fault bold")
        elif self._read is None:
            line = Content.styled(TYPE_A_PATH if choosing.subject.file is None else "", "$text-muted")
        elif isinstance(self._read[1], str):
            line = Content.styled(clean(self._read[1], 400), "$warn bold")
        else:
            line = Content.styled(clean(self._read[1].words, 500), "$figure bold")
        self.query_one("#import-message", Static).update(line)

    # --- keys -----------------------------------------------------------------------------------------------------

    def action_take(self) -> None:
        """Put the sheet into the job, and keep the columns for the folder."""
        self._take_when_read = False
        session, choosing = self.program.session, self._choosing
        if session is None:
            return
        if choosing.subject.file is None or self._read is None or self._read[0] is not choosing.subject:
            self._take_when_read = bool(choosing.subject.path.strip())
            self._begin_reading()
            self._show()
            return
        result, file = self._read[1], self._file
        if isinstance(result, str) or file is None:
            self._show()
            return
        added = add_sheet(session, result.sheet, file.attached)
        if added.refused:
            self._trouble = added.refused
            self._show()
            return
        columns, places = choosing.subject.columns, self.program.workspace.places
        self.program.write_aside(lambda: keep_columns(file.folder, columns, places), "columns of a folder")
        undo = keys.shown(self.program.key("undo").keys)
        self.dismiss(f"{result.words} {undo} takes it out again.{added.not_attached}")

    def action_leave(self) -> None:
        """Go back without it."""
        self.dismiss(None)
