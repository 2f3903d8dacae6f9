"""How many colours the terminal has, and a filter that draws in those it has, so that everything can be read.

Left to themselves colours of a theme become the nearest the terminal has, each for itself, and text vanishes in its
ground. Here the ground is taken first, and then the nearest colour that can be read on it. Where there are 16 colours,
what each looks like is the terminal's choice, and of that choice only black and white are sure: all is drawn in those
two. Without hues a fault, a warning and the current item are shown in reverse.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from enum import Enum
from functools import lru_cache
from math import dist

from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual import color as textual_color
from textual.filter import LineFilter

_CONSOLES = re.compile(r"linux|cons\d+.*", re.ASCII)


class Colours(Enum):
    """What a terminal can show."""

    FULL = "full colour"
    MANY = "256 colours"
    FEW = "16 colours"
    """Or fewer."""


def is_console(environ: Mapping[str, str]) -> bool:
    """Whether the terminal is a system's text console, which shows underlined and slanted letters in a colour."""
    return bool(_CONSOLES.fullmatch(environ.get("TERM", "")))


def colours_of(system: str | None, environ: Mapping[str, str]) -> Colours:
    """What the terminal can show. A console has 16 colours whatever COLORTERM says.

    Args:
        system: what Rich makes of the environment; None: nothing is known.
        environ: the environment.

    >>> colours_of("256", {"TERM": "xterm-256color"}).name, colours_of("truecolor", {"TERM": "linux"}).name
    ('MANY', 'FEW')
    """
    if is_console(environ):
        return Colours.FEW
    return {"truecolor": Colours.FULL, "256": Colours.MANY}.get(system or "", Colours.FEW)


READABLE = 7.0
"""Least contrast of replaced colours: WCAG 2.1, success criterion 1.4.6 (enhanced)."""
_APART = 3.0
"""From this contrast on two backgrounds can be distinguished without a hue: WCAG 2.1, success criterion 1.4.11."""
_LOUD = ("fault", "warn")
"""Texts that must be distinct even without their hue."""
_CURRENT = ("field-cursor-background", "block-cursor-background", "block-cursor-blurred-background")
"""Backgrounds of the current field or line."""

Rgb = tuple[int, int, int]


class FewerColours(LineFilter):
    """Turns each line into the available colours.

    Args:
        colours: what the terminal can show.
        variables: the colours of the theme by their names in stylesheets.
        hues: whether hues are wanted; grey takes their place.
        console: whether letters are to be upright and without a line.
    """

    def __init__(self, colours: Colours, variables: Mapping[str, str], *, hues: bool, console: bool) -> None:
        super().__init__()
        self._colours, self._hues, self._console = colours, hues and colours is not Colours.FEW, console
        self._front, self._ground = _rgb(variables["foreground"]), _rgb(variables["background"])
        loud = {_rgb(variables[name]) for name in _LOUD}
        self._loud = {one for one in loud if one != self._front}
        current = {_rgb(variables[name]) for name in _CURRENT}
        self._current = {one for one in current if contrast(one, self._ground) < _APART} - {self._ground}
        self._known: dict[Style, Style] = {}

    def apply(self, segments: list[Segment], background: textual_color.Color) -> list[Segment]:  # noqa: ARG002
        """The segments of a line in the available colours.

        Args:
            segments: a line, or a piece of one.
            background: the colour behind it.
        """
        return [Segment(text, None if style is None else self._put(style), None) for text, style, _ in segments]

    def _put(self, style: Style) -> Style:
        put = self._known.get(style)
        if put is None:
            if len(self._known) >= 4096:
                self._known.clear()
            put = self._known[style] = self._into_colours(style)
        return put

    def _into_colours(self, style: Style) -> Style:
        front = _triplet(style.color, self._front)
        ground = _triplet(style.bgcolor, self._ground)
        turned = bool(style.reverse)
        if not self._hues:
            turned ^= (ground in self._current) ^ (front in self._loud)
            front, ground = _grey(front), _grey(ground)
        if self._colours is Colours.FEW:
            return self._black_and_white(style, ground, turned=turned)
        if self._colours is Colours.MANY:
            at = _nearest(ground, hues=self._hues)
            to = _readable(front, at, hues=self._hues)
            colours = Style(color=Color.from_ansi(to), bgcolor=Color.from_ansi(at))
        else:
            ground = _nearest_grey(ground)
            colours = Style(color=Color.from_rgb(*_readable_grey(front, ground)), bgcolor=Color.from_rgb(*ground))
        return style + colours + Style(reverse=turned)

    def _black_and_white(self, style: Style, ground: Rgb, *, turned: bool) -> Style:
        """In two colours of the first eight, whose bright ones not every terminal has as grounds."""
        light = luminance(ground) > _MIDDLE
        front, at = (0, 7) if light else (7, 0)
        # Bold black is dark grey on many terminals, and where colours are exchanged a bold one is the ground.
        bold = bool(style.bold) and front == 7 and not turned
        plain = Style(underline=False, italic=False) if self._console else Style.null()
        return (
            style + Style(color=Color.from_ansi(front), bgcolor=Color.from_ansi(at), bold=bold, reverse=turned) + plain
        )


# --- colours ----------------------------------------------------------------------------------------------------------

_MIDDLE = 0.179
"""Luminance on which black and white can be read equally well."""
_SAME_IN_EVERY_TERMINAL = range(16, 256)
"""Numbers of colours: what the first 16 look like is the terminal's choice."""
_GREYS = (16, *range(232, 256), 231)


def luminance(colour: Rgb) -> float:
    """Relative luminance, WCAG 2.1."""
    red, green, blue = _linear(colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: Rgb, other: Rgb) -> float:
    """Contrast ratio, WCAG 2.1.

    >>> round(contrast((0, 0, 0), (255, 255, 255)), 1)
    21.0
    """
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def _linear(colour: Rgb) -> Iterator[float]:
    for part in colour:
        c = part / 255
        yield c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4


def cube(number: int) -> Rgb:
    """Colour 16 to 255 of a terminal with 256: a cube of 6 × 6 × 6, then 24 greys.

    >>> cube(16), cube(208), cube(232)
    ((0, 0, 0), (255, 135, 0), (8, 8, 8))
    """
    if number >= 232:
        grey = 8 + 10 * (number - 232)
        return grey, grey, grey
    red, remainder = divmod(number - 16, 36)
    green, blue = divmod(remainder, 6)
    return _step(red), _step(green), _step(blue)


def _step(step: int) -> int:
    return step and 55 + 40 * step


@lru_cache(1)
def _palette() -> Mapping[int, tuple[Rgb, Sequence[float]]]:
    """Each of the 240 colours, and where it lies among those the eye sees."""
    return {number: (cube(number), _lab(cube(number))) for number in _SAME_IN_EVERY_TERMINAL}


def _lab(colour: Rgb) -> tuple[float, float, float]:
    """CIE 1976 L*a*b*, white point D65 (matrix of IEC 61966-2-1)."""
    red, green, blue = _linear(colour)
    x = (0.4124 * red + 0.3576 * green + 0.1805 * blue) / 0.9505
    y = 0.2126 * red + 0.7152 * green + 0.0722 * blue
    z = (0.0193 * red + 0.1192 * green + 0.9505 * blue) / 1.089
    fx, fy, fz = (t ** (1 / 3) if t > (6 / 29) ** 3 else t / (3 * (6 / 29) ** 2) + 4 / 29 for t in (x, y, z))
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


@lru_cache(1024)
def _by_nearness(colour: Rgb, *, hues: bool) -> Sequence[int]:
    """The available colours, the most similar to one first."""
    wanted, palette = _lab(colour), _palette()

    def far(number: int) -> float:
        return dist(wanted, palette[number][1])

    return sorted(_SAME_IN_EVERY_TERMINAL if hues else _GREYS, key=far)


def _can_be_read_on(ground: Rgb) -> bool:
    """Whether black or white can be read on it as well as wanted."""
    return max(contrast(ground, (0, 0, 0)), contrast(ground, (255, 255, 255))) >= READABLE


@lru_cache(1024)
def _nearest(colour: Rgb, *, hues: bool) -> int:
    """The background most similar to this colour."""
    return next(number for number in _by_nearness(colour, hues=hues) if _can_be_read_on(cube(number)))


@lru_cache(1024)
def _readable(colour: Rgb, on: int, *, hues: bool) -> int:
    """The most similar colour that can be read on a background."""
    ground = cube(on)
    return next(number for number in _by_nearness(colour, hues=hues) if contrast(cube(number), ground) >= READABLE)


@lru_cache(1024)
def _nearest_grey(grey: Rgb) -> Rgb:
    """The background most similar to this grey."""
    return next(one for one in _greys_by_nearness(grey) if _can_be_read_on(one))


@lru_cache(1024)
def _readable_grey(grey: Rgb, ground: Rgb) -> Rgb:
    """The most similar grey that can be read on a background."""
    return next(one for one in _greys_by_nearness(grey) if contrast(one, ground) >= READABLE)


def _greys_by_nearness(grey: Rgb) -> Iterator[Rgb]:
    parts = sorted(range(256), key=lambda part: abs(part - grey[0]))
    return ((part, part, part) for part in parts)


@lru_cache(1024)
def _grey(colour: Rgb) -> Rgb:
    """The grey that is as light."""
    light = luminance(colour)
    part = round(255 * (light * 12.92 if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055))
    return part, part, part


def _rgb(colour: str) -> Rgb:
    return textual_color.Color.parse(colour).rgb


def _triplet(colour: Color | None, otherwise: Rgb) -> Rgb:
    if colour is None or colour.is_default:
        return otherwise
    red, green, blue = colour.get_truecolor()
    return red, green, blue
