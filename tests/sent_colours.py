"""The colours that reach a terminal, and how well they can be read there: off the bytes of a real run, not off a theme.

Of the 16 colours and of bold every kind of terminal makes what it likes, so a character is drawn in every one of the
usual ways, and the weakest counts.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import product

import pyte.screens
from pyte import graphics

NAMES = ("black", "red", "green", "brown", "blue", "magenta", "cyan", "white")
"""What pyte calls the first eight colours; the next eight have "bright" before them."""

PALETTES = {
    "xterm": "000000 cd0000 00cd00 cdcd00 0000ee cd00cd 00cdcd e5e5e5 7f7f7f ff0000 00ff00 ffff00 5c5cff ff00ff 00ffff ffffff",
    "VGA": "000000 aa0000 00aa00 aa5500 0000aa aa00aa 00aaaa aaaaaa 555555 ff5555 55ff55 ffff55 5555ff ff55ff 55ffff ffffff",
    "Windows console": "000000 800000 008000 808000 000080 800080 008080 c0c0c0 808080 ff0000 00ff00 ffff00 0000ff ff00ff 00ffff ffffff",
    "Campbell": "0c0c0c c50f1f 13a10e c19c00 0037da 881798 3a96dd cccccc 767676 e74856 16c60c f9f1a5 3b78ff b4009e 61d6d6 f2f2f2",
    "Tango": "2e3436 cc0000 4e9a06 c4a000 3465a4 75507b 06989a d3d7cf 555753 ef2929 8ae234 fce94f 729fcf ad7fa8 34e2e2 eeeeec",
    "Terminal.app": "000000 990000 00a600 999900 0000b2 b200b2 00a6b2 bfbfbf 666666 e50000 00d900 e5e500 0000ff e500e5 00e5e5 e5e5e5",
    "Solarized": "073642 dc322f 859900 b58900 268bd2 d33682 2aa198 eee8d5 002b36 cb4b16 586e75 657b83 839496 6c71c4 93a1a1 fdf6e3",
}
"""The 16 colours as kinds of terminal come with them. From memory; the 240 others are a formula, see `cube`."""


def cube(number: int) -> str:
    """Colour 16 to 255 of xterm: a cube of 6 x 6 x 6, then 24 greys (256colres.pl of the xterm sources)."""
    if number >= 232:
        return f"{8 + 10 * (number - 232):02x}" * 3
    parts = divmod(number - 16, 36)
    return "".join(f"{step and 55 + 40 * step:02x}" for step in (parts[0], *divmod(parts[1], 6)))


def luminance(colour: str) -> float:
    """Relative luminance of rrggbb, WCAG 2.1."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    red, green, blue = (c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of WCAG 2.1, from 1 to 21."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def _number(name: str) -> int | None:
    """Which of the 16 colours a name of pyte's is; None: one of another kind."""
    name = name.replace("bfight", "bright")  # spelt so for one of them
    plain = name.removeprefix("bright")
    return NAMES.index(plain) + 8 * (plain != name) if plain in NAMES else None


def weakest(char: pyte.screens.Char, *, console: bool) -> float:
    """Contrast of a character as the terminal shows it that shows it worst; 0: in colours of its own choice.

    Args:
        char: what pyte keeps of it.
        console: it is sent to the Linux console, and is shown nowhere else.
    """
    if "default" in (char.fg, char.bg):
        return 0.0
    if console:
        return _on_the_console(char, PALETTES["VGA"].split())
    return min(
        contrast(*(_shown(name, palette.split(), bold=bold and at == 0) for at, name in enumerate((char.fg, char.bg))))
        for palette, bold in product(PALETTES.values(), {False, char.bold})
    )


def _shown(name: str, palette: list[str], *, bold: bool) -> str:
    """A colour; a bold one of the first eight is the bright one on many terminals."""
    number = _number(name)
    if number is None:
        return name
    return palette[number + 8 if bold and number < 8 else number]


def _on_the_console(char: pyte.screens.Char, palette: list[str]) -> float:
    """The attributes of the Linux console.

    console_codes(4): underline, italic and half-bright are simulated with colour, bright backgrounds are not
    supported. From memory of its source: underline is cyan, italic green, bold the bright colour, and reverse exchanges
    the colours but leaves brightness to the letter.
    """
    front, ground = _number(char.fg), _number(char.bg)
    if front is None or ground is None:
        return 0.0  # a finer colour is put down to some of the 16, which is not looked into here
    bright = char.bold or front >= 8
    front, ground = front % 8, ground % 8
    if char.italics:
        front = 2
    if char.underscore:
        front = 6
    if char.reverse:
        front, ground = ground, front
    return contrast(palette[front + 8 * bright], palette[ground])


_SGR = re.compile(rb"\x1b\[([0-9;:]*)m")


def other_attributes(raw: bytes) -> set[bytes]:
    """What was sent that pyte does not keep, or keeps as something else: dim, and one of the 16 colours by number."""
    found = set()
    for sent in set(_SGR.findall(raw)):
        rest = re.sub(rb"(?:^|;)[34]8;(?:2;\d+;\d+;\d+|5;(?:1[6-9]|[2-9]\d|\d{3}))(?=;|$)", b"", sent)
        known = {b"", b"0", *(str(code).encode() for code in graphics.TEXT)}
        known |= {str(code).encode() for codes in (graphics.FG, graphics.BG) for code in codes}
        known |= {str(code).encode() for codes in (graphics.FG_AIXTERM, graphics.BG_AIXTERM) for code in codes}
        if not set(rest.split(b";")) <= known:
            found.add(sent)
    return found


def characters(screen: pyte.Screen, lines: Iterable[int]) -> Iterator[tuple[str, pyte.screens.Char]]:
    """Each word that stands in these lines, with one of its characters for each look it has."""
    for y in lines:
        line, word = screen.buffer[y], ""
        looks: dict[tuple[object, ...], pyte.screens.Char] = {}
        for x in range(screen.columns + 1):
            char = line[x] if x < screen.columns else None
            if char is not None and char.data.strip():
                word += char.data
                looks.setdefault(char[1:], char)
            elif word:
                yield from ((word, char) for char in looks.values())
                word, looks = "", {}
