"""What every screen of the program derives from, and dialogs: screens over another one that close only once."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, ClassVar, TypeVar

from textual.await_complete import AwaitComplete
from textual.binding import BindingType
from textual.events import Event, Key, ScreenResume, ScreenSuspend
from textual.message import Message
from textual.screen import ModalScreen

from stanchion.job.model import Path
from stanchion.ui.keys import quitting
from stanchion.ui.space import HORIZONTAL, VERTICAL, classes
from stanchion.ui.textual_hooks import HookedScreen

if TYPE_CHECKING:
    from stanchion.bench.edit_session import EditSession

Result = TypeVar("Result")


class AppScreen(HookedScreen[Result]):
    """The base of every screen, with what the application needs of it; by itself it edits nothing."""

    HORIZONTAL_BREAKPOINTS = HORIZONTAL
    VERTICAL_BREAKPOINTS = VERTICAL

    name_of: ClassVar[str] = ""
    """Its name in the table of keys; empty: it has no keys of its own there."""
    closes_on_go: ClassVar[bool] = False
    """Whether it closes when the user goes to another screen."""
    edits: ClassVar[bool] = False
    """Whether something is changed on it that can be undone; its sheet acts on keys at once."""
    takes_letters: ClassVar[bool] = False
    """Whether a letter on it is a command."""

    _unheard = 0
    """How many resume and suspend events are posted to it that it has not processed yet."""

    # --- what it edits --------------------------------------------------------------------------------------------

    @property
    def edited(self) -> EditSession[Any] | None:
        """What this screen changes; None where it changes nothing."""
        return None

    @property
    def current_field(self) -> Path | None:
        """The field in which the user types."""
        return None

    def leave_field(self) -> None:
        """Accept or drop what was typed into the current field and is unfinished."""

    def keeps(self, path: Path) -> bool:
        """Whether it stays the current screen when a field is gone to that has another screen of its own."""
        del path
        return False

    def go_to(self, path: Path) -> None:
        """Make a field the current one, where this screen has it."""

    # --- keeping up -----------------------------------------------------------------------------------------------

    def reload(self) -> None:
        """Show everything again after the job was changed elsewhere."""

    def show_derived(self) -> None:
        """Show figures and findings again."""

    def show_saving(self) -> None:
        """Show the state of saving."""

    def gone_to_while_shown(self) -> None:
        """Called when the key that leads here is pressed while it is shown."""

    def on_screen_resume(self) -> None:
        """Take the classes of the present size, which may have changed while another screen was shown."""
        now = classes(*self.app.size)
        self.update_classes({name: name in now for _, name in (*HORIZONTAL, *VERTICAL)}, animate=False)

    # --- keys -----------------------------------------------------------------------------------------------------

    @property
    def takes_keys(self) -> bool:
        """Whether it can process keys: it is built, and knows that it is the current screen."""
        return self.is_mounted and not self._unheard

    def holds_back(self, event: Key) -> bool:
        """Keep a key until the screen can use it; True where it was kept."""
        del event
        return False

    def post_message(self, message: Message) -> bool:
        """Put a message in its queue."""
        posted = super().post_message(message)
        if posted and isinstance(message, ScreenResume | ScreenSuspend):
            self._unheard += 1
        return posted

    async def on_event(self, event: Event) -> None:
        """Process an event."""
        await super().on_event(event)
        if isinstance(event, ScreenResume | ScreenSuspend):
            self._unheard -= 1


class ClosesOnce(AppScreen[Result]):
    """A screen that closes once, even where two keys that close it come before it is gone."""

    dismissed = False
    """Whether it has been closed."""

    def dismiss(self, result: Result | None = None) -> AwaitComplete:
        """Close with a result; closed a second time, it does nothing to the screen beneath."""
        if self.dismissed or self not in self.app.screen_stack:
            return AwaitComplete()
        self.dismissed = True
        return super().dismiss(result)


class Dialog(ModalScreen[Result], ClosesOnce[Result]):
    """A dialog: a small screen over another one, which shows through."""

    CSS_PATH = "../styles/dialogs.tcss"
    closed_by: ClassVar[str] = ""
    """The command that opens and closes it, where it is closed for every other command; empty: no command gets past
    it."""
    BINDINGS: ClassVar[list[BindingType]] = [quitting()]

    def close_to_quit(self) -> bool:
        """Close it because the program is to quit, losing nothing that was typed; False if it has to stay open.

        A question is put off, as by Esc.
        """
        self.dismiss(None)
        return True

    def on_mount(self) -> None:
        """Take earlier messages away, which would cover it."""
        self.app.clear_notifications()
