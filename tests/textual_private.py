"""The private names of Textual that tests use."""

from __future__ import annotations

from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet
from textual.keys import _character_to_key


def parsed_once(kind: type[Stylesheet]) -> None:
    """Let stylesheets of this process share what they have parsed, where text, place and variables are the same."""
    parse = kind._parse_rules
    done: dict[tuple[object, ...], list[RuleSet]] = {}

    def parsed(
        self: Stylesheet,
        css: str,
        read_from: tuple[str, str],
        is_default_rules: bool = False,
        tie_breaker: int = 0,
        scope: str = "",
    ) -> list[RuleSet]:
        variables = frozenset(self._variables.items())
        key = (css, read_from, is_default_rules, tie_breaker, scope, variables)
        if key not in done:
            done[key] = parse(self, css, read_from, is_default_rules, tie_breaker, scope)
        return done[key]

    kind._parse_rules = parsed  # type: ignore[method-assign]


def key_of(character: str) -> str:
    """What Textual calls the key that gives a character."""
    return character if character.isalnum() else _character_to_key(character)
