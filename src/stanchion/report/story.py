"""The story of one machine: cells of a table, all of one row in words, and the columns that a terminal has room for."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator

from stanchion.base.record import record
from stanchion.base.text import clean, one_line
from stanchion.job.model import ENDS, SIDES, STATES, Adjuster, Clicker, End, Job, Leg, Rear, Run
from stanchion.job.spec import Kind, Rate
from stanchion.judgement.results.assessment import StateFigures
from stanchion.judgement.results.figures import Figure
from stanchion.planning.machine_story import StoryRow
from stanchion.report.lines import NONE, by_leg
from stanchion.units.known_units import Units
from stanchion.units.quantity import MINUS, show, unit_name
from stanchion.wording.american import worded
from stanchion.wording.changes import changes_in_words
from stanchion.wording.complaint_labels import complaints_words, rider_words
from stanchion.wording.labels import END_NAMES
from stanchion.wording.positions import showing
from stanchion.wording.proof_sentences import expected_words, verdict_alone
from stanchion.wording.verdicts import SAG_VERDICTS, sag_verdict_alone

FIRST = "first on record"
UNCHANGED = "nothing"
_LONGEST = 200


@record
class Column:
    """One column of the table."""

    name: str
    """Key, and head in text."""
    cell: Callable[[StoryRow, Units], str]


def when(row: StoryRow) -> str:
    """The day of an occasion; the number and time of a run, set in below it, or its day where that is another one."""
    if row.at is None or row.run is None:
        return row.day.isoformat()
    began = f"{row.day:%m-%d}" if row.on_another_day else clean(row.run.time, 10)
    return f"  run {row.at + 1} {began}".rstrip()


def title(row: StoryRow) -> str:
    """A row by what tells it from the others: file, and which run."""
    return clean(row.file, 120) + (f", run {row.at + 1}" if row.at is not None else "")


def changed(row: StoryRow, units: Units) -> tuple[str, ...]:
    """What was changed since the row before, a line each."""
    if row.first:
        return (FIRST,)
    parts = changes_in_words(row.changes, row.job, units)
    return tuple(clean(line, _LONGEST) for line in parts) or (UNCHANGED,)


# --- cells --------------------------------------------------------------------------------------------------------


def _bare(value: Rate | None, kind: Kind, units: Units) -> str:
    return NONE if value is None else show(value, kind, units).split(" ")[0]


def _installed(row: StoryRow, end: End, units: Units) -> str:
    a = row.assessment
    if end == "rear":
        return _bare(a.rear.spring.installed_preload_mm.value, Kind.LENGTH, units)
    legs = [leg for side in SIDES if (leg := a.front.leg(side)).has_spring]
    return by_leg([_bare(leg.installed_preload_mm.value, Kind.LENGTH, units) for leg in legs] or [NONE])


def _adjusters(job: Job, end: End) -> list[Adjuster]:
    return [job.rear.collar] if end == "rear" else [job.front.leg(side).adjuster for side in SIDES]


def _position(row: StoryRow, end: End, units: Units) -> str:
    return by_leg([_bare(adjuster.now, Kind.COUNT, units) for adjuster in _adjusters(row.job, end)])


def _spring(row: StoryRow, end: End, units: Units) -> str:
    job = row.job
    if end == "rear":
        return _sprung(job.rear, units)
    legs = [leg for side in SIDES if (leg := job.front.leg(side)).coil_fitted or leg.air.fitted]
    return by_leg([_sprung(leg, units) for leg in legs] or [NONE])


def _sprung(leg: Leg | Rear, units: Units) -> str:
    """The rate of a coil spring, or the pressure of one of air, with its unit."""
    if not leg.air.fitted:
        return _bare(leg.spring.rate_n_per_mm, Kind.RATE, units)
    return NONE if leg.air.pressure_bar is None else show(leg.air.pressure_bar, Kind.PRESSURE, units)


def _sag(row: StoryRow, end: End, units: Units, *, rider: bool) -> str:
    if row.at is not None:
        return ""  # measured once, on the occasion
    of = row.assessment.sag.end(end)
    figures = of.rider if rider else of.static
    return _bare(figures.shown_mm.value, Kind.LENGTH, units) + _old(figures)


def _used(row: StoryRow, end: End, units: Units) -> str:
    of = row.deepest(end)
    if of is None:
        return NONE
    return "/".join(_short(figure, units) for figure in (of.used_mm, of.available_mm))


def _share(row: StoryRow, end: End) -> str:
    of = row.deepest(end)
    return NONE if of is None else f"{(of.share_used.value or 0.0) * 100:.0f}"


def _short(figure: Figure, units: Units) -> str:
    """A length without an idle zero."""
    return _bare(figure.value, Kind.LENGTH, units).removesuffix(".0")


def _where(row: StoryRow) -> str:
    """Venue and session of an occasion; of a run the session where it begins, and the venue on another day."""
    venue = clean(row.job.job.venue, 60) if row.at is None or row.on_another_day else ""
    return ", ".join(part for part in (venue, clean(row.session_begun, 30)) if part)


def _ends(name: str, cell: Callable[[StoryRow, End, Units], str]) -> tuple[Column, Column]:
    return (
        Column(f"front_{name}", lambda row, units: cell(row, "front", units)),
        Column(f"rear_{name}", lambda row, units: cell(row, "rear", units)),
    )


COLUMNS: tuple[Column, ...] = (
    Column("when", lambda row, units: when(row)),
    Column("venue", lambda row, units: _where(row)),
    Column("rider", lambda row, units: clean(row.job.job.rider, 60) if row.at is None or row.on_another_day else ""),
    *_ends("spring", _spring),
    *_ends("installed", _installed),
    *_ends("adjuster", _position),
    *_ends("static_sag", lambda row, end, units: _sag(row, end, units, rider=False)),
    *_ends("rider_sag", lambda row, end, units: _sag(row, end, units, rider=True)),
    *_ends("used", _used),
    *_ends("used_pct", lambda row, end, units: _share(row, end)),
    Column("best_lap", lambda row, units: _bare(row.best_lap_s, Kind.TIME, units)),
    Column("changed", lambda row, units: "; ".join(changed(row, units))),
)


def _gist(row: StoryRow, units: Units) -> str:
    """Where there is little room: venue and session where they begin, and what was changed."""
    return " · ".join(part for part in (_where(row), "; ".join(changed(row, units))) if part)


BY_NAME = {column.name: column for column in (*COLUMNS, Column("gist", _gist))}


# --- the table as text --------------------------------------------------------------------------------------------

_DAY = Column("date", lambda row, units: row.day.isoformat())
_RUN = Column("run", lambda row, units: "" if row.at is None else str(row.at + 1))
_TIME = Column("time", lambda row, units: clean(row.run.time, 20) if row.run is not None else "")
_MACHINE = Column("machine", lambda row, units: clean(row.job.job.machine, 60))
_FILE = Column("file", lambda row, units: clean(row.file, 120))
_VENUE = Column("venue", lambda row, units: clean(row.job.job.venue, 60))
_RIDER = Column("rider", lambda row, units: clean(row.job.job.rider, 60))
_SESSION = Column("session", lambda row, units: clean(row.session, 30))
TABLE: tuple[Column, ...] = (_DAY, _RUN, _TIME, _MACHINE, _RIDER, _VENUE, _SESSION, *COLUMNS[3:], _FILE)


def story_table(rows: list[StoryRow], units: Units, *, tabs: bool) -> Iterator[str]:
    """The rows as lines under their heads.

    Args:
        rows: the rows.
        units: units to show; rates and lengths stand without them, so the first line names them.
        tabs: a tab between cells; otherwise the columns are aligned with spaces.
    """
    table = [[column.name for column in TABLE], *([column.cell(row, units) for column in TABLE] for row in rows)]
    if tabs:
        # other programs read a hyphen as a minus, and no other sign
        yield from ("\t".join(f"-{cell[1:]}" if cell.startswith(MINUS) else cell for cell in cells) for cells in table)
        return
    widths = [max(map(len, cells)) for cells in zip(*table, strict=True)]
    for cells in table:
        yield "  ".join(cell.ljust(width) for cell, width in zip(cells, widths, strict=True)).rstrip()


def units_line(units: Units) -> str:
    """What the bare numbers of the table are in."""
    length, rate = unit_name(Kind.LENGTH, units), unit_name(Kind.RATE, units)
    return f"Lengths in {length}, spring rates in {rate}; used: marker of travel there is; laps in minutes:seconds."


# --- one row in full ----------------------------------------------------------------------------------------------


def row_lines(row: StoryRow, units: Units) -> Iterator[tuple[str, str]]:
    """Everything about one row: a name, and what there is under it."""
    job, a, run = row.job, row.assessment, row.run
    yield "Changed", "; ".join(changed(row, units))
    if run is not None:
        if row.best_lap_s is not None:
            laps = f", {run.laps:g} laps" if run.laps is not None else ""
            yield "Best lap", show(row.best_lap_s, Kind.TIME, units) + laps
    elif job.runs:
        lap = f", best lap {show(row.best_lap_s, Kind.TIME, units)}" if row.best_lap_s is not None else ""
        yield "Runs", f"{len(job.runs)}{lap}"
    yield from _used_lines(row, units)
    for end in ENDS:
        yield END_NAMES[end].capitalize(), _end_words(row, end, units)
    yield from (("Dampers", words) for words in [_dampers(job, units)] if words)
    for end in ENDS:
        of = a.sag.end(end)
        if of.static.sag_mm.known or of.rider.sag_mm.known:
            yield f"Sag {end}", ", ".join(f"{state} {_sag_text(of.state(state), units)}" for state in STATES)
    if run is not None:
        yield from _weather(row, units)
        if said := rider_words(run):
            yield "Said", one_line(said)
        yield from _verdict(run, units)
    if job.attached and run is None:
        yield "Attached", one_line("; ".join(one.path for one in job.attached))
    if job.job.notes.strip() and run is None:
        yield "Notes", one_line(job.job.notes)
    yield "File", clean(row.file, 120)


def _length(figure: Figure, units: Units) -> str:
    return NONE if figure.value is None else show(figure.value, Kind.LENGTH, units)


def _sag_text(of: StateFigures, units: Units) -> str:
    """A sag with its verdict; topped out there is no length."""
    if of.topped_out and of.sag_mm.known:
        return SAG_VERDICTS["topped_out"] + (f" ({SAG_VERDICTS['stale']})" if of.is_old else "")
    verdict = sag_verdict_alone(of.verdict_now)
    return _length(of.sag_mm, units) + (f" ({verdict})" if verdict else "")


def _old(of: StateFigures) -> str:
    """A mark behind a sag that was read before a change of springs or preload."""
    return f" {SAG_VERDICTS['stale']}" if of.is_old else ""


def _used_lines(row: StoryRow, units: Units) -> Iterator[tuple[str, str]]:
    parts = []
    for end in ENDS:
        of = row.deepest(end)
        if of is not None:
            used, full = (_length(figure, units) for figure in (of.used_mm, of.available_mm))
            parts.append(f"{END_NAMES[end]} {used} of {full} ({_share(row, end)} %)")
    if parts:
        yield "Used", ", ".join(parts)


def _end_words(row: StoryRow, end: End, units: Units) -> str:
    length, rate = unit_name(Kind.LENGTH, units), unit_name(Kind.RATE, units)
    adjuster = _adjusters(row.job, end)[0]
    parts = [f"{_spring(row, end, units)} {rate}", f"installed {_installed(row, end, units)} {length}"]
    if adjuster.counting != "none":
        name = "collar" if end == "rear" else "adjuster"
        parts.append(f"{name} {_position(row, end, units)} {adjuster.counting}{showing(adjuster.counting)}")
    return ", ".join(parts)


def _dampers(job: Job, units: Units) -> str:
    left, right = job.front.leg("left"), job.front.leg("right")
    rear = job.rear
    ends: tuple[tuple[str, tuple[tuple[str, tuple[Clicker, ...]], ...]], ...] = (
        (
            "fork",
            (
                ("compression", (left.compression, right.compression)),
                ("high-speed", (left.high_speed_compression, right.high_speed_compression)),
                ("rebound", (left.rebound, right.rebound)),
            ),
        ),
        (
            "shock",
            (
                ("low-speed", (rear.low_speed_compression,)),
                ("high-speed", (rear.high_speed_compression,)),
                ("rebound", (rear.rebound,)),
            ),
        ),
    )
    parts = []
    for end, groups in ends:
        counts = [
            f"{name} {by_leg([_bare(one.now, Kind.COUNT, units) for one in clickers])}"
            for name, clickers in groups
            if any(one.now is not None for one in clickers)
        ]
        if counts:
            parts.append(f"{end} {', '.join(counts)}")
    return f"{'; '.join(parts)} out" if parts else ""


def _verdict(run: Run, units: Units) -> Iterator[tuple[str, str]]:
    """What the change ridden with a run was meant for, what was expected of it, and the rider's verdict."""
    change = run.change
    if change is not None and change.complaints:
        yield "Meant for", complaints_words(change.complaints)
    if change is not None and (expected := expected_words(change.expected, units)):
        yield "Expected", expected
    if run.verdict != "not_said":
        yield "Verdict", verdict_alone(run)


def _weather(row: StoryRow, units: Units) -> Iterator[tuple[str, str]]:
    """Pressures and temperatures of a run, where they were written down."""
    run = row.run
    if run is None:
        return
    for end in ("front", "rear"):
        parts = [
            f"{name} {show(value, Kind.PRESSURE, units)}"
            for name in ("cold", "hot")
            if (value := getattr(run, f"{end}_{name}_bar")) is not None
        ]
        if parts:
            yield worded(f"Tyre {end}"), ", ".join(parts)
    air = [
        f"{name} {show(value, Kind.TEMPERATURE, units)}"
        for name, value in (("air", run.air_c), ("ground", run.ground_c))
        if value is not None
    ]
    if air:
        yield "Weather", ", ".join(air)


_FIRST_TO_GO = (
    ("file",),
    ("front_used_pct", "rear_used_pct"),
    ("front_static_sag", "rear_static_sag"),
    ("session",),
    ("time",),
    ("front_installed", "rear_installed"),
    ("rider",),
    ("front_spring", "rear_spring"),
    ("venue",),
    ("front_adjuster", "rear_adjuster"),
    ("front_used", "rear_used"),
    ("best_lap",),
    ("front_rider_sag", "rear_rider_sag"),
)
"""What is left out where there is no room, first what is missed least."""
_CHANGED = "changed"
_LEAST_CHANGED = 24
"""Columns there are at least for what was changed, which goes over several lines."""
_GAP = "  "


def story_in(rows: list[StoryRow], units: Units, width: int) -> Iterator[str]:
    """The rows as lines that fit the terminal, under heads of several lines. What has no room is named at the end; a
    column with nothing in it is left out.

    Args:
        rows: the rows.
        units: units to show; rates and lengths stand without them.
        width: columns there are.
    """
    cells = {column.name: [column.cell(row, units) for row in rows] for column in TABLE}
    rooms = {name: max(map(len, [*of, *name.split("_")])) for name, of in cells.items() if name != _CHANGED and any(of)}
    gone: list[str] = []
    for names in ((), *_FIRST_TO_GO):
        gone += [name for name in names if rooms.pop(name, None) is not None]
        if sum(rooms.values()) + len(_GAP) * len(rooms) + _LEAST_CHANGED <= width:
            break
    left = max(_LEAST_CHANGED, width - sum(rooms.values()) - len(_GAP) * len(rooms))
    shown = [column.name for column in TABLE if column.name in rooms]
    heads = [name.split("_") for name in shown]
    for line in range(deepest := max(map(len, heads))):
        words = [head[line - deepest + len(head)] if line >= deepest - len(head) else "" for head in heads]
        last = _CHANGED if line == deepest - 1 else ""
        yield _line([*words, last], [*(rooms[name] for name in shown), 0])
    for at in range(len(rows)):
        changed = textwrap.wrap(cells[_CHANGED][at], left, break_on_hyphens=False) or [""]
        for number, part in enumerate(changed):
            known = [cells[name][at] if number == 0 else "" for name in shown]
            yield _line([*known, part], [*(rooms[name] for name in shown), 0])
    if gone:
        left_out = f"No room here for {', '.join(gone)}. A wider window has it, and so has --tabs."
        yield from textwrap.wrap(left_out, width)


def _line(cells: list[str], rooms: list[int]) -> str:
    return _GAP.join(cell.ljust(room) for cell, room in zip(cells, rooms, strict=True)).rstrip()
