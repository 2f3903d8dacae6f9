"""What is done on the screens of runs and upkeep beside filling them: logging, stamping, ticking, taking away."""

from __future__ import annotations

from stanchion.base.text import clean
from stanchion.job.edit import Edit
from stanchion.job.measured import on_now
from stanchion.job.model import Path
from stanchion.job.runs import as_ridden, is_blank, new_run
from stanchion.judgement.track.upkeep import changed_since_geometry, changed_since_ratio
from stanchion.ui.commands.open_job import WorkApp
from stanchion.ui.screens.bench import BenchScreen
from stanchion.wording.finding_words import sentence

TORQUES: Path = ("upkeep", "torques")


class TrackApp(WorkApp):
    """Commands on runs and upkeep."""

    # --- runs -----------------------------------------------------------------------------------------------------

    def action_log_run(self) -> None:
        """A run more, with the time and the settings ridden filled in; its first field is in hand at once.

        Not while nothing is recorded of the one before, ridden with the same settings: then the key was pressed once
        too often, and what is typed next belongs to that run. A question would swallow it.
        """
        session = self.session
        if session is None or self.current_mode != "runs":
            return
        self.leave_fields()
        runs = session.job.runs
        if runs and is_blank(runs[-1]) and as_ridden(session.job, runs[-1]) == session.job:
            self.say(f"Nothing is recorded of run {len(runs)} yet, so it stays in hand: its laps alone would do.")
        elif refused := session.put(("runs",), (*runs, new_run(session.job, f"{self.now():%H:%M}"))):
            self.say(refused)
        else:
            for finding in session.assessment.findings:
                if finding.code == "torques_open":
                    self.say(sentence(finding))
        self.refresh_bench()
        self._take_run(len(session.job.runs) - 1)

    def action_run_words(self) -> None:
        """Room for the rider's words, whatever field is in hand."""
        at = self._run_in_hand()
        if at is not None:
            self.write_text(("runs", at, "said"))

    def action_stamp_run(self) -> None:
        """The run in hand was ridden with the settings as the job has them now."""
        session, at = self.session, self._run_in_hand()
        if session is None or at is None:
            return

        def stamp() -> None:
            job = session.job
            edits = (Edit(("runs", at, "front"), job.front), Edit(("runs", at, "rear"), job.rear))
            done = f"Run {at + 1} now stands with the settings of the job. Undo takes that back."
            self.say(session.put_all(edits) or done)
            self.refresh_bench()

        if at == len(session.job.runs) - 1:
            stamp()
            return
        self.ask(
            f"Run {at + 1} is not the latest",
            "The settings it was ridden with would be replaced by those of the job as it is now.",
            (("keep", "Keep the settings it was ridden with"), ("stamp", "It was ridden as the job is now")),
            lambda answer: stamp() if answer == "stamp" else None,
        )

    def action_delete_run(self) -> None:
        """Take the run in hand away, once that is confirmed."""
        session, at = self.session, self._run_in_hand()
        if session is None or at is None:
            return

        def answered(answer: str | None) -> None:
            if answer == "delete":
                if refused := session.remove_row(("runs",), at):
                    self.say(refused)
                self.refresh_bench()
                self._take_run(min(at, len(session.job.runs) - 1))

        began = clean(session.job.runs[at].time)
        answers = (("keep", "Keep it"), ("delete", "Delete it: undo brings it back"))
        title = f"Delete run {at + 1}{f', begun at {began}' if began else ''}?"
        self.ask(title, "Markers, lap, pressures, words and settings ridden go.", answers, answered)

    def _run_in_hand(self) -> int | None:
        at = getattr(self.screen, "run_in_hand", -1) if self.current_mode == "runs" else -1
        return at if at >= 0 else None

    def _take_run(self, at: int) -> None:
        screen = self.screen
        if at >= 0 and isinstance(screen, BenchScreen):
            screen.go_to(("runs", at, "front_marker_mm"))

    # --- upkeep ---------------------------------------------------------------------------------------------------

    def action_tick_torque(self) -> None:
        """The torque in hand, or the first that is open, is done; the next open one comes in hand."""
        session, screen = self.session, self.screen
        if session is None or self.current_mode != "upkeep" or not isinstance(screen, BenchScreen):
            return
        self.leave_fields()
        torques = session.job.upkeep.torques
        at = self._torque_in_hand(screen)
        if at is None or torques[at].done:
            at = next((i for i, torque in enumerate(torques) if not torque.done), None)
        if at is None:
            self.say("Every torque is ticked." if torques else "No torque is listed yet: add one below.")
            return
        if refused := session.put((*TORQUES, at, "done"), value=True):
            self.say(refused)
        self.refresh_bench()
        rest = [i for i, torque in enumerate(session.job.upkeep.torques) if not torque.done]
        following = next((i for i in rest if i > at), rest[0] if rest else at)
        screen.go_to((*TORQUES, following, "done"))

    def action_delete_torque(self) -> None:
        """Take the torque in hand out of the list; undo brings it back."""
        session, screen = self.session, self.screen
        if session is None or self.current_mode != "upkeep" or not isinstance(screen, BenchScreen):
            return
        at = self._torque_in_hand(screen)
        if at is None:
            self.say("Go to the torque that is to be deleted first.")
            return
        name = clean(session.job.upkeep.torques[at].what) or "The torque"
        self.say(session.remove_row(TORQUES, at) or f"{name} is deleted. Undo brings it back.")
        self.refresh_bench()

    def _torque_in_hand(self, screen: BenchScreen) -> int | None:
        path = screen.sheet.at
        if path is None or path[:2] != TORQUES or self.session is None:
            return None
        at = path[2]
        return at if isinstance(at, int) and at < len(self.session.job.upkeep.torques) else None

    def action_measured_again(self) -> None:
        """Say that what is stale was measured again and is still so."""
        session = self.session
        if session is None or self.current_mode != "upkeep":
            return
        ratio = changed_since_ratio(session.job, session.previous)
        geometry = changed_since_geometry(session.job, session.previous)
        if not ratio and not geometry:
            self.say("Nothing is from before a change of chain or tyres.")
            return
        answers = [("no", "No: leave it marked")]
        if ratio:
            answers.append(("ratio", "The motion ratio, and it is still as entered"))
        if geometry:
            answers.append(("geometry", "The geometry, and it is still as entered"))
        if ratio and geometry:
            answers.append(("both", "Both, and they are still as entered"))

        def answered(answer: str | None) -> None:
            paths: list[Path] = []
            if answer in ("ratio", "both"):
                paths.append(("upkeep", "ratio_with"))
            if answer in ("geometry", "both"):
                paths.append(("upkeep", "geometry_with"))
            now = on_now(session.job.upkeep)
            if refused := session.put_all(Edit(path, now) for path in paths):
                self.say(refused)
            self.refresh_bench()

        text = (
            "Confirm only what was measured again with the chain and tyres that are on now. "
            "Where it came out otherwise, type the new value in its field instead."
        )
        self.ask("What was measured again?", text, tuple(answers), answered)
