"""Own targets, typed on the machine screen and carried to the next job, by keys alone."""

from __future__ import annotations

from pathlib import Path

from driving import USUAL, a_job, app_on, on_disk, said, shown, typed
from stanchion.job.model import EndTargets, Targets
from stanchion.wording.finding_words import sentence
from timing import at_rest

MANUAL = "the maker's manual, page 31"


async def test_own_targets_count_wherever_the_standard_ones_would_until_one_key_restores_those(tmp_path: Path) -> None:
    job = a_job(
        ("sag.front.hanging_mm", (150.0,)),
        ("sag.front.rider.down_mm", (113.0,)),
        ("sag.front.rider.up_mm", (117.0,)),  # 35 mm: in the standard target of 28 to 38
        ("front.left.spring.free_length_mm", 300.0),
        ("front.left.spring.set_length_mm", 282.0),  # 18 mm of preload: over the standard limit of 15
        ("front.travel_mm", 120.0),
    )
    app = app_on(tmp_path, job, "machine")
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        assert "No own targets are entered" in said(app)
        for _ in range(4):
            await pilot.press("pagedown")
        await at_rest(pilot)
        assert "OWN TARGETS, mm" in shown(app)
        await typed(pilot, "\n\n38\n")  # rider sag, only its low end: the standard target counts still
        await at_rest(pilot)
        assert app.session is not None
        half = [sentence(finding) for finding in app.session.assessment.findings if finding.code == "own_target_half"]
        assert half == [
            "Own targets, front: rider sag at most is missing. Until it is entered, the standard target applies."
        ]
        assert app.session.assessment.sag.front.rider.target == (28.0, 38.0)
        await typed(pilot, "1 3/4 in\n10\n20\n" + MANUAL)
        await at_rest(pilot)
        assert on_disk(app).targets == Targets(
            front=EndTargets(
                rider_low_mm=38.0, rider_high_mm=44.45, preload_low_mm=10.0, preload_high_mm=20.0, source=MANUAL
            )
        )
        await pilot.press("f5")
        await at_rest(pilot)
        assert "38–44.5" in shown(app)
        assert "BELOW" in shown(app)
        assert f"own: {MANUAL}" in shown(app)
        await pilot.press("f3")
        await at_rest(pilot)
        assert "own band 10–20" in shown(app)
        assert "over the limit" not in shown(app)
        await pilot.press("f8", "f8")
        await at_rest(pilot)
        assert on_disk(app).job.carried_from
        assert on_disk(app).targets.front.source == MANUAL
        await pilot.press("f2", "f7")
        await at_rest(pilot)
        assert "The standard targets apply again" in said(app)
        assert on_disk(app).targets == Targets()
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert on_disk(app).targets.front.source == MANUAL
