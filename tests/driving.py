"""A program on a folder of its own, for tests that drive it by keys."""

from __future__ import annotations

import asyncio
import datetime as dt
from pathlib import Path

from textual.events import Key
from textual.pilot import Pilot

from complete_job import complete_job
from judgement_jobs import put
from stanchion.bench.workspace import Workspace
from stanchion.job.codec import dumps, loads
from stanchion.job.edit import Edit, apply
from stanchion.job.model import Job, Occasion
from stanchion.store.paths import Places
from stanchion.ui.app import StanchionApp
from stanchion.ui.screens.sheet_screen import SheetScreen
from textual_private import drawn, key_of, messages
from timing import settled

TODAY = dt.date(2026, 5, 31)
USUAL = (80, 24)
WIDE = (120, 40)


def workspace_in(folder: Path) -> Workspace:
    """A workspace with all its folders below one."""
    return Workspace(Places(folder / "jobs", folder / "config", folder / "state", folder / "cache"))


def a_job(*edits: tuple[str, object], machine: str = "Grey Mule", rider: str = "B. T.") -> Job:
    """An invented job with some values put in; a path is written with dots, list positions as numbers."""
    job = Job(job=Occasion(machine=machine, rider=rider, venue="Gravel Loop", date=TODAY))
    for path, value in edits:
        steps = tuple(int(step) if step.isdigit() else step for step in path.split("."))
        job = apply(job, Edit(steps, value))
    return job


def many(folder: Path, count: int) -> None:
    """So many jobs in a folder, each with every field filled in."""
    folder.mkdir(parents=True, exist_ok=True)
    sound = dumps(put(complete_job(), job__machine="MACHINE", job__rider="RIDER"))
    for at in range(count):
        # Written by hand, as far as the checksum goes: making and judging each would take an hour for 10,000.
        body = sound.replace(b"MACHINE", b"Machine %d" % (at % 97)).replace(b"RIDER", b"Rider %d" % at)
        (folder / f"job-{at:05}.toml").write_bytes(body)


def app_on(folder: Path, job: Job | None = None, screen: str = "front") -> StanchionApp:
    """The program as it opens on this job, or on an empty folder."""
    workspace = workspace_in(folder)
    if job is not None:
        workspace.create(job)
        workspace.remember(screen)
        workspace.close()
        workspace = workspace_in(folder)
    return StanchionApp(workspace, today=lambda: TODAY)


def on_disk(app: StanchionApp) -> Job:
    """The open job as its file holds it, after what is pending has been written."""
    assert app.workspace.flush()
    return loads((app.workspace.places.jobs / app.workspace.open_name).read_bytes()).job


def bench(app: StanchionApp) -> SheetScreen:
    """The screen shown, which must be one of a job."""
    assert isinstance(app.screen, SheetScreen), app.screen
    return app.screen


async def all_taken(app: StanchionApp) -> None:
    """Wait until every key that came so far has been taken, and what it led to has been done, however long that takes."""
    for _ in range(3):
        await settled(app)
        assert app.is_running, "the program has ended"
        while getattr(app.screen, "early_keys", ()):  # keys for a list that is still being read
            await asyncio.sleep(0.01)
        await app.key_order.earlier_processed()


async def typed(pilot: Pilot[int], text: str) -> None:
    """Type a text and wait until it has been taken. Its keys come without a pause, so that they are drawn as one."""
    for character in text:
        pilot.app.post_message(Key(NAMED.get(character) or key_of(character), {"\n": "\r"}.get(character, character)))
    await all_taken(pilot.app)  # type: ignore[arg-type]
    await pilot.pause()


def burst(app: StanchionApp, keys: str) -> None:
    """Post keys without a pause; their names stand between blanks, digits and letters by themselves."""
    for key in keys.split():
        character = {"full_stop": ".", "enter": "\r", "space": " "}.get(key, key if len(key) == 1 else None)
        app.post_message(Key(key, character))


NAMED = {
    " ": "space",
    ".": "full_stop",
    ",": "comma",
    "/": "slash",
    "-": "minus",
    "+": "plus",
    "[": "left_square_bracket",
    "]": "right_square_bracket",
    "\n": "enter",
}


def shown(app: StanchionApp) -> str:
    """The whole screen as text, as it would stand in a terminal."""
    strips = drawn(app)
    return "\n".join("".join(segment.text for segment in strip) for strip in strips)


def said(app: StanchionApp) -> str:
    """Every message that stands over the screen, whole."""
    return " ".join(messages(app))
