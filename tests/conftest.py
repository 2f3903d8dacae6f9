"""What holds for all tests: records are frozen at run time, and no test is timed."""

from __future__ import annotations

import gc
import os

from hypothesis import HealthCheck, settings

# Before a module of the program is imported, and for the programs that tests start.
os.environ["STANCHION_FROZEN_RECORDS"] = "1"

# No test is timed: on a busy machine any of them may take long.
settings.register_profile("untimed", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("untimed")

# pytest --hypothesis-profile=few: for mutation testing, where every test is run many times on a busy machine.
settings.register_profile(
    "few", max_examples=12, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)


def pytest_collection_finish() -> None:
    """What was collected lives as long as the run: looking for garbage in it again and again takes a tenth of the time."""
    gc.collect()
    gc.freeze()
