"""The page that `stanchion doctor` prints: program and files, then the terminal and its keys."""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Iterator, Sequence
from typing import Any

from stanchion.base.output import terminal_columns
from stanchion.base.progress import CommandProgress
from stanchion.commands.doctor import BESIDE, DoctorLine, examined
from stanchion.commands.key_delivery import keys_of, may_be_asked, raw, try_keys
from stanchion.commands.terminal_look import terminal
from stanchion.report.json_data import JSON_FORMAT
from stanchion.store.paths import Places, places
from stanchion.store.settings import line_words, load_settings, setting_lines
from stanchion.ui.keys import Key, KeyProblem, with_changes
from stanchion.ui.theme import Themes, theme_problem

WIDTH = 78
"""Columns of what is printed to be sent."""
WIDEST = 100
"""Columns of what is printed into a terminal, at most."""


HEAD = "This names no rider, machine, venue, file or folder of yours. A line with ! needs a look."


def print_page(jobs: str | None, *, ask: bool) -> bool:
    """Print the page and give whether all is well.

    Args:
        jobs: the jobs folder given on the command line.
        ask: test the keys, if there is a terminal to press them in.

    Raises:
        Stopped: ^C was pressed while the job files were looked over.
    """
    print(textwrap.fill(HEAD, min(terminal_columns() or WIDTH, WIDEST)) + "\n")
    table, sections = _sections(jobs)
    well = [_print_section(heading, lines) for heading, lines in sections]
    lines = []
    reason = may_be_asked() if ask else "--no-keys was given"
    if reason:
        lines.append(DoctorLine(f"not tried: {reason}"))
    else:
        print("Press each key as it is asked for. Esc skips one, ^C ends.", flush=True)
        with raw(sys.stdin.fileno(), _say):
            lines += try_keys(keys_of(table), sys.stdin.fileno(), _say)
    well.append(_print_section("Keys", lines))
    print("\nAll well." if all(well) else "\nSomething needs a look: the lines with !")
    return all(well)


def page_data(jobs: str | None) -> dict[str, Any]:
    """The same as plain data, but for the keys, which only somebody at a terminal can press.

    Raises:
        Stopped: ^C was pressed while the job files were looked over.
    """
    _, sections = _sections(jobs)
    return {
        "format": JSON_FORMAT,
        "well": not any(line.look for _, lines in sections for line in lines),
        "sections": [
            {"heading": heading, "lines": [{"text": line.text, "look": line.look} for line in lines]}
            for heading, lines in sections
        ],
    }


def _sections(jobs: str | None) -> tuple[tuple[Key, ...], list[tuple[str, list[DoctorLine]]]]:
    """The table of keys, and every section but that of the keys, by heading."""
    where = places(jobs)
    settings = load_settings(where).settings
    with CommandProgress() as progress:
        sections = examined(jobs, progress.report, progress.stopped)
    progress.end("the rest is left out.")
    table, problems = with_changes(dict(settings.keys))
    _beside(sections).extend(_of_settings(where, settings.theme, problems))
    return table, [*sections, ("Terminal", terminal(settings.letters))]


def _beside(sections: list[tuple[str, list[DoctorLine]]]) -> list[DoctorLine]:
    """The lines of the files beside the jobs."""
    return next(lines for heading, lines in sections if heading == BESIDE)


def _of_settings(where: Places, theme: str, problems: Sequence[KeyProblem]) -> Iterator[DoctorLine]:
    """What of the settings only the screens can judge: actions and keys in [keys], and the theme."""
    wrong: list[tuple[tuple[str, ...], str]] = [(("keys", one.name), one.nameless) for one in problems]
    wrong += [(("theme",), words) for words in theme_problem(theme, Themes(where.config / "themes").names)[1:]]
    lines = setting_lines(where) if wrong else {}
    for path, words in wrong:
        yield DoctorLine(line_words(lines, path) + words, look=True)


def _print_section(heading: str, lines: Sequence[DoctorLine]) -> bool:
    print(heading)
    width = min(terminal_columns() or WIDTH, WIDEST)
    for line in lines:
        first = "! " if line.look else "  "
        print(textwrap.fill(line.text, width, initial_indent=first, subsequent_indent="    ", break_on_hyphens=False))
    sys.stdout.flush()
    return not any(line.look for line in lines)


def _say(text: str) -> None:
    print(text, end="", flush=True)
