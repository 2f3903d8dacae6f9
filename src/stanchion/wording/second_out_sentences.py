"""The words for advice that a second spring beside the main one be taken out."""

from __future__ import annotations

from stanchion.wording.advice_phrases import INSTALLED, SAGS
from stanchion.wording.finding_tables import Words

_SECOND_OUT = Words(
    "Take out the second spring",
    SAGS
    + "The second spring makes this too stiff: take it out. With the main spring alone, {new_rate_n_per_mm:rate}"
    + INSTALLED
    + ".[ {band_out_text:words}][ {again_text:words}]",
)
SECOND_OUT_VARIANTS: dict[str, Words] = {
    f"{code}.second_out": _SECOND_OUT for code in ("too_stiff", "too_stiff_little_preload", "softer_no_room")
}
"""Words used instead of those that ask for a softer spring."""
