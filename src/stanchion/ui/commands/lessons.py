"""The help, its worked pages, and beginning their exercises."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.screen import ModalScreen

from stanchion.wording import lesson_sentences as words

if TYPE_CHECKING:
    from stanchion.report.lesson_figures import LessonCode
    from stanchion.ui.commands.jobs import Jobs
    from stanchion.ui.core import CoreApp


def show_help(app: CoreApp, jobs: Jobs) -> None:
    """Show the help, beginning with the current screen; from there Enter leads to the worked pages."""
    from stanchion.ui.screens.dialogs import HelpScreen  # noqa: PLC0415 - not needed to start

    def closed(learns: bool | None) -> None:  # noqa: FBT001 - as Textual calls it
        if learns:
            _show_lessons(app, jobs)

    if not isinstance(app.screen, ModalScreen):
        app.push_screen(HelpScreen(app.keys, app.shown.name_of or app.current_mode), closed)


def _show_lessons(app: CoreApp, jobs: Jobs) -> None:
    """Show the list of pages, the page chosen, and begin its exercise where that is asked for."""
    from stanchion.bench.exercise import exercise_job  # noqa: PLC0415
    from stanchion.report.lesson_figures import lesson_of  # noqa: PLC0415
    from stanchion.ui.screens.lessons import LessonList, LessonScreen  # noqa: PLC0415

    def chosen(code: LessonCode | None) -> None:
        if code is None:
            return

        def asked(begins: bool | None) -> None:  # noqa: FBT001 - as Textual calls it
            if begins:
                job = exercise_job(code)
                if jobs.opened(lambda: app.workspace.create(job), lesson_of(code).screen):
                    app.say(words.BEGUN)

        app.push_screen(LessonScreen(code, app.workspace.units), asked)

    app.push_screen(LessonList(), chosen)
