"""Which field a key leads to, on a form of two columns with a heading, a gap and a lone field."""

from __future__ import annotations

import pytest

from stanchion.job.model import Path
from stanchion.ui.form_lines import Heading, Row
from stanchion.ui.widgets.grid import Grid

LEFT, RIGHT, ALONE, LOW_LEFT, LOW_RIGHT = (
    ("front", "left", "spring", "rate_n_per_mm"),
    ("front", "right", "spring", "rate_n_per_mm"),
    ("front", "travel_mm"),
    ("front", "left", "air_gap_mm"),
    ("front", "right", "air_gap_mm"),
)
GRID = Grid(
    (
        Heading("Spring", ("left", "right")),
        Row("Rate", (LEFT, RIGHT)),
        Row("Travel", (ALONE,)),
        Heading("Oil"),
        Row("Air gap", (LOW_LEFT, LOW_RIGHT)),
        Row("Gap", (None, None)),
    )
)


@pytest.mark.parametrize(
    ("at", "step", "leads_to"),
    [
        (LEFT, 1, ALONE),
        (RIGHT, 1, ALONE),  # where a column has no field, the last there is
        (ALONE, 1, LOW_LEFT),
        (LOW_RIGHT, 1, None),
        (LOW_LEFT, -1, ALONE),
        (LEFT, -1, None),
    ],
)
def test_down_and_up_keep_to_the_column(at: Path, step: int, leads_to: Path | None) -> None:
    assert GRID.down(at, step) == leads_to


def test_along_goes_in_reading_order_and_round() -> None:
    assert [GRID.along(at, 1) for at in (LEFT, RIGHT, LOW_RIGHT)] == [RIGHT, ALONE, LEFT]
    assert GRID.along(LEFT, -1) == LOW_RIGHT


@pytest.mark.parametrize(
    ("at", "step", "leads_to"),
    [
        (LEFT, 1, LOW_LEFT),
        (RIGHT, 1, LOW_RIGHT),
        (ALONE, -1, LEFT),
        (LOW_RIGHT, 1, LOW_RIGHT),  # beyond the last section there is its last field
        (LOW_RIGHT, -1, RIGHT),
        (RIGHT, -1, LEFT),
    ],
)
def test_sections_begin_below_their_headings(at: Path, step: int, leads_to: Path) -> None:
    assert GRID.section(at, step) == leads_to


def test_every_line_knows_the_heading_it_stands_under() -> None:
    assert [heading.text if heading else "" for heading in map(GRID.heading_over, range(-1, 7))] == [
        *("", "", "Spring", "Spring", "", "Oil", "Oil", ""),
    ]


def test_beside_stops_at_the_edges() -> None:
    assert (GRID.beside(LEFT, 1), GRID.beside(RIGHT, -1)) == (RIGHT, LEFT)
    assert (GRID.beside(RIGHT, 1), GRID.beside(LEFT, -1), GRID.beside(ALONE, 1)) == (None, None, None)


def test_a_page_leads_to_the_nearest_field_in_the_column() -> None:
    assert GRID.away(RIGHT, 3) == LOW_RIGHT
    assert GRID.away(RIGHT, 100) == LOW_RIGHT
    assert GRID.away(LOW_LEFT, -100) == LEFT


def test_a_part_leads_to_its_first_field_and_a_stranger_nowhere() -> None:
    assert GRID.nearest(RIGHT) == RIGHT
    assert GRID.nearest(("front", "right")) == RIGHT
    assert GRID.nearest(("front", "right", "stack", "spacer_mm")) == RIGHT
    assert GRID.nearest(("rear", "stroke_mm")) is None


def test_headings_and_empty_rows_are_no_fields() -> None:
    assert list(GRID.places) == [LEFT, RIGHT, ALONE, LOW_LEFT, LOW_RIGHT]
    assert [GRID.headed(y) for y in range(6)] == [False, True, False, False, True, False]
    assert (GRID.first(), GRID.edge(-1)) == (LEFT, LOW_RIGHT)


def test_a_form_without_fields_leads_nowhere() -> None:
    empty = Grid((Heading("Nothing"),))
    assert (empty.first(), empty.edge(0), empty.nearest(LEFT)) == (None, None, None)
