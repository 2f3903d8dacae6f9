"""A study of how well readings repeat: one reading at a time, in large digits, in mixed order."""

from __future__ import annotations

from textual.content import Content

from stanchion.bench.study_round import StudyRound
from stanchion.job.study import Study
from stanchion.ui.screens.entry import EntryScreen
from stanchion.ui.study_lines import study_lines, title_of


class StudyScreen(EntryScreen[StudyRound, Study]):
    """A study from the names to its result."""

    ends = "Enter keeps the study. / or Up: back. Esc leaves."

    def title_now(self) -> str:
        """What is asked now."""
        return title_of(self.going)

    def lines_now(self, width: int, height: int) -> list[Content]:
        """What to do and what is typed; at the end the result."""
        return study_lines(self.going, width, height, plain=self.plain)

    def kept(self) -> Study:
        """The study."""
        return self.going.study()
