"""Choosing a word of a field by its first letters."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.job.model import Path
from stanchion.ui.widgets.cells import Fields
from stanchion.wording.finding_words import choice_word


@record
class Unmatched:
    """Letters that begin none of the words of a field."""

    typed: str
    words: tuple[str, ...]


class FirstLetters:
    """The letters typed so far into the current field, if it is chosen from words."""

    def __init__(self) -> None:
        self._path: Path | None = None
        self._typed = ""

    def clear(self) -> None:
        """Forget the letters: the next one begins a word."""
        self._path, self._typed = None, ""

    def choose(self, fields: Fields, path: Path, letter: str) -> Unmatched | None:
        """Set a field to the first word that begins with the letters typed into it, this one included.

        Args:
            fields: what the field belongs to.
            path: the field; one that is chosen, not typed.
            letter: the letter typed now.

        Returns:
            None if a word was found; otherwise the letters, which are forgotten, and the words there are.
        """
        typed = (self._typed if self._path == path else "") + letter.casefold()
        options = fields.options(path) or (True, False)
        words = tuple(choice_word(path, option) for option in options)
        found = next((n for n, word in enumerate(words) if word.casefold().startswith(typed)), None)
        if found is None:
            self.clear()
            return Unmatched(clean(typed), words)
        value = fields.value(path)
        now = options.index(value) if value in options else -1
        if steps := (found - now) % len(options):
            fields.nudge(path, steps)
        self._path, self._typed = path, typed
        return None
