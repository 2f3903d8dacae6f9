"""The user's settings, and the job and screen to start with, each with its file."""

from __future__ import annotations

import threading
from dataclasses import replace

from stanchion.store.paths import Places
from stanchion.store.settings import (
    LastPlace,
    load_last_place,
    load_settings,
    save_last_place,
    save_settings,
)
from stanchion.units.known_units import Units, with_next
from stanchion.wording.american import WORDINGS, choose_wording


class Preferences:
    """The settings while the program runs.

    Args:
        where: the folders.
    """

    def __init__(self, where: Places) -> None:
        found = load_settings(where)
        self.settings = found.settings
        choose_wording(self.settings.wording)
        self.problems = found.problems
        """Messages on what could not be read."""
        self._places = where
        self._saved = self.settings
        self._lock = threading.Lock()  # several workers may write the settings
        self._place: LastPlace | None = None

    @property
    def units(self) -> Units:
        """Display units, in which bare numbers are read too."""
        return self.settings.units

    def next_unit(self, what: str) -> None:
        """Show lengths, rates, pressures or masses in their next unit."""
        self.settings = replace(self.settings, units=with_next(self.settings.units, what))

    def next_wording(self) -> None:
        """Use the other trade words and spelling: British or American."""
        other = WORDINGS[1 - WORDINGS.index(self.settings.wording)]
        self.settings = replace(self.settings, wording=other)
        choose_wording(other)

    def choose_theme(self, name: str) -> None:
        """Choose another theme."""
        self.settings = replace(self.settings, theme=name)

    def save(self) -> None:
        """Write the settings, where they have changed. Waits for the disk.

        Raises:
            NotSaved: they apply until the program ends, but could not be written.
        """
        with self._lock:
            settings = self.settings
            if settings != self._saved:
                save_settings(settings, self._places)
                self._saved = settings

    # --- where one left off: only for the screen's thread ------------------------------------------------------------

    def last_place(self) -> LastPlace:
        """Job and screen of the last run."""
        return load_last_place(self._places)

    def remember(self, job: str, screen: str = "") -> None:
        """Note the open job and the screen shown, for the next start.

        Args:
            job: file name of the open job; empty: nothing is noted.
            screen: name of the screen; empty: the one noted last.
        """
        if self._place is not None and self._place.faulted:
            return  # the fault stays noted for the next start, whatever is written as the program ends
        place = LastPlace(job, screen or (self._place.screen if self._place is not None else ""))
        if job and place.screen and place != self._place:
            self._place = place
            save_last_place(place, self._places)

    def note_fault(self, job: str) -> None:
        """Note that a fault of the program ended it with this job open: the next start does not open it by itself.

        Args:
            job: file name of the job; empty: nothing is noted.
        """
        if job:
            self._place = LastPlace(job, self._place.screen if self._place is not None else "", faulted=True)
            save_last_place(self._place, self._places)

    def forget_fault(self) -> None:
        """Remember jobs and screens again, after a job was opened since the fault."""
        if self._place is not None and self._place.faulted:
            self._place = None
