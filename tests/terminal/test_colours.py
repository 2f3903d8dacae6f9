"""What reaches a terminal with few colours, or with none wanted, can be read there: measured on the bytes of a real run.

The screen is looked at all the time, so that what stands for a moment only, such as the mark of a changed figure, is
measured too; in full colour when it has come to rest, since what lies behind a small screen is dimmed there, on purpose.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pyte
import pytest

from stanchion.store.samples import samples

if sys.platform == "win32":
    pytest.skip("pseudo-terminals are POSIX", allow_module_level=True)

from real_terminal import RealTerminal
from sent_colours import characters, other_attributes, weakest

TEXT, FIGURES, LINES = 4.5, 7.0, 3.0
"""Least contrast of text, of figures and warnings, and of lines: WCAG 2.1, success criteria 1.4.3, 1.4.6 and 1.4.11."""
STRONG = re.compile(r"\d|FAULT|WARNING|CAUTION|NOTE|HIGH|LOW|OVER|LIMIT|OLD|band|[✖▲•]")
"""Figures, and the words of warnings and verdicts."""
KINDS: dict[str, dict[str, str]] = {
    "console": {"TERM": "linux"},
    "console that claims more": {"TERM": "linux", "COLORTERM": "truecolor"},
    "16": {"TERM": "xterm"},
    "256": {"TERM": "xterm-256color"},
    "256 without colour": {"TERM": "xterm-256color", "NO_COLOR": ""},
    "full": {"TERM": "xterm-256color", "COLORTERM": "truecolor"},
    "full without colour": {"TERM": "xterm-256color", "COLORTERM": "truecolor", "NO_COLOR": "1"},
}
OTHER_THEMES = 2
"""How many there are beside the one to start with."""
MAIN = (
    ("f3", ("INSTALLED", "OVER LIMIT", "FAULT", "CAUTION")),
    ("f6", ("worst first", "FAULT")),
    ("\x1b[F", ("CAUTION",)),
    ("esc", ("INSTALLED",)),
    ("f5", ("stiction", "WARNING")),
)
"""Keys, and what then stands on the screen: a fault, and one on the row that is chosen."""
MORE = (
    ("f1", ("letters search, Enter",)),
    ("esc", ("stiction",)),
    ("f4", ("Wheel rate",)),
    ("\x10", ("BOTH SAGS INTO",)),
    ("\x14", ("Turns to in",)),
    ("\x0c", ("TRAVEL USED",)),
    ("\x15", ("HOURS SINCE",)),
    ("f9", ("newest first", "FAULT")),
    ("\x06", ("STORY of",)),
    ("f3", ("INSTALLED",)),
)
SMALL = (("esc", ("Colours",)), ("esc", ("INSTALLED",)), ("\x0e", ("A new job",)), ("esc", ("INSTALLED",)))
"""Small screens over the one in hand."""


class Reader:
    """Reads a screen and keeps what could not be read well."""

    def __init__(self, *, console: bool) -> None:
        self.weak: set[str] = set()
        self._console = console
        self._seen: set[object] = set()

    def look(self, screen: pyte.Screen) -> None:
        """Measure each look of a word that was not there before, in the lines that were drawn since the last look."""
        drawn = sorted(screen.dirty)
        screen.dirty.clear()
        for word, char in characters(screen, drawn):
            least = LINES if all(0x2500 <= ord(c) <= 0x259F for c in word) else TEXT
            least = FIGURES if STRONG.search(word) else least
            if (char[1:], least) not in self._seen:
                self._seen.add((char[1:], least))
                ratio = weakest(char, console=self._console)
                if ratio < least:
                    self.weak.add(f"{word}: {ratio:.1f} ({char.fg} on {char.bg})")


@pytest.mark.long
@pytest.mark.parametrize("kind", KINDS)
def test_whatever_is_drawn_can_be_read(tmp_path: Path, kind: str) -> None:
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    (jobs / "a.toml").write_bytes(next(sample.data for sample in samples() if sample.name == "soft_springs"))
    reader = Reader(console=KINDS[kind]["TERM"] == "linux")
    with RealTerminal(tmp_path, env=KINDS[kind]) as terminal:
        if kind != "full":
            terminal.watch = reader.look

        def go(*steps: tuple[str, tuple[str, ...]]) -> None:
            for key, words in steps:
                terminal.press(key)
                terminal.wait_for(*words)
                if key != "esc":
                    reader.look(terminal.screen)

        terminal.wait_for("newest first", "FAULT")
        reader.look(terminal.screen)
        go(("enter", ("SAG, mm",)), *MAIN, *MORE)
        if kind != "full":
            go(*SMALL)
        for _ in range(OTHER_THEMES):
            go(("f3", ("INSTALLED",)), ("esc", ("Colours",)))
            terminal.press("t")
            terminal.wait_until_gone("Colours")
            go(*MAIN)
        go(("f3", ("INSTALLED",)), ("9.75", ("19.50 N/mm",)))  # figures change and are marked
        assert other_attributes(bytes(terminal.raw)) == set()
    assert reader.weak == set()
