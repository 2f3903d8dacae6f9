"""The lines for what is measured on the bench: unmarked rates, spring testers, top-out springs, stops. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache

from stanchion.job.edit import value_at
from stanchion.job.model import Coils, Job, Path, Spring, Stops, TopOut
from stanchion.job.spec import Kind
from stanchion.judgement.ends.coil_data import coil_data
from stanchion.judgement.ends.spring_law import unmarked_rate
from stanchion.judgement.ends.top_out_bench import as_it_counts
from stanchion.ui.form_lines import FormLine, Heading, Row, most_of, row_of
from stanchion.units.known_units import Units
from stanchion.units.quantity import MINUS, show, show_difference, unit_name


def top_out_lines(units: Units, at: Path, top_out: TopOut) -> Iterator[FormLine]:
    """A top-out spring: rate and length, or in their place its readings on the bench."""
    counts = as_it_counts(top_out)
    for name, kind in (("rate_n_per_mm", Kind.RATE), ("works_over_mm", Kind.LENGTH)):
        value = getattr(counts, name) if getattr(top_out, name) is None else None
        row = row_of(units, (*at, name))
        yield row if value is None else replace(row, texts=(show(value, kind, units).split(" ")[0],))
    yield Heading(
        "Top-out on the bench", (f"at {unit_name(Kind.LENGTH, units)}", f"force {unit_name(Kind.FORCE, units)}")
    )
    path = (*at, "bench")
    for n in range(min(most_of(path), len(top_out.bench) + 1)):
        cells = ((*path, n, "travel_mm"), (*path, n, "force_n"))
        yield row_of(units, *cells, unit="", label=f"Bench pair {n + 1}", across=True)


def tester_lines(units: Units, path: Path, job: Job, name: str) -> tuple[FormLine, ...]:
    """Pairs of a spring tester, and a row to add another."""
    return _tester_lines(units, path, value_at(job, path[:-1]), name)


@lru_cache(maxsize=16)  # most keystrokes leave the coils unchanged
def _tester_lines(units: Units, path: Path, coils: Coils, name: str) -> tuple[FormLine, ...]:
    length, force = unit_name(Kind.LENGTH, units), unit_name(Kind.FORCE, units)
    lines: list[FormLine] = [Heading(name, (f"long {length}", f"force {force}"))]
    off = dict(coil_data(coils, path[:-1]).off_line)
    for at in range(min(most_of(path), len(coils.tester) + 1)):
        more = show_difference(off.get(at, 0.0), 0.0, Kind.FORCE, units)
        by = f"  {'' if more[:1] in f'0{MINUS}' else '+'}{more} off" if at in off else ""
        label = f"Pair {at + 1}{by}"
        row = row_of(units, (*path, at, "length_mm"), (*path, at, "force_n"), unit="", across=True)
        lines.append(replace(row, label=label))
    return tuple(lines)


def stop_lines(units: Units, at: Path, stops: Stops) -> Iterator[FormLine]:
    """Bump rubber or cone, and hydraulic stop; its pairs only once there is a touch point or a pair."""
    for name in ("touches_mm", "rate_n_per_mm", "hydraulic_mm"):
        if name != "rate_n_per_mm" or not stops.pairs:
            yield row_of(units, (*at, name))
    if stops.touches_mm is None and stops.rate_n_per_mm is None and not stops.pairs:
        return
    path = (*at, "pairs")
    for n in range(min(most_of(path), len(stops.pairs) + 1)):
        label = f"Rubber {n + 1}: {unit_name(Kind.LENGTH, units)}, {unit_name(Kind.FORCE, units)}"
        yield row_of(units, (*path, n, "squeezed_mm"), (*path, n, "force_n"), unit="", label=label, across=True)


def with_rates(row: Row, springs: Sequence[Spring | None], units: Units) -> Row:
    """The row of rates, with the rate that is taken in place of one that is not entered; beside a single one, what it
    is from or between what it may lie."""
    texts, after = [], ""
    for spring in springs:
        found = unmarked_rate(spring, ()) if spring is not None and spring.rate_n_per_mm is None else None
        if spring is None or found is None or found.value is None:
            texts.append("")
            continue
        texts.append(("~" if found.estimate else "") + _number(found.value, units))
        between = coil_data(spring.coils, ()).rate_range if found.estimate else None
        after = "by tester" if between is None else "–".join(_number(limit, units) for limit in between)
    if not any(texts):
        return row
    return replace(row, texts=tuple(texts), after=(after,) if after and len(springs) == 1 else ())


def _number(rate_n_per_mm: float, units: Units) -> str:
    """A rate in three digits, without its unit."""
    number = show(rate_n_per_mm, Kind.RATE, units).split(" ")[0]
    return number if "." not in number else f"{float(number):.{max(0, 4 - max(2, len(number.partition('.')[0]) + 1))}f}"
