"""The calibration line against a published one: the thermometer of JCGM 100:2008, H.3 (data and results of table H.6 and
of H.3.3 to H.3.5). There the line is that of the correction, which is added; here of what is read too high."""

from __future__ import annotations

import pytest

from stanchion.mechanics.calibration import calibration_line, corrected_reading, line_uncertainty, reads_high

READ = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511]
CORRECTION = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160]
LINE = calibration_line(READ, [-one for one in CORRECTION], about=20.0)


def test_offset_slope_and_their_correlation_are_as_printed() -> None:
    assert -LINE.offset == pytest.approx(-0.1712, abs=5e-5)
    assert LINE.offset_uncertainty == pytest.approx(0.0029, abs=5e-5)
    assert -LINE.slope == pytest.approx(0.00218, abs=5e-6)
    assert LINE.slope_uncertainty == pytest.approx(0.00067, abs=5e-6)
    assert LINE.correlation == pytest.approx(-0.930, abs=5e-4)
    assert LINE.deviation == pytest.approx(0.0035, abs=5e-5)
    assert LINE.freedom == 9.0


def test_the_correction_at_30_degrees_is_as_printed_with_its_uncertainty() -> None:
    high = reads_high(30.0, LINE.about, LINE.offset, LINE.slope)
    assert -high == pytest.approx(-0.1494, abs=5e-5)
    assert corrected_reading(30.0, LINE.about, LINE.offset, LINE.slope) == pytest.approx(30.0 - 0.1494, abs=5e-5)
    assert line_uncertainty(LINE, 30.0).standard == pytest.approx(0.0041, abs=5e-5)
