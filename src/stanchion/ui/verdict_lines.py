"""What is shown while the rider is asked about a run: its change, and lap and travel of it and the run before."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.bench.session import Session
from stanchion.job.model import ENDS
from stanchion.job.spec import Kind
from stanchion.judgement.track.run_figures import run_figures
from stanchion.judgement.work.proof import changes_at_once
from stanchion.units.quantity import show
from stanchion.wording.adjuster_words import lap_difference
from stanchion.wording.complaint_labels import complaints_words
from stanchion.wording.labels import END_NAMES
from stanchion.wording.proof_sentences import changed_for_run, expected_words


def about_both_runs(session: Session, at: int) -> str:
    """A line each: what was changed, what for, what was expected, and of both runs lap and travel used."""
    return "\n".join(_lines(session, at))


def _lines(session: Session, at: int) -> Iterator[str]:
    job, units = session.job, session.units
    run = job.runs[at]
    changed = changed_for_run(job, at, units)
    if changed:
        yield f"Changed: {changed}"
    apart = changes_at_once(job, at)
    if apart > 1:
        yield f"{apart} changes at once: which of them did it will not be known."
    if run.change is not None and (told := complaints_words(run.change.complaints)):
        yield f"For: {told}"
    if run.change is not None and (expected := expected_words(run.change.expected, units)):
        yield f"Expected: {expected}"
    if at == 0:
        return
    before = job.runs[at - 1]
    laps = [NONE if one.best_lap_s is None else show(one.best_lap_s, Kind.TIME) for one in (before, run)]
    difference = lap_difference(before.best_lap_s, run.best_lap_s)
    yield f"Best lap: {laps[0]} → {laps[1]}" + (f" ({difference})" if difference else "")
    references = session.assessment.marker_references
    figures = [run_figures(job, one, references) for one in (at - 1, at)]
    for end in ENDS:
        used = [of.end(end).used_mm.value for of in figures]
        full = figures[1].end(end).available_mm.value
        texts = [NONE if one is None else show(one, Kind.LENGTH, units) for one in used]
        of_full = f" of {show(full, Kind.LENGTH, units)}" if full is not None else ""
        yield f"{END_NAMES[end].capitalize()} used: {texts[0]} → {texts[1]}{of_full}"


NONE = "–"
