"""Unread text and a trial come back when a job is opened again, and what cannot come back is named."""

from __future__ import annotations

from pathlib import Path

from driving import a_job, workspace_in

HEIGHT = ("front", "fork_height_mm")


def test_text_that_cannot_be_read_and_changes_the_job_no_longer_takes_are_named(tmp_path: Path) -> None:
    workspace = workspace_in(tmp_path)
    workspace.create(a_job(("front.fork_height_mm", 4.0)))
    workspace.flush()
    name = workspace.open_name
    assert workspace.current is not None
    workspace.current.trial.copy.type(HEIGHT, "7")
    workspace.current.trial.copy.type(("rear", "eye_to_eye_mm"), "3oo")
    workspace.close()
    workspace = workspace_in(tmp_path)
    session = workspace.open(name)
    assert workspace.current is not None
    assert workspace.current.trial.copy.unread == {("rear", "eye_to_eye_mm"): "3oo"}
    assert [change.new for change in workspace.current.trial.changes] == [7.0]
    assert not session.unread
    assert workspace.current.trial.drop()
    workspace.close()
    workspace = workspace_in(tmp_path)
    workspace.open(name)
    assert not workspace.trial_in_hand
    workspace.close()
