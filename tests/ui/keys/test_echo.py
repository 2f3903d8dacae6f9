"""What is typed is drawn before what follows from it is judged."""

from __future__ import annotations

from pathlib import Path

import pytest

from driving import USUAL, a_job, app_on
from stanchion.job.model import Job
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.results.assessment import Assessment
from stanchion.ui.widgets.live_text import BigFigure
from timing import at_rest

pytestmark = pytest.mark.usefixtures("every_frame")


async def test_an_echo_waits_for_no_judging_and_fast_keys_are_judged_together(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    events: list[str] = []

    def judging(job: Job, profiles: Profiles, previous: Job | None = None) -> Assessment:
        events.append("judged")
        return assess(job, profiles, previous)

    app = app_on(tmp_path, a_job(("front.left.spring.free_length_mm", 250.0)))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("down", "down")
        await at_rest(pilot)
        monkeypatch.setattr("stanchion.bench.session.assess", judging)
        monkeypatch.setattr(app, "post_display_hook", lambda: events.append("drawn"))
        await pilot.press("2", "3", "8")
        await at_rest(pilot)
        assert "drawn" in events[: events.index("judged")]
        assert events.count("judged") <= 3
        assert app.screen.query(BigFigure).first().value.strip() == "12.0"
