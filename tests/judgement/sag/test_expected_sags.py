"""What an advice says of what comes of it: near which edge, the adjuster at which end, preload in or out of its band."""

from __future__ import annotations

from typing import Any

from judgement_jobs import FULL, advice, put, repeated_sags
from stanchion.job.model import Job
from stanchion.wording.finding_words import sentence

REAR: dict[str, Any] = {
    "rear__motion_ratio": 0.5,
    "rear__spring__rate_n_per_mm": 60.0,
    "rear__spring__set_length_mm": 173.0,
    "rear__collar__pitch_mm": 1.0,
    "rear__collar__now": 2.0,
}
"""7 mm installed, a millimetre below the band of 8 to 18 mm; 2 of 10 turns and mm in."""


def rear(static: float, rider: float, **changes: Any) -> Job:
    return put(FULL, sag__rear=repeated_sags(static, rider), **(REAR | changes))


class TestInstalledPreloadOutOfItsBand:
    def test_the_spring_to_fit_is_named_with_the_length_that_brings_it_in(self) -> None:
        given = advice(rear(21.7, 57.4), "rear")
        assert given.values["new_installed_mm"] == 7.0
        # A millimetre is missing; as much as the adjuster is then in can be taken from it.
        assert given.values["length_low_mm"] == 1.0
        assert given.values["length_high_mm"] == given.values["new_turns"]
        assert "To bring installed preload into its band, take one 1.0 to" in sentence(given)
        assert sentence(given).endswith(" mm longer and turn the adjuster out as much.")

    def test_where_no_length_does_it_says_so(self) -> None:
        # 4 mm are missing, and the adjuster is then 2.75 mm in. With 80 N/mm both sags come to the very middle of their
        # targets: from static to rider the shock takes 105 * 8 = 840 N more, and 840 / 80 is 10.5 mm, 21 mm at the wheel.
        given = advice(rear(4.0, 20.0, rear__spring__rate_n_per_mm=105.0, rear__spring__set_length_mm=176.0), "rear")
        assert (given.values["way"], given.values["new_installed_mm"], given.values["new_turns"]) == (
            "softer",
            4.0,
            2.75,
        )
        assert (given.values["static_after_mm"], given.values["rider_after_mm"]) == (7.5, 28.5)
        assert given.values["band_out"] is True
        assert sentence(given).endswith("Installed preload then stays out of its band.")

    def test_fitted_it_does_not_only_blame_the_readings(self) -> None:
        right = advice(rear(7.5, 28.5, rear__spring__rate_n_per_mm=90.0, rear__collar__now=4.0), "rear")
        assert right.code == "pair_suits_recheck"
        assert sentence(right).endswith(
            "Recheck the lengths, or fit a spring 1.0 to 4.0 mm longer and turn the adjuster out as much."
        )

    def test_in_a_fork_it_is_the_spacer(self) -> None:
        lengths = {"front__left__spring__set_length_mm": 244.0, "front__left__spring__set_length_in_mm": 236.0}
        fork = put(FULL, sag__front=repeated_sags(20.0, 33.0), front__left__adjuster__now=16.0, **lengths)
        assert "or fit a spacer 2.0 to 8.0 mm longer and turn the adjuster out as much." in sentence(
            advice(fork, "front")
        )
        unknown = put(fork, front__top_out__fitted="unknown")  # one would give way
        assert sentence(advice(unknown, "front")).endswith("and where the adjuster was when you read them.")


def test_a_use_without_a_band_still_gets_the_sags_to_expect() -> None:
    """Fork 2 x 11 N/mm, 15 mm installed, 1 mm in, road use of soft springs: static 20 to 30, rider 32 to 42 mm."""
    lengths = {"front__left__spring__set_length_mm": 235.0, "front__left__spring__set_length_in_mm": 227.0}
    fork = put(
        FULL,
        job__use="soft-road",
        sag__front=repeated_sags(13.0, 31.8),
        front__left__spring__rate_n_per_mm=11.0,
        front__left__adjuster__now=2.0,
        **lengths,
    )
    given = advice(fork, "front")
    assert given.code == "shorter_spacer"
    words = sentence(given)
    assert "expect rider 39." in words
    assert "enter the lengths" not in words
    assert "; this use has no band for it." in words
    shorter = given.values["spacer_change_mm"]
    assert isinstance(shorter, float)
    assert given.values["then_installed_mm"] == 15.0 - shorter
    assert sentence(advice(put(fork, front__top_out__fitted="unknown"), "front")).endswith(
        "This use has no band for installed preload: see the manual."
    )


def test_the_turns_stand_beside_the_millimetres_of_the_adjuster() -> None:
    """36 and 40 mm: 3 mm of spacer, which the band allows, and all of the adjuster's 8 mm, which are 16 turns."""
    fork = put(FULL, sag__front=repeated_sags(36.0, 40.0), front__left__adjuster__now=0.0)
    assert "and turn the adjuster 8.0 mm in (16 turns)" in sentence(advice(fork, "front"))


def test_an_adjuster_at_its_end_is_said_to_be_at_either() -> None:
    # 1197 N and 1577 N at the shock: 50 N/mm takes all of 19 mm for 4.9 and 12.5 mm there, 9.9 and 25.1 at the wheel.
    light = advice(rear(3.2, 11.2, rear__spring__rate_n_per_mm=95.0, rear__spring__set_length_mm=171.0), "rear")
    assert light.values["way"] == "softer"
    assert light.values["new_fully_in"] is True
    assert light.values["new_turns"] is None
    assert sentence(light).endswith(
        "50.00 N/mm with 9.0 mm installed, adjuster fully in; expect rider 25.1 mm, static 9.9 mm (both near the edges of their targets)."
    )


def test_expected_sags_closer_to_an_edge_than_readings_tell_are_named() -> None:
    """39.0 and 17.2: 21.8 apart in 23, so that either is 0.6 mm inside at most."""
    fork = put(FULL, sag__front=repeated_sags(17.2, 39.0))
    assert sentence(advice(fork, "front")).endswith("(both near the edges of their targets).")
    assert "near" not in sentence(advice(put(fork, sag__front=repeated_sags(24.0, 40.0)), "front"))
