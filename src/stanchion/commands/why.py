"""What `stanchion check --why FIGURE` does with one file."""

from __future__ import annotations

import textwrap
from pathlib import Path
from typing import Any

from stanchion.base.exit_status import CLEAN, FAULTY
from stanchion.base.text import clean
from stanchion.bench.judged_library import read_profiles
from stanchion.commands.check import Report, read_for_check
from stanchion.report.json_data import JSON_FORMAT
from stanchion.report.why_figures import FollowedFigures, figure_json, figure_lines, followed_figures
from stanchion.report.why_sure import largest_part, part_json, sure_line
from stanchion.store.paths import places
from stanchion.store.sources import previous
from stanchion.store.typed_names import nearest_words
from stanchion.units.known_units import METRIC
from stanchion.wording.why_words import absent_words, no_such_figure, some_of

LINE = 100
"""Columns where no terminal says how many there are."""


def why_file(path: Path, figure: str, jobs: str | None = None, width: int | None = None) -> Report:
    """Explain one figure of a job file.

    Args:
        path: the file; a bare name is looked for in the jobs folder too.
        figure: the dotted path of the figure, as `check --json` has it.
        jobs: the jobs folder.
        width: columns of the text; None: as it is for a file.
    """
    found = read_for_check(path, jobs)
    if isinstance(found, Report):
        return found
    job, path = found
    profiles = read_profiles(places(jobs))[0]
    before = previous(job, path.parent)
    followed = followed_figures(job, profiles, before, (figure.partition(".")[0],))
    head: dict[str, Any] = {"format": JSON_FORMAT, "file": str(path)}
    name = clean(str(path))
    if figure in followed.by_path:
        most = largest_part(followed, figure, profiles, before)
        lines = [name, *figure_lines(followed, figure, width or LINE)]
        if most is not None:
            lines += ["", *textwrap.wrap(sure_line(most, figure, METRIC), width or LINE)]
        return Report("\n".join(lines), head | figure_json(followed, figure) | part_json(most), CLEAN)
    if figure in followed.missing:
        words = absent_words(figure, clean(followed.missing[figure]))
        return Report(f"{name}\n{words}", head | figure_json(followed, figure), CLEAN)
    words = _not_there(figure, followed)
    return Report(f"{name}: {words}", head | {"figure": figure, "unknown": words}, FAULTY)


def _not_there(figure: str, followed: FollowedFigures) -> str:
    """What is said of a figure that there is none of."""
    known = [*followed.by_path, *followed.missing]
    begin = [one for one in known if one.startswith(f"{figure}.")]
    if begin:
        return some_of(figure, begin)
    return no_such_figure(clean(figure, 100), nearest_words(figure, known))
