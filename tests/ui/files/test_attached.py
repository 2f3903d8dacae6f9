"""Files are attached, copied beside the job and opened by keys; those missing are named."""

from __future__ import annotations

from pathlib import Path

import pytest

from driving import USUAL, a_job, app_on, bench, on_disk, said, shown, typed
from stanchion.job.model import Attached
from timing import at_rest, eventually


async def test_a_file_is_attached_copied_and_opened_by_keys(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    photo = tmp_path / "p" / "fork.jpg"
    photo.parent.mkdir()
    photo.write_bytes(b"\xff\xd8\x00picture")
    opened: list[Path] = []
    monkeypatch.setattr("stanchion.bench.attached_files.open_file", opened.append)
    app = app_on(tmp_path / "home", a_job(), "front")
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("escape", "0")
        await eventually(pilot, lambda: "None so far" in shown(app), lambda: shown(app))
        await pilot.press("enter")  # attach a file
        await at_rest(pilot)
        await typed(pilot, str(photo)[:-6])
        await eventually(pilot, lambda: "Tab completes: " in shown(app), lambda: shown(app))
        await pilot.press("tab")
        assert bench(app).sheet.editor.value == str(photo)
        await typed(pilot, "\nnotes.pdf\n")
        await eventually(pilot, lambda: "There is no file 'notes.pdf'" in said(app), lambda: shown(app))
        assert "fork.jpg'" not in said(app)
        await pilot.press("escape", "0")
        await eventually(pilot, lambda: "MISSING: notes.pdf" in shown(app), lambda: shown(app))
        assert on_disk(app).attached == (Attached(path="../../p/fork.jpg"), Attached(path="notes.pdf"))
        assert "Copy fork.jpg beside the job" in shown(app)
        await pilot.press("down", "enter")
        await eventually(pilot, lambda: "files/" in on_disk(app).attached[0].path, lambda: shown(app))
        copy = app.workspace.places.jobs / on_disk(app).attached[0].path
        assert copy.read_bytes() == photo.read_bytes()
        await at_rest(pilot)
        await pilot.press("escape", "0")
        await eventually(pilot, lambda: "Open files/" in shown(app), lambda: shown(app))
        await pilot.press("enter")
        await eventually(pilot, lambda: bool(opened), lambda: shown(app))
        assert opened == [copy]
        await pilot.press("f8", "f8")
        await at_rest(pilot)
        assert on_disk(app).attached == ()
