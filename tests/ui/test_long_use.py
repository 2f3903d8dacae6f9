"""Keys pressed at random, through every screen and size, raise nothing and leave a job that can be read.

Here a few hundred keys; STANCHION_KEYS=10000 is the long form, which also tells how memory grew.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path
from random import Random

import pytest

if sys.platform == "win32":
    pytest.skip("peak memory is read off POSIX", allow_module_level=True)

import resource

from complete_job import complete_job
from driving import a_job, app_on
from stanchion.job.codec import loads
from stanchion.ui import idle
from stanchion.units.quantity import _registry

pytestmark = pytest.mark.usefixtures("every_frame")

RESTED_S = idle.RESTED_S
"""As the program has it; other tests do without."""
COUNT = int(os.environ.get("STANCHION_KEYS", "150"))
SIZES = ((80, 24), (120, 40), (100, 30), (40, 10))
KEYS = (
    *(f"f{number}" for number in range(1, 10)),
    *(f"ctrl+{letter}" for letter in "abcdefgklnoprtuvwxyz"),
    *("escape", "enter", "tab", "shift+tab", "up", "down", "left", "right", "pageup", "pagedown", "home", "end"),
    *("backspace", "delete", "space", "plus", "minus", "full_stop", "comma", "slash", "ctrl+home", "ctrl+end"),
    *(list("0123456789") * 3),
    *"abcdefghijklmnoprstuvwxyz",
)
"""All but those that quit."""
LONG = 10_000
"""In a run of so many keys every screen has been open in every size after three quarters, and memory is to stay flat."""
GROWTH = 1.1


def peak_mb() -> float:
    """The most memory this process has held [MB]; on Linux ru_maxrss is in KiB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


@pytest.mark.parametrize("seed", [1, 2])
async def test_random_keys_raise_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int) -> None:
    monkeypatch.setattr(idle, "RESTED_S", RESTED_S)
    dice = Random(seed)
    app = app_on(tmp_path, complete_job() if seed % 2 else a_job(), "front")
    trail: list[str] = []
    peaks: list[float] = []
    if COUNT >= LONG:
        _registry()  # pint takes 17 MB at the first change of unit, which may come late
    try:
        async with app.run_test(size=SIZES[0]) as pilot:
            await pilot.pause()
            for at in range(COUNT):
                if at % max(1, COUNT // 20) == 0:
                    peaks.append(peak_mb())
                trail.append(dice.choice(KEYS))
                await pilot.press(trail[-1])
                if at % 40 == 39:
                    await pilot.resize_terminal(*dice.choice(SIZES))
            print(
                f"most memory at every twentieth of {COUNT} keys [MB]: {[round(peak) for peak in peaks]}, {peak_mb():.0f}"
            )
            assert COUNT < LONG or peak_mb() < peaks[15] * GROWTH
    except Exception as error:
        raise AssertionError(f"after the keys {trail[-20:]}, {len(trail)} in all") from error
    for file in (tmp_path / "jobs").glob("*.toml"):
        loads(file.read_bytes())
