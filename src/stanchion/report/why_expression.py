"""A formula read off the operations that gave a number, written with names or with numbers."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from stanchion.base.record import record
from stanchion.base.traced import READ, SOLVED, Traced
from stanchion.planning.tracing import fixed_name

_MOST_IN_A_LINE = 9
"""Numbers in one line of a formula; what is longer has parts of its own."""
_MOST_LINES = 24
"""Lines that can still be read."""
_LOOSE, _SUM, _PRODUCT, _SIGN, _POWER, _TIGHT = range(6)
_SIGNS = {"+": _SUM, "-": _SUM, "*": _PRODUCT, "/": _PRODUCT, "%": _PRODUCT, "//": _PRODUCT, "**": _POWER}
_RAISED = {2: "²", 3: "³", 4: "⁴"}
_TURNED = ("sin", "cos", "tan")


@record
class Style:
    """How a formula is spelled."""

    minus: str = " − "
    times: str = " × "
    printed: bool = True
    """With signs as on paper, such as ² and °; otherwise as a program reads it."""
    limits_said: bool = False
    """Whether "held between" stands for the smaller and the greater of numbers."""

    def fixed(self, number: float) -> str:
        """A number that stands in the formula itself."""
        return f"{number:.6g}".replace("-", "−") if self.printed else repr(number)


PRINTED = Style()
IN_WORDS = Style(limits_said=True)
PLAIN = Style(minus=" - ", times=" * ", printed=False)


@record(kw_only=True)
class Expression:
    """A formula with its parts."""

    whole: Any
    """The number it gives, or, where it was searched for, what is zero."""
    parts: tuple[Traced, ...]
    """Numbers on the way that have a line of their own, each after those that it needs."""
    atoms: tuple[Any, ...]
    """The numbers in it, in the order they are met."""
    operations: int
    solved: bool

    @property
    def readable(self) -> bool:
        """Whether it is short enough to be read."""
        return len(self.parts) < _MOST_LINES

    def lines(self, spell: Callable[[Any], str], style: Style) -> Iterator[tuple[Traced | None, str, str]]:
        """Each line: the part it gives (None: the whole), the formula, and what it equals where it is an equation.

        Args:
            spell: how an atom or a part is written.
            style: how signs are.
        """
        whole, right = self.whole, ""
        names = {id(one) for one in (*self.parts, *self.atoms)}
        if self.solved:
            right = "0"
            if type(whole) is Traced and whole.operation == "-" and id(whole) not in names:
                whole, right = whole.of[0], _written(whole.of[1], names, spell, style, _LOOSE)
        yield None, _written(whole, names, spell, style, _LOOSE, top=not self.solved), right
        for part in reversed(self.parts):
            yield part, _written(part, names, spell, style, _LOOSE, top=True), ""


def expression(number: Traced) -> Expression:
    """The formula of a number that was worked out, down to the numbers that have a name."""
    solved = number.operation == SOLVED
    whole = number.of[0] if solved else number
    counts: dict[int, int] = {}
    order: list[Traced] = []
    atoms: dict[int, Any] = {}

    def is_atom(one: Any) -> bool:
        if type(one) is not Traced or one.operation in (READ, SOLVED):
            return True
        if one is number:
            return solved
        return one.named is not None and one is not whole

    stack: list[tuple[Any, bool]] = [(whole, False)]
    while stack:
        one, done = stack.pop()
        if done:
            order.append(one)
        elif is_atom(one):
            if type(one) is Traced or fixed_name(one):
                atoms.setdefault(id(one), one)
        else:
            counts[id(one)] = counts.get(id(one), 0) + 1
            if counts[id(one)] == 1:
                stack.append((one, True))
                stack += [(child, False) for child in reversed(one.of)]
    parts: list[Traced] = []
    size: dict[int, int] = {}
    for one in order:
        total = sum(size.get(id(child), 1) for child in one.of)
        size[id(one)] = total
        shared = counts[id(one)] > 1 and one.operation not in ("neg", "radians")
        if one is not whole and (shared or total > _MOST_IN_A_LINE):
            parts.append(one)
            size[id(one)] = 1
    return Expression(
        whole=whole, parts=tuple(parts), atoms=tuple(atoms.values()), operations=len(order), solved=solved
    )


def _is_nothing(one: Any) -> bool:
    """Whether it is a plain zero, which adds nothing to a formula."""
    return type(one) is not Traced and one == 0.0


def _written(
    one: Any, names: set[int], spell: Callable[[Any], str], style: Style, around: int, *, top: bool = False
) -> str:
    if type(one) is not Traced or (id(one) in names and not top):
        text = spell(one) if id(one) in names else style.fixed(one)
        return f"({text})" if text[:1] in "-−" and around > _SUM else text

    def inner(child: Any, tight: int) -> str:
        return _written(child, names, spell, style, tight)

    sign, of = one.operation, one.of
    if sign in "+-" and _is_nothing(of[1]):
        return inner(of[0], around)
    if sign == "+" and _is_nothing(of[0]):
        return inner(of[1], around)
    if sign in _SIGNS:
        return _operation(sign, of, inner, style, around)
    if sign == "neg":
        text = f"{style.minus.strip()}{inner(of[0], _SIGN)}"
        return f"({text})" if around > _LOOSE else text
    if sign == "sum":
        text = " + ".join(inner(child, _SUM) for child in of)
        return f"({text})" if around > _SUM else text
    return _function(sign, of, names, inner, style)


def _operation(sign: str, of: tuple[Any, ...], inner: Callable[[Any, int], str], style: Style, around: int) -> str:
    """Two numbers with a sign between them, in brackets where what is around binds them no less."""
    own = _SIGNS[sign]
    if sign == "**" and style.printed and type(of[1]) is not Traced and of[1] in _RAISED:
        return f"{inner(of[0], _TIGHT)}{_RAISED[of[1]]}"
    spelled = {"-": style.minus, "*": style.times, "+": " + ", "/": " / ", "**": "^" if style.printed else "**"}
    left, right = (_TIGHT, _TIGHT) if sign == "**" else (own, own + 1 if sign in "-/%//" else own)
    text = f"{inner(of[0], left)}{spelled.get(sign, f' {sign} ')}{inner(of[1], right)}"
    return f"({text})" if own < around else text


def _function(sign: str, of: tuple[Any, ...], names: set[int], inner: Callable[[Any, int], str], style: Style) -> str:
    """A function of some numbers, as on paper or as a program reads it."""
    if style.printed:
        angle = of[0]
        held = of[0] if sign == "min" and len(of) == 2 else None
        limited = type(held) is Traced and held.operation == "max" and len(held.of) == 2 and id(held) not in names
        if style.limits_said and limited and held is not None:
            low, high = (inner(one, _LOOSE) for one in (held.of[1], of[1]))
            return f"({inner(held.of[0], _LOOSE)}, held between {low} and {high})"
        if sign in _TURNED and type(angle) is Traced and angle.operation == "radians" and id(angle) not in names:
            return f"{sign}({inner(angle.of[0], _TIGHT)}°)"
        if sign == "sqrt":
            return f"√({inner(of[0], _LOOSE)})"
        if sign == "pow":
            return f"{inner(of[0], _TIGHT)}^{inner(of[1], _TIGHT)}"
    return f"{sign}({', '.join(inner(child, _LOOSE) for child in of)})"
