"""Where what is said of a job contradicts itself, or the machine as it truly is: every check there is.

Each gives contradictions: a kind that can be counted, and the words that show it. A check that a machine's job does not
meet the conditions of gives none.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from true_machines.judged import Contradiction, Judged
from true_machines.legs import legs_by_another_name
from true_machines.lists import the_list_of_springs, the_text
from true_machines.measurements import (
    forecasts,
    inputs_in_doubt,
    measured_or_predicted,
    topped_out_is_topped_out,
    travel_used,
)
from true_machines.voices import (
    advice_and_target,
    lightest_work,
    opposite_words,
    opposite_work,
    preload_against_its_band,
    suits_beside_work,
)
from true_machines.whole_list import the_whole_list
from true_machines.work_done import remedies_keep_their_promise

CHECKS: tuple[Callable[[Judged], Iterator[Contradiction]], ...] = (
    opposite_work,
    opposite_words,
    advice_and_target,
    suits_beside_work,
    preload_against_its_band,
    remedies_keep_their_promise,
    lightest_work,
    legs_by_another_name,
    travel_used,
    measured_or_predicted,
    topped_out_is_topped_out,
    forecasts,
    inputs_in_doubt,
    the_list_of_springs,
    the_text,
    the_whole_list,
)
