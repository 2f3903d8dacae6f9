"""Beside a run's fields: all runs with the travel they used, the findings of the current run, and its tyres."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from textual.content import Content

from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.job.model import ENDS, End, Job
from stanchion.job.runs import as_ridden, changes_before, changes_since
from stanchion.job.spec import Kind
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.ridden import EndUsed
from stanchion.judgement.track.run_figures import run_figures
from stanchion.judgement.track.tyres import ColdTyre, cold_pressures, tyre_figures
from stanchion.planning.on_travel import on_travel
from stanchion.ui import present
from stanchion.ui.paging import pages_of
from stanchion.ui.travel_drawing import BESIDE, LEAST_HEIGHT, side_by_side, travel_lines
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, unit_name
from stanchion.wording.american import worded
from stanchion.wording.changes import changes_in_words
from stanchion.wording.complaint_labels import complaints_words
from stanchion.wording.finding_words import headline, reason

MUTED, HEAD, FIGURE = "$text-muted", "$primary bold", "$figure bold"
PARTS: dict[End, str] = {"front": "FORK", "rear": "SHOCK"}
MARKS = {"near_full": "▲", "beyond": "✖"}
LEFT, VALUE, LEAST_BAR, MOST_BAR = 12, 6, 4, 20
"""Columns before the bars, for what was used, and for a bar."""
FEWEST_ROWS = 4
PICTURE = BESIDE + 5
"""Columns of one picture of travel beside the current run."""
NAME, PRESSURE = 22, 8
WITH_PICTURES = NAME + 2 * PRESSURE + 1 + 2 * PICTURE
"""Columns from which both ends are drawn beside it."""
"""Columns of the tyre table."""


def run_pages(
    session: Session, at: int, width: int, height: int, *, tyres: bool, question: str = ""
) -> list[list[Content]]:
    """The lines beside the sheet, in pages: all runs stand on each.

    Args:
        session: the open job.
        at: the current run.
        width: columns there are.
        height: lines there are.
        tyres: whether tyres come before what was changed.
        question: what is asked about the current run; empty: nothing.
    """
    pictured = width >= WITH_PICTURES
    beside = width - 2 * PICTURE - 1 if pictured else width
    asked = [Content.styled(line, "$warn bold") for line in textwrap.wrap(question, beside)]
    said = [Content(line) for line in textwrap.wrap(complaints_words(session.job.runs[at].complaints), beside)]
    used = [*asked, *said, *_used_lines(session, at, beside)]
    changed = [*_changed_lines(session, at, beside)]
    tyre_table = [*tyre_lines(session, at)]
    below = [tyre_table, used, changed] if tyres else [used, changed, tyre_table]
    rows = max(FEWEST_ROWS, height - 1 - sum(map(len, below)))
    if rows == FEWEST_ROWS and not tyres:  # the tyres have their own turn
        rows = max(FEWEST_ROWS, height - 1 - len(used) - min(len(changed), 4))
    lines = run_table(session, at, width, rows)
    room = height - len(lines)
    pages = pages_of([line for block in below for line in block], beside, room)
    if pictured and room > LEAST_HEIGHT:
        fork, shock = (_drawn(session, at, end, room) for end in ENDS)
        pictures = side_by_side(fork, shock, PICTURE, gap=0)
        pages = [side_by_side(page, pictures, beside + 1) for page in pages]
    return [[*lines, *page] for page in pages]


def run_short(
    session: Session, at: int, width: int, *, tyres: bool = False, question: str = "", wanted: str = ""
) -> list[Content]:
    """What is asked about a run, its tyres where they come first, travel used, what its markers ask for, that a verdict
    is wanted, a few runs."""
    figures = run_figures(session.job, at, session.assessment.marker_references)
    lines = [Content.styled(line, "$warn bold") for line in textwrap.wrap(question, width)]
    lines += [*_tyres_short(session.job, at, session.units, width)] if tyres else []
    lines += [_used_line(session, end, figures.end(end), width) for end in ENDS]
    lines += [line for end in ENDS for line in _meaning(session, at, end, width)]
    lines += [Content.styled(wanted, "$warn bold")] if wanted else []
    return [*lines, *run_table(session, at, width, FEWEST_ROWS)]


def _drawn(session: Session, at: int, end: End, height: int) -> Sequence[Content]:
    """The travel of an end to scale, with the sags and the marker of the current run."""
    on = on_travel(session.job, session.assessment, end, at)
    return travel_lines(on, end, session.units, PICTURE, height, figures_only=True)


# --- all runs -----------------------------------------------------------------------------------------------------


def run_table(session: Session, at: int, width: int, rows: int) -> list[Content]:
    """A heading and a line a run, the latest first: lap, and travel used of travel there is, at both ends.

    Args:
        session: the open job.
        at: the current run, which is among them.
        width: columns there are.
        rows: lines for runs.
    """
    count = len(session.job.runs)
    bar = max(LEAST_BAR, min(MOST_BAR, (width - LEFT) // 2 - VALUE))
    unit = unit_name(Kind.LENGTH, session.units)
    heads = "".join(f"{PARTS[end]}, {unit}".ljust(bar + VALUE) for end in ENDS)
    lines = [Content.styled(f"RUNS   lap  {heads}".rstrip(), HEAD)]
    shown = rows if count <= rows else rows - 1
    newest = min(count - 1, max(shown - 1, at + shown // 2))
    order = range(newest, max(-1, newest - shown), -1)
    lines += [_run_line(session, run, bar, current=run == at) for run in order]
    if count > rows:
        newer, older = count - 1 - newest, count - len(order) - (count - 1 - newest)
        others = [f"{number} {word}" for number, word in ((newer, "newer, PgUp"), (older, "older, PgDn")) if number]
        lines.append(Content.styled(f"    {' · '.join(others)}", MUTED))
    return lines


def _run_line(session: Session, at: int, bar: int, *, current: bool) -> Content:
    run = session.job.runs[at]
    figures = run_figures(session.job, at, session.assessment.marker_references)
    lap = show(run.best_lap_s, Kind.TIME, session.units) if run.best_lap_s is not None else "–"
    line = Content.styled(f"{'›' if current else ' '}{at + 1:>2} {lap:>7} ", FIGURE if current else "")
    for end in ENDS:
        of = figures.end(end)
        used = of.used_mm.value
        text = "–" if used is None else _bare(used, session)
        style = present.VERDICT_STYLE.get(of.verdict, MUTED)
        line += Content.styled(filled(of.share_used.value, bar), style)
        line += Content.styled(f"{text:>{VALUE - 2}}{MARKS.get(of.verdict, ' ')} ", FIGURE if current else "")
    return line


def filled(share: float | None, width: int) -> str:
    """A bar filled as far as a share goes; dots where that is not known.

    >>> filled(0.5, 8), filled(1.3, 4), filled(None, 4)
    ('████░░░░', '████', '····')
    """
    if share is None:
        return "·" * width
    full = round(width * min(1.0, max(0.0, share)))
    return "█" * full + "░" * (width - full)


# --- the current run ----------------------------------------------------------------------------------------------


def _used_lines(session: Session, at: int, width: int) -> Iterator[Content]:
    figures = run_figures(session.job, at, session.assessment.marker_references)
    yield Content.styled(f"RUN {at + 1}, TRAVEL USED", HEAD)
    for end in ENDS:
        yield _used_line(session, end, figures.end(end), width)
        yield from _meaning(session, at, end, width)


def _meaning(session: Session, at: int, end: End, width: int) -> Iterator[Content]:
    """What follows from the marker of the latest run, in a line or two; the full sentence is among the warnings."""
    for finding in session.assessment.findings:
        if finding.where == ("runs", at, f"{end}_marker_mm"):
            text = f"{present.MARK[finding.severity]} {headline(finding)}"
            for line in textwrap.wrap(text, width, subsequent_indent="  "):
                yield Content.styled(line, present.SEVERITY_STYLE[finding.severity])


def _used_line(session: Session, end: End, of: EndUsed, width: int) -> Content:
    name = Content.styled(f"{PARTS[end]:<6}", "$primary")
    used, full, unused = of.used_mm.value, of.available_mm.value, of.left_mm.value
    if used is None or full is None or unused is None:
        return name + Content.styled(f"– {clean(reason(of.used_mm) or reason(of.available_mm))}"[: width - 6], MUTED)
    unit = unit_name(Kind.LENGTH, session.units)
    text = name + Content.styled(f"{_bare(used, session)} of {_bare(full, session)} {unit}", FIGURE)
    ending = f", {_bare(max(0.0, unused), session)} left" if unused > -1.0 else ", beyond it"
    pressed = of.on_rubber_mm.value
    if pressed:
        ending += f", {_bare(pressed, session)} on rubber"
    slowed = of.in_hydraulic_mm.value
    if slowed:
        ending += f", {_bare(slowed, session)} in hydr. stop"
    return text + Content.styled(ending, MUTED)


def _changed_lines(session: Session, at: int, width: int) -> Iterator[Content]:
    """What was changed before the current run; and after it, where it is the latest."""
    job = session.job
    if at == 0:
        yield Content.styled("The first run: nothing to compare with.", MUTED)
    else:
        changes = changes_in_words(changes_before(job, at), as_ridden(job, job.runs[at]), session.units)
        yield from _listed("CHANGED SINCE THE RUN BEFORE", changes, "Nothing at fork or shock.", width)
    if at == len(job.runs) - 1:
        since = changes_since(job, at)
        if since:
            changes = changes_in_words(since, job, session.units)
            yield from _listed("CHANGED SINCE THIS RUN", changes, "", width)


def _listed(heading: str, changes: tuple[str, ...], none: str, width: int) -> Iterator[Content]:
    yield Content.styled(heading, HEAD)
    if not changes:
        yield Content.styled(none, MUTED)
    for change in changes:
        for line in textwrap.wrap(clean(change, 200), width, subsequent_indent="  "):
            yield Content(line)


# --- tyres --------------------------------------------------------------------------------------------------------


def tyre_lines(session: Session, at: int) -> Iterator[Content]:
    """Hot pressure by the gas law, and the cold one to set for the hot one that is wanted."""
    job, units = session.job, session.units
    if not _tyre_words(job, at):
        return
    heads = "".join(end.rjust(PRESSURE) for end in ENDS)
    yield Content.styled(worded(f"TYRES, {unit_name(Kind.PRESSURE, units)}").ljust(NAME) + heads, HEAD)
    figures = {end: tyre_figures(job, at, end) for end in ENDS}

    def row(name: str, front: Figure, rear: Figure) -> Content:
        line = Content.styled(name.ljust(NAME), MUTED)
        for figure in (front, rear):
            line += Content.styled(_pressure(figure, units).rjust(PRESSURE), FIGURE)
        return line

    yield row("Hot by the gas law", figures["front"].expected_hot_bar, figures["rear"].expected_hot_bar)
    wanted = cold_pressures(job, at)
    if wanted is None:
        yield Content.styled("To set cold: needs hot wanted, and", MUTED)
        yield Content.styled("cold and hot pressure of a run.", MUTED)
    else:
        yield Content.styled(f"SET COLD FOR HOT WANTED, by run {wanted.by + 1}", HEAD)
        for cold in wanted.rows:
            yield row(_how_cold(cold, units), cold.front_bar, cold.rear_bar)
    yield Content.styled(worded("Gauge, sea-level air; ~ tyre as air"), MUTED)


def _tyres_short(job: Job, at: int, units: Units, width: int) -> Iterator[Content]:
    """The cold pressures to set, front and rear, in as few lines as there is room for."""
    wanted = cold_pressures(job, at)
    if wanted is None:
        return
    pairs = [
        f"{_how_cold(cold, units, briefly=True)} {_pressure(cold.front_bar, units)} / {_pressure(cold.rear_bar, units)}"
        for cold in wanted.rows
    ]
    line = f"Set cold, {unit_name(Kind.PRESSURE, units)}:"
    for pair in pairs:
        if len(line) + 1 + len(pair) > width:
            yield Content(line)
            line = ""
        line = f"{line}{' ' if line.endswith(':') else ' · ' if line else ''}{pair}"
    yield Content(line)


def _pressure(figure: Figure, units: Units) -> str:
    return ("~" if figure.estimate and figure.known else "") + present.number(figure, Kind.PRESSURE, units, 0)


def _how_cold(cold: ColdTyre, units: Units, *, briefly: bool = False) -> str:
    if cold.cold_c is None or cold.rear_cold_c is None:
        return "as then" if briefly else "As cold as then"
    front, rear = (
        show(celsius, Kind.TEMPERATURE, units).replace(".0 ", " ") for celsius in (cold.cold_c, cold.rear_cold_c)
    )
    degrees = rear if front == rear else f"{front.split(' ')[0]}/{rear}"
    if briefly:
        return f"now {degrees}" if cold.recorded else degrees
    return worded(f"{'Now' if cold.recorded else 'Tyre'} at {degrees}")


def _tyre_words(job: Job, at: int) -> bool:
    run = job.runs[at]
    return any(getattr(run, f"{end}_{state}_bar") is not None for end in ENDS for state in ("cold", "hot")) or (
        run.air_c is not None and cold_pressures(job, at) is not None
    )


def _bare(value_mm: float, session: Session) -> str:
    text = show(value_mm, Kind.LENGTH, session.units).split(" ")[0]
    return text.removesuffix(".0")
