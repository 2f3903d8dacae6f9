"""The themes that ship can be read, whoever looks and wherever; no theme file can harm the program."""

from __future__ import annotations

import os
from collections.abc import Iterator
from itertools import combinations, product
from pathlib import Path
from typing import Any

import pytest
import tomli_w
from textual.app import App, ComposeResult
from textual.design import ColorSystem
from textual.theme import Theme
from textual.widgets import Input, Label

from stanchion.base.bundled import bundled_files
from stanchion.base.errors import BadFile
from stanchion.ui.theme import COLOURS, OWN_VARIABLES, NamedTheme, Themes, parse_theme


def variable_defaults(theme: Theme) -> dict[str, str]:
    """The program's own variables for a theme of Textual's, so that stylesheets that name them can be tried with it."""
    colours = {name: getattr(theme, name) or theme.primary for name in COLOURS}
    generated = theme.to_color_system().generate()
    colours |= {name: generated[name] for name in ("foreground", "surface", "panel")}
    return {name: colours[base] for name, base in OWN_VARIABLES.items()}


def all_themes(user_dir: Path | None) -> tuple[dict[str, NamedTheme], list[str]]:
    found = Themes(user_dir)
    return {name: found[name] for name in found.names}, found.problems


THEMES, PROBLEMS = all_themes(None)
NAMES = sorted(THEMES)
GROUNDS = ("background", "surface", "panel", "field-background", "field-cursor-background", "surface-active")
SEVERITIES = ("fault", "warn", "note", "good")


def channels(colour: str) -> list[float]:
    """Linear red, green and blue of #rrggbb, as WCAG 2.1 reckons them."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    return [c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]


def luminance(colour: str) -> float:
    red, green, blue = channels(colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of W3C, Web Content Accessibility Guidelines 2.1, 'contrast ratio' and 'relative luminance'."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def variables(name: str) -> dict[str, str]:
    """Every stylesheet variable as Textual will see it under the theme."""
    return THEMES[name].to_color_system().generate() | THEMES[name].variables


def too_weak(name: str, fronts: tuple[str, ...], grounds: tuple[str, ...], least: float) -> dict[str, float]:
    seen = variables(name)
    pairs = {f"{f} on {g}": contrast(seen[f], seen[g]) for f, g in product(fronts, grounds)}
    return {pair: round(ratio, 2) for pair, ratio in pairs.items() if ratio < least}


class TestContrastItself:
    def test_black_on_white_is_21_to_1(self) -> None:
        # WCAG 2.1: contrast ratios range from 1 to 21.
        assert contrast("#000000", "#ffffff") == pytest.approx(21)

    def test_the_order_of_the_colours_does_not_matter_and_a_colour_on_itself_is_1_to_1(self) -> None:
        assert contrast("#123456", "#fedcba") == contrast("#fedcba", "#123456")
        assert contrast("#123456", "#123456") == 1


@pytest.mark.parametrize("name", NAMES)
class TestShippedThemesCanBeRead:
    def test_text_has_7_to_1_on_every_ground(self, name: str) -> None:
        """WCAG 2.1, success criterion 1.4.6 (enhanced)."""
        fronts = ("foreground", "text", "text-muted", "foreground-muted", "button-foreground")
        assert too_weak(name, fronts, GROUNDS, 7) == {}

    def test_figures_and_severities_have_7_to_1_on_every_ground_they_stand_on(self, name: str) -> None:
        """WCAG 2.1, success criterion 1.4.6 (enhanced)."""
        assert too_weak(name, (*SEVERITIES, "figure"), GROUNDS, 7) == {}

    def test_other_colours_have_4_5_to_1_on_every_ground_they_stand_on(self, name: str) -> None:
        """WCAG 2.1, success criterion 1.4.3 (minimum)."""
        fronts = ("primary", "secondary", "accent", "warning", "error", "success")
        assert too_weak(name, fronts, GROUNDS, 4.5) == {}

    def test_what_is_disabled_can_still_be_read(self, name: str) -> None:
        assert too_weak(name, ("text-disabled", "foreground-disabled"), GROUNDS, 4.5) == {}

    def test_borders_and_focus_have_3_to_1_on_every_ground(self, name: str) -> None:
        """WCAG 2.1, success criterion 1.4.11 (non-text contrast)."""
        assert too_weak(name, ("border", "border-blurred", "scrollbar", "scrollbar-hover"), GROUNDS, 3) == {}

    def test_coloured_text_has_4_5_to_1_on_its_own_muted_ground(self, name: str) -> None:
        for colour in ("primary", "secondary", "accent", "warning", "error", "success"):
            assert too_weak(name, (f"text-{colour}", "text"), (f"{colour}-muted",), 4.5) == {}

    @pytest.mark.parametrize(
        ("front", "ground", "least"),
        [
            ("block-cursor-foreground", "block-cursor-background", 7),
            ("block-cursor-blurred-foreground", "block-cursor-blurred-background", 7),
            ("foreground", "block-hover-background", 7),
            ("input-cursor-foreground", "input-cursor-background", 7),
            ("input-selection-foreground", "input-selection-background", 7),
            ("screen-selection-foreground", "screen-selection-background", 7),
            ("footer-foreground", "footer-background", 7),
            ("footer-description-foreground", "footer-description-background", 7),
            ("footer-key-foreground", "footer-key-background", 4.5),
            ("button-color-foreground", "primary", 4.5),
            ("link-color", "link-background", 4.5),
            ("link-color-hover", "link-background-hover", 4.5),
            ("block-cursor-background", "background", 3),
            ("input-cursor-background", "field-cursor-background", 3),
            ("scrollbar", "scrollbar-background", 3),
        ],
    )
    def test_pair(self, name: str, front: str, ground: str, least: float) -> None:
        assert too_weak(name, (front,), (ground,), least) == {}

    def test_every_variable_of_ours_and_every_one_that_would_be_a_blend_is_stated_in_the_file(self, name: str) -> None:
        file = dict(bundled_files("themes"))[f"{name}.toml"].decode()
        blends = {key for key, value in ColorSystem("#123456").generate().items() if value.startswith("auto")}
        blends |= {key for key in ColorSystem("#123456").generate() if key.startswith(("footer-", "input-cursor-"))}
        stated = {line.split(" = ")[0] for line in file.splitlines() if " = " in line}
        assert (blends | set(OWN_VARIABLES)) - stated - {"link-color-hover"} == set()

    async def test_an_app_can_put_it_on(self, name: str) -> None:
        app = Dressed(THEMES[name])
        async with app.run_test(size=(80, 24)):
            assert app.theme == name
            assert app.query_one(Label).styles.color.hex.lower() == THEMES[name].variables["fault"]


class Dressed(App[None]):
    """A small app whose stylesheet names our variables."""

    CSS = (
        "Label { color: $fault; background: $field-background; } Input:focus { background: $field-cursor-background; }"
    )

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._put_on = theme

    def get_theme_variable_defaults(self) -> dict[str, str]:
        return variable_defaults(self.current_theme)

    def compose(self) -> ComposeResult:
        yield Label("too long", markup=False)
        yield Input("238")

    def on_mount(self) -> None:
        self.register_theme(self._put_on)
        self.theme = self._put_on.name


class TestWhatShips:
    def test_a_daylight_a_night_and_a_colour_blind_safe_theme_ship_without_a_problem(self) -> None:
        assert PROBLEMS == []
        assert {"daylight", "night", "clear"} <= set(THEMES)

    def test_the_file_is_named_as_the_theme(self) -> None:
        assert {f"{name}.toml" for name in THEMES} == {file for file, _ in bundled_files("themes")}
        assert {name: theme.name for name, theme in THEMES.items()} == {name: name for name in THEMES}

    def test_who_has_chosen_nothing_gets_daylight(self) -> None:
        assert next(iter(THEMES)) == "daylight"

    def test_daylight_is_black_on_white(self) -> None:
        seen = variables("daylight")
        assert contrast(seen["text"], seen["background"]) == pytest.approx(21)
        assert not THEMES["daylight"].dark

    def test_night_is_light_on_dark(self) -> None:
        assert THEMES["night"].dark
        assert luminance(variables("night")["background"]) < 0.01


def lab(colour: str) -> tuple[float, float, float]:
    """CIE 1976 L*a*b* of an sRGB colour, white point D65 (ISO/CIE 11664-4; matrix of IEC 61966-2-1)."""
    red, green, blue = channels(colour)
    x = (0.4124 * red + 0.3576 * green + 0.1805 * blue) / 0.9505
    y = 0.2126 * red + 0.7152 * green + 0.0722 * blue
    z = (0.0193 * red + 0.1192 * green + 0.9505 * blue) / 1.089
    fx, fy, fz = (t ** (1 / 3) if t > (6 / 29) ** 3 else t / (3 * (6 / 29) ** 2) + 4 / 29 for t in (x, y, z))
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


class TestClearTellsSeveritiesApart:
    """A rough rule of our own: take one colour axis of L*a*b* away, and what is left must still differ plainly."""

    @pytest.mark.parametrize(("one", "other"), list(combinations(SEVERITIES, 2)))
    def test_without_red_against_green(self, one: str, other: str) -> None:
        (l1, _, b1), (l2, _, b2) = lab(variables("clear")[one]), lab(variables("clear")[other])
        assert (l1 - l2) ** 2 + (b1 - b2) ** 2 > 10**2

    @pytest.mark.parametrize(("one", "other"), list(combinations(SEVERITIES, 2)))
    def test_without_blue_against_yellow(self, one: str, other: str) -> None:
        (l1, a1, _), (l2, a2, _) = lab(variables("clear")[one]), lab(variables("clear")[other])
        assert (l1 - l2) ** 2 + (a1 - a2) ** 2 > 10**2


def theme_file(**changes: Any) -> dict[str, Any]:
    """A small sound theme, changed."""
    table: dict[str, Any] = {"name": "mine", "label": "Mine", "dark": True}
    table |= dict.fromkeys(COLOURS, "#102030") | {"foreground": "#ffffff"}
    table |= changes
    return {key: value for key, value in table.items() if value is not None}


def written(table: dict[str, Any]) -> bytes:
    return tomli_w.dumps(table).encode()


HOSTILE: dict[str, tuple[bytes, str]] = {
    "unknown key": (written(theme_file(colour="#102030")), "colour"),
    "textual's own field that is none of ours": (written(theme_file(luminosity_spread=0.1)), "luminosity_spread"),
    "missing colour": (written(theme_file(primary=None)), "primary"),
    "colour by name": (written(theme_file(primary="red")), "primary"),
    "short colour": (written(theme_file(primary="#abc")), "primary"),
    "colour with alpha": (written(theme_file(primary="#10203040")), "primary"),
    "colour with an end of line": (written(theme_file(primary="#102030\n")), "primary"),
    "full-width digits": (written(theme_file(primary="#１０２０３０")), "primary"),
    "colour as a number": (written(theme_file(primary=102030)), "primary"),
    "colour as a list": (written(theme_file(primary=["#102030"])), "primary"),
    "colour as a huge number": (written(theme_file()) + b"\n[variables]\nfault = 0x" + b"f" * 150, "fault"),
    "colour not a number": (written(theme_file(primary=float("nan"))), "primary"),
    "dark as text": (written(theme_file(dark="yes")), "dark"),
    "dark as a number": (written(theme_file(dark=1)), "dark"),
    "dark missing": (written(theme_file(dark=None)), "dark"),
    "no name": (written(theme_file(name=None)), "name"),
    "empty name": (written(theme_file(name="")), "name"),
    "name with a comma": (written(theme_file(name="a,b")), "name"),
    "name as markup": (written(theme_file(name="[/]")), "name"),
    "name as a path": (written(theme_file(name="../x")), "name"),
    "long name": (written(theme_file(name="a" * 31)), "name"),
    "label with an escape": (written(theme_file(label="\x1b[31mred")), "label"),
    "label of two lines": (written(theme_file(label="one\ntwo")), "label"),
    "label turned round": (written(theme_file(label="\u202edaer")), "label"),
    "label not text": (written(theme_file(label=5)), "label"),
    "long label": (written(theme_file(label="a" * 61)), "label"),
    "variables not a table": (written(theme_file(variables="#102030")), "variables"),
    "variable unknown": (written(theme_file(variables={"nonsense": "#102030"})), "variables.nonsense"),
    "variable that is a colour of the theme": (
        written(theme_file(variables={"primary": "#102030"})),
        "variables.primary",
    ),
    "variable with a brace": (
        written(theme_file(variables={"border": "#102030 } App { display: none"})),
        "variables.border",
    ),
    "variable by reference": (written(theme_file(variables={"border": "$border"})), "variables.border"),
    "variable blended": (written(theme_file(variables={"text": "auto 60%"})), "variables.text"),
    "variable not text": (written(theme_file(variables={"text": True})), "variables.text"),
    "variable a table": (written(theme_file(variables={"text": {"a": "b"}})), "variables.text"),
    "style unknown": (written(theme_file(variables={"link-style": "blink"})), "variables.link-style"),
    "style said twice": (written(theme_file(variables={"link-style": "bold bold"})), "variables.link-style"),
    "style with none": (written(theme_file(variables={"link-style": "none bold"})), "variables.link-style"),
    "style empty": (written(theme_file(variables={"link-style": ""})), "variables.link-style"),
    "style not text": (written(theme_file(variables={"link-style": 1})), "variables.link-style"),
    "key with an escape": (written(theme_file(**{"\x1b]52;c;aGk=\x07": "#102030"})), "no such key"),
    "empty file": (b"", "name"),
    "not TOML": (b"name = ", "not TOML"),
    "said twice": (written(theme_file()) + b'\nname = "x"', "not TOML"),
    "Latin-1": ("label = 'Tageslicht für draußen'".encode("latin-1"), "UTF-8"),
    "UTF-16": ("name = 'x'".encode("utf-16"), "UTF-8"),
    "NUL": (b"name = 'x\0'", "not TOML"),
    "nested lists": (b"x = " + b"[\n" * 7000, "more than 16 tables"),
    "a key of many parts": (b"a" + b".a" * 7000 + b" = 1", "line"),
    "many long keys": ((b"a" + b".a" * 90 + b" = 1\n") * 80, "more than 16 tables"),
    "deep headings": (b"[" + b"a." * 90 + b"a]\n" + b"b." * 90 + b"b = 1\n", "more than 16 tables"),
    "too long": (b"#\n" * 10_000, "too long"),
}


class TestUsersThemes:
    def test_a_sound_theme_is_taken_beside_those_that_ship(self, tmp_path: Path) -> None:
        (tmp_path / "mine.toml").write_bytes(written(theme_file()))
        themes, problems = all_themes(tmp_path)
        assert problems == []
        assert set(themes) == {*THEMES, "mine"}

    def test_an_editor_s_byte_order_mark_is_no_fault(self) -> None:
        assert parse_theme(b"\xef\xbb\xbf" + written(theme_file())).name == "mine"

    def test_a_theme_without_variables_has_all_of_ours_and_no_blended_text(self) -> None:
        theme = parse_theme(written(theme_file()))
        assert set(OWN_VARIABLES) <= set(theme.variables)
        seen = theme.to_color_system().generate() | theme.variables
        assert not [value for key, value in seen.items() if key.startswith("text") and "auto" in value]

    def test_no_folder_means_no_themes_of_the_user_s(self, tmp_path: Path) -> None:
        assert set(all_themes(tmp_path / "none")[0]) == set(THEMES)
        assert all_themes(tmp_path / "none")[1] == []

    def test_a_taken_name_is_refused_whoever_took_it(self, tmp_path: Path) -> None:
        (tmp_path / "a.toml").write_bytes(written(theme_file()))
        (tmp_path / "b.toml").write_bytes(written(theme_file()))
        (tmp_path / "c.toml").write_bytes(written(theme_file(name="night")))
        themes, problems = all_themes(tmp_path)
        assert themes["night"].background == THEMES["night"].background
        assert ["b.toml" in problems[0], "c.toml" in problems[1], len(problems)] == [True, True, 2]

    def test_folders_pipes_and_dead_links_named_as_themes_are_reported(self, tmp_path: Path) -> None:
        (tmp_path / "folder.toml").mkdir()
        (tmp_path / "dead.toml").symlink_to(tmp_path / "nowhere")
        os.mkfifo(tmp_path / "pipe.toml")
        themes, problems = all_themes(tmp_path)
        assert set(themes) == set(THEMES)
        assert len(problems) == 3

    def test_of_very_many_files_only_some_are_read(self, tmp_path: Path) -> None:
        for number in range(60):
            (tmp_path / f"t{number:02}.toml").write_bytes(written(theme_file(name=f"t{number}")))
        themes, problems = all_themes(tmp_path)
        assert len(themes) == len(THEMES) + 50
        assert len(problems) == 1

    @pytest.mark.parametrize("case", HOSTILE)
    def test_a_bad_theme_is_left_out_and_its_key_named(self, case: str, tmp_path: Path) -> None:
        data, key = HOSTILE[case]
        (tmp_path / "bad\x1b[31m.toml").write_bytes(data)
        themes, problems = all_themes(tmp_path)
        assert set(themes) == set(THEMES)
        assert len(problems) == 1
        assert key in problems[0]
        assert problems[0].isprintable()
        assert len(problems[0]) < 700

    def test_every_wrong_key_is_named_at_once(self) -> None:
        with pytest.raises(BadFile, match=r"primary: .*error: .*dark: "):
            parse_theme(written(theme_file(primary="red", error="blue", dark=0)))

    def test_many_wrong_keys_do_not_fill_the_screen(self) -> None:
        with pytest.raises(BadFile, match="and 95 more"):
            parse_theme(written(theme_file(**{f"k{n}": 1 for n in range(100)})))


def shortened() -> Iterator[bytes]:
    data = dict(bundled_files("themes"))["night.toml"]
    yield from (data[:end] for end in range(0, len(data), 37))


async def test_a_theme_cut_anywhere_is_refused_or_can_be_put_on() -> None:
    taken = []
    for data in shortened():
        try:
            taken.append(parse_theme(data))
        except BadFile:
            continue
    assert taken  # some cuts leave whole lines
    app = Dressed(taken[0])
    async with app.run_test():
        for theme in taken:
            app.register_theme(theme)
            app.theme = theme.name
            app.refresh_css()
