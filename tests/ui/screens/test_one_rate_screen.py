"""One rate in place of springs whose rate changes, over the list of springs."""

from __future__ import annotations

from pathlib import Path

import make_samples
from driving import USUAL, app_on, on_disk, shown
from stanchion.ui.screens.one_rate import OneRateScreen
from timing import at_rest


async def test_it_is_named_where_a_rate_changes_and_shows_both_rates_with_their_curves(tmp_path: Path) -> None:
    app = app_on(tmp_path, make_samples.progressive_fork(), "springs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert "^R one rate" in shown(app).splitlines()[-1]
        await pilot.press("tab")
        await at_rest(pilot)
        assert "one rate" not in shown(app).splitlines()[-1], "the shock's spring has one"
        await pilot.press("tab")
        await at_rest(pilot)
        before = on_disk(app)
        await pilot.press("ctrl+r")
        await at_rest(pilot)
        assert isinstance(app.screen, OneRateScreen)
        text = shown(app)
        assert "7.35           8.21" in text
        assert "as fitted, and in grey same rider sag" in text
        assert "Estimates: the curve of the springs fitted goes by their label." in text
        await pilot.press("tab")
        await at_rest(pilot)
        assert "in grey same at full" in shown(app)
        await pilot.press("escape")
        await at_rest(pilot)
        assert not isinstance(app.screen, OneRateScreen)
        assert on_disk(app) == before
