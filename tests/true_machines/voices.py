"""What is said of one end against what else is said of it, and against what the end truly is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

from stanchion.job.model import ENDS
from stanchion.judgement.results.findings import Severity
from stanchion.wording.finding_words import sentence
from true_machines.asks import BAND, OPPOSITE, Ask, advice_at, ask_of, asks_at, ends_of, said, target_at
from true_machines.judged import Contradiction, Judged, asked_at, line
from true_machines.physics import TrueRear
from true_machines.remedies import CLOSE, SURE, UNSURE, WORK, Truth


def opposite_work(judged: Judged) -> Iterator[Contradiction]:
    """Two sentences that send the reader opposite ways at one end."""
    for end in ENDS:
        for one, other in combinations(asks_at(judged.assessment, end), 2):
            kind = _opposed(one, other)
            if kind:
                yield Contradiction(f"a {kind}", end, f"{line(one)} / {line(other)}")


def _opposed(one: Ask, other: Ask) -> str:
    if not one.way or not other.way:
        return ""
    if OPPOSITE[one.way] == other.way:
        return f"opposite: {' / '.join(sorted((one.way, other.way)))}"
    ways = {one.way, other.way}
    if ways == {"stiffer", "more"}:
        return "stiffer spring beside more preload"
    return "softer spring beside less preload" if ways == {"softer", "less"} else ""


def opposite_words(judged: Judged) -> Iterator[Contradiction]:
    """The same, read in the words of everything found at an end."""
    for end in ENDS:
        found_ones = [one for one in judged.assessment.findings if ends_of(one) == (end,) and one.code not in BAND]
        for extra in (advice_at(judged.assessment, end), target_at(judged.assessment, end)):
            if extra is not None and extra not in found_ones:
                found_ones.append(extra)
        by_words = [(sentence(one), said(sentence(one))) for one in found_ones]
        for (one, ways), (other, others) in combinations(by_words, 2):
            if any(OPPOSITE[way] in others for way in ways):
                yield Contradiction("a words of opposite ways", end, f"{one} / {other}")


def advice_and_target(judged: Judged) -> Iterator[Contradiction]:
    """The advice on the sags and the sentence for the target, of different work or different numbers."""
    for end in ENDS:
        advice, target = advice_at(judged.assessment, end), target_at(judged.assessment, end)
        one = ask_of(advice) if advice is not None else None
        other = ask_of(target) if target is not None else None
        if one is None or other is None:
            continue
        shown = f"{line(one)} / {line(other)}"
        if one.work in ("measure", "inputs") and other.predicted:
            continue  # nothing is measured, and the target does not say it were
        if (one.work, one.way) != (other.work, other.way):
            yield Contradiction(f"b advice {one.work} {one.way}, target {other.work} {other.way}", end, shown)
            continue
        for name in one.numbers.keys() & other.numbers.keys():
            if abs(one.numbers[name] - other.numbers[name]) > 0.05:
                yield Contradiction("b other numbers in advice and target", end, shown)
                break


def suits_beside_work(judged: Judged) -> Iterator[Contradiction]:
    """ "Springs and preload suit" beside a fault or work on the springs of that end."""
    for end in ENDS:
        advice = advice_at(judged.assessment, end)
        ask = ask_of(advice) if advice is not None else None
        if ask is None or ask.work != "none" or "suit" not in ask.words:
            continue
        for finding in judged.assessment.findings:
            if ends_of(finding) != (end,) or finding is advice or finding.severity is Severity.NOTE:
                continue
            asked = ask_of(finding)
            if finding.code in BAND or (asked is not None and asked.work in WORK[1:]):
                yield Contradiction("c suits beside work", end, f"{line(ask)} / [{finding.code}] {sentence(finding)}")


def lightest_work(judged: Judged) -> Iterator[Contradiction]:
    """Heavier work than would do; work at a sound end; an unsound end that is passed."""
    for one in _against_the_truth(judged):
        made = judged.truth(one.where).made
        bare = isinstance(made, TrueRear) and made.reach is None
        yield replace(one, kind=f"{one.kind} (bare collar)") if bare else one


def preload_against_its_band(judged: Judged) -> Iterator[Contradiction]:
    """Installed preload out of its band or over its limit that is not told of; or told of where it is well inside."""
    for end in ENDS:
        truth = judged.truth(end)
        (low, high), installed = truth.band, truth.installed
        codes = {one.code for one in judged.assessment.findings if ends_of(one) == (end,)} & (
            BAND | {"loose_fully_out"}
        )
        # Out of it by less than two lengths by tape tell, it is a note to measure again.
        borderline = any(
            one.code == "preload_borderline" for one in judged.assessment.findings if ends_of(one) == (end,)
        )
        shown = (
            f"installed {'; '.join(f'{mm:.2f}' for mm in installed)}, band {low:g} to {high:g}; told {sorted(codes)}"
        )
        if borderline and truth.out_of_band() < UNSURE:
            continue
        if max(installed) > high + SURE and not codes & {"preload_high", "preload_over_limit"}:
            yield Contradiction("c preload above its band not told", end, shown)
        if end == "front" and max(installed) > truth.use.front_limit + SURE and "preload_over_limit" not in codes:
            yield Contradiction("c preload over its limit not told", end, shown)
        if min(installed) < low - SURE and not codes - {"preload_high", "preload_over_limit"}:
            yield Contradiction("c preload below its band not told", end, shown)
        if truth.out_of_band() < -SURE and codes:
            yield Contradiction("c preload within its band found wrong", end, shown)


def _made_up(ask: Ask) -> bool:
    """Whether a shorter spacer is made up for at the adjuster, as for installed preload over its limit."""
    return ask.work == "spacer" and ask.way == "less" and ask.finding.values.get("turned_way") == "in"


def _against_the_truth(judged: Judged) -> Iterator[Contradiction]:
    if not judged.believable and judged.case.mode != "unread":
        return
    exact = judged.case.mode in ("exact", "unread")
    sure = SURE if exact else 2.5
    for end in ENDS:
        truth = judged.truth(end)
        ask = asked_at(judged.assessment, end)
        lightest = truth.lightest_by(sure)
        found_ones = f"truly {truth.sags[0]:.2f}, {truth.sags[1]:.2f}; installed {'; '.join(f'{mm:.2f}' for mm in truth.installed)}"
        if ask is not None and ask.work in WORK and lightest is not None:
            shown = f"{line(ask)} / {found_ones}; {lightest} would do"
            if lightest == "none" and ask.work != "none":
                yield Contradiction(f"f sound, yet {ask.work}", end, shown)
            elif WORK.index(ask.work) > WORK.index(lightest):
                yield Contradiction(f"e {ask.work} where {lightest} does", end, shown)
            elif ask.work == lightest and not _made_up(ask) and _way_needed(truth, lightest) not in ("", ask.way):
                yield Contradiction("e the wrong way", end, shown)
            elif (
                ask.work == lightest == "spring"
                and not _nearest_only(ask)
                and ask.way not in truth.springs_that_do(sure)
            ):
                yield Contradiction("e a spring the wrong way", end, shown)
        if not exact and lightest != "none":
            continue
        if ask is not None and ask.work == "none" and truth.ruled_out("none"):
            yield Contradiction("f unsound, yet passed", end, f"{line(ask)} / {found_ones}")
        if ask is not None and ask.work == "none" and truth.out_of_band() > CLOSE:
            yield Contradiction("f out of band, yet passed", end, f"{line(ask)} / {found_ones}")
        if lightest == "none":
            for finding in judged.assessment.findings:
                asked = ask_of(finding)
                if end in ends_of(finding) and asked and asked.work != "none" and ask and finding != ask.finding:
                    yield Contradiction(f"f sound, yet {asked.work} asked for", end, f"{line(asked)} / {found_ones}")
                elif ends_of(finding) == (end,) and finding.code in BAND:
                    shown = f"[{finding.code}] {sentence(finding)} / {found_ones}"
                    yield Contradiction("f sound, yet preload found wrong", end, shown)


def _nearest_only(ask: Ask) -> bool:
    """Whether the spring is said to come nearest and no more."""
    return ask.finding.code.startswith("no_spring")


def _way_needed(truth: Truth, kind: str) -> str:
    """Which way the lightest work goes; what either way would do is taken as the asked one."""
    low, high = truth.use.target(truth.end, "rider")
    static_low, static_high = truth.use.target(truth.end, "static")
    if kind in ("turns", "spacer"):
        if truth.sags[1] > high or truth.sags[0] > static_high:
            return "more"
        if truth.sags[1] < low or truth.sags[0] < static_low:
            return "less"
    return ""
