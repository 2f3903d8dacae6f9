"""The job file that is meant by a name as it was typed, and the nearest names where there is none."""

from __future__ import annotations

import os
from pathlib import Path

from stanchion.base.errors import NotFound
from stanchion.base.text import clean
from stanchion.store.disk import DISK
from stanchion.store.names import SUFFIX, is_job
from stanchion.store.paths import places

MOST_LIKE = 3
"""The most names that are offered."""


def existing_file(path: Path, jobs: str | None = None, *, in_jobs: bool = True) -> Path:
    """The file that was named.

    Args:
        path: as it was typed; a bare name is looked for in the jobs folder too.
        jobs: the jobs folder.
        in_jobs: whether the jobs folder is meant at all.

    Raises:
        NotFound: there is no such file; the message offers the names that are most like it.
    """
    found = in_jobs_folder(path, jobs) if in_jobs else path
    if os.path.lexists(found):
        return found
    folder = places(jobs).jobs if in_jobs else None
    like = most_like(path, folder)
    what = "no such file or job" if in_jobs else "no such file"
    raise NotFound(f"{what}: '{clean(str(path), 200)}'. {_offered(like, path.parent, folder)}")


def in_jobs_folder(path: Path, jobs: str | None) -> Path:
    """The file that is meant: the path, also without its ending .toml; for a bare name that is not in the current
    folder, the file of that name in the jobs folder, whether it is there or not."""
    ended = path if not path.name or is_job(path.name) else path.with_name(path.name + SUFFIX)
    meant = [path, ended]
    if path.name == str(path):
        folder = places(jobs).jobs
        meant += [folder / path, folder / ended]
    found = next((one for one in meant if os.path.lexists(one) and not one.is_dir()), None)
    if found is not None:
        return found
    return path if os.path.lexists(path) else meant[-1] if len(meant) > 2 else path


def job_names(jobs: str | None = None) -> list[str]:
    """The file names in the jobs folder, the newest day first; nothing is read."""
    return sorted(_names(places(jobs).jobs), reverse=True)


def most_like(path: Path, jobs: Path | None = None) -> list[str]:
    """The names most like one that is not there, the likest first: of its own folder, and of the jobs folder for a bare
    name. A name that holds what was typed is like it however long it is."""
    names = {one: str(path.parent / one) for one in _names(path.parent)}
    if jobs is not None and path.name == str(path):
        names |= {one: one for one in _names(jobs)}
    wanted = _bare(path.name)
    by_bare: dict[str, list[str]] = {}
    for one in sorted(names, reverse=True):  # names begin with the day, so the newest come first
        by_bare.setdefault(_bare(one), []).append(one)
    holding = [one for one in by_bare if len(wanted) > 2 and wanted in one]
    import difflib  # noqa: PLC0415 - only where something was mistyped

    near = difflib.get_close_matches(wanted, by_bare, MOST_LIKE, cutoff=0.6)
    order = dict.fromkeys([*holding[:MOST_LIKE], *near])
    return [names[one] for bare in order for one in by_bare[bare]][:MOST_LIKE]


def nearest_words(word: str, known: list[str] | tuple[str, ...]) -> str:
    """The known words most like one that is not known, as a sentence; empty where none is like it.

    >>> nearest_words("them", ("theme", "letters", "units"))
    "The nearest is 'theme'."
    """
    import difflib  # noqa: PLC0415 - only where something was mistyped

    near = difflib.get_close_matches(word.casefold(), known, MOST_LIKE)
    if not near:
        return ""
    return f"The nearest {'is' if len(near) == 1 else 'are'} {', '.join(map(repr, near))}."


def _offered(like: list[str], folder: Path, jobs: Path | None) -> str:
    if like:
        return f"Most like it: {', '.join(clean(one, 200) for one in like)}"
    if not folder.exists():
        return f"There is no folder '{clean(str(folder), 200)}' either."
    if jobs is None:
        return "Nothing in its folder has a name like it."
    if not jobs.exists():
        return f"The jobs folder is not there either: {clean(str(jobs), 200)}"
    return "`stanchion list` prints the name of every job."


def _names(folder: Path) -> list[str]:
    try:
        return [one for one in DISK.listed(folder) if is_job(one)]
    except OSError:
        return []


def _bare(name: str) -> str:
    return name.casefold().removesuffix(SUFFIX)
