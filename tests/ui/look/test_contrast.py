"""Whatever stands on a screen can be read there: contrast of every character as it is drawn, under every theme."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest
from rich.style import Style
from textual.screen import ModalScreen

from stanchion.bench.workspace import Workspace
from stanchion.store.paths import places
from stanchion.ui.app import StanchionApp
from stanchion.ui.theme import Themes
from textual_private import drawn

TEXT, LINES = 4.5, 3.0
"""Least contrast of text and of the lines of borders: WCAG 2.1, success criteria 1.4.3 and 1.4.11."""


def luminance(channels: Sequence[int]) -> float:
    """Relative luminance, WCAG 2.1."""
    linear = [c / 255 / 12.92 if c / 255 <= 0.03928 else ((c / 255 + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(style: Style) -> float:
    assert style.color is not None
    assert style.bgcolor is not None
    low, high = sorted(luminance(tuple(c.get_truecolor())) for c in (style.color, style.bgcolor))
    return (high + 0.05) / (low + 0.05)


def unreadable(app: StanchionApp) -> Iterator[str]:
    """What is drawn on the screen in hand with too little contrast."""
    strips = drawn(app)
    if isinstance(app.screen, ModalScreen):  # what lies behind it is dimmed on purpose
        dialog = app.screen.query_one(".dialog").region
        strips = [strip.crop(dialog.x, dialog.right) for strip in strips[dialog.y : dialog.bottom]]
    for strip in strips:
        for segment in strip:
            text, style = segment.text.strip(), segment.style
            if not text or style is None:
                continue
            is_line = all(0x2500 <= ord(c) <= 0x259F or c == " " for c in text)
            if contrast(style) < (LINES if is_line else TEXT):
                yield f"{text!r} {style.color} on {style.bgcolor}: {contrast(style):.1f}"


@pytest.mark.parametrize("theme", sorted(Themes(None).names))
async def test_every_screen_can_be_read(theme: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("STANCHION_HOME", str(tmp_path))
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("COLORTERM", "truecolor")
    bad: dict[str, list[str]] = {}
    seen: set[str] = set()
    app = StanchionApp(Workspace(places()), today=lambda: dt.date(2026, 5, 16))
    async with app.run_test(size=(120, 40)) as pilot:
        app.units_and_theme.take_theme(theme)

        async def look(name: str, *keys: str) -> None:
            await pilot.press(*keys)
            await pilot.pause()
            found = sorted(set(unreadable(app)))
            if found:
                bad[name] = found
            seen.add(type(app.screen).__name__)

        await look("nothing yet")
        app.jobs.start_from_sample("mismatched_lengths")
        await look("front")
        for screen, key in (("rear", "f4"), ("sag", "f5"), ("machine", "f2"), ("jobs", "f9")):
            await look(screen, key)
        await look("front again", "f3")
        await look("warnings", "f6")
        await look("back from warnings", "escape")
        await look("help", "f1")
        await look("back from help", "escape")
        await look("keys by letter", "escape")
        assert len(seen) >= 8
    assert bad == {}
