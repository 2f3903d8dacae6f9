"""The messages that need no answer: how many are shown, how long, and when a key may take them away. Pure."""

from __future__ import annotations

import time

from stanchion.base.record import record

MESSAGE_S = 8.0
"""How long a message is shown while no key is pressed."""
MOST_SHOWN = 3
"""Messages shown at once at most, so that something of the screen is left."""
READ_S = 1.0
"""A key pressed sooner than this does not remove a message: nobody has read it yet."""


@record
class Said:
    """A message that is shown."""

    words: str
    about: str
    """Its subject, or the command key that was pressed last before it."""
    press: int
    """How many command keys had been pressed by then; -1 where it has a subject."""
    until: float
    """When it goes by itself (monotonic clock)."""


class ShownMessages:
    """The messages that are shown, the newest last."""

    def __init__(self) -> None:
        self._shown: list[Said] = []
        self._newest_at: float | None = None
        """When the newest was shown (monotonic clock); None: there is none."""

    def add(self, words: str, about: str, press: int) -> list[tuple[str, float]]:
        """Add a message; one on the same subject goes, and so do the oldest of more than MOST_SHOWN.

        Args:
            words: the message.
            about: its subject, or the command key pressed last. What was said at an earlier press of that key goes.
            press: how many command keys had been pressed by then; -1 where it has a subject.

        Returns:
            What is shown now, each with the seconds it has left.
        """
        now = self._newest_at = time.monotonic()
        still = [
            one
            for one in self._shown
            if now < one.until and one.words != words and (one.about != about or one.press == press >= 0)
        ]
        self._shown = [*still, Said(words, about, press, now + MESSAGE_S)][-MOST_SHOWN:]
        return [(one.words, one.until - now) for one in self._shown]

    def clear(self) -> None:
        """Show none."""
        self._shown, self._newest_at = [], None

    def may_go(self) -> bool:
        """Whether there are messages, and there was time to read the newest."""
        return self._newest_at is not None and time.monotonic() - self._newest_at >= READ_S
