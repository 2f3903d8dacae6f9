"""Two job files joined into one by a command, such as a version-control system runs for what both sides changed."""

from __future__ import annotations

from pathlib import Path

from stanchion.base.errors import BadFile, NotSaved
from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.job.lineage import joined as joined_lineage
from stanchion.job.merge import Merged, Version, merge
from stanchion.job.model import Job
from stanchion.job.model import Path as Place
from stanchion.job.name_match import match_key
from stanchion.store.atomic import write
from stanchion.store.library import Opened, encoded, read_job
from stanchion.store.typed_names import existing_file
from stanchion.wording.merge_sentences import changed_words, place_words, runs_words, side_words

NAMES = ("A", "B")


@record
class Done:
    """What was joined."""

    lines: list[str]
    """What differs and which value is used, a line each, and what is still to be chosen."""
    undecided: int
    """Number of undecided fields, which have A's value."""


def merge_files(
    one: Path,
    other: Path,
    base: Path | None,
    out: Path,
    take: str | None = None,
    *,
    different_machines: bool = False,
) -> Done:
    """Join two copies of one job into a file.

    Args:
        one: A; its values are used where nothing decides.
        other: B.
        base: the state both came from; None: not known, and all that differs is undecided.
        out: a new file, or A itself.
        take: "a" or "b": whose value is used where nothing decides.
        different_machines: join them although they name two machines.

    Raises:
        BadFile: one of them cannot be read, or they are two different jobs, or of two different machines.
        NotSaved: the file could not be written; nothing is overwritten but A, if it is as it was read.
    """
    a, b = _readable(one), _readable(other)
    was = _readable(base).job if base is not None else None
    if a.job.job.id and b.job.job.id and a.job.job.id != b.job.job.id:
        raise BadFile(
            "these are two different jobs, not two copies of one: `stanchion compare` shows where they differ"
        )
    if not different_machines and _two_machines(a.job, b.job, was):
        raise BadFile(
            f"A is a job of '{a.job.job.machine}', B one of '{b.job.job.machine}': nothing was written. Settings of "
            "two machines do not belong in one job; where it is one machine under two names, add --different-machines"
        )
    joined = merge(a.job, b.job, was)
    if take is not None:
        side: Version = "left" if take == "a" else "right"
        chosen: dict[Place, Version] = {choice.path: side for choice in joined.open}
        joined = merge(a.job, b.job, was, chosen)
    if out.exists() and not out.samefile(one):
        raise NotSaved(f"'{out}' already exists and was left alone. Choose another name.")
    follows = a.lineage if joined.open else joined_lineage(a.lineage, b.lineage)  # what is undecided is not merged
    write(out, encoded(joined.job, follows), a.sha if out.exists() else None)
    return Done(_lines(a, b, joined), len(joined.open))


def _two_machines(a: Job, b: Job, was: Job | None) -> bool:
    """Whether two jobs name two machines; with an ancestor, one that was only given another name since is the same."""
    one, other = match_key(a.job.machine), match_key(b.job.machine)
    if not one or not other or one == other:
        return False
    return was is None or match_key(was.job.machine) not in (one, other)


def _readable(path: Path) -> Opened:
    existing_file(path, in_jobs=False)
    try:
        opened = read_job(path)
    except BadFile as error:
        raise BadFile(f"{path}: {error}") from None
    if opened.newer:
        raise BadFile(f"{path}: a later version of the program wrote it; merge it with that version")
    return opened


def _lines(a: Opened, b: Opened, joined: Merged) -> list[str]:
    both_legs = not (a.job.front.split or b.job.front.split)
    lines = []
    for choice in joined.choices:
        place = place_words(choice.path, both_legs=both_legs)
        values = f"A {side_words(choice.path, choice.left)}, B {side_words(choice.path, choice.right)}"
        stands = "A" if choice.taken == "left" else "B"
        what = changed_words(choice, *NAMES) + (
            f", {stands} taken" if choice.settled else f": TO CHOOSE, {stands} stands"
        )
        lines.append(clean(f"{place}: {values}; {what}", 400))
    runs = runs_words(a.job, b.job, joined)
    left = len(joined.open)
    end = f"{left} field{'s' if left != 1 else ''} still to choose." if left else "Nothing is left to choose."
    return [*lines, *([runs] if runs else []), end]
