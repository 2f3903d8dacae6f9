"""How the errors of readings carry over to what is worked out from them."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping
from typing import Generic, TypeVar

from stanchion.base.record import record
from stanchion.mechanics.limits import finite
from stanchion.mechanics.statistics import Uncertainty, together

K = TypeVar("K", bound=Hashable)
"""What names a reading."""
N = TypeVar("N", bound=Hashable)
"""What names an error."""

LEAST_SHARE = 1e-9
"""An effect smaller than this share of the largest one is rounding, and no effect."""


@record
class ErrorSource(Generic[K, N]):
    """One cause of error, independent of every other one, and what one standard uncertainty of it does to readings.

    An error that several readings share, as that of the tape they were all read with, is one source that moves them
    all: so readings that share an instrument are correlated, and what they share drops out of their difference.
    """

    name: N
    moves: tuple[tuple[K, float], ...]
    """The readings it moves, each with how far."""
    freedom: float = float("inf")
    """Degrees of freedom of the standard uncertainty."""


@record
class ErrorPart(Generic[N]):
    """What one source of error does to a result."""

    name: N
    effect: float
    """By how much one standard uncertainty of it moves the result, in the result's unit; it may be below 0."""
    freedom: float = float("inf")


@record
class Propagated(Generic[N]):
    """How sure a result is, with what it is made of."""

    value: float
    uncertainty: Uncertainty
    parts: tuple[ErrorPart[N], ...]
    """The largest first; none that has no effect."""


def effect_of(as_read: float, less: float | None, more: float | None) -> float | None:
    """What one standard uncertainty of a reading does to a result.

    .. math:: u_i(y) = \\frac{1}{2} (f(x_i + u_i) - f(x_i - u_i))

    Args:
        as_read: the result with the reading as it was read.
        less: the result with the reading smaller by its standard uncertainty; None: there is none then.
        more: the result with the reading larger by it; None: there is none then.

    Returns:
        The effect; with a result on one side only, the difference to it; None with none on either.

    Raises:
        OutOfRange: the result is no ordinary number.

    Source:
        JCGM 100:2008, 5.1.3 note 2.

    >>> effect_of(4.0, 2.0, 8.0), effect_of(4.0, None, 8.0), effect_of(4.0, None, None)
    (3.0, 4.0, None)
    """
    finite("result", as_read)
    for moved in (less, more):
        if moved is not None:
            finite("result with the reading moved", moved)
    if less is not None and more is not None:
        return (more - less) / 2.0
    if more is not None:
        return more - as_read
    return None if less is None else as_read - less


def summed(value: float, parts: Iterable[ErrorPart[N]]) -> Propagated[N]:
    """A result with the uncertainty that independent errors give it.

    .. math:: u_c(y) = \\sqrt{\\sum u_i(y)^2}, \\quad \\nu_{eff} = u_c^4 / \\sum (u_i^4 / \\nu_i)

    Args:
        value: the result.
        parts: what each source of error does to it.

    Returns:
        The result, with its parts.

    Raises:
        OutOfRange: the result or an effect is no ordinary number.

    Source:
        JCGM 100:2008, 5.1.2 and G.4.1; H.1 in tests/reference/ (from memory).

    >>> known = summed(50.0, [ErrorPart("steel rule", 3.0, 4.0), ErrorPart("eye", -4.0)])
    >>> known.uncertainty.standard, round(known.uncertainty.freedom, 2), known.parts[0].name
    (5.0, 30.86, 'eye')
    """
    finite("result", value)
    sized = sorted(parts, key=lambda part: abs(finite("effect", part.effect)), reverse=True)
    sized = [part for part in sized if abs(part.effect) > LEAST_SHARE * abs(sized[0].effect)]
    return Propagated(value, together(*(Uncertainty(abs(part.effect), part.freedom) for part in sized)), tuple(sized))


def propagated(
    worked_out: Callable[[Mapping[K, float]], Mapping[str, float]], sources: Iterable[ErrorSource[K, N]]
) -> dict[str, Propagated[N]]:
    """How sure each of several results is, from one working out for either way of each source of error.

    Args:
        worked_out: gives the results by name, with readings moved by so much; a result that cannot be had is left out.
        sources: the sources of error.

    Returns:
        Every result that there is with the readings as they are. One that an error takes away both ways is left out,
        since nothing can be said of how sure it is.

    Raises:
        OutOfRange: a result is no ordinary number.

    Source:
        JCGM 100:2008, 5.1.2, 5.1.3 note 2 and 5.2 (shared errors by F.1.2.3: each as an input of its own).

    >>> tape = ErrorSource("tape", (("free", 0.5), ("set", 0.5)))  # it reads both long by as much
    >>> eye = ErrorSource("eye", (("set", 0.3),))
    >>> lengths = lambda moved: {"preload": (250.0 + moved.get("free", 0.0)) - (238.0 + moved.get("set", 0.0))}
    >>> known = propagated(lengths, [tape, eye])["preload"]
    >>> known.value, round(known.uncertainty.standard, 6), [part.name for part in known.parts]
    (12.0, 0.3, ['eye'])
    """
    as_read = worked_out({})
    parts: dict[str, list[ErrorPart[N]]] = {name: [] for name in as_read}
    for source in sources:
        more = worked_out(dict(source.moves))
        less = worked_out({reading: -by for reading, by in source.moves})
        for name in list(parts):
            effect = effect_of(as_read[name], less.get(name), more.get(name))
            if effect is None:
                del parts[name]
            elif effect != 0.0:
                parts[name].append(ErrorPart(source.name, effect, source.freedom))
    return {name: summed(as_read[name], of) for name, of in parts.items()}
