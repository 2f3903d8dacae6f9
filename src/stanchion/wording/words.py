"""The shape of a finding's words."""

from __future__ import annotations

from typing import NamedTuple


class Words(NamedTuple):
    """How a finding is put into words."""

    headline: str
    """At most 40 characters, no numbers."""
    sentence: str
    """A template."""
