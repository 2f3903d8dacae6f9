"""What the README tells of a weekend can be done with those keys, and is what the screens say."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from driving import on_disk, shown
from tour import NEXT_WEEKEND, SATURDAY, tour

pytestmark = pytest.mark.usefixtures("every_frame")

README = (Path(__file__).parents[2] / "README.md").read_text("utf-8")
TOUR = README.partition("## A weekend with one machine")[2].partition("\n## ")[0]


async def test_the_tour_of_the_readme_is_what_the_program_does(tmp_path: Path) -> None:
    seen, laps, pictures = "", 0, []
    async for stop, app in tour(tmp_path):
        seen += " ".join(shown(app).split()) + "\n"
        laps = max(laps, len(on_disk(app).runs))
        pictures.append(stop.picture)
    quoted = [" ".join(text.split()) for text in re.findall(r"`([^`]+)`", TOUR)]
    words = [text for text in quoted if text not in ("-", "stanchion sample soft_springs", "well_set")]
    assert len(words) >= 10
    assert [text for text in words if text not in seen] == []
    assert laps == 4  # two stand in the sample
    assert {f".pictures/{name}.svg" for name in pictures if name} == set(re.findall(r"\((\.pictures/.*?)\)", README))
    days = {f"{day:%Y-%m-%d}" for day in (SATURDAY, NEXT_WEEKEND)}
    assert set(re.findall(r"\d{4}-\d\d-\d\d", seen)) == days  # none of the day on which the pictures were made
    after = on_disk(app)
    assert after.job.date == NEXT_WEEKEND.date()
    assert (after.front.left.spring.rate_n_per_mm, after.rear.rebound.now) == (10.25, 10.0)
    assert not after.runs
    assert not after.sag.front.rider.down_mm
    assert list(tmp_path.rglob("sheets/*.html"))
