"""What holds for all tests: records are frozen at run time, and no test is timed."""

from __future__ import annotations

import gc

from hypothesis import HealthCheck, settings

from frozen_records import freeze_records

freeze_records()  # before any other module of the program is imported

# No test is timed: on a busy machine any of them may take long.
settings.register_profile("untimed", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("untimed")

# pytest --hypothesis-profile=few: for mutation testing, where every test is run many times on a busy machine.
settings.register_profile(
    "few", max_examples=12, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)


gc.disable()  # until everything is collected: little of what is made meanwhile is garbage


def pytest_collection_finish() -> None:
    """What was collected lives as long as the run: looking for garbage in it again and again takes a tenth of the time.

    Looking ten times more seldom at what the tests leave saves another twentieth.
    """
    gc.collect()
    gc.freeze()
    gc.enable()
    gc.set_threshold(20_000, 20, 100)
