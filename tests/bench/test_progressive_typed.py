"""A progressive spring's label typed key by key: nothing breaks, nothing is lost, and one visit is one step of undo."""

from __future__ import annotations

from judgement_jobs import FULL, PROFILES
from stanchion.bench.session import Session
from stanchion.bench.stock_session import StockSession
from stanchion.job.spec import Progressive
from stanchion.judgement.springs.stock import Stock

RATE = ("front", "left", "spring", "rate_n_per_mm")


def typed(session: Session, text: str) -> list[str]:
    """Type a text key by key; the reasons of the drafts on the way, empty where it was read."""
    reasons = []
    for count in range(1, len(text) + 1):
        session.type(RATE, text[:count])
        assert not session.assessment.faults
        reasons.append(session.drafts[RATE].reason if RATE in session.drafts else "")
    return reasons


def test_each_key_is_a_rate_or_a_draft_with_its_reason() -> None:
    session = Session(FULL, PROFILES)
    reasons = typed(session, "8.5-10.5")
    assert [bool(reason) for reason in reasons] == [False, False, False, True, True, False, False, False]
    assert session.value(RATE) == Progressive(8.5, 10.5)
    assert session.text_of(RATE) == "8.5-10.5"
    session.leave(RATE)
    assert session.undo()
    assert session.value(RATE) == 9.5


def test_a_label_left_half_typed_keeps_the_last_value_and_the_text() -> None:
    session = Session(FULL, PROFILES)
    typed(session, "8.5-")
    session.leave(RATE)
    assert session.value(RATE) == 9.5
    assert session.text_of(RATE) == "8.5-"


def test_a_step_moves_both() -> None:
    session = Session(FULL, PROFILES)
    typed(session, "8.5-10.5")
    assert session.nudge(RATE, 1)
    assert session.value(RATE) == Progressive(8.75, 10.75)


def test_the_stock_takes_a_label_too() -> None:
    stock = StockSession(Stock())
    stock.type((0, "rate_n_per_mm"), "8.5-10.5")
    assert stock.stock.rows[0].rate_n_per_mm == Progressive(8.5, 10.5)
