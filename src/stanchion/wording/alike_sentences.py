"""The words for advice on a fork whose adjusters stand apart: where both are to be set, and not how far to turn."""

from __future__ import annotations

from typing import cast

from stanchion.wording.advice_phrases import AND_TURNED, TURN
from stanchion.wording.advice_sentences import ADVICE
from stanchion.wording.advice_variants import ADVICE_VARIANTS
from stanchion.wording.finding_tables import Words

_WHERE = "[, {alike_turns:turns} in from fully out][, {alike_out_text:words}][, {alike_in_text:words}]"
_SET, _AND_SET = f"Set both adjusters alike{_WHERE}", f"set both adjusters alike{_WHERE}"
"""At the beginning of a sentence, and within one."""


def _set_alike(words: Words) -> Words:
    """The same where the adjusters of the legs stand apart: where both are to be set, rather than how far to turn."""
    said = words.sentence.replace("Add " + TURN, _SET).replace("Take off " + TURN, _SET)
    said = said.replace(AND_TURNED, f" and {_AND_SET}")
    turned = "turn the adjuster {preload_mm:settable} {turned_way:text}[ ({turns:turns})]"
    return Words(words.headline, said.replace(turned, _AND_SET))


ALIKE_VARIANTS: dict[str, Words] = {
    f"{code}.alike": _set_alike(cast(Words, words))
    for code, words in ADVICE.items()
    if code.startswith(("add_preload", "less_preload", "longer_spacer", "shorter_spacer", "over_limit_shorter"))
}
ALIKE_VARIANTS |= {
    f"{name}_alike": _set_alike(words)
    for name, words in ADVICE_VARIANTS.items()
    if name.startswith("no_spring") and name.endswith((".turns", ".spacer"))
}
