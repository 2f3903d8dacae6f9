"""A screen over the one in hand, which is left once, however fast the keys come."""

from __future__ import annotations

from typing import ClassVar, TypeVar

from textual.await_complete import AwaitComplete
from textual.binding import BindingType
from textual.events import Event, ScreenResume, ScreenSuspend
from textual.message import Message
from textual.screen import ModalScreen

from stanchion.ui.keys import quitting
from stanchion.ui.space import HORIZONTAL, VERTICAL, classes
from stanchion.ui.textual_hooks import HookedScreen

Result = TypeVar("Result")


class OnStack(HookedScreen[Result]):
    """A screen that does nothing before it is on the stack of screens."""

    HORIZONTAL_BREAKPOINTS = HORIZONTAL
    VERTICAL_BREAKPOINTS = VERTICAL
    _unheard = 0
    """How often it was gone to or left without having heard of it yet."""

    def on_screen_resume(self) -> None:
        """Take the classes of the size there is, which may have changed while another screen was shown."""
        now = classes(*self.app.size)
        self.update_classes({name: name in now for _, name in (*HORIZONTAL, *VERTICAL)}, animate=False)

    def post_message(self, message: Message) -> bool:
        """Put a message in its queue."""
        posted = super().post_message(message)
        if posted and isinstance(message, ScreenResume | ScreenSuspend):
            self._unheard += 1
        return posted

    async def on_event(self, event: Event) -> None:
        """Take an event."""
        await super().on_event(event)
        if isinstance(event, ScreenResume | ScreenSuspend):
            self._unheard -= 1

    @property
    def takes_keys(self) -> bool:
        """Whether what is typed goes where it is seen to go: it is built, and knows that it is the screen in hand."""
        return self.is_mounted and not self._unheard


class LeftOnce(OnStack[Result]):
    """A screen that may be told twice to go: by two keys of which the second came before it was gone."""

    passing: ClassVar[bool] = False
    """Whether it is left for good when another screen is gone to."""
    left = False
    """Whether it has been told to go."""

    def dismiss(self, result: Result | None = None) -> AwaitComplete:
        """Leave with a result; a screen that is left already stays as it is, and so does the one beneath."""
        if self.left or self not in self.app.screen_stack:
            return AwaitComplete()
        self.left = True
        return super().dismiss(result)


class Over(ModalScreen[Result], LeftOnce[Result]):
    """A small screen over the one in hand, which shows through."""

    CSS_PATH = "../styles/dialogs.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [quitting()]

    def close_to_quit(self) -> bool:
        """Close it because the program is to quit, losing nothing that was typed; False if it has to stay open.

        A question is put off, as by Esc.
        """
        self.dismiss(None)
        return True

    def on_mount(self) -> None:
        """What was said before covers nothing of it."""
        self.app.clear_notifications()
