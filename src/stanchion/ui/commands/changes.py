"""Changes judged by riding: put one on the work list, record one that a trial made, ask for the rider's verdict."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from typing import TYPE_CHECKING

from textual import events

from stanchion.base.errors import BadEdit
from stanchion.job.complaint import Complaint
from stanchion.job.edit import Edit
from stanchion.job.proof import AT, with_change
from stanchion.planning.change_to_ride import chosen_change, on_work_list
from stanchion.planning.ridden_changes import back_at_once, taken_back
from stanchion.ui import keys
from stanchion.ui.screens.dialogs import Question
from stanchion.ui.verdict_lines import about_both_runs
from stanchion.wording.american import worded
from stanchion.wording.changes import changes_in_words
from stanchion.wording.proof_sentences import verdict_words

if TYPE_CHECKING:
    from stanchion.bench.session import Session
    from stanchion.bench.trial import Trial
    from stanchion.ui.core import CoreApp

BESIDE = {"b": "better", "s": "same", "w": "worse", "1": "better", "2": "same", "3": "worse"}
"""The keys of the verdicts."""


def put_on_work_list(
    program: CoreApp, session: Session, edits: Iterable[Edit], complaints: Iterable[Complaint] = ()
) -> None:
    """Put a change on the work list, and show that; ask first where another list is not finished.

    Args:
        program: the application.
        session: the open job.
        edits: what is changed.
        complaints: what it is meant to help against; empty: what was complained of on the last run.
    """
    job = session.job
    told = tuple(complaints) or (job.runs[-1].complaints if job.runs else ())
    try:
        chosen = session.judged(
            "changes", None, chosen_change, job, tuple(edits), session.profiles, session.previous, told
        )
    except BadEdit as refused:
        program.say(str(refused))
        return
    if chosen is None:
        program.say(worded("There is nothing to set on the machine: change fork, shock, chain or tyres first."))
        return
    title = "; ".join(changes_in_words(chosen.differences, chosen.after, session.units, both=True))

    def answered(answer: str | None) -> None:
        if answer != "take":
            return
        refusal = session.put_all(on_work_list(job, chosen, title))
        program.refresh_after(refusal)
        if not refusal:
            program.action_go("worklist")

    open_list = any(one.code == "work_list_open" for one in session.assessment.findings)
    if not open_list:
        answered("take")
        return
    answers = (("back", "Back: finish that list first"), ("take", "Put this change in its place"))
    program.ask("The work list is not finished", "There is one work list at a time.", answers, answered)


def made_by_trial(trial: Trial, now: dt.datetime) -> tuple[Edit, ...]:
    """The edit that records what a trial makes as a change to be judged; none before the first run, which nothing could
    be compared with."""
    session = trial.session
    if not session.job.runs:
        return ()
    told = session.job.runs[-1].complaints
    chosen = session.judged(
        "changes", None, chosen_change, session.job, trial.edits, session.profiles, session.previous, told
    )
    if chosen is None or back_at_once(chosen.after, chosen.change):
        return ()
    return (Edit(AT, with_change(session.job, chosen.change, now)),)


class VerdictQuestion(Question):
    """Better, same or worse: a letter or a number answers as well as arrows and Enter."""

    def on_key(self, event: events.Key) -> None:
        """Take the letter or number of a verdict."""
        if event.character in BESIDE:
            event.stop()
            self.dismiss(BESIDE[event.character])


def ask_for_verdict(program: CoreApp, session: Session, at: int) -> None:
    """Ask whether a run was better than the one before it, or worse; of a worse one, whether to take the change back.

    Args:
        program: the application.
        session: the open job.
        at: the run.
    """
    if at == 0 and session.job.runs[at].change is None:
        program.say("This is the first run: there is none before it to compare with.")
        return

    def answered(answer: str | None) -> None:
        if not answer:
            return
        verdict = "not_said" if answer == "none" else answer
        refused = session.put(("runs", at, "verdict"), verdict)
        undo = keys.shown(program.key("undo").keys)
        said = verdict_words(session.job.runs[at], at)
        program.refresh_after(refused or (f"{said}. {undo} takes that back." if said else "The verdict is deleted."))
        if not refused and answer == "worse":
            _ask_to_take_back(program, session, at)

    answers = [("better", "b  Better"), ("same", "s  The same"), ("worse", "w  Worse")]
    if session.job.runs[at].verdict != "not_said":
        answers.append(("none", "No verdict: delete the one given"))
    title = f"Was run {at + 1} better than the run before?"
    program.push_screen(VerdictQuestion(title, about_both_runs(session, at), answers), answered)


def _ask_to_take_back(program: CoreApp, session: Session, at: int) -> None:
    """Offer to put on the work list what takes the change of a run back."""
    title = f"before run {at + 1}"
    back = session.judged("changes", None, taken_back, session.job, at, title)
    if back is None:
        return

    def answered(answer: str | None) -> None:
        if answer == "back":
            refused = session.put_all((back,))
            program.refresh_after(refused)
            if not refused:
                program.action_go("worklist")

    answers = (("leave", "Leave it as it is"), ("back", "Take it back: on the work list"))
    text = "The work list then says how to set fork and shock back to what they were before."
    program.ask("Take the change back?", text, answers, answered)
