"""Frequency and damping of both ends, in words."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.model import ENDS, End
from stanchion.job.spec import Kind
from stanchion.judgement.criteria.thresholds import DAMPING_CHANGE
from stanchion.judgement.results.damping import DampingFigures
from stanchion.judgement.results.figures import Figure
from stanchion.planning.damping_compared import EarlierDamping
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.wording.american import worded
from stanchion.wording.finding_words import reason
from stanchion.wording.prediction_sentences import omitted_words

Named = tuple[str, str]
"""The name of a figure, at most 20 columns, and what there is under it."""

NONE = "–"
NOTHING_DAMPED = "By springs and masses alone: tyres rigid, small movements about rider sag, air squeezed slowly."
"""What holds of every figure here."""
NO_SHEET = "The damping ratio itself is known only with a damper measured on a dynamometer."
ESTIMATED_MASS = "sprung mass is an estimate: weigh both wheels with the rider aboard, and enter the unsprung mass"

DAMPING_ROWS: tuple[tuple[str, str, Kind | None, str], ...] = (
    ("Wheel rate", "wheel_rate_n_per_mm", Kind.RATE, ""),
    ("Sprung mass", "sprung_kg", Kind.MASS, ""),
    ("Frequency", "frequency_hz", None, "Hz"),
    ("Critical damping", "critical_n_s_per_mm", None, "N s/mm"),
)
"""What is shown of an end: name, field of EndDamping, kind, and the unit where there is none to choose."""


def damping_value(value: float, kind: Kind | None, unit: str, units: Units) -> str:
    """A figure of an end with its unit.

    >>> from stanchion.units.known_units import METRIC
    >>> damping_value(2.251, None, "Hz", METRIC), damping_value(22.06, Kind.RATE, "", METRIC)
    ('2.25 Hz', '22.06 N/mm')
    """
    return show(value, kind, units) if kind is not None else f"{value:.2f} {unit}"


def change_words(ratio: float, what: str = "rebound damping") -> str:
    """How much more or less damping another spring or rider wants.

    >>> change_words(1.1456), change_words(0.93), change_words(1.004)
    ('about 15 % more rebound damping', 'about 7 % less rebound damping', 'the same rebound damping')
    """
    percent = round(100.0 * (ratio - 1.0))
    if not percent:
        return f"the same {what}"
    return f"about {abs(percent)} % {'more' if percent > 0 else 'less'} {what}"


def earlier_name(earlier: EarlierDamping) -> str:
    """What is compared with, as the head of a column."""
    return earlier.on.isoformat() if earlier.what == "job" else f"run {earlier.run + 1}"


def wanted_words(earlier: EarlierDamping) -> str:
    """What both ends want now beside then, in one sentence; empty where nothing is known."""
    ratios = {end: earlier.damping[end].value for end in ENDS}
    parts = [f"{end} {change_words(ratio)}" for end, ratio in ratios.items() if ratio is not None]
    if not parts:
        return ""
    since = f"on {earlier.on.isoformat()}" if earlier.what == "job" else f"in run {earlier.run + 1}, the best lap"
    known = [ratio for ratio in ratios.values() if ratio is not None]
    if all(abs(ratio - 1.0) < DAMPING_CHANGE for ratio in known):
        return f"Springs and masses ask for no other damping than {since}: {', '.join(parts)}."
    return f"Damped as {since}, for these springs and masses: {', '.join(parts)}."


def frequency_words(now: DampingFigures, earlier: EarlierDamping) -> str:
    """Both frequencies and how they go together, now and then."""
    parts = []
    for name, of in (("now", now), (earlier_name(earlier), earlier.figures)):
        hertz = [
            f"{end} {'about ' if figure.estimate else ''}{figure.value:.2f} Hz"
            for end in ENDS
            if (figure := of.end(end).frequency_hz).value is not None
        ]
        ratio = of.front_to_rear.value
        if hertz:
            parts.append(f"{name} {', '.join(hertz)}" + ("" if ratio is None else f", front to rear {ratio:.2f}"))
    return "; ".join(parts)


def damping_lines(figures: DampingFigures, units: Units) -> Iterator[Named]:
    """The figures of both ends, a line each, and how they go together."""
    for end in ENDS:
        of = figures.end(end)
        parts = []
        for name, field, kind, unit in DAMPING_ROWS:
            figure: Figure = getattr(of, field)
            if figure.value is not None:
                estimate = " (estimate)" if figure.estimate else ""
                parts.append(f"{name.lower()} {damping_value(figure.value, kind, unit, units)}{estimate}")
        if not of.frequency_hz.known:
            parts.append(f"frequency {NONE} {reason(of.frequency_hz)}")
        yield end.capitalize(), ", ".join(parts)
    ratio = figures.front_to_rear
    if ratio.value is not None:
        yield "Front to rear", f"{ratio.value:.2f} by frequency"


def damping_notes(figures: DampingFigures) -> Iterator[str]:
    """Sentences on what the figures rest on."""
    if not any(figures.end(end).frequency_hz.known for end in ENDS):
        return
    yield worded(NOTHING_DAMPED)
    for end in ENDS:
        yield from _rests_on(figures, end)
    yield NO_SHEET


def _rests_on(figures: DampingFigures, end: End) -> Iterator[str]:
    of = figures.end(end)
    if not of.frequency_hz.known:
        return
    if of.sprung_kg.estimate:
        yield f"{end.capitalize()}: {ESTIMATED_MASS}."
    if of.omitted:
        yield f"{end.capitalize()}: the rate leaves out {omitted_words(of.omitted)}, not entered."
