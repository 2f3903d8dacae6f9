"""Textual's cache of drawn lines, kept from holding the widgets of closed screens."""

from __future__ import annotations

from textual._styles_cache import StylesCache


def let_go_of_closed_widgets() -> None:
    """Remember the two backgrounds of a line by their colours, and no longer by the widget that asked too.

    Textual 8 remembers 1024 of them with the line cache of the widget as part of the key, and so holds every line that
    closed screens ever drew: 60 MB after some thousand keys.
    """
    made_by = vars(StylesCache).get("get_inner_outer")
    if made_by is not None and not isinstance(made_by, classmethod):
        StylesCache.get_inner_outer = classmethod(made_by)  # type: ignore[method-assign,assignment]
