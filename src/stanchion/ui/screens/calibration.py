"""A scale calibrated with known masses: one value at a time, in large digits."""

from __future__ import annotations

from textual.content import Content

from stanchion.bench.calibration_round import CalibrationRound
from stanchion.job.calibration import ScaleCalibration
from stanchion.ui.calibration_lines import calibration_lines, title_of
from stanchion.ui.screens.entry import EntryScreen


class CalibrationScreen(EntryScreen[CalibrationRound, ScaleCalibration]):
    """A calibration from the name of the scale to its result."""

    ends = "Enter keeps it in this job. / or Up: back. Esc leaves."

    def title_now(self) -> str:
        """What is asked now."""
        return title_of(self.going)

    def lines_now(self, width: int, height: int) -> list[Content]:
        """What to do and what is typed; at the end the result."""
        return calibration_lines(self.going, width, height, plain=self.plain)

    def kept(self) -> ScaleCalibration:
        """The calibration."""
        return self.going.calibration()
