"""Frequency and damping of both ends, in words."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.model import ENDS, Clicker, End, Front, Rear
from stanchion.job.spec import Kind
from stanchion.judgement.criteria.thresholds import DAMPING_CHANGE
from stanchion.judgement.results.dampers import STROKES
from stanchion.judgement.results.damping import DampingFigures
from stanchion.judgement.results.figures import Figure
from stanchion.planning.damping_compared import EarlierDamping
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.wording.american import worded
from stanchion.wording.finding_words import reason
from stanchion.wording.positions import bare, counted
from stanchion.wording.prediction_sentences import omitted_words

Named = tuple[str, str]
"""The name of a figure, at most 20 columns, and what there is under it."""

NONE = "–"
NOTHING_DAMPED = "By springs and masses alone: tyres rigid, small movements about rider sag, air squeezed slowly."
"""What holds of every figure here."""
NO_SHEET = "the damping ratio needs a damper sheet: the damper measured on a dynamometer"
WHEEL_SPEEDS = "Damping ratios are at vertical speeds of the wheel, by the latest damper sheets, adjusters as set now."
WEIGH, ENTER_UNSPRUNG = "weigh both wheels with the rider aboard", "enter the unsprung mass"

DAMPING_ROWS: tuple[tuple[str, str, Kind | None, str], ...] = (
    ("Wheel rate", "wheel_rate_n_per_mm", Kind.RATE, ""),
    ("Sprung mass", "sprung_kg", Kind.MASS, ""),
    ("Frequency", "frequency_hz", None, "Hz"),
    ("Critical damping", "critical_n_s_per_m", None, "N·s/m"),
)
"""What is shown of an end: name, field of EndDamping, kind, and the unit where there is none to choose."""


def number_words(value: float) -> str:
    """A frequency to a hundredth, damping to a unit.

    >>> number_words(2.2514), number_words(3111.3)
    ('2.25', '3111')
    """
    return f"{value:.0f}" if value >= _WHOLE else f"{value:.2f}"


_WHOLE = 100.0
"""From here on decimals say nothing."""


def damping_value(value: float, kind: Kind | None, unit: str, units: Units) -> str:
    """A figure of an end with its unit.

    >>> from stanchion.units.known_units import METRIC
    >>> damping_value(2.251, None, "Hz", METRIC), damping_value(22.06, Kind.RATE, "", METRIC)
    ('2.25 Hz', '22.06 N/mm')
    """
    return show(value, kind, units) if kind is not None else f"{number_words(value)} {unit}"


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
    if earlier.what == "found":
        return "as found"
    return earlier.on.isoformat() if earlier.what == "job" else f"run {earlier.run + 1}"


def wanted_words(earlier: EarlierDamping) -> str:
    """What both ends want now beside then, in one sentence; empty where nothing is known."""
    ratios = {end: earlier.damping[end].value for end in ENDS}
    parts = [
        f"{end} {change_words(ratio)}{_clicks(earlier, end)}" for end, ratio in ratios.items() if ratio is not None
    ]
    if not parts:
        return ""
    since = {"job": f"on {earlier.on.isoformat()}", "run": f"in run {earlier.run + 1}"}.get(earlier.what, "as found")
    since += ", the best lap" * earlier.best
    known = [ratio for ratio in ratios.values() if ratio is not None]
    if all(abs(ratio - 1.0) < DAMPING_CHANGE for ratio in known):
        return f"These springs and masses want nearly the same damping as {since}: {', '.join(parts)}."
    return f"For the same damping ratio as {since}: {', '.join(parts)}."


def frequency_words(now: DampingFigures, earlier: EarlierDamping) -> str:
    """Both frequencies and how they go together, now and then."""
    parts = []
    for name, of in (("now", now), (earlier_name(earlier), earlier.figures)):
        hertz = [
            f"{end} {figure.value:.2f} Hz{_estimate(figure)}"
            for end in ENDS
            if (figure := of.end(end).frequency_hz).value is not None
        ]
        ratio = of.front_to_rear.value
        if hertz:
            parts.append(f"{name} {', '.join(hertz)}" + ("" if ratio is None else f", front to rear {ratio:.2f}"))
    return "; ".join(parts)


def frequency_cell(figures: DampingFigures, end: End) -> str:
    """The frequency of an end at rider sag, at the rear also how both go together; a dash where it is not known."""
    hertz, together = figures.end(end).frequency_hz, figures.front_to_rear.value
    if hertz.value is None:
        return NONE
    other = f", front to rear {together:.2f}" if end == "rear" and together is not None else ""
    return f"{hertz.value:.2f} Hz{_estimate(hertz)}{other}"


def _estimate(figure: Figure) -> str:
    return " (estimate)" if figure.estimate else ""


def _clicks(earlier: EarlierDamping, end: End) -> str:
    """Where rebound stands and should stand by its damper sheet; empty without one, or where it is not to be turned."""
    wanted = earlier.rebound[end].value
    then, now = (_rebound(of[end]) for of in (earlier.settings, earlier.stands))
    if wanted is None or then.now is None:
        return ""
    step = 1.0 if then.unit == "clicks" else 0.25
    to = round(wanted / step) * step
    if now.now is None or now.unit != then.unit:
        return f" ({counted(to, then.unit)} out wanted by its damper sheet)"
    if abs(to - now.now) > step / 2.0:
        return f" ({counted(now.now, now.unit)} out now, {bare(to)} wanted by its damper sheet)"
    return "" if now.now == then.now else f" ({counted(now.now, now.unit)} out now, as wanted by its damper sheet)"


def _rebound(part: Front | Rear) -> Clicker:
    return part.left.rebound if isinstance(part, Front) else part.rebound


RATIO = "damping ratio "
"""Before the ratios of an end and stroke."""


def ratio_lines(figures: DampingFigures) -> Iterator[Named]:
    """The damping ratio of each end and stroke by damper sheets, at the stated wheel speeds."""
    for end in ENDS:
        for stroke in STROKES:
            of = [one for one in figures.end(end).ratios if one.stroke == stroke]
            known = [
                f"{one.ratio.value:.2f} at {one.wheel_mm_per_s:.0f} mm/s{_estimate(one.ratio)}"
                for one in of
                if one.ratio.value is not None
            ]
            if of:
                why = f"{NONE}  {reason(of[0].ratio)}"
                yield f"{end.capitalize()} {stroke}", f"{RATIO}{', '.join(known)}" if known else why


def damping_lines(figures: DampingFigures, units: Units) -> Iterator[Named]:
    """The figures of both ends, a line each, and how they go together."""
    for end in ENDS:
        of = figures.end(end)
        parts = []
        for name, field, kind, unit in DAMPING_ROWS:
            figure: Figure = getattr(of, field)
            if figure.value is not None:
                parts.append(f"{name.lower()} {damping_value(figure.value, kind, unit, units)}{_estimate(figure)}")
        if not of.frequency_hz.known:
            parts.append(f"frequency {NONE} {reason(of.frequency_hz)}")
        yield end.capitalize(), ", ".join(parts)
    ratio = figures.front_to_rear
    if ratio.value is not None:
        yield "Front to rear", f"{ratio.value:.2f} by frequency"
    yield from ratio_lines(figures)


def damping_notes(figures: DampingFigures) -> Iterator[str]:
    """Sentences on what the figures rest on."""
    if not any(figures.end(end).frequency_hz.known for end in ENDS):
        return
    yield worded(NOTHING_DAMPED)
    for end in ENDS:
        yield from _rests_on(figures, end)
    without = [end for end in ENDS if not figures.end(end).ratios]
    if without:
        yield f"{' and '.join(without).capitalize()}: {NO_SHEET}."
    if any(figures.end(end).ratios for end in ENDS):
        yield WHEEL_SPEEDS


def _rests_on(figures: DampingFigures, end: End) -> Iterator[str]:
    of = figures.end(end)
    if not of.frequency_hz.known:
        return
    if of.sprung_kg.estimate:
        todo = [words for words, done in ((WEIGH, of.weighed), (ENTER_UNSPRUNG, of.unsprung_known)) if not done]
        yield f"{end.capitalize()}: sprung mass is an estimate{': ' * bool(todo)}{', and '.join(todo)}."
    if of.omitted:
        yield f"{end.capitalize()}: the rate leaves out {omitted_words(of.omitted)}, not entered."
