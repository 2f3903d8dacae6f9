"""One rate in place of springs whose rate changes, as lines of styled text: a table, and both force curves."""

from __future__ import annotations

from collections.abc import Iterator

from textual.content import Content

from stanchion.base.text import clean
from stanchion.job.spec import Kind
from stanchion.judgement.results.figures import Figure
from stanchion.planning.one_rate import OneRate, Sprung
from stanchion.ui import present
from stanchion.ui.figure_rows import MUTED
from stanchion.ui.plot import curve, over
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, unit_name
from stanchion.wording.american import worded
from stanchion.wording.finding_words import reason
from stanchion.wording.prediction_sentences import softer_or_stiffer

NAME, CELL = 24, 12
LEAST_ROWS = 4
"""Lines of a drawn curve at least."""
HEADS = {"same_sag": "same rider sag", "same_full": "same at full"}


def one_rate_lines(
    of: OneRate | Figure, drawn: str, units: Units, width: int, height: int, *, plain: bool
) -> Iterator[Content]:
    """The table, and below it as much of a drawing as there is room for.

    Args:
        of: the comparison, or an absent figure with the reason why there is none.
        drawn: which rate is drawn over the springs fitted: "same_sag" or "same_full".
        units: display units.
        width: columns there are.
        height: lines there are.
        plain: in ASCII, for a terminal that has no braille.
    """
    if isinstance(of, Figure):
        yield Content(clean(reason(of)))
        return
    lines = list(_table(of, units))
    yield from lines
    chosen: Sprung = getattr(of, drawn)
    rows = height - len(lines) - 3
    if rows < LEAST_ROWS or width < NAME or not chosen.points:
        return
    where = "along the fork" if of.end == "front" else "at the rear wheel"
    yield Content.styled(
        f"Force {where} over travel: as fitted, and in {worded('grey')} {HEADS[drawn]}", "$primary bold"
    )
    now = curve(of.fitted.points, width, rows, plain=plain, beside=chosen.points)
    other = curve(chosen.points, width, rows, plain=plain, beside=of.fitted.points)
    yield from (over(one, grey) for one, grey in zip(now, other, strict=True))
    full = show(of.fitted.points[-1][0], Kind.LENGTH, units)
    yield Content.styled("0".ljust(width - len(full)) + full, MUTED)


def _table(of: OneRate, units: Units) -> Iterator[Content]:
    columns = (of.fitted, of.same_sag, of.same_full)
    heads = "".join(head.rjust(CELL + 3) for head in ("as fitted", *HEADS.values()))
    yield Content.styled(("Fork" if of.end == "front" else "Shock").ljust(NAME) + heads, "$primary bold")
    rows = (
        ("One rate each" if of.end == "front" else "One rate", "rate_n_per_mm", Kind.RATE),
        ("Static sag", "static_mm", Kind.LENGTH),
        ("Rider sag", "rider_mm", Kind.LENGTH),
        ("Stiffness there", "stiffness_n_per_mm", Kind.RATE),
        ("Force at full travel", "full_n", Kind.FORCE),
        ("Furthest apart", "most_apart_n", Kind.FORCE),
        ("at a travel of", "most_apart_mm", Kind.LENGTH),
    )
    for name, attribute, kind in rows:
        line = Content.styled(f"{name}, {unit_name(kind, units)}".ljust(NAME), MUTED)
        for column in columns:
            figure: Figure = getattr(column, attribute)
            own = column is of.fitted and attribute in ("rate_n_per_mm", "most_apart_n", "most_apart_mm")
            cell = "" if own else present.number(figure, kind, units, 0).strip()
            if attribute == "most_apart_n" and figure.value and not own:
                cell = f"{show(abs(figure.value), kind, units).split(' ')[0]} {softer_or_stiffer(figure.value)}"
            line += Content.styled(cell.rjust(CELL + 3), "$figure bold")
        yield line
    if of.fitted.full_n.estimate or of.fitted.rider_mm.estimate:
        yield Content.styled("Estimates: the curve of the springs fitted goes by their label.", MUTED)
    for column in columns[1:]:
        if not column.rate_n_per_mm.known:
            yield Content.styled(clean(reason(column.rate_n_per_mm)), MUTED)
            break
