"""Whether what is shown is saved, in a word for the bar, and why it is not. Pure."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from typing import TYPE_CHECKING

from textual.content import Content

from stanchion.base.text import clean

if TYPE_CHECKING:
    from stanchion.bench.workspace import Workspace


TRIAL_IN_HAND = "trial in hand"
"""Words for a trial in progress, on screens that do not show it."""


def saved_mark(workspace: Workspace, unsaved: str = "") -> Content:
    """Whether what is shown is on disk, in a word.

    It asks the saver itself: the last message from it may be older than the edit drawn beside the word.

    Args:
        workspace: the open job and its saving.
        unsaved: what is shown but is no part of the job, which may itself be saved.
    """
    session, state = workspace.session, workspace.save_state()
    if session is not None and session.read_only:
        return Content.styled("READ ONLY", "bold")
    if state is None:
        return Content("")
    if state.status == "conflict":
        return Content.styled("CHANGED ON DISK", "bold reverse")
    if state.status == "failed":
        return Content.styled("NOT SAVED", "bold reverse")
    if state.status == "pending":
        return Content("saving")
    if unsaved:
        return Content(unsaved)
    return Content(f"saved {dt.datetime.fromtimestamp(state.at):%H:%M:%S}" if state.at else "saved")


def save_trouble(workspace: Workspace, copies: Sequence[str]) -> str:
    """Why the job shown is not on disk; otherwise that there are copies; empty if neither applies.

    Args:
        workspace: the open job and its saving.
        copies: file names of the other copies of the open job.
    """
    if workspace.session is not None and workspace.session.read_only and workspace.notes:
        return clean(" ".join(workspace.notes), 400)
    state = workspace.save_state()
    if state is None or state.status == "pending":
        return copies_words(copies)
    kept = " Your edits are kept, and saving is tried again by itself." if state.status == "failed" else ""
    return clean((state.cause or state.caution) + kept, 400) or copies_words(copies)


def copies_words(copies: Sequence[str]) -> str:
    """Words on other copies of the open job, and what to do; empty if there are none."""
    if not copies:
        return ""
    more = f" and {len(copies) - 1} more" if len(copies) > 1 else ""
    return f"Another copy of this job exists: {clean(copies[0], 80)}{more}. Esc g merges them field by field."
