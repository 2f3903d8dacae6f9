"""How well the technician's readings repeat: what is known of it, and a study to know it."""

from __future__ import annotations

import random
from dataclasses import replace
from typing import TYPE_CHECKING

from stanchion.base.errors import StanchionError
from stanchion.bench.own_studies import AT
from stanchion.bench.study_round import StudyRound
from stanchion.job.calibration import SCALES, Calibration, Scale, ScaleCalibration
from stanchion.job.repeatability import STUDIED, Repeatability
from stanchion.judgement.ends.calibrated import calibration_result
from stanchion.judgement.sag.own_reading import noted_readings
from stanchion.wording import calibration_sentences as scales
from stanchion.wording import study_sentences as words

if TYPE_CHECKING:
    from stanchion.job.study import Study
    from stanchion.ui.core import CoreApp

USE, NO_LONGER, GO_ON, SCALE = "use", "no_longer", "go_on", "scale"
CALIBRATION_AT = ("calibration",)
NONE_YET = ScaleCalibration()
ORDERS = 1_000_000
"""How many orders there are to draw from."""


def ask_readings(app: CoreApp) -> None:
    """Show what is known of the technician's readings, and offer a study."""
    session = app.session
    if session is None:
        return
    studies, noted = app.workspace.own_studies, session.job.repeatability
    own = studies.own
    lines = [*studies.kept.problems, words.WHAT_IT_IS, ""]
    lines += [
        "In this job:",
        *(list(words.noted_lines(noted, noted_readings(noted), session.units)) or [words.NO_STUDY]),
    ]
    answers: list[tuple[str, str]] = [
        (of, f"Study: {words.STUDY_OF[of]} ({words.study_size(of)} readings)") for of in STUDIED
    ]
    if studies.going is not None:
        answers.insert(0, (GO_ON, words.GO_ON + words.STUDY_OF[studies.going.of]))
    if own not in (noted, Repeatability()):
        answers.append((USE, f"Use the studies of {own.by or 'this computer'} in this job"))
    if noted != Repeatability():
        answers.append((NO_LONGER, f"Use none in this job: {words.ASSUMED}"))

    answers.append((SCALE, scales.CHOOSE))

    def chosen(answer: str | None) -> None:
        if answer == USE:
            app.refresh_after(session.put(AT, own))
        elif answer == NO_LONGER:
            app.refresh_after(session.put(AT, Repeatability()))
        elif answer == GO_ON and studies.going is not None:
            _go_on(app, studies.going)
        elif answer == SCALE:
            ask_scale(app)
        elif answer in STUDIED:
            seed = random.SystemRandom().randrange(ORDERS)
            _go_on(app, StudyRound(answer, seed, app.today(), app.workspace.units))

    app.ask(words.TITLE, "\n".join(lines), answers, chosen)


def ask_scale(app: CoreApp) -> None:
    """Ask which scale is calibrated, and begin."""
    session = app.session
    if session is None:
        return
    answers: list[tuple[str, str]] = [(scale, scales.SCALE_NAMES[scale]) for scale in SCALES]
    if session.job.calibration != Calibration():
        answers.append((NO_LONGER, scales.NO_LONGER))

    def chosen(answer: str | None) -> None:
        if answer == NO_LONGER:
            app.refresh_after(session.put(CALIBRATION_AT, Calibration()))
        elif answer in SCALES:
            _calibrate(app, answer)

    app.ask(scales.TITLE, scales.WHAT_IT_IS, answers, chosen)


def _calibrate(app: CoreApp, scale: Scale) -> None:
    from stanchion.bench.calibration_round import CalibrationRound  # noqa: PLC0415 - not needed to start
    from stanchion.ui.screens.calibration import CalibrationScreen  # noqa: PLC0415 - not needed to start

    def kept(made: ScaleCalibration | None) -> None:
        session = app.session
        if made is None or session is None:
            return
        if calibration_result(made) is None:
            app.say(scales.NO_LINE)
            return
        now = session.job.calibration
        if scale == "both":  # it takes the place of those of two scales, and they that of it
            now = Calibration()
        after = replace(now, **{scale: made}) if scale == "both" else replace(now, both=NONE_YET, **{scale: made})
        app.refresh_after(session.put(CALIBRATION_AT, after) or scales.KEPT)

    app.push_screen(
        CalibrationScreen(CalibrationRound(scale, app.today(), app.workspace.units), plain=app.only_ascii), kept
    )


def _go_on(app: CoreApp, going: StudyRound) -> None:
    from stanchion.ui.screens.study import StudyScreen  # noqa: PLC0415 - not needed to start

    studies = app.workspace.own_studies

    def kept(study: Study | None) -> None:
        studies.going = going if going.values else None
        if study is None:
            if going.values:
                app.say(words.NOT_WHOLE)
            return
        try:
            studies.add(study)
        except StanchionError as error:
            app.say(str(error))
            return
        session = app.session
        if session is not None:
            app.refresh_after(session.put(AT, studies.own) or words.KEPT)

    app.push_screen(StudyScreen(going, plain=app.only_ascii), kept)
