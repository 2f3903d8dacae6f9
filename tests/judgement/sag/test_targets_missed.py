"""The change of preload that comes nearest to both targets where none brings both sags in."""

from __future__ import annotations

from stanchion.job.model import State
from stanchion.judgement.sag.targets import Aims, turned_to_least

AIMS = Aims(targets={"static": (5.0, 10.0), "rider": (25.0, 32.0)}, slack_mm={})


class Sags:
    """Rider sag falls by 1.4 mm for each of preload from 38.8 mm; static sag as it is told to."""

    predicted = True

    def __init__(self, static_from_mm: float, stays_mm: float) -> None:
        self.static_from_mm, self.stays_mm = static_from_mm, stays_mm

    def sag(self, state: State, *, spacer_mm: float = 0.0, turned_mm: float = 0.0) -> float:
        added = spacer_mm + turned_mm
        if state == "rider":
            return 38.8 - 1.4 * added
        return self.static_from_mm - 1.4 * max(0.0, added - self.stays_mm)

    def spacer_for(self, state: State, sag_mm: float) -> None:
        raise AssertionError((state, sag_mm))


def test_a_sag_that_stays_on_its_top_out_spring_does_not_hold_the_other_out() -> None:
    """Static sag stays 11.4 mm up to 20 mm of preload, more than the adjuster has: halfway between what either wants the
    adjuster would be at its end, with 20.7 mm of rider sag. 28.5 mm come with 7.36 mm, and static sag is the same."""
    added = turned_to_least(Sags(11.4, 20.0), AIMS, (0.0, 12.9), 0.0)
    assert 25.5 <= 38.8 - 1.4 * added <= 31.5


def test_where_both_answer_alike_each_lies_as_far_out_as_the_other() -> None:
    """Static sag 15.6 mm: it wants 4 mm at least, as 5.6 / 1.4, and rider sag of 38.8 mm allows 9.86 at most; from
    26.8 mm of static sag on it wants 12: halfway is 10.93 mm, and either is 1.5 mm outside."""
    assert 4.0 <= turned_to_least(Sags(15.6, 0.0), AIMS, (0.0, 20.0), 0.0) <= 9.86
    added = turned_to_least(Sags(26.8, 0.0), AIMS, (0.0, 20.0), 0.0)
    rider, static = 38.8 - 1.4 * added, 26.8 - 1.4 * added
    assert abs((25.0 - rider) - (static - 10.0)) < 0.1
