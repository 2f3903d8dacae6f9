"""The drawings of the HTML sheet, as SVG that stands in the page; their colours are the stylesheet's."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from stanchion.report.sheet_shape import Gauge, SagBar, Travel

_WIDTH, _LEFT, _RIGHT = 380.0, 8.0, 372.0
_LETTER = 6.4
"""About the width of a letter at the size the stylesheet sets."""


def draw_travels(travels: tuple[Travel, ...]) -> str:
    """Both whole travels to one scale, with where the machine stands alone and with its rider."""
    if not travels:
        return ""
    longest = max(max(travel.full.mm, *(mark.mm for mark in travel.marks)) for travel in travels)
    scale, step = (_RIGHT - _LEFT) / longest, 62
    parts, said = [], []
    for at, travel in enumerate(travels):
        y = 30 + at * step
        end = _LEFT + travel.full.mm * scale
        parts.append(_text(_LEFT, y - 18, f"{travel.name}: full travel {travel.full.told}"))
        parts.append(f'<rect class="room" x="{_LEFT:.1f}" y="{y - 5}" width="{end - _LEFT:.1f}" height="10"/>')
        taken = _LEFT
        for mark in sorted(travel.marks, key=lambda mark: mark.mm):
            x = _LEFT + mark.mm * scale
            parts.append(f'<line class="mark" x1="{x:.1f}" y1="{y - 9}" x2="{x:.1f}" y2="{y + 9}"/>')
            words = f"{mark.name} {mark.told}"
            start = min(max(x - len(words) * _LETTER / 2, taken), _RIGHT - len(words) * _LETTER)
            parts.append(_text(start, y + 22, words))
            taken = start + (len(words) + 2) * _LETTER
        said.append(
            f"{travel.name} travel {travel.full.told}: " + ", ".join(f"{m.name} {m.told}" for m in travel.marks)
        )
    return _svg(len(travels) * step, f"Travel used by sag, to scale. {'; '.join(said)}", parts)


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
    said = "; ".join(f"{bar.name} {bar.sag.told}, target {bar.target}" for bar in bars)
    return _svg(22 + len(bars) * step, f"Sag against target. {said}", parts)


def draw_gauges(gauges: tuple[Gauge, ...]) -> str:
    """Each preload adjuster between fully out and fully in, with what is left both ways."""
    if not gauges:
        return ""
    step = 46
    parts, said = [], []
    for at, gauge in enumerate(gauges):
        y = 24 + at * step
        whole = gauge.out.mm + gauge.to_in.mm
        x = _LEFT + (_RIGHT - _LEFT) * (min(1.0, max(0.0, gauge.out.mm / whole)) if whole > 0 else 0.0)
        parts += [
            _text(_LEFT, y - 11, f"{gauge.name} preload adjuster"),
            f'<rect class="room" x="{_LEFT}" y="{y - 5}" width="{_RIGHT - _LEFT}" height="10"/>',
            f'<line class="mark" x1="{x:.1f}" y1="{y - 8}" x2="{x:.1f}" y2="{y + 8}"/>',
            _text(_LEFT, y + 18, f"out: {gauge.out.told}"),
            _text(_RIGHT, y + 18, f"in: {gauge.to_in.told}", anchor="end"),
        ]
        said.append(f"{gauge.name}: {gauge.out.told} left to out, {gauge.to_in.told} left to in")
    return _svg(len(gauges) * step, f"Preload adjusters between their ends. {'; '.join(said)}", parts)


def _text(x: float, y: float, words: str, *, anchor: str = "start", quiet: bool = False) -> str:
    look = ' class="quiet"' if quiet else ""
    return f'<text{look} x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{escape(words)}</text>'


def _svg(height: float, said: str, parts: Iterable[str]) -> str:
    box = f"0 0 {_WIDTH:g} {height:g}"
    return f'<svg viewBox="{box}" role="img" aria-label="{escape(said)}">{"".join(parts)}</svg>'
