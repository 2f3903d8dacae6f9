"""The linkage by its points as lines of styled text, with the ratio plotted over the travel. Pure."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from textual.content import Content

from stanchion.base.text import clean
from stanchion.job.model import Job, Path
from stanchion.job.spec import Kind
from stanchion.judgement.predict.points_figures import PointsFigures
from stanchion.ui import present
from stanchion.ui.paging import packed
from stanchion.ui.plot import PlotMark, dotted, scale
from stanchion.units.known_units import Units
from stanchion.units.quantity import MINUS, show, unit_name
from stanchion.wording.figure_names import FIGURE_NAMES
from stanchion.wording.finding_words import reason
from stanchion.wording.linkage_words import LINKAGE_ROWS, do_words, full_needs, linkage_notes

MUTED = "$text-muted"
NAME, CELL = 15, 6
PLOT_LINES = 5
_DECIMALS = {Kind.ANGLE: 1}


def linkage_pages(
    job: Job, figures: PointsFigures, units: Units, width: int, height: int, *, at: Path | None, plain: bool
) -> list[list[Content]]:
    """The pages of the right-hand side: figures, plot and notes, on as many as they need.

    Args:
        job: the job.
        figures: what its points give.
        units: display units.
        width: columns there are.
        height: lines there are.
        at: the current field; what to read for it comes first.
        plain: for a terminal without braille.
    """
    do = do_words(job, at)
    steps: list[Content] = []
    if do:
        steps = [Content.styled("DO NOW", "$primary bold"), *map(Content, textwrap.wrap(do, max(20, width)))]
    table = [*_table(figures, units, width)]
    plot = [*ratio_plot(figures, units, width, plain=plain)]
    notes = [*_wrapped(linkage_notes(job, figures, units), width)]
    return packed([[*steps, *table], plot, notes], height)


def _table(figures: PointsFigures, units: Units, width: int) -> Iterator[Content]:
    if not figures.known.known:
        yield Content.styled("LINKAGE BY POINTS", "$primary bold")
        yield from _wrapped([clean(reason(figures.known))], width)
        return
    columns = [("ext.", figures.extended), ("now", figures.now), ("full", figures.full)]
    columns = [(head, one) for head, one in columns if one.wheel_mm.known]
    heads = "".join(head.rjust(CELL) for head, _ in columns)
    yield Content.styled(f"BY POINTS, {unit_name(Kind.LENGTH, units)}".ljust(NAME) + heads, "$primary bold")
    for name, field, kind in LINKAGE_ROWS:
        cells = (getattr(one, field) for _, one in columns)
        line = Content.styled(name.ljust(NAME), MUTED)
        yield line + Content.styled(
            "".join(present.number(cell, kind, units, CELL, _DECIMALS.get(kind)) for cell in cells), "$figure bold"
        )
    if figures.progression_pct.value is not None:
        yield Content.styled("Progression".ljust(NAME), MUTED) + Content.styled(
            f"{figures.progression_pct.value:+.1f} %".replace("-", MINUS).rjust(CELL), "$figure bold"
        )


def ratio_plot(
    figures: PointsFigures, units: Units, width: int, *, plain: bool, lines: int = PLOT_LINES
) -> Iterator[Content]:
    """Motion ratio over wheel travel, by points as a line and between measured pairs as dots; below it the travel, with
    the place of now."""
    if not figures.ratios:
        return
    across, up = (width, lines) if plain else (width * 2, lines * 4)
    end_mm = figures.ratios[-1][0]
    pairs = [(mm, ratio) for mm, ratio in figures.pair_ratios if mm <= end_mm]
    values = [ratio for _, ratio in (*figures.ratios, *pairs)]
    low, high = min(values), max(values)
    span = max(high - low, 0.01)
    dots: set[tuple[int, int]] = set()
    for column in range(across):
        mm = end_mm * column / (across - 1)
        _, ratio = min(figures.ratios, key=lambda one: abs(one[0] - mm))
        dots.add((column, round((up - 1) * (ratio - low) / span)))
    for mm, ratio in pairs:
        column, row = round((across - 1) * mm / end_mm), round((up - 1) * (ratio - low) / span)
        dots |= {(column + x, row + y) for x in (-1, 0, 1) for y in (-1, 0, 1)}
    yield Content.styled(f"{FIGURE_NAMES['motion_ratio'].upper()} OVER TRAVEL", "$primary bold")
    yield Content.styled(f"{high:.3f}", MUTED)
    yield from (Content.styled(line, "$figure") for line in dotted(dots, width, lines, plain=plain))
    yield Content.styled(f"{low:.3f}", MUTED)
    now_mm, end = figures.now.wheel_mm.value, show(end_mm, Kind.LENGTH, units)
    marks = [] if now_mm is None else [PlotMark("N", now_mm)]
    yield Content(f"{scale(marks, end_mm, max(12, width - len(end) - 1))} {end}")
    words = [*(["N: now"] if marks else []), *(["thick: measured pairs"] if pairs else [])]
    yield Content.styled(", ".join(words), MUTED)


def _wrapped(notes: Iterator[str] | list[str], width: int) -> Iterator[Content]:
    for note in notes:
        yield from (Content.styled(line, MUTED) for line in textwrap.wrap(note, max(20, width), break_on_hyphens=False))


def linkage_short(figures: PointsFigures, units: Units) -> Iterator[Content]:
    """What matters most, a line each, for a window with no room beside the form."""
    if not figures.known.known:
        yield Content.styled(clean(reason(figures.known)), MUTED)
        return
    for name, one in (("extended", figures.extended), ("now", figures.now), ("at full travel", figures.full)):
        ratio = one.ratio.value
        if ratio is None:
            yield Content.styled(clean(full_needs(figures)), MUTED)
        else:
            yield Content.styled(f"{FIGURE_NAMES['motion_ratio']} {name} ", MUTED) + Content.styled(
                show(ratio, Kind.RATIO, units), "$figure bold"
            )
