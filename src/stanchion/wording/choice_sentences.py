"""The words for a choice of springs."""

from __future__ import annotations

VERDICTS: dict[str, str] = {
    "suits": "suits",
    "suits_near_end": "suits, adjuster near end",
    "suits_bind_unknown": "suits, bind not checked",
    "other_spacer": "needs another spacer",
    "borderline": "borderline",
    "low": "preload below its band",
    "high": "preload above its band",
    "check_fit": "check fit",
    "check_length": "its length does not suit",
    "too_soft": "too soft",
    "too_stiff": "too stiff",
    "sags_stay_out": "sags stay out",
    "loose": "loose at full extension",
    "over_limit": "preload over the limit",
    "coil_bind": "coils bind",
    "too_long": "too long: no spacer left",
}
"""What is to be said of a row, at most 24 characters: the room there is at eighty columns."""
