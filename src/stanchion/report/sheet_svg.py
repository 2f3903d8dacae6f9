"""The drawings of the HTML sheet as inline SVG; the stylesheet gives their colours."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from stanchion.report.sheet_shape import ForceCurve, Gauge, RatioCurve, SagBar, Travel

_WIDTH, _LEFT, _RIGHT = 380.0, 8.0, 372.0
_LETTER = 7.2
"""About the width of a letter at the size the stylesheet sets, in a wide face."""


def travel_words(travel: Travel) -> str:
    """A travel with the places on it, as a drawing is described."""
    return f"{travel.name} travel {travel.full.text}: " + ", ".join(
        f"{mark.name} {mark.value}" for mark in travel.marks
    )


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
        parts.append(svg_text(_LEFT, y - 18, f"{travel.name}: full travel {travel.full.text}"))
        parts.append(f'<rect class="room" x="{_LEFT:.1f}" y="{y - 5}" width="{end - _LEFT:.1f}" height="10"/>')
        taken = _LEFT
        for mark in sorted(travel.marks, key=lambda mark: mark.mm):
            x = _LEFT + mark.mm * scale
            parts.append(f'<line class="mark" x1="{x:.1f}" y1="{y - 9}" x2="{x:.1f}" y2="{y + 9}"/>')
            words = f"{mark.name} {mark.value}"
            start = min(max(x - len(words) * _LETTER / 2, taken), _RIGHT - len(words) * _LETTER)
            parts.append(svg_text(start, y + 22, words))
            taken = start + (len(words) + 2) * _LETTER
        description.append(travel_words(travel))
    return whole_svg(len(travels) * step, f"Travel used by sag, to scale. {'; '.join(description)}", parts)


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
            svg_text(0.0, y + 4, bar.name),
            f'<line class="line" x1="{left}" y1="{y}" x2="{_RIGHT}" y2="{y}"/>',
            f'<rect class="target" x="{low:.1f}" y="{y - 6}" width="{wide:.1f}" height="12"/>',
            f'<line class="mark" x1="{x:.1f}" y1="{y - 9}" x2="{x:.1f}" y2="{y + 9}"/>',
        ]
        if bar.sag.old:
            parts.append(svg_text(x - 3, y + 4, "old", anchor="end"))
    parts.append(svg_text(left, 14 + len(bars) * step, "bar: measured; band: target", quiet=True))
    description = "; ".join(f"{bar.name} {bar.sag.value}, target {bar.target}" for bar in bars)
    return whole_svg(22 + len(bars) * step, f"Sag against target. {description}", parts)


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
            svg_text(_LEFT, y - 11, f"{gauge.name} preload adjuster"),
            f'<rect class="room" x="{_LEFT}" y="{y - 5}" width="{_RIGHT - _LEFT}" height="10"/>',
            f'<line class="mark" x1="{x:.1f}" y1="{y - 8}" x2="{x:.1f}" y2="{y + 8}"/>',
            svg_text(_LEFT, y + 18, f"out: {gauge.out.text}"),
            svg_text(_RIGHT, y + 18, f"in: {gauge.to_in.text}", anchor="end"),
        ]
        description.append(f"{gauge.name}: {gauge.out.text} left to out, {gauge.to_in.text} left to in")
    return whole_svg(len(gauges) * step, f"Preload adjusters between their ends. {'; '.join(description)}", parts)


def draw_curve(curve: ForceCurve) -> str:
    """The force over the travel as it is set now; in grey and broken, as the job before left it."""
    top, floor = 12.0, 150.0
    most = max(force for _, force in (*curve.now, *curve.before)) or 1.0
    longest = max(curve.now[-1][0], curve.before[-1][0]) or 1.0
    across, up = (_RIGHT - _LEFT) / longest, (floor - top) / most

    def path(look: str, points: tuple[tuple[float, float], ...]) -> str:
        places = " ".join(f"{_LEFT + mm * across:.1f},{floor - max(0.0, force) * up:.1f}" for mm, force in points)
        return f'<polyline class="{look}" fill="none" points="{places}"/>'

    now, before = f"now: {curve.at_full} at full travel", f"{curve.since}: {curve.at_full_before}"
    parts = [
        svg_line("line", _LEFT, floor, _RIGHT, floor),
        svg_line("line", _LEFT, top, _LEFT, floor),
        path("before", curve.before),
        path("curve", curve.now),
        svg_text(_LEFT + 8, top + 8, now),
        svg_line("before", _LEFT + 8, top + 22, _LEFT + 36, top + 22),
        svg_text(_LEFT + 42, top + 26, before),
        svg_text(_LEFT + curve.now[-1][0] * across, floor + 15, curve.full.text, anchor="end"),
        svg_text(_LEFT, floor + 15, "0"),
    ]
    return whole_svg(floor + 20, f"{curve.name}, {curve.full.text} of travel. {now}; {before}", parts)


def draw_ratio(of: RatioCurve) -> str:
    """The motion ratio over the travel by points as a line, between measured pairs as rings, and where the wheel is."""
    top, floor = 12.0, 100.0
    values = [ratio for _, ratio in (*of.points, *of.pairs)]
    low, span = min(values), max(max(values) - min(values), 0.01)
    across, up = (_RIGHT - _LEFT) / (of.full.mm or 1.0), (floor - top) / span

    def place(mm: float, ratio: float) -> tuple[float, float]:
        return _LEFT + mm * across, floor - (ratio - low) * up

    path = " ".join(f"{x:.1f},{y:.1f}" for x, y in (place(*one) for one in of.points))
    parts = [
        svg_line("line", _LEFT, floor, _RIGHT, floor),
        svg_line("line", _LEFT, top, _LEFT, floor),
        f'<polyline class="curve" fill="none" points="{path}"/>',
        *(f'<circle class="ring" cx="{x:.1f}" cy="{y:.1f}" r="3"/>' for x, y in (place(*one) for one in of.pairs)),
        svg_text(_LEFT + 8, top + 8, f"from {of.low} to {of.high}" + ("; rings: pairs" if of.pairs else "")),
        svg_text(_RIGHT, floor + 15, of.full.text, anchor="end"),
        svg_text(_LEFT, floor + 15, "0"),
    ]
    described = f"{of.name}, {of.full.text}: from {of.low} to {of.high}"
    if of.now is not None:
        x = _LEFT + of.now.mm * across
        parts += [svg_line("mark", x, floor - 7, x, floor + 7), svg_text(x + 6, floor - 6, f"now, {of.now.text}")]
        described += f"; now, {of.now.text}"
    return whole_svg(floor + 20, described, parts)


def svg_line(look: str, x1: float, y1: float, x2: float, y2: float) -> str:
    """A straight line."""
    return f'<line class="{look}" x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}"/>'


def svg_text(x: float, y: float, words: str, *, anchor: str = "start", quiet: bool = False) -> str:
    """Words at a place."""
    look = ' class="quiet"' if quiet else ""
    return f'<text{look} x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{escape(words)}</text>'


def whole_svg(height: float, description: str, parts: Iterable[str], width: float = _WIDTH) -> str:
    """A drawing with what a screen reader says of it."""
    box = f"0 0 {width:g} {height:g}"
    look = ' class="wide"' if width > _WIDTH else ""
    return f'<svg{look} viewBox="{box}" role="img" aria-label="{escape(description)}">{"".join(parts)}</svg>'
