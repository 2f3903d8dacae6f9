"""The drawings of the HTML sheet as inline SVG; the stylesheet gives their colours."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from stanchion.report.sheet_shape import Gauge, SagBar, Travel

_WIDTH, _LEFT, _RIGHT = 380.0, 8.0, 372.0
_LETTER = 6.4
"""About the width of a letter at the size the stylesheet sets."""


def draw_travels(travels: tuple[Travel, ...]) -> str:
    """Both travels to one scale, each with static and rider sag."""
    if not travels:
        return ""
    longest = max(max(travel.full.mm, *(mark.mm for mark in travel.marks)) for travel in travels)
    scale, step = (_RIGHT - _LEFT) / longest, 62
    parts, description = [], []
    for at, travel in enumerate(travels):
        y = 30 + at * step
        end = _LEFT + travel.full.mm * scale
        parts.append(_text(_LEFT, y - 18, f"{travel.name}: full travel {travel.full.text}"))
        parts.append(f'<rect class="room" x="{_LEFT:.1f}" y="{y - 5}" width="{end - _LEFT:.1f}" height="10"/>')
        taken = _LEFT
        for mark in sorted(travel.marks, key=lambda mark: mark.mm):
            x = _LEFT + mark.mm * scale
            parts.append(f'<line class="mark" x1="{x:.1f}" y1="{y - 9}" x2="{x:.1f}" y2="{y + 9}"/>')
            words = f"{mark.name} {mark.text}"
            start = min(max(x - len(words) * _LETTER / 2, taken), _RIGHT - len(words) * _LETTER)
            parts.append(_text(start, y + 22, words))
            taken = start + (len(words) + 2) * _LETTER
        description.append(
            f"{travel.name} travel {travel.full.text}: " + ", ".join(f"{m.name} {m.text}" for m in travel.marks)
        )
    return _svg(len(travels) * step, f"Travel used by sag, to scale. {'; '.join(description)}", parts)


def draw_sags(bars: tuple[SagBar, ...]) -> str:
    """Each sag against its target band, all to one scale."""
    if not bars:
        return ""
    most = max(max(bar.sag.mm, bar.high_mm) for bar in bars) * 1.08 or 1.0
    left, step = 132.0, 22
    scale = (_RIGHT - left) / most
    parts = []
    for at, bar in enumerate(bars):
        y = 14 + at * step
        low, wide = left + bar.low_mm * scale, (bar.high_mm - bar.low_mm) * scale
        x = left + max(0.0, bar.sag.mm) * scale
        parts += [
            _text(0.0, y + 4, bar.name),
            f'<line class="line" x1="{left}" y1="{y}" x2="{_RIGHT}" y2="{y}"/>',
            f'<rect class="target" x="{low:.1f}" y="{y - 6}" width="{wide:.1f}" height="12"/>',
            f'<line class="mark" x1="{x:.1f}" y1="{y - 9}" x2="{x:.1f}" y2="{y + 9}"/>',
        ]
    parts.append(_text(left, 14 + len(bars) * step, "bar: measured; band: target", quiet=True))
    description = "; ".join(f"{bar.name} {bar.sag.text}, target {bar.target}" for bar in bars)
    return _svg(22 + len(bars) * step, f"Sag against target. {description}", parts)


def draw_gauges(gauges: tuple[Gauge, ...]) -> str:
    """Each preload adjuster between fully out and fully in, with what is left both ways."""
    if not gauges:
        return ""
    step = 46
    parts, description = [], []
    for at, gauge in enumerate(gauges):
        y = 24 + at * step
        whole = gauge.out.mm + gauge.to_in.mm
        x = _LEFT + (_RIGHT - _LEFT) * (min(1.0, max(0.0, gauge.out.mm / whole)) if whole > 0 else 0.0)
        parts += [
            _text(_LEFT, y - 11, f"{gauge.name} preload adjuster"),
            f'<rect class="room" x="{_LEFT}" y="{y - 5}" width="{_RIGHT - _LEFT}" height="10"/>',
            f'<line class="mark" x1="{x:.1f}" y1="{y - 8}" x2="{x:.1f}" y2="{y + 8}"/>',
            _text(_LEFT, y + 18, f"out: {gauge.out.text}"),
            _text(_RIGHT, y + 18, f"in: {gauge.to_in.text}", anchor="end"),
        ]
        description.append(f"{gauge.name}: {gauge.out.text} left to out, {gauge.to_in.text} left to in")
    return _svg(len(gauges) * step, f"Preload adjusters between their ends. {'; '.join(description)}", parts)


def _text(x: float, y: float, words: str, *, anchor: str = "start", quiet: bool = False) -> str:
    look = ' class="quiet"' if quiet else ""
    return f'<text{look} x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{escape(words)}</text>'


def _svg(height: float, description: str, parts: Iterable[str]) -> str:
    box = f"0 0 {_WIDTH:g} {height:g}"
    return f'<svg viewBox="{box}" role="img" aria-label="{escape(description)}">{"".join(parts)}</svg>'
