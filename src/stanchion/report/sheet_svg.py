"""The drawings of the HTML sheet as inline SVG; the stylesheet gives their colours."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from math import cos, radians, sin

from stanchion.report.sheet_shape import ForceCurve, Gauge, Mark, SagBar, SideView, Travel

_WIDTH, _LEFT, _RIGHT = 380.0, 8.0, 372.0
_WIDE = 760.0
"""Width of the drawing that has a line of the sheet to itself."""
_LETTER = 7.2
"""About the width of a letter at the size the stylesheet sets, in a wide face."""


def draw_machine(view: SideView) -> str:
    """The machine from the side: wheels on the ground, steering axis with rake and trail, both travels with the places
    of the axle on them, and what the scales read. Frame and swingarm are not known, so they are not drawn.

    The front wheel is on the right. The places of an axle are drawn beside its wheel, on a line through the axle.
    """
    room, above = 152.0, 20.0
    length_mm = view.rear_radius_mm + view.wheelbase.mm + view.front_radius_mm
    scale = (_WIDE - 2.0 * room) / length_mm
    rake = radians(view.rake_deg)
    radius, rear_radius = view.front_radius_mm * scale, view.rear_radius_mm * scale
    top = max(2.7 * view.front_radius_mm, 2.0 * view.rear_radius_mm) * scale
    ground = above + top
    rear_x = room + rear_radius
    front_x = rear_x + view.wheelbase.mm * scale
    foot = front_x + view.trail.mm * scale  # the steering axis meets the ground ahead of where the tyre does
    axle_y = ground - radius

    def along(distance: float, x: float, y: float) -> tuple[float, float]:
        """A point so far up the leg from another."""
        return x - distance * sin(rake), y - distance * cos(rake)

    axis_x, axis_y = along(top / cos(rake), foot, ground)
    head_x, head_y = along(top * 0.95 / cos(rake) - radius, front_x, axle_y)
    parts = [
        _line("line", rear_x - rear_radius - 6, ground, foot + 14, ground),
        f'<circle class="room" cx="{rear_x:.1f}" cy="{ground - rear_radius:.1f}" r="{rear_radius:.1f}"/>',
        f'<circle class="room" cx="{front_x:.1f}" cy="{axle_y:.1f}" r="{radius:.1f}"/>',
        _line("axis", foot, ground, axis_x, axis_y),
        _line("axis", axis_x, ground, axis_x, axis_y),
        _line("line", front_x, axle_y, head_x, head_y),
        _text(axis_x, above - 6, f"rake {view.rake}", anchor="middle"),
        _line("mark", front_x, ground, foot, ground),
        _text(foot + 4, ground + 18, f"trail {view.trail.text}", anchor="end"),
        _line("line", rear_x, ground + 26, front_x, ground + 26),
        _line("line", rear_x, ground + 21, rear_x, ground + 31),
        _line("line", front_x, ground + 21, front_x, ground + 31),
        _text((rear_x + front_x) / 2, ground + 40, f"wheelbase {view.wheelbase.text}", anchor="middle"),
    ]
    said = [f"rake {view.rake}", f"trail {view.trail.text}", f"wheelbase {view.wheelbase.text}"]
    for end, load, x in (("front", view.front_load, front_x), ("rear", view.rear_load, rear_x)):
        if load:
            parts.append(_text(x, ground + 44, load, anchor="middle"))
            said.append(f"{load} on the {end} wheel")
    if view.fork is not None:
        beside = radius + 10.0
        places = [
            (mark, *along((mark.mm - view.front_sag_mm) * scale, front_x + beside, axle_y))
            for mark in _places(view.fork)
        ]
        parts += _axle_places(places, front_x + beside + 16.0, "start")
        said.append(_travel_words(view.fork))
    if view.rear is not None:
        x = rear_x - rear_radius - 10.0
        y = ground - rear_radius
        places = [(mark, x, y - (mark.mm - view.rear_sag_mm) * scale) for mark in _places(view.rear)]
        parts += _axle_places(places, x - 16.0, "end")
        said.append(_travel_words(view.rear))
    return _svg(ground + 50, f"The machine from the side, {view.state}, to scale: {'; '.join(said)}", parts, _WIDE)


def _places(travel: Travel) -> list[Mark]:
    """The places of an axle from hanging to full travel."""
    ends = (Mark("hanging", 0.0, ""), Mark("full", travel.full.mm, travel.full.text))
    return sorted((ends[0], *travel.marks, ends[1]), key=lambda mark: mark.mm)


def _axle_places(places: list[tuple[Mark, float, float]], words_x: float, anchor: str) -> list[str]:
    """The line that an axle moves along, and its places with words beside it, kept clear of each other."""
    (_, first_x, first_y), (_, last_x, last_y) = places[0], places[-1]
    parts = [_line("axis", first_x, first_y, last_x, last_y)]
    step = 14.0
    middle = (first_y + last_y) / 2 + step * (len(places) - 1) / 2
    for at, (mark, x, y) in enumerate(places):
        words_y = middle - at * step
        words = f"{mark.name} {mark.value}".strip()
        parts += [
            _line("line", x - 4, y, x + 4, y),
            _line("hair", x, y, words_x, words_y),
            _text(words_x + (2 if anchor == "start" else -2), words_y + 4, words, anchor=anchor),
        ]
    return parts


def _travel_words(travel: Travel) -> str:
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
        parts.append(_text(_LEFT, y - 18, f"{travel.name}: full travel {travel.full.text}"))
        parts.append(f'<rect class="room" x="{_LEFT:.1f}" y="{y - 5}" width="{end - _LEFT:.1f}" height="10"/>')
        taken = _LEFT
        for mark in sorted(travel.marks, key=lambda mark: mark.mm):
            x = _LEFT + mark.mm * scale
            parts.append(f'<line class="mark" x1="{x:.1f}" y1="{y - 9}" x2="{x:.1f}" y2="{y + 9}"/>')
            words = f"{mark.name} {mark.value}"
            start = min(max(x - len(words) * _LETTER / 2, taken), _RIGHT - len(words) * _LETTER)
            parts.append(_text(start, y + 22, words))
            taken = start + (len(words) + 2) * _LETTER
        description.append(_travel_words(travel))
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
        if bar.sag.old:
            parts.append(_text(x - 3, y + 4, "old", anchor="end"))
    parts.append(_text(left, 14 + len(bars) * step, "bar: measured; band: target", quiet=True))
    description = "; ".join(f"{bar.name} {bar.sag.value}, target {bar.target}" for bar in bars)
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
        _line("line", _LEFT, floor, _RIGHT, floor),
        _line("line", _LEFT, top, _LEFT, floor),
        path("before", curve.before),
        path("curve", curve.now),
        _text(_LEFT + 8, top + 8, now),
        _line("before", _LEFT + 8, top + 22, _LEFT + 36, top + 22),
        _text(_LEFT + 42, top + 26, before),
        _text(_LEFT + curve.now[-1][0] * across, floor + 15, curve.full.text, anchor="end"),
        _text(_LEFT, floor + 15, "0"),
    ]
    return _svg(floor + 20, f"{curve.name}, {curve.full.text} of travel. {now}; {before}", parts)


def _line(look: str, x1: float, y1: float, x2: float, y2: float) -> str:
    return f'<line class="{look}" x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}"/>'


def _text(x: float, y: float, words: str, *, anchor: str = "start", quiet: bool = False) -> str:
    look = ' class="quiet"' if quiet else ""
    return f'<text{look} x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{escape(words)}</text>'


def _svg(height: float, description: str, parts: Iterable[str], width: float = _WIDTH) -> str:
    box = f"0 0 {width:g} {height:g}"
    look = ' class="wide"' if width > _WIDTH else ""
    return f'<svg{look} viewBox="{box}" role="img" aria-label="{escape(description)}">{"".join(parts)}</svg>'
