"""Reading a terminal that may send anything: line noise, half a character, sequences that no key makes. POSIX."""

from __future__ import annotations

import codecs
import os
import re
import selectors
import sys
import threading
from collections.abc import Iterable
from typing import Any

from textual.events import Key, Resize
from textual.message import Message

from stanchion.base.ascii_only import typed_in
from stanchion.ui.textual_hooks import SizedDriver, XTermParser

CHUNK = 4096
WAIT_S = 0.1
PASTE, PASTED = "\x1b[200~", "\x1b[201~"
"""What a terminal sends before and after what is pasted."""
_ESCAPE_AND_LETTER = re.compile(r"\x1b[^\W_OP]")
"""Esc and a letter or digit in one read. Other keys begin with Esc and [ or O, answers of a terminal with Esc and P."""
_BEFORE_ESCAPE = re.compile("(?=\x1b)")


class SteadyDriver(SizedDriver):
    """Textual's driver, but what cannot be read is passed over instead of ending the program.

    A byte that is no letter becomes U+FFFD. Of a sequence on which the parser fails only itself is lost: what came
    before it in the same read has been taken, and what follows is read again. A report that the terminal has no size is
    ignored.
    The size is that of the terminal itself, whatever COLUMNS and LINES say.
    """

    def __init__(
        self, app: Any, *, debug: bool = False, mouse: bool = True, size: tuple[int, int] | None = None
    ) -> None:
        super().__init__(app, debug=debug, mouse=mouse, size=size or real_size())

    def terminal_size(self) -> tuple[int, int] | None:
        """Columns and lines, asked whenever the terminal says that they have changed."""
        return real_size()

    _pasting = False
    """Whether the next bytes are part of a paste."""

    def run_input_thread(self) -> None:
        """Take in what the terminal sends, until the program ends."""
        decode = codecs.getincrementaldecoder(typed_in())(errors="replace").decode
        parser = XTermParser()
        with selectors.SelectSelector() as selector:
            selector.register(self.fileno, selectors.EVENT_READ)
            # The second condition: where the terminal goes away while the application ends, it may not get round to
            # asking this thread to stop, and would then wait for it for ever.
            while not self.exit_event.is_set() and threading.main_thread().is_alive():
                if selector.select(WAIT_S):
                    data = os.read(self.fileno, CHUNK)
                    if not data:
                        # A terminal that is gone is always ready; wait here for the application to notice.
                        self.exit_event.wait(WAIT_S)
                    for piece in filter(None, _BEFORE_ESCAPE.split(decode(data))):
                        pasting = self._pasting
                        self._pasting = piece.startswith(PASTE) or (pasting and not piece.startswith(PASTED))
                        if not pasting and _ESCAPE_AND_LETTER.match(piece):
                            self.process_message(Key(f"alt+{piece[1]}", piece[1]))
                            rest = piece[2:]
                        else:
                            rest = piece
                        if rest and not self._pass_on(parser.feed(rest)):
                            parser = XTermParser()
                # An escape that nothing follows becomes a key of its own after a while.
                if not self._pass_on(parser.tick()):
                    parser = XTermParser()

    def _pass_on(self, events: Iterable[Message]) -> bool:
        """Pass on the events read from the input; False where the parser has failed and must be replaced."""
        try:
            for event in events:
                if not isinstance(event, Resize) or event.size:
                    self.process_message(event)
        except Exception:  # noqa: BLE001 - whatever a parser makes of noise, it must not end the program
            return False
        return True


def real_size() -> tuple[int, int] | None:
    """Columns and lines of the terminal; None where they are not known.

    A shell may export COLUMNS and LINES as they were when it started, in another window or before this one grew.
    """
    for stream in (sys.__stderr__, sys.__stdin__, sys.__stdout__):
        try:
            columns, lines = os.get_terminal_size(stream.fileno()) if stream is not None else (0, 0)
        except (OSError, ValueError):
            continue
        if columns and lines:
            return columns, lines
    return None
