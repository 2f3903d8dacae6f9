"""Colour themes: read from TOML, checked to the last key, and only then handed to Textual.

Textual accepts a bad colour or a stray brace and fails later, when the theme is used. So every value of a
theme file is checked here first.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from textual.design import ColorSystem
from textual.theme import Theme

from stanchion.base.bundled import bundled_files
from stanchion.base.errors import BadFile
from stanchion.base.toml import read_tables
from stanchion.store.typed_names import nearest_words
from stanchion.wording.american import worded

COLOURS = (
    "primary",
    "secondary",
    "accent",
    "warning",
    "error",
    "success",
    "foreground",
    "background",
    "surface",
    "panel",
    "boost",
)
"""The colours of a theme, each a key of its file. All are required but boost and secondary."""

OWN_VARIABLES = {
    "fault": "error",
    "warn": "warning",
    "note": "accent",
    "good": "success",
    "figure": "foreground",
    "field-background": "surface",
    "field-cursor-background": "panel",
}
"""Stylesheet variables of this program, each with the colour used if a theme does not set it."""

_PLAIN = {
    "text": "foreground",
    "text-muted": "foreground",
    "text-disabled": "foreground",
    "foreground-muted": "foreground",
    "foreground-disabled": "foreground",
    "border": "primary",
    "border-blurred": "foreground",
    "block-cursor-foreground": "background",
    "block-cursor-background": "foreground",
    "block-cursor-blurred-foreground": "foreground",
    "block-cursor-blurred-background": "panel",
    "input-cursor-foreground": "background",
    "input-cursor-background": "foreground",
    "input-selection-foreground": "background",
    "input-selection-background": "foreground",
    "footer-key-foreground": "foreground",
}
"""Variables that Textual would otherwise blend out of thin foreground: left out of a file, they are plain colours."""

_OPTIONAL = {"boost": "panel", "secondary": "foreground"}
_GENERATED = set(ColorSystem("#000000").generate())
_STYLES = {name for name in _GENERATED if name.endswith("-style") or "-style-" in name}
_NAMES = (_GENERATED | set(OWN_VARIABLES)) - set(COLOURS)
_STYLE_WORDS = ("bold", "italic", "underline", "reverse")

FIRST = "daylight"
"""The theme to start with if none was chosen: the one that can be read everywhere."""

_LONGEST_FILE = 16_000
_MOST_FILES = 50


class NamedTheme(Theme):
    """A theme as Textual knows it, with the words it is offered under."""

    def __init__(self, label: str = "", **theme: Any) -> None:
        super().__init__(**theme)
        self.label = label


class Themes:
    """All themes: those of the program, then the user's own.

    One that comes with the program is called as its file is, and only read when it is taken.

    Args:
        user_dir: the user's folder of themes; None or a folder that is not there gives none.
    """

    def __init__(self, user_dir: Path | None) -> None:
        self._shipped = {name.removesuffix(".toml"): data for name, data in bundled_files("themes")}
        self._own: dict[str, NamedTheme] = {}
        self.problems: list[str] = []
        """Problems with the themes that were skipped: file, key and what to do."""
        for file, data in _user_files(user_dir, self.problems):
            try:
                if isinstance(data, BadFile):
                    raise data
                theme = parse_theme(data)
                if theme.name in self.names:
                    raise BadFile(f"name: there already is a theme called '{theme.name}'; give this one another name")
            except BadFile as bad:
                self.problems.append(f"theme {_shown(file)} is left out: {bad}")
            else:
                self._own[theme.name] = theme

    @property
    def names(self) -> tuple[str, ...]:
        """Their names, that of the one to start with first."""
        return tuple(sorted((*self._shipped, *self._own), key=lambda name: name != FIRST))

    def __getitem__(self, name: str) -> NamedTheme:
        """The theme of this name."""
        return self._own[name] if name in self._own else parse_theme(self._shipped[name])


def theme_problem(name: str, names: tuple[str, ...]) -> list[str]:
    """What is wrong with the theme that the settings name: in words, and the same without a word of the file; nothing
    where there is such a theme."""
    if name in names:
        return []
    hint = f"is used. {nearest_words(name, names) or 'There are ' + ', '.join(names) + '.'}"
    return [
        f"config.toml: there is no theme '{name}'; '{names[0]}' {hint}",
        f"there is no such theme; '{FIRST}' is used.",
    ]


def parse_theme(data: bytes) -> NamedTheme:
    """Make a theme of a file's content.

    Raises:
        BadFile: naming each key that is wrong and what it should be.
    """
    table = read_tables(data, "a theme", _LONGEST_FILE)
    problems = _name_problem(table.get("name")) + _label_problem(table.get("label", ""))
    known = {"name", "label", "dark", "variables", *COLOURS}
    problems += [f"{_shown(key)}: a theme has no such key" for key in table if key not in known]
    colours = {}
    for key in COLOURS:
        if key in table:
            problems += _colour_problem(key, table[key])
            colours[key] = table[key]
        elif key not in _OPTIONAL:
            problems.append(worded(f"{key}: this colour is missing; write it as #rrggbb"))
    if not isinstance(table.get("dark"), bool):
        problems.append("dark: true or false is needed, without quotes")
    variables = table.get("variables", {})
    if isinstance(variables, dict):
        problems += [problem for key, value in variables.items() for problem in _variable_problem(key, value)]
    else:
        problems.append("variables: a table is needed, headed [variables]")
    if problems:
        raise BadFile("; ".join(problems[:5]) + (f"; and {len(problems) - 5} more" if len(problems) > 5 else ""))
    colours = {key: colours[base] for key, base in _OPTIONAL.items() if key not in colours} | colours
    filled = {name: colours[base] for name, base in (_PLAIN | OWN_VARIABLES).items()} | variables
    return NamedTheme(
        name=table["name"],
        label=table.get("label") or table["name"],
        dark=table["dark"],
        variables=filled,
        **colours,
    )


def _colour_problem(key: str, value: object) -> list[str]:
    if isinstance(value, str) and re.fullmatch(r"#[0-9a-fA-F]{6}", value):
        return []
    return [f"{key}: {_shown(value)} is {worded('not a colour')}; write it as #rrggbb, such as #1a2b3c"]


def _variable_problem(key: str, value: object) -> list[str]:
    if key not in _NAMES:
        return [f"variables.{_shown(key)}: there is no such variable"]
    if key not in _STYLES:
        return _colour_problem(f"variables.{key}", value)
    words = value.split(" ") if isinstance(value, str) else []
    if value == "none" or (words and len(set(words)) == len(words) and set(words) <= set(_STYLE_WORDS)):
        return []
    return [f"variables.{key}: {_shown(value)} is not a text style; write none, or some of {', '.join(_STYLE_WORDS)}"]


def _name_problem(name: object) -> list[str]:
    if isinstance(name, str) and re.fullmatch(r"[a-z][a-z0-9-]{0,29}", name):
        return []
    return ["name: up to 30 small letters, digits and hyphens are needed, a letter first"]


def _label_problem(label: object) -> list[str]:
    if isinstance(label, str) and len(label) <= 60 and label.isprintable():
        return []
    return ["label: one line of ordinary text is needed, at most 60 characters"]


def _user_files(folder: Path | None, problems: list[str]) -> list[tuple[str, bytes | BadFile]]:
    if folder is None:
        return []
    try:
        paths = sorted(path for path in folder.iterdir() if path.suffix == ".toml")
    except FileNotFoundError:
        return []
    except OSError as error:
        problems.append(f"the folder of themes cannot be read: {_shown(str(error), 120)}")
        return []
    if len(paths) > _MOST_FILES:
        problems.append(f"the folder of themes holds {len(paths)} files; only the first {_MOST_FILES} are read")
    return [(path.name, _content(path)) for path in paths[:_MOST_FILES]]


def _content(path: Path) -> bytes | BadFile:
    try:
        if not path.is_file():  # a named pipe would be waited for
            return BadFile("it is not an ordinary file")
        with path.open("rb") as file:
            return file.read(_LONGEST_FILE + 1)
    except OSError as error:
        return BadFile(f"the file cannot be read: {_shown(error.strerror or str(error), 80)}")


def _shown(value: object, longest: int = 40) -> str:
    """The value as harmless text on one line."""
    if isinstance(value, dict | list):
        return "a table" if isinstance(value, dict) else "a list"
    text = value if isinstance(value, str) and value.isprintable() else ascii(value)
    return text if len(text) <= longest else text[: longest - 1] + "…"
