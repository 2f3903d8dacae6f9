"""A screen over the one in hand, which is left once, however fast the keys come."""

from __future__ import annotations

import asyncio
from typing import ClassVar, TypeVar

from textual.await_complete import AwaitComplete
from textual.screen import ModalScreen, Screen

Result = TypeVar("Result")


class OnStack(Screen[Result]):
    """A screen that does nothing before it is on the stack of screens.

    From Python 3.12 on Textual runs a task as soon as it is made, and a screen has its task before it is on the stack:
    its widgets then asked the application for the screen in hand, which was another one or none.
    """

    async def _pre_process(self) -> bool:
        await asyncio.sleep(0)  # whoever started the screen puts it on the stack before anything else has its turn
        return await super()._pre_process()


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

    def on_mount(self) -> None:
        """What was said before covers nothing of it."""
        self.app.clear_notifications()
