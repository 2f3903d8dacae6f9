"""What helped before: the verdicts on earlier runs of a machine, counted by change, complaint, rider and venue."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.aboard import same_rider
from stanchion.job.complaint import Complaint
from stanchion.job.edit import Edit, apply
from stanchion.job.model import Job
from stanchion.job.name_match import match_key
from stanchion.job.returning import setup_of
from stanchion.judgement.work.proof import changed_items, changes_at_once
from stanchion.judgement.work.work import Item
from stanchion.judgement.work.work_list import work_between

ChangeKey = tuple[tuple[str, str, str], ...]
"""What was changed, where and which way, without the amount: kind of work, place, way. Two clicks out and three are the
same change, one in is another."""

MOST_EARLIER = 4
"""Changes that helped before and are not suggested, at most."""


@record(kw_only=True)
class PastVerdict:
    """What the rider said of one run, and what had been changed for it."""

    file: str
    at: int
    """Which run of it, from 0."""
    day: dt.date
    rider: str
    venue: str
    complaints: tuple[Complaint, ...]
    """What the change was meant to help against; where that was not recorded, what the rider said of the run before."""
    changes: tuple[ChangeKey, ...]
    """The changes, each by itself; of several at once none can be credited."""
    work: tuple[Item, ...] = ()
    """What was done, with both positions."""
    verdict: str


@record(kw_only=True)
class Tally:
    """How often a change was found better, the same and worse, and how often nothing is known, as it was not alone."""

    better: int = 0
    same: int = 0
    worse: int = 0
    unclear: int = 0

    @property
    def judged(self) -> int:
        """How often it was judged by itself."""
        return self.better + self.same + self.worse

    def and_one(self, verdict: str, *, alone: bool) -> Tally:
        """The tally with one verdict more."""
        name = verdict if alone else "unclear"
        return replace(self, **{name: getattr(self, name) + 1})


@record(kw_only=True)
class Helped:
    """What is known of one change against one complaint."""

    here: Tally = Tally()
    """With this rider at this venue."""
    elsewhere: Tally = Tally()
    """With this rider at other venues."""
    others: Tally = Tally()
    """With other riders."""
    last: dt.date | None = None
    """The last day on which it was judged by itself; None: never."""

    @property
    def made_worse(self) -> bool:
        """Whether it was found worse more often than better, with this rider at this venue."""
        return self.here.worse > self.here.better

    @property
    def known(self) -> bool:
        """Whether there is a verdict at all."""
        return any(one != Tally() for one in (self.here, self.elsewhere, self.others))


@record(kw_only=True)
class EarlierChange:
    """A change that helped before, and is not among those suggested."""

    work: tuple[Item, ...]
    """What was done, the last time."""
    helped: Helped


def change_key(items: Iterable[Item]) -> ChangeKey:
    """The key of a change made of these items of work."""
    return tuple(sorted({(item.kind, item.place, _way(item)) for item in items}))


def key_of_edits(job: Job, edits: Iterable[Edit]) -> ChangeKey:
    """The key of the change that some edits make in a job."""
    after = job
    for edit in edits:
        after = apply(after, edit)
    return change_key(work_between(setup_of(job), setup_of(after)).items)


def _way(item: Item) -> str:
    """Which way: as the work list has it, else whether the first number that differs rises or falls."""
    if item.direction:
        return item.direction
    for change in item.changes:
        if isinstance(change.old, float) and isinstance(change.new, float):
            return "more" if change.new > change.old else "less"
    return ""


def past_verdicts(file: str, job: Job) -> Iterator[PastVerdict]:
    """Every verdict in a job on a run for which something was changed since the run before.

    Args:
        file: name of its file.
        job: the job.
    """
    for at, run in enumerate(job.runs):
        if at == 0 or run.verdict == "not_said":
            continue
        items = changed_items(job.runs[at - 1], run)
        if not items:
            continue
        as_one = run.change is not None and changes_at_once(job, at) == 1
        keys = [change_key(items)] if as_one else [change_key([item]) for item in items]
        told = run.change.complaints if run.change is not None else ()
        yield PastVerdict(
            file=file,
            at=at,
            day=run.date or job.job.date,
            rider=job.job.rider,
            venue=job.job.venue,
            complaints=told or job.runs[at - 1].complaints,
            changes=tuple(keys),
            work=items,
            verdict=run.verdict,
        )


def helped(
    past: Iterable[PastVerdict], change: ChangeKey, complaints: Sequence[Complaint], rider: str, venue: str
) -> Helped:
    """What is known of one change against the complaint at hand.

    Args:
        past: the verdicts on this machine.
        change: the change.
        complaints: the complaint, or several of which any will do; empty: whatever it was meant for.
        rider: the rider, however spelt.
        venue: the venue, however spelt; without a name it is none of those before.
    """
    found = Helped()
    for one in past:
        if change not in one.changes or not _meant(one, complaints):
            continue
        alone = len(one.changes) == 1
        place = _place(one, rider, venue)
        found = replace(found, **{place: getattr(found, place).and_one(one.verdict, alone=alone)})
        if alone and (found.last is None or one.day > found.last):
            found = replace(found, last=one.day)
    return found


def helped_otherwise(
    past: Iterable[PastVerdict],
    suggested: Collection[ChangeKey],
    complaints: Sequence[Complaint],
    rider: str,
    venue: str,
) -> tuple[EarlierChange, ...]:
    """The changes that were better more often than worse against the complaint at hand, and are not suggested; what
    helped most often here first.

    Args:
        past: the verdicts on this machine.
        suggested: the changes that are suggested.
        complaints: the complaint, or several of which any will do; none: nothing is found.
        rider: the rider, however spelt.
        venue: the venue, however spelt.
    """
    known = tuple(past)
    latest: dict[ChangeKey, PastVerdict] = {}
    for one in sorted(known, key=lambda one: one.day):
        if complaints and len(one.changes) == 1 and one.changes[0] not in suggested and _meant(one, complaints):
            latest[one.changes[0]] = one
    found = []
    for key, last in latest.items():
        of = helped(known, key, complaints, rider, venue)
        tallies = (of.here, of.elsewhere, of.others)
        if sum(one.better for one in tallies) > sum(one.worse for one in tallies):
            found.append(EarlierChange(work=last.work, helped=of))
    found.sort(key=lambda one: (-one.helped.here.better, -one.helped.elsewhere.better, -one.helped.others.better))
    return tuple(found[:MOST_EARLIER])


def _place(one: PastVerdict, rider: str, venue: str) -> str:
    if not same_rider(one.rider, rider):
        return "others"
    at_venue = bool(match_key(venue)) and match_key(one.venue) == match_key(venue)
    return "here" if at_venue else "elsewhere"


def _meant(one: PastVerdict, complaints: Sequence[Complaint]) -> bool:
    """Whether a change was meant against one of some complaints: the same words, in the same place where both name
    one."""
    if not complaints:
        return True
    return any(
        told.what == wanted.what and (told.where == wanted.where or "anywhere" in (told.where, wanted.where))
        for told in one.complaints
        for wanted in complaints
    )
