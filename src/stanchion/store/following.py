"""What lies beside a job under the name of its file follows that name: copies of attached files, and sheets.

Everything gets its new name before it loses the old one, and the job leads to the new name before the old one goes. A
program that is killed in between leaves one name or both.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path, PurePosixPath

from stanchion.base.errors import BadFile
from stanchion.job.model import Job
from stanchion.store.atomic import read
from stanchion.store.disk import Disk
from stanchion.store.names import SUFFIX, is_job

FILES = "files"
"""Folder below that of a job's file for copies of attached files, with one folder for each job."""
MOST_READ = 500
"""The most job files that are looked into before a name is removed; among more, both names stay."""


def copies_under(job: Job) -> dict[str, list[str]]:
    """The names of the copies that a job has attached, by the name of the folder of copies they are in."""
    found: dict[str, list[str]] = {}
    for one in job.attached:
        parts = PurePosixPath(one.path).parts
        if len(parts) == 3 and parts[0] == FILES and ".." not in parts:
            found.setdefault(parts[1], []).append(parts[2])
    return found


def led_to(job: Job, before: str, after: str) -> Job:
    """The job with its attached copies in another folder of copies.

    >>> from stanchion.job.model import Attached
    >>> led_to(Job(attached=(Attached(path="files/a/fork.jpg"),)), "a", "b").attached[0].path
    'files/b/fork.jpg'
    """
    moved = (
        replace(one, path=f"{FILES}/{after}/{PurePosixPath(one.path).name}")
        if PurePosixPath(one.path).parts[:2] == (FILES, before)
        else one
        for one in job.attached
    )
    return replace(job, attached=tuple(moved))


def name_again(folder: Path, names: list[str], before: str, after: str, disk: Disk) -> bool:
    """Give copies a second name in the folder of copies of another name.

    Returns:
        Whether each has it; False also where a name is taken, a copy is missing, or the disk has no second names.
    """
    source, target = folder / FILES / before, folder / FILES / after
    try:
        target.mkdir(exist_ok=True)
        for name in names:
            if not disk.same(source / name, target / name):
                disk.link(source / name, target / name)
    except OSError:
        return False
    return True


def drop_old_names(folder: Path, before: str, after: str, disk: Disk) -> None:
    """Remove the first names of copies that have a second one, unless another job in the folder may lead to them; their
    folder goes once it is empty."""
    if _may_be_led_to(folder, before, after, disk):
        return
    source, target = folder / FILES / before, folder / FILES / after
    with contextlib.suppress(OSError):
        for name in disk.listed(source):
            if disk.same(source / name, target / name):
                disk.unlink(source / name)
        source.rmdir()


def _may_be_led_to(folder: Path, before: str, after: str, disk: Disk) -> bool:
    """Whether another job file names that folder of copies, or there are too many to look into."""
    try:
        names = [name for name in disk.listed(folder) if is_job(name) and name != f"{after}{SUFFIX}"]
        if len(names) > MOST_READ:
            return True
        return any(f"{FILES}/{before}/".encode() in read(folder / name, disk) for name in names)
    except (OSError, BadFile):
        return True


def rename_sheets(folder: Path, before: str, after: str, disk: Disk) -> None:
    """Let the sheets of a job follow the name of its file; one whose new name is taken stays."""
    for old, new in _sheets(folder, before, after):
        with contextlib.suppress(OSError):
            disk.settle(old, new)
            with contextlib.suppress(FileNotFoundError):  # on disks without second names it is gone already
                disk.unlink(old)


def _sheets(folder: Path, before: str, after: str) -> Iterator[tuple[Path, Path]]:
    for ending in (".txt", ".html"):
        yield folder / f"{before}{ending}", folder / f"{after}{ending}"
