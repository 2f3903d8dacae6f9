"""Units, words and colours: each command switches to the next one and saves the choice."""

from __future__ import annotations

from collections.abc import Callable

from stanchion.ui.core import CoreApp
from stanchion.ui.theme import Themes, theme_problem


class UnitsAndTheme:
    """Shows values in other units, sentences in American or British words, and the screens in other colours.

    Args:
        app: the application.
    """

    def __init__(self, app: CoreApp) -> None:
        self._app = app
        self._preferences = app.workspace.preferences
        self._themes = Themes(app.workspace.places.config / "themes")
        self.names = self._themes.names
        """The names of all themes."""
        wanted = self._preferences.settings.theme
        app.messages += [*self._themes.problems, *theme_problem(wanted, self.names)[:1]]
        self.take_theme(wanted if wanted in self.names else self.names[0])

    def take_theme(self, name: str) -> None:
        """Show the screens in the theme of this name; it is read when it is first taken."""
        if name not in self._app.available_themes:
            self._app.register_theme(self._themes[name])
        self._app.theme = name

    def next_theme(self) -> None:
        """Switch to the next theme."""
        at = self.names.index(self._app.theme) if self._app.theme in self.names else -1
        self.take_theme(self.names[(at + 1) % len(self.names)])
        self._change(lambda: self._preferences.choose_theme(self._app.theme))

    def next_unit(self, what: str) -> None:
        """Show lengths, rates, pressures or masses in their next unit, and say which it is."""
        self._change(lambda: self._app.workspace.next_unit(what))
        self._app.say(f"{what.capitalize()} in {getattr(self._app.workspace.units, what)}.", "units")

    def next_wording(self) -> None:
        """Use American trade words and spelling in place of British ones, or back, and say which."""
        self._change(self._preferences.next_wording)
        american = self._preferences.settings.wording == "us"
        self._app.say(f"Trade words in {'American' if american else 'British'} English.", "wording")

    def _change(self, change: Callable[[], None]) -> None:
        change()
        self._app.refresh_screens()
        self._app.write_aside(self._preferences.save, "settings")
