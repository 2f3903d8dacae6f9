"""The machine on the gas as lines of styled text: figures, small changes, curve over the travel, chain. Pure."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from textual.content import Content

from stanchion.base.text import clean
from stanchion.job.model import Job, Path
from stanchion.job.spec import Kind
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.gas import GasFigures
from stanchion.report.sheet_shape import SideView
from stanchion.ui import present
from stanchion.ui.paging import packed
from stanchion.ui.plot import curve
from stanchion.ui.side_drawing import LEAST_WIDTH, state_block
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, unit_name
from stanchion.wording.american import worded
from stanchion.wording.balance_sentences import g_words
from stanchion.wording.figure_names import FIGURE_NAMES as NAMES
from stanchion.wording.figure_names import ON_THE_GAS
from stanchion.wording.finding_words import reason
from stanchion.wording.gas_sentences import (
    BEYOND,
    GAS_ROWS,
    by_how_much,
    change_words,
    do_words,
    gas_notes,
    move_name,
    move_words,
    percent,
    rises,
    share,
    shown,
    taut_words,
)

MUTED, HEAD, FIGURE = "$text-muted", "$primary bold", "$figure bold"
NAME = 19
CHAIN_NAME = 15
CHANGE, CELL = 20, 7
CURVE_LINES = 5
"""Lines of the curve over the travel."""
_STEP_PCT = 20.0
"""The curve begins at a multiple of this below its lowest point [%]."""
Block = list[Content]


def gas_pages(
    job: Job,
    gas: GasFigures,
    units: Units,
    width: int,
    height: int,
    *,
    measured_height: bool,
    at: Path | None = None,
    view: SideView | None = None,
    plain: bool = False,
) -> list[Block]:
    """The figures of the screen in pages: as many blocks on each as it has room for.

    Args:
        job: the job.
        gas: the machine on the gas.
        units: display units.
        width: columns there are.
        height: lines there are.
        measured_height: whether the height of the centre of mass was measured.
        at: the current field; what to do for its reading comes first.
        view: the machine from the side; None: not known.
        plain: in ASCII.
    """
    do = do_words(at)
    steps = [Content.styled("DO NOW", HEAD), *map(Content, textwrap.wrap(do, max(20, width)))] if do else []
    figures = [*steps, *_figures(gas, units, width)]
    drawn = state_block(view, "gas", width, height - len(figures) - 1, plain=plain)
    drawn = drawn or state_block(view, "gas", width, height - 1, plain=plain)
    wide = width >= LEAST_WIDTH  # elsewhere the drawing comes last: it says less than the tables
    blocks: list[Block] = [
        figures,
        drawn if wide else [],
        [*_over_travel(gas, units, width, plain=plain)],
        [*_effects(gas, units)],
        [*_chain(job, gas, units, width)],
        [*_notes(gas, width, measured_height=measured_height)],
        [] if wide else drawn,
    ]
    return packed(blocks, height)


def _figures(gas: GasFigures, units: Units, width: int) -> Iterator[Content]:
    usual = ", usual" if gas.acceleration_g.estimate else ""
    yield Content.styled(f"{ON_THE_GAS.upper()}, {g_words(gas.acceleration_g.value or 0.0)}{usual}", HEAD)
    stands = gas.stands
    if not stands.anti_squat_pct.known:
        yield from _wrapped(clean(reason(stands.anti_squat_pct)), width)
        return
    yield _line(NAMES["anti_squat_pct"], _marked(percent(stands.anti_squat_pct), stands.anti_squat_pct))
    for name, figure in ((NAMES["arm_deg"], stands.arm_deg), (NAMES["chain_deg"], stands.chain_deg)):
        yield _line(f"  {name}", _marked(shown(figure, Kind.ANGLE, units), figure))
    yield _figure(NAMES["anti_squat_there_pct"], gas.anti_squat_there_pct, percent(gas.anti_squat_there_pct), width)
    yield _figure(NAMES["rear_rises_mm"], gas.rear_squats_mm, rises(gas.rear_squats_mm, units), width)
    early = _early(gas)
    for name, field, kind in GAS_ROWS:
        of: Figure = getattr(gas, field)
        style = "$warn bold" if early and field == "front_lifts_g" else FIGURE
        yield _figure(worded(name), of, shown(of, kind, units), width, style)


def _early(gas: GasFigures) -> bool:
    lifts, looked_at = gas.front_lifts_g.value, gas.acceleration_g.value
    return lifts is not None and looked_at is not None and lifts <= looked_at


def _figure(name: str, figure: Figure, words: str, width: int, style: str = FIGURE) -> Content:
    if figure.known:
        return _line(name, _marked(words, figure), style)
    return Content.styled(name.ljust(NAME), MUTED) + Content.styled(
        present.why_not(figure, max(1, width - NAME)), MUTED
    )


def _marked(words: str, figure: Figure) -> str:
    """The number with the mark of an estimate, if it is one.

    >>> _marked("24.2°", Figure(24.2)), _marked("24.2°", Figure(24.2, estimate=True))
    ('24.2°', '~24.2°')
    """
    return f"{present.ESTIMATED}{words}" if figure.estimate and figure.known else words


def _line(name: str, words: str, style: str = FIGURE) -> Content:
    return Content.styled(name.ljust(NAME), MUTED) + Content.styled(words, style)


def _over_travel(gas: GasFigures, units: Units, width: int, *, plain: bool) -> Iterator[Content]:
    """Anti-squat from the hanging wheel to full travel, drawn."""
    points = [(one.rear_used_mm, one.anti_squat_pct) for one in gas.over_travel]
    if points or gas.over_travel_unknown is not None:
        yield Content.styled("ANTI-SQUAT OVER REAR TRAVEL", HEAD)
    if gas.over_travel_unknown is not None:
        yield from _wrapped(clean(reason(gas.over_travel_unknown)), width)
    if not points:
        return
    across = max(8, min(width, 48))
    low = _STEP_PCT * ((min(y for _, y in points) - 1.0) // _STEP_PCT)
    for line in curve([(x, y - low) for x, y in points], across, CURVE_LINES, plain=plain):
        yield Content.styled(line, "$figure")
    first, last = points[0], points[-1]
    ends = share(first[1]), f"{share(last[1])} at {show(last[0], Kind.LENGTH, units)}"
    yield Content.styled(f"{ends[0]} hanging".ljust(max(0, across - len(ends[1]))) + ends[1], MUTED)


def _effects(gas: GasFigures, units: Units) -> Iterator[Content]:
    """A small table: what 5 mm or one tooth do to anti-squat and to the rear on the gas."""
    if not gas.effects:
        return
    head = f"SMALL CHANGES, {unit_name(Kind.LENGTH, units)}"
    yield Content.styled(head.ljust(CHANGE) + "points".rjust(CELL) + "rear".rjust(CELL), HEAD)
    for effect in gas.effects:
        rear = effect.rear_squats_mm
        up = Figure(None if rear.value is None else -rear.value)
        cells = (by_how_much(effect.anti_squat_pct, None, units), by_how_much(up, Kind.LENGTH, units).split(" ")[0])
        yield Content.styled(change_words(effect, units).ljust(CHANGE), MUTED) + Content.styled(
            "".join(cell.rjust(CELL) for cell in cells), FIGURE
        )
        if effect.fits is False:
            yield Content.styled(f"  {BEYOND.lstrip(', ')}", "$warn bold")
    yield Content.styled("anti-squat points; rear: + rises", MUTED)


def _chain(job: Job, gas: GasFigures, units: Units, width: int) -> Iterator[Content]:
    """How far the axle moves for other teeth, and what the chain needs."""
    chain = gas.chain
    moves = [move for move in chain.axle_moves if move.back_mm.known]
    if not moves and not chain.needed_links.known:
        return
    yield Content.styled("CHAIN", HEAD)
    if chain.needed_links.value is not None:
        has = "" if job.drive.links is None else f", now {job.drive.links:g}"
        yield _line("Links needed", f"{chain.needed_links.value:.1f}{has}")
    if words := taut_words(chain, units):
        style = "$warn bold" if chain.taut_fits is False else FIGURE
        first, *more = textwrap.wrap(words, max(12, width - CHAIN_NAME))
        for name, line in (("As it stands", first), *(("", line) for line in more)):
            yield Content.styled(name.ljust(CHAIN_NAME), MUTED) + Content.styled(line, style)
    for move in moves:
        style = "$warn bold" if move.fits is False else FIGURE
        words = move_words(move, job, units)
        first, *more = textwrap.wrap(words, max(12, width - CHAIN_NAME))
        for name, line in ((move_name(move).capitalize(), first), *(("", line) for line in more)):
            yield Content.styled(name.ljust(CHAIN_NAME), MUTED) + Content.styled(line, style)


def _notes(gas: GasFigures, width: int, *, measured_height: bool) -> Iterator[Content]:
    for note in gas_notes(gas, measured_height=measured_height):
        yield from _wrapped(note, width)


def _wrapped(text: str, width: int) -> Iterator[Content]:
    yield from (Content.styled(line, MUTED) for line in textwrap.wrap(text, max(20, width), break_on_hyphens=False))


def gas_short(gas: GasFigures, units: Units) -> Iterator[Content]:
    """What matters most on the gas, a line each, for a window with no room beside the form."""
    at = g_words(gas.acceleration_g.value or 0.0)
    if not gas.stands.anti_squat_pct.known:
        return
    yield Content.styled(f"{NAMES['anti_squat_pct']} ", MUTED) + Content.styled(
        _marked(percent(gas.stands.anti_squat_pct), gas.stands.anti_squat_pct), FIGURE
    )
    rear = gas.rear_squats_mm
    words = _marked(rises(rear, units), rear)
    yield Content.styled(f"{NAMES['rear_rises_mm']} at {at} ", MUTED) + Content.styled(words, FIGURE)
    for name, field, kind in (GAS_ROWS[1], GAS_ROWS[-1]):
        of: Figure = getattr(gas, field)
        head = name if kind is None else f"{name} at {at}"
        yield Content.styled(f"{head} ", MUTED) + Content.styled(_marked(shown(of, kind, units), of), FIGURE)
