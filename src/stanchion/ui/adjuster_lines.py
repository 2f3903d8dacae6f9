"""Below the adjusters: the current one in words, what its last change went with, and where it was in each run. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from textual.content import Content

from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.job.diff import Difference
from stanchion.job.edit import value_at
from stanchion.job.found import found_path, found_value
from stanchion.job.model import ENDS, End, Job, Path
from stanchion.job.runs import counted_in, ridden_at
from stanchion.job.spec import Kind
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.ridden import MarkerReference, RunFigures
from stanchion.judgement.track.run_figures import run_figures
from stanchion.planning.adjuster_history import Ridden
from stanchion.ui.space import ELLIPSIS, in_lines, wrapped_whole
from stanchion.units.known_units import Units
from stanchion.units.quantity import plain, show, unit_name
from stanchion.wording.adjuster_words import change_in_full, change_in_row, kind_of, position_words, setting_name
from stanchion.wording.changes import setting_change
from stanchion.wording.labels import END_NAMES
from stanchion.wording.positions import bare

MUTED, HEAD, FIGURE = "$text-muted", "$primary bold", "$figure bold"
LEAST_TABLE = 3
"""Lines for which the runs are listed: a heading, and two of them."""
LARGE = 4
"""Letters that there is room for in large digits, one of them a point."""
LEAST_WORDS, MOST_WORDS = 2, 4
"""Lines that the last change takes in full, and has at most where runs are listed too."""


def adjuster_lines(
    session: Session, at: Path, of: Ridden, keys: Mapping[str, str], *, width: int, height: int
) -> list[Content]:
    """The lines for the current adjuster, the most needed first.

    Args:
        session: the open job.
        at: where its position is.
        of: what the runs say of it.
        keys: the keys of other screens, as they are shown: "log" for a run, "found", "front" and "rear".
        width: columns there are.
        height: lines there are.
    """
    job, units = session.job, session.units
    stands = _where_it_stands(job, at, units)
    from_base = ", ".join(filter(None, (_from_base(job, at, of, units), _from_found(job, at, units))))
    beside = Content.styled(f"; {from_base}", MUTED) if from_base else Content("")
    fits = stands.cell_length + beside.cell_length <= width
    if stands.cell_length > width:
        stands = _where_it_stands(job, at, units, briefly=True)
    lines = [(stands + beside if fits else stands).truncate(width, ellipsis=True)]
    below = [] if fits or not from_base else [Content.styled(f"{from_base}.", MUTED)]
    if not job.runs:
        sentences = [
            "Type where each stands now, its whole range and its base.",
            f"{keys['found']} takes the machine as found, before anything is touched.",
            f"{keys['log']} logs a run; then this shows what a change did.",
            f"Springs and lengths: {keys['front']} and {keys['rear']}.",
        ]
        known = [*lines, *below]
        words = _whole_sentences(sentences, width, height - len(known))
        return [*known, *(Content.styled(line, MUTED) for line in words)][:height]
    lines += _since_the_last_run(job, at, of, units)
    room = height - len(lines)
    if of.change is None:
        return [*lines, Content.styled("Not changed between two runs of this job.", MUTED), *below][:height]
    change = of.change
    if room < LEAST_WORDS:
        return [*lines, Content(f"Run {change.run + 1}: {change_in_row(job, change, units)}")][:height]
    used = _travel(session, change.run)
    table = room - MOST_WORDS >= LEAST_TABLE
    sentences = [clean(one, 600) for one in change_in_full(job, change, used, units)]
    said = _as_fit(sentences, width, MOST_WORDS if table else room)
    lines += [Content(line) for line in said]
    lines += below if len(lines) < height else []
    if height - len(lines) >= LEAST_TABLE:
        lines += _run_table(session, at, height - len(lines))
    return lines[:height]


def _whole_sentences(sentences: list[str], width: int, most: int) -> list[str]:
    """As many of the sentences as so many lines have room for."""
    for count in range(len(sentences), 0, -1):
        lines = wrapped_whole(" ".join(sentences[:count]), width)
        if len(lines) <= most:
            return lines
    return []


def _as_fit(sentences: list[str], width: int, most: int) -> list[str]:
    """As many sentences as so many lines have room for, each whole, and a mark where one is left out; only the last one
    of all may be cut."""
    for count in range(len(sentences), 1, -1):
        left_out = count < len(sentences)
        lines = wrapped_whole(" ".join(sentences[:count]) + (f" {ELLIPSIS}" if left_out else ""), width)
        if len(lines) <= most:
            return lines
        whole = wrapped_whole(" ".join(sentences[: count - 1]), width)
        if count == len(sentences) and len(whole) < most:
            return in_lines(" ".join(sentences), width, most)
    return in_lines(sentences[0], width, most)


def in_large_digits(session: Session, at: Path) -> str:
    """The position of an adjuster or a height for the large digits; dashes if it is not recorded."""
    now = value_at(session.job, at)
    text = "--" if now is None else _spelled(now, at, session.units)
    return f"{text if now is None or len(text) <= LARGE else f'{now:.1f}':>3}"


def _spelled(now: float, at: Path, units: Units) -> str:
    kind = kind_of(at)
    if kind is Kind.PRESSURE:
        return show(now, kind, units).partition(" ")[0]
    return bare(now) if at[-1] == "now" else plain(round(now, 1), kind, units)


def _where_it_stands(job: Job, at: Path, units: Units, *, briefly: bool = False) -> Content:
    name = setting_name(job, at)
    return Content.styled(f"{name.upper()} ", HEAD) + Content.styled(
        position_words(job, at, units, briefly=briefly), FIGURE
    )


def _from_base(job: Job, at: Path, of: Ridden, units: Units) -> str:
    """The distance from its base; empty if it is zero, or either is not known."""
    base, now = _base(job, at, of), value_at(job, at)
    if base is None or now is None or base == now:
        return ""
    own = at[-1] == "now" and value_at(job, (*at[:-1], "base")) is not None
    return f"{setting_change(Difference(at, base, now), job, units)} from {'base' if own else 'the first run'}"


def _from_found(job: Job, at: Path, units: Units) -> str:
    """The position it was found in, where it is known and counted as now, and how far that is off; otherwise empty."""
    found, now = found_value(job, at), value_at(job, at)
    if found is None or now is None or counted_in(job, found_path(at)) != counted_in(job, at):
        return ""
    if found == now:
        return "as found"
    return f"{setting_change(Difference(at, found, now), job, units)} from as found ({_spelled(found, at, units)})"


def _base(job: Job, at: Path, of: Ridden) -> float | None:
    own: float | None = value_at(job, (*at[:-1], "base")) if at[-1] == "now" else None
    return of.first if own is None else own


def _since_the_last_run(job: Job, at: Path, of: Ridden, units: Units) -> Iterator[Content]:
    now = value_at(job, at)
    if of.last is not None and now is not None and of.last != now:
        words = setting_change(Difference(at, of.last, now), job, units)
        yield Content.styled(f"Since run {len(job.runs)}: {words}, not ridden yet.", "$note bold")


# --- runs ---------------------------------------------------------------------------------------------------------


def _travel(session: Session, run: int) -> list[str]:
    """Travel used before and after a change, for each end where both were read."""
    before, after = (_figures(session, at) for at in (run - 1, run))
    found = []
    for end in ENDS:
        one, other, full = before.end(end).used_mm, after.end(end).used_mm, after.end(end).available_mm
        if one.known and other.known:
            of = f" of {_length(full, session.units)}" if full.known else ""
            found.append(f"{END_NAMES[end]} {_length(one, session.units)} → {_length(other, session.units)}{of}")
    return found


def _run_table(session: Session, at: Path, height: int) -> Iterator[Content]:
    """A line for each run, the latest first: lap, position, travel used at both ends."""
    job, units = session.job, session.units
    unit = unit_name(Kind.LENGTH, units)
    heads = "".join(f"{END_NAMES[end]}, {unit}".rjust(11) for end in ENDS)
    yield Content.styled(f"{'RUN':>4}{'lap':>9}{'stood at':>11}{heads}", HEAD)
    places = ridden_at(job, at)
    for run in range(len(job.runs) - 1, max(-1, len(job.runs) - height), -1):
        lap, place = job.runs[run].best_lap_s, places[run]
        figures = _figures(session, run)
        spelled = "–" if place is None else _spelled(place, at, units)
        cells = "".join(_length(figures.end(end).used_mm, units).rjust(11) for end in ENDS)
        yield Content(f"{run + 1:>4}{'–' if lap is None else show(lap, Kind.TIME):>9}{spelled:>11}{cells}")


def _figures(session: Session, run: int) -> RunFigures:
    references: Mapping[End, MarkerReference] = session.assessment.marker_references
    return run_figures(session.job, run, references)


def _length(figure: Figure, units: Units) -> str:
    if figure.value is None:
        return "–"
    return show(figure.value, Kind.LENGTH, units).split(" ")[0].removesuffix(".0")
