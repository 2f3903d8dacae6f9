"""Whatever a theme asks for, a terminal with few colours is sent what can be read."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pyte import graphics
from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual.color import WHITE

import sent_colours
from stanchion.ui.few_colours import Colours, FewerColours, cube
from stanchion.ui.theme import Themes, parse_theme

DAYLIGHT = Themes(None)["daylight"]
VARIABLES = DAYLIGHT.to_color_system().generate() | DAYLIGHT.variables
COLOUR = st.from_regex(r"\A#[0-9a-f]{6}\Z")
KINDS = [(Colours.MANY, True), (Colours.MANY, False), (Colours.FULL, False), (Colours.FEW, True)]


def put(style: str, colours: Colours, *, hues: bool = True, variables: dict[str, str] = VARIABLES) -> Style:
    """A style as it is sent."""
    fewer = FewerColours(colours, variables, hues=hues, console=True)
    (segment,) = fewer.apply([Segment("12.5", Style.parse(style))], WHITE)
    assert segment.style is not None
    return segment.style


def rgb(colour: Color | None) -> str:
    """A colour that is none of the 16."""
    assert colour is not None
    assert colour.number is None or colour.number >= 16
    return (
        sent_colours.cube(colour.number) if colour.number else "".join(f"{part:02x}" for part in colour.get_truecolor())
    )


@pytest.mark.parametrize(("colours", "hues"), KINDS[:3])
@given(front=COLOUR, ground=COLOUR, attributes=st.sampled_from(["", "bold ", "reverse ", "bold reverse "]))
def test_any_colour_on_any_other_has_7_to_1(
    colours: Colours, hues: bool, front: str, ground: str, attributes: str
) -> None:
    sent = put(f"{attributes}{front} on {ground}", colours, hues=hues)
    assert sent_colours.contrast(rgb(sent.color), rgb(sent.bgcolor)) >= 7


@given(
    front=COLOUR, ground=COLOUR, attributes=st.sampled_from(["", "bold ", "reverse ", "bold reverse underline italic "])
)
def test_of_16_colours_only_the_first_black_and_white_are_sent_and_none_is_made_another(
    front: str, ground: str, attributes: str
) -> None:
    sent = put(f"{attributes}{front} on {ground}", Colours.FEW)
    assert sent.color is not None
    assert sent.bgcolor is not None
    assert {sent.color.number, sent.bgcolor.number} == {0, 7}
    assert not sent.bold or (sent.color.number == 7 and not sent.reverse)
    assert not sent.underline
    assert not sent.italic


@pytest.mark.parametrize(("colours", "hues"), KINDS[1:])
@pytest.mark.parametrize("name", ["fault", "warn"])
def test_without_hues_a_warning_is_told_from_text_on_any_row(colours: Colours, hues: bool, name: str) -> None:
    for ground in ("background", "field-cursor-background"):
        text, loud = (
            put(f"{VARIABLES[front]} on {VARIABLES[ground]}", colours, hues=hues) for front in ("foreground", name)
        )
        assert bool(text.reverse) != bool(loud.reverse)
    row, other = (
        put(f"{VARIABLES['foreground']} on {VARIABLES[ground]}", colours, hues=hues)
        for ground in ("field-cursor-background", "background")
    )
    assert bool(row.reverse) != bool(other.reverse)


def test_with_hues_a_warning_keeps_its_own() -> None:
    kinds = {
        put(f"{VARIABLES[name]} on {VARIABLES['background']}", Colours.MANY).color for name in ("fault", "warn", "good")
    }
    assert len(kinds) == 3


def test_a_theme_whose_warnings_are_written_as_its_text_is_not_all_in_reverse() -> None:
    colours = ("primary", "accent", "warning", "error", "success", "background", "surface", "panel")
    plain = "".join(f'{name} = "#102030"\n' for name in colours)
    theme = parse_theme(
        f'name = "mine"\ndark = true\nforeground = "#ffffff"\n{plain}[variables]\nwarn = "#ffffff"\n'.encode()
    )
    variables = theme.to_color_system().generate() | theme.variables
    assert not put("#ffffff on #102030", Colours.FEW, variables=variables).reverse
    # Its faults are in the colour of its ground: here they can be read.
    assert put("#102030 on #102030", Colours.FEW, variables=variables).color == Color.from_ansi(7)


def test_the_240_colours_are_those_of_the_published_formula() -> None:
    # 256colres.pl of the xterm sources; the emulator of the tests has its own table.
    for number in range(16, 256):
        assert "".join(f"{part:02x}" for part in cube(number)) == sent_colours.cube(number), number
        assert sent_colours.cube(number) == graphics.FG_BG_256[number], number
