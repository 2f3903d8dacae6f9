"""The machine from the side on the HTML sheet, as inline SVG; the stylesheet gives its colours."""

from __future__ import annotations

import itertools

from stanchion.judgement.results.side import Point, SidePart, extent
from stanchion.report.sheet_shape import Mark, SidePose, SideView, Travel
from stanchion.report.sheet_svg import svg_line, svg_text, travel_words, whole_svg
from stanchion.wording.american import worded

_WIDE = 760.0
"""Width of the drawing, which has a line of the sheet to itself."""
_ROOM, _ABOVE = 152.0, 20.0
"""Room beside the wheels for words, and above the drawing."""
_LOOKS = {"ground": "line", "rear_wheel": "room", "front_wheel": "room", "axis": "axis", "sprocket": "ring"}
_BESIDE = {"brakes": "braking", "gas": "driving"}
"""Looks of the other states, which the standing one is drawn over."""


class _Paper:
    """Where a point of the machine lies on the paper.

    Args:
        view: everything that is drawn.
    """

    def __init__(self, view: SideView) -> None:
        left, right, _, top = extent(tuple(part for pose in view.poses for part in pose.parts))
        self.scale = (_WIDE - 2.0 * _ROOM) / (right - left)
        self._left = left
        self.ground = _ABOVE + top * self.scale

    def at(self, point: Point) -> Point:
        """The place of a point."""
        return _ROOM + (point[0] - self._left) * self.scale, self.ground - point[1] * self.scale


def draw_machine(view: SideView) -> str:
    """The machine from the side as it stands, over it the other states in thin lines: wheels on the ground, steering
    axis, legs, centre of mass; both travels with the places of the axle on them, and the load on each wheel.

    The front wheel is on the right, and every state touches the ground with the rear wheel at the same place. The
    places of an axle are drawn beside its wheel, on a line through the axle. What is not known is not drawn.
    """
    paper, pose = _Paper(view), view.standing
    others = [other for other in view.poses if other.state in ("brakes", "gas")]
    points = {part.name: part.points for part in pose.parts}
    (front,), (rear,) = points["front_wheel"], points["rear_wheel"]
    (front_x, axle_y), (rear_x, rear_y) = paper.at(front), paper.at(rear)
    foot, head = (paper.at(point) for point in points["axis"])
    ground = paper.ground
    parts = [
        *(one for part in pose.parts for one in _drawn(paper, part, "")),
        *(one for other in others for part in other.parts for one in _drawn(paper, part, _BESIDE[other.state])),
        svg_line("axis", head[0], ground, head[0], head[1]),
        svg_text(head[0], head[1] - 6, f"rake {pose.rake.text}", anchor="middle"),
        svg_line("mark", front_x, ground, foot[0], ground),
        svg_text(foot[0] + 4, ground + 18, f"trail {pose.trail.text}", anchor="end"),
        svg_line("line", rear_x, ground + 26, front_x, ground + 26),
        svg_line("line", rear_x, ground + 21, rear_x, ground + 31),
        svg_line("line", front_x, ground + 21, front_x, ground + 31),
        svg_text((rear_x + front_x) / 2, ground + 40, f"wheelbase {pose.wheelbase.text}", anchor="middle"),
    ]
    said = [f"rake {pose.rake.text}", f"trail {pose.trail.text}", f"wheelbase {pose.wheelbase.text}"]
    for end, load, x in (("front", pose.front_load, front_x), ("rear", pose.rear_load, rear_x)):
        if load.text:
            parts.append(svg_text(x, ground + 44, load.text, anchor="middle"))
            said.append(f"{load.text} on the {end} wheel")
    if view.fork is not None:
        beside = (front[1]) * paper.scale + 10.0
        places = [(mark, *_up_the_leg(pose, paper, front_x + beside, axle_y, mark.mm)) for mark in _places(view.fork)]
        parts += _axle_places(places, front_x + beside + 16.0, "start")
        said.append(travel_words(view.fork))
    if view.rear is not None and pose.rear_used_mm is not None:
        x = rear_x - rear[1] * paper.scale - 10.0
        places = [(mark, x, rear_y - (mark.mm - pose.rear_used_mm) * paper.scale) for mark in _places(view.rear)]
        parts += _axle_places(places, x - 16.0, "end")
        said.append(travel_words(view.rear))
    height = ground + 50
    for at, other in enumerate(others):
        y = height + 12 + 16 * at
        parts += [
            svg_line(_BESIDE[other.state], 8, y - 4, 44, y - 4),
            svg_text(50, y, _told(other)),
        ]
        said.append(_told(other))
    return whole_svg(
        height + 16 * len(others), f"The machine from the side, {pose.name}, to scale: {'; '.join(said)}", parts, _WIDE
    )


def _told(pose: SidePose) -> str:
    """A state that is drawn beside, with what differs."""
    numbers = (("rake", pose.rake), ("trail", pose.trail), ("fork travel used", pose.fork_used))
    return ", ".join((pose.name, *(f"{name} {of.text}" for name, of in numbers if of.text)))


def _drawn(paper: _Paper, part: SidePart, look: str) -> list[str]:
    """A part; of another state in its own look, without ground and steering axis."""
    if part.name == "mass":
        x, y = paper.at(part.points[0])
        cross = [svg_line(look or "line", x - 5, y, x + 5, y), svg_line(look or "line", x, y - 5, x, y + 5)]
        return cross if look else [*cross, svg_text(x, y - 10, worded("centre of mass"), anchor="middle", quiet=True)]
    if look and part.name in ("ground", "axis"):
        return []
    shown = look or _LOOKS.get(part.name, "line")
    places = [paper.at(point) for point in part.points]
    if part.radius_mm:
        (x, y), radius = places[0], part.radius_mm * paper.scale
        return [f'<circle class="{shown}" cx="{x:.1f}" cy="{y:.1f}" r="{radius:.1f}"/>']
    return [svg_line(shown, *one, *other) for one, other in itertools.pairwise(places)]


def _up_the_leg(pose: SidePose, paper: _Paper, x: float, y: float, mm: float) -> Point:
    """A place of the axle along the leg, from its place now."""
    (foot, head) = next(part.points for part in pose.parts if part.name == "leg")
    long = ((head[0] - foot[0]) ** 2 + (head[1] - foot[1]) ** 2) ** 0.5
    up = (mm - pose.fork_used_mm) * paper.scale / long
    return x + (head[0] - foot[0]) * up, y - (head[1] - foot[1]) * up


def _places(travel: Travel) -> list[Mark]:
    """The places of an axle from hanging to full travel."""
    ends = (Mark("hanging", 0.0, ""), Mark("full", travel.full.mm, travel.full.text))
    return sorted((ends[0], *travel.marks, ends[1]), key=lambda mark: mark.mm)


def _axle_places(places: list[tuple[Mark, float, float]], words_x: float, anchor: str) -> list[str]:
    """The line that an axle moves along, and its places with words beside it, kept clear of each other."""
    (_, first_x, first_y), (_, last_x, last_y) = places[0], places[-1]
    parts = [svg_line("axis", first_x, first_y, last_x, last_y)]
    step = 14.0
    middle = (first_y + last_y) / 2 + step * (len(places) - 1) / 2
    for at, (mark, x, y) in enumerate(places):
        words_y = middle - at * step
        words = f"{mark.name} {mark.value}".strip()
        parts += [
            svg_line("line", x - 4, y, x + 4, y),
            svg_line("hair", x, y, words_x, words_y),
            svg_text(words_x + (2 if anchor == "start" else -2), words_y + 4, words, anchor=anchor),
        ]
    return parts
