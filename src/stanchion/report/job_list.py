"""The list of jobs as a terminal shows it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

GAP = "  "


def list_lines(jobs: Sequence[Sequence[str]], width: int) -> Iterator[str]:
    """The jobs, numbered, in columns where those fit; otherwise in lines below one another, so that nothing is cut.

    Args:
        jobs: of each the day, machine, rider, venue, verdict and file name.
        width: columns there are.

    >>> job = ("2026-05-31", "Grey Mule", "A. Venn", "Bench", "NOTE gas", "mule.toml")
    >>> list(list_lines([job], 80))
    ['1  2026-05-31  Grey Mule  A. Venn  Bench  NOTE gas  mule.toml']
    >>> list(list_lines([job], 40))
    ['1  2026-05-31  Grey Mule, A. Venn, Bench', '   NOTE gas', '   mule.toml']
    """
    numbers = [str(number) for number in range(1, len(jobs) + 1)]
    table = [(number.rjust(len(numbers[-1])), *cells) for number, cells in zip(numbers, jobs, strict=True)]
    widths = [max(map(len, cells)) for cells in zip(*table, strict=True)]
    if sum(widths) + len(GAP) * (len(widths) - 1) <= width:
        for cells in table:
            yield GAP.join(cell.ljust(room) for cell, room in zip(cells, widths, strict=True)).rstrip()
        return
    for number, day, machine, rider, venue, verdict, name in table:
        indent = " " * (len(number) + len(GAP))
        whose = ", ".join(part for part in (machine, rider, venue) if part)
        yield from _wrapped(f"{number}{GAP}{day}{GAP}{whose}", width, indent + " " * (len(day) + len(GAP)))
        yield from _wrapped(indent + verdict, width, indent)
        yield indent + name


def _wrapped(text: str, width: int, indent: str) -> list[str]:
    return textwrap.wrap(text, width, subsequent_indent=indent, break_on_hyphens=False, break_long_words=False)
