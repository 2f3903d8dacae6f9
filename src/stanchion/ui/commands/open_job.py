"""What is done to the open job beside filling its sheets: undo, legs, trials, springs, long texts."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from stanchion.base.errors import StanchionError
from stanchion.bench.session import Session
from stanchion.bench.trial import Trial
from stanchion.job.edit import spec_at
from stanchion.job.model import Job, Path
from stanchion.job.spec import Text
from stanchion.judgement.criteria.thresholds import ADJUSTER_STEP
from stanchion.judgement.missing import PARTS, next_missing
from stanchion.judgement.results.findings import Severity
from stanchion.ui.commands.saving import SavingApp
from stanchion.ui.keys import shown
from stanchion.ui.present import on_screen
from stanchion.ui.screens.bench import BenchScreen
from stanchion.ui.screens.job_screen import JobScreen, WorkScreen
from stanchion.ui.widgets.sheet import Sheet
from stanchion.wording.changes import step_in_words
from stanchion.wording.finding_words import label, sentence

if TYPE_CHECKING:
    from stanchion.bench.stock_session import StockSession
    from stanchion.planning.spring_option import Option


class WorkApp(SavingApp):
    """Commands on the open job."""

    def action_undo(self) -> None:
        """One step back."""
        at = self.screen.field_in_hand if isinstance(self.screen, WorkScreen) else None
        for hand in self._hands():
            before = hand.subject
            if hand.undo(at):
                if isinstance(hand, Session) and isinstance(before, Job):
                    self._tell_step("Undone", hand.job, before)
                    self._stock_follows(before, hand.job)
                break
        else:
            self.say("There is nothing to undo.")
        self.refresh_bench()

    def action_redo(self) -> None:
        """One step forward again."""
        for hand in self._hands():
            before = hand.subject
            if hand.redo():
                if isinstance(hand, Session) and isinstance(before, Job):
                    self._tell_step("Done again", before, hand.job)
                    self._stock_follows(before, hand.job)
                break
        else:
            self.say("There is nothing to redo.")
        self.refresh_bench()

    def _hands(self) -> list[Session | StockSession]:
        """What undo goes back over: what the screen changes, and the job where a trial has just become part of it."""
        hand, trial = self.in_hand, self.trial
        hands = [hand] if hand is not None else []
        if trial is not None and hand is trial.copy and trial.just_applied:
            hands.append(trial.session)
        return hands

    def _tell_step(self, word: str, earlier: Job, later: Job) -> None:
        """What the step taken back, or again, was; in place of what the one before it was."""
        told = step_in_words(earlier, later, self.workspace.units) if earlier is not later else ""
        if told:
            self.clear_notifications()
            self.say(f"{word}: {told}.")

    def _stock_follows(self, earlier: Job, later: Job) -> None:
        """Springs that undo takes out of the job go back into the van, and the other way round."""
        if self.workspace.spring_stock_in_use and self.workspace.spring_stock.follow(earlier, later):
            self.save_stock()
            self.say("The van's stock goes with it.")

    def _say_refused(self, refused: str) -> None:
        """Show the job again, and say why a change was refused; nothing is said of one that was made."""
        if refused:
            self.say(refused)
        self.refresh_bench()

    def action_split_legs(self) -> None:
        """Enter the legs apart, or as one again."""
        session = self.session
        if session is None or self.current_mode != "front":
            return
        front = session.job.front
        if front.right is None or front.right == front.left:
            self._say_refused(session.split_legs())
            return

        def answered(answer: str | None) -> None:
            if answer == "join":
                self._say_refused(session.split_legs())

        answers = (("keep", "Keep the legs apart"), ("join", "Join them: the left leg's values stand for both"))
        self.ask(
            "The legs differ",
            "Joined, the right leg's own values go. Undo brings them back.",
            answers,
            answered,
        )

    def action_guide(self) -> None:
        """Take the readings of the screen in hand one at a time; afterwards the sheet is at the last one in hand."""
        screen = self.screen
        if self.session is None or not isinstance(screen, BenchScreen):
            return
        from stanchion.bench.guided_measuring import PARTS  # noqa: PLC0415
        from stanchion.ui.screens.guide import GuideScreen  # noqa: PLC0415

        part = next((part for part in PARTS if part == screen.name_of), None)
        if part is None:
            return

        self.leave_fields()
        guide = GuideScreen(part, screen.chosen_field)

        def left(_: None) -> None:
            screen.reload()
            if guide.left_at is not None:
                screen.go_to(guide.left_at)

        self.clear_notifications()  # they would lie over what is to be done
        self.push_screen(guide, left)

    def action_next_missing(self) -> None:
        """Take the next reading in hand that a figure of this screen waits for; then those of the other screens."""
        screen = self.screen
        if self.session is None or not isinstance(screen, JobScreen) or screen.name_of not in PARTS:
            return
        path = next_missing(screen.name_of, self.session.assessment, screen.field_in_hand)
        if path is None:
            self.say("No figure waits for a reading.")
            return
        if on_screen(path) != screen.name_of and screen.name_of != "predict":
            place = label(path, both_legs=not self.session.job.front.split)
            self.say(f"Nothing more is missing on this screen. Next: {place}.")
        self.jump(path)

    def action_guide_alone(self) -> None:
        """Sag by one person with a travel marker, or by two."""
        from stanchion.ui.screens.guide import GuideScreen  # noqa: PLC0415

        if isinstance(self.screen, GuideScreen):
            self.screen.toggle_alone()

    def action_correct_reading(self) -> None:
        """The number that was just entered corrects one that was measured wrong."""
        from stanchion.ui.screens.guide import GuideScreen  # noqa: PLC0415

        screen, session = self.screen, self.session
        if not isinstance(screen, BenchScreen | GuideScreen) or session is None:
            return
        self.leave_fields()
        asked = session.asked
        if asked is None:
            self.say("Nothing to correct: first change a rate or a length of spring, spacer or washer.")
            return
        refused = session.correct()
        if refused:
            self.say(refused)
        else:
            undo = shown(self.key("undo").keys)
            self.say(f"Corrected: {asked.end} sag and runs stand, with the new number. {undo}: another part after all.")
        self.refresh_bench()

    def action_apply_trial(self) -> None:
        """What is being tried becomes part of the job."""
        trial = self.trial
        if trial is None or self.current_mode != "trial":
            return
        self.leave_fields()
        before, after = trial.session.assessment.worst, trial.copy.assessment.worst
        if after is Severity.FAULT and before is not Severity.FAULT:
            fault = sentence(trial.copy.assessment.findings[0], trial.copy.units)
            answers = (("no", "Back to the trial"), ("yes", "Make it part of the job all the same"))
            self.ask(
                "The change brings a fault",
                fault,
                answers,
                lambda answer: self._apply(trial) if answer == "yes" else None,
            )
            return
        self._apply(trial)

    def _apply(self, trial: Trial) -> None:
        count = len(trial.changes)
        option, before = trial.chosen, trial.session.job
        refused = trial.apply()
        if refused:
            self.say(refused)
        elif count:
            moved = option is not None and self.workspace.spring_stock.fit(option, before, trial.session.job)
            if moved:
                self.save_stock()
            what = f"{count} change{'s' if count != 1 else ''} made in the job"
            undo = shown(self.key("undo").keys)
            van = " They are off the van's stock, those taken out are on it." if moved else ""
            self.say(f"{what}; {undo} takes {'it' if count == 1 else 'them'} back. Sag is to be measured again.{van}")
        self.refresh_bench()

    def action_drop_trial(self) -> None:
        """Forget what is being tried."""
        if self.trial is not None and self.current_mode == "trial":
            if self.trial.drop():
                self.say(f"What was tried is dropped. {shown(self.key('undo').keys)} brings it back.")
            self.refresh_bench()

    def try_springs(self, option: Option) -> None:
        """Put a choice of springs in as a trial, and show it beside what is fitted."""
        trial = self.trial
        if trial is None:
            return
        from stanchion.planning.spring_choice_edits import as_edits  # noqa: PLC0415

        trial.follow()
        refused = trial.copy.put_all(as_edits(option, trial.copy.job, set_adjuster=True, settable=ADJUSTER_STEP))
        if refused:
            self.say(refused)
        else:
            trial.choose(option)
        self.action_go("trial")

    def action_edit_stock(self) -> None:
        """The springs in the van."""
        from stanchion.ui.screens.stock import StockScreen  # noqa: PLC0415

        if not isinstance(self.screen, StockScreen):
            self.push_screen(StockScreen(), lambda _: self.refresh_bench())

    def save_stock(self) -> None:
        """Write the stock."""
        self.write_aside(self.workspace.spring_stock.save, "stock")

    def write_aside(self, write: Callable[[], None], group: str) -> None:
        """Write something off the thread that draws the screen, and say where that fails.

        Args:
            write: waits for the disk.
            group: name of the workers that write the same.
        """

        def work() -> None:
            try:
                write()
            except StanchionError as error:
                self.call_from_thread(self.say, str(error))

        self.run_worker(work, thread=True, group=group)

    def write_text(self, path: Path, begun: str = "") -> None:
        """Room for a text of several lines; once it is taken over, the field after it is in hand.

        Args:
            path: the field.
            begun: what was typed into it already.
        """
        session = self.session
        if session is None:
            return
        spec = spec_at(path)

        def done(text: str | None) -> None:
            refused = session.put(path, text) if text is not None and text != session.text_of(path) else ""
            if refused:
                self.say(refused)
            self.refresh_bench()
            sheets = self.screen.query(Sheet)
            if sheets and sheets.first().at == path:
                sheets.first().action_down_past()

        longest = spec.longest if isinstance(spec, Text) else 80
        from stanchion.ui.screens.write_text import WriteText  # noqa: PLC0415 - not needed to start

        self.push_screen(WriteText(label(path), session.text_of(path) + begun, longest), done)
