"""The items of a work list: their kinds, order and cautions, and how far an adjuster is turned back."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from stanchion.base.record import EMPTY, record
from stanchion.job.diff import Difference
from stanchion.job.ends import STEPS
from stanchion.job.model import ENDS, Adjuster, Clicker, End, Path
from stanchion.judgement.criteria.cautions import CAUTIONS
from stanchion.judgement.criteria.thresholds import ADJUSTER_STEP, SLACK
from stanchion.judgement.results.codes import Caution

KINDS: Mapping[str, tuple[str, tuple[Caution, ...]]] = {
    "spring": ("bench", ("fork_caps", "support", "one_leg")),
    "spring_out": ("bench", ("fork_caps", "support", "one_leg")),
    "air_leg": ("bench", ("fork_caps", "fork_air", "support", "one_leg")),
    "stack": ("bench", ("fork_caps", "support", "one_leg")),
    "set_length": ("bench", ()),
    "top_out": ("bench", ("fork_caps", "support", "one_leg")),
    "packers": ("bench", ("fork_caps", "support", "one_leg")),
    "stops": ("bench", ("fork_caps", "support", "one_leg")),
    "oil": ("bench", ("fork_caps", "used_oil", "oil_on_discs")),
    "oil_volume": ("bench", ("fork_caps", "used_oil", "oil_on_discs")),
    "air_gap": ("bench", ("fork_caps", "used_oil", "oil_on_discs")),
    "bleed": ("bench", ("bleed_extended", "support")),
    "shock_spring": ("bench", ("shock_spring", "shock_gas", "hot_shock", "support", "keep_clear")),
    "shock_set_length": ("bench", ()),
    "shock_top_out": ("bench", ("shock_gas", "hot_shock")),
    "shock_packers": ("bench", ("shock_spring", "shock_gas", "hot_shock", "support", "keep_clear")),
    "bump_rubber": ("bench", ("shock_spring", "shock_gas", "hot_shock", "support", "keep_clear")),
    "shock_stops": ("bench", ("shock_spring", "shock_gas", "hot_shock", "support", "keep_clear")),
    "gas": ("bench", ("shock_gas", "hot_shock")),
    "fork_height": ("height", ("support", "fork_height")),
    "length": ("height", ("support", "keep_clear", "hot_shock")),
    "link": ("height", ("support", "keep_clear")),
    "air_pressure": ("preload", ("air_pump", "one_leg")),
    "preload": ("preload", ("adjuster_end",)),
    "collar": ("preload", ("adjuster_end", "hot_shock", "keep_clear")),
    "compression": ("damping", ("adjuster_end",)),
    "rebound": ("damping", ("adjuster_end",)),
    "low_speed_compression": ("damping", ("adjuster_end",)),
    "high_speed_compression": ("damping", ("adjuster_end",)),
    "shock_rebound": ("damping", ("adjuster_end",)),
    "sprockets": ("upkeep", ("support", "chain_still")),
    "chain": ("upkeep", ("support", "chain_still")),
    "axle": ("upkeep", ("support", "chain_still")),
    "tyre": ("upkeep", ("support",)),
    "pressure": ("upkeep", ()),
}
"""Every kind of work in the order it is done, with its group and its cautions: work that needs the suspension apart,
height and length, preload, damping, chain and tyres."""

AFTERWARDS: tuple[Caution, ...] = (
    "after_work_torque",
    "after_work_brakes",
    "after_work_chain",
    "before_riding",
    "judgement",
)
"""The cautions shown when all work is done, whatever it was."""

_CHECKED_AFTER: tuple[Caution, ...] = ("fork_height",)
"""The cautions of an item that ask for a check after it, so that they stand until the list is put away."""

SAG_MOVES = frozenset(
    {
        "spring",
        "spring_out",
        "air_leg",
        "air_pressure",
        "stack",
        "top_out",
        "shock_spring",
        "shock_top_out",
        "link",
        "preload",
        "collar",
    }
)
"""Kinds of work after which sag is to be captured again."""


@record(kw_only=True)
class Item:
    """One thing to do."""

    kind: str
    """One of KINDS."""
    place: str
    """"front" (both legs, or the fork as a whole), "left", "right", "rear"; of a tyre its end."""
    changes: tuple[Difference, ...]
    """The changes from the present values to the earlier ones; of an item that is done, from the values when work
    began."""
    along: tuple[Difference, ...] = ()
    """Values that are restored with it, such as the set length of a spring."""
    amount: float | None = None
    """How many turns, clicks, rings or mm; None: nothing to turn, or the present position is not known."""
    unit: str = ""
    direction: str = ""
    """ "in", "out", "higher", "lower", "longer", "shorter", "more", "less"; empty where there is none."""
    problem: str = ""
    """Why the earlier value cannot be restored; empty where it can."""
    values: Mapping[str, object] = EMPTY
    """More values for the wording, such as the end of the adjuster's range and how it was counted before."""
    done: bool = False
    """Whether the job has the earlier values again."""

    @property
    def group(self) -> str:
        """ "bench", "height", "preload", "damping", "upkeep"."""
        return KINDS[self.kind][0]

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """The cautions that go with it; lower tubes leave tyre, mudguard and yokes more room, not less."""
        codes = KINDS[self.kind][1]
        return tuple(code for code in codes if (code, self.direction) != ("fork_height", "lower"))

    @property
    def to_do(self) -> bool:
        """Whether it is still to be done, and can be."""
        return not self.done and not self.problem

    @property
    def name(self) -> tuple[str, str, tuple[Path, ...]]:
        """Identifies the item while others are added and removed."""
        return self.kind, self.place, tuple(change.path for change in self.changes)


@record(kw_only=True)
class WorkList:
    """Everything that differs, in the order of the work."""

    items: tuple[Item, ...]
    unrecorded: tuple[Path, ...] = ()
    """Settings that are in the job but not in the setup returned to; they stay as they are."""
    legs_apart: bool = False
    """Whether the fork legs have items of their own; otherwise the items of the left leg apply to both."""
    sag_counts: frozenset[End] = frozenset()
    """Ends whose sags, as they were read, belong to the setup reached: with it they count again."""

    @property
    def open_items(self) -> tuple[Item, ...]:
        """The items still to do."""
        return tuple(item for item in self.items if item.to_do)

    @property
    def done(self) -> tuple[Item, ...]:
        """The items that are done."""
        return tuple(item for item in self.items if item.done)

    @property
    def finished(self) -> bool:
        """Whether nothing is left that can be done."""
        return not self.open_items

    @property
    def sag_again(self) -> tuple[End, ...]:
        """Ends where sag must be captured again, because springs or preload are among the work."""
        return tuple(end for end in ENDS if end in self._sag_moved - self.sag_counts)

    @property
    def sag_back(self) -> tuple[End, ...]:
        """Ends where springs or preload are among the work, and the sags read before count again after it."""
        return tuple(end for end in ENDS if end in self._sag_moved & self.sag_counts)

    @property
    def _sag_moved(self) -> frozenset[End]:
        moved = (item for item in self.items if item.kind in SAG_MOVES and not item.problem)
        return frozenset("rear" if item.place == "rear" else "front" for item in moved)

    @property
    def afterwards(self) -> tuple[Caution, ...]:
        """The cautions to read once all is done: what the work itself asks to be checked, then those after any work."""
        asked = {code for item in self.items if not item.problem for code in item.cautions}
        return (*(code for code in _CHECKED_AFTER if code in asked), *AFTERWARDS)

    def cautions(self, group: str) -> tuple[Caution, ...]:
        """The cautions for the work of a group that is not done, in the order they are shown."""
        wanted = {code for item in self.items if item.group == group and not item.done for code in item.cautions}
        return tuple(code for code in CAUTIONS if code in wanted)


def adjuster_item(kind: str, place: str, at: Path, now: Adjuster, then: Adjuster) -> Iterator[Item]:
    """The item that turns a preload adjuster back to an earlier position.

    A position counted in another way is converted by its share of the range, where both ranges are known.

    Args:
        kind: kind of the item.
        place: place of the adjuster.
        at: its path.
        now: the adjuster now.
        then: the adjuster at the earlier position.
    """
    if then.now is None or then.counting == "none":
        return
    values: dict[str, object] = {"then": then.now, "then_unit": then.counting}
    if now.counting == then.counting or now == Adjuster():
        unit, wanted = then.counting, then.now
        ends = _ends(now if now.counting == then.counting else then, then)
        out, fully_in = ends or (0.0 if then.from_out else None, None)
    else:
        unit = now.counting
        ends, ends_then = _ends(now, now), _ends(then, then)
        if now.counting == "none" or ends is None or ends_then is None:
            problem = "no_adjuster" if now.counting == "none" else "counted_otherwise"
            yield Item(kind=kind, place=place, changes=(), problem=problem, values=values)
            return
        out, fully_in = ends
        step = STEPS.get(now.counting, ADJUSTER_STEP)
        share = (then.now - ends_then[0]) / (ends_then[1] - ends_then[0])
        wanted = round((out + share * (fully_in - out)) / step) * step
        values["by_share"] = True
    if now.now is not None and abs(now.now - wanted) <= SLACK:
        return
    changes: tuple[Difference, ...] = (Difference((*at, "now"), now.now, wanted),)
    if unit != now.counting:
        changes = (Difference((*at, "counting"), now.counting, unit), *changes)
    problem = ""
    if out is not None and fully_in is not None and not _within(wanted, out, fully_in):
        problem = "beyond_range"
        most = fully_in if (wanted - out) * (fully_in - out) > 0 else out
        values |= {"most": most, "wanted": wanted}
        per_unit = now.step_mm if unit in STEPS else 1.0 if unit == "mm" else None
        if per_unit is not None:
            values["missing_mm"] = abs(wanted - most) * per_unit
    yield Item(
        kind=kind,
        place=place,
        changes=changes,
        amount=None if now.now is None else abs(wanted - now.now),
        unit=unit,
        direction="" if now.now is None else _way(kind, unit, (out, fully_in), up=wanted > now.now),
        problem=problem,
        values=values,
    )


def clicker_item(kind: str, place: str, at: Path, now: Clicker, then: Clicker) -> Iterator[Item]:
    """The item that turns a damping adjuster back to an earlier position, counted from closed."""
    if then.now is None:
        return
    values: dict[str, object] = {"then": then.now, "then_unit": then.unit}
    blank = now.now is None and now.total is None
    if now.unit != then.unit and not blank:
        yield Item(kind=kind, place=place, changes=(), problem="counted_otherwise", values=values)
        return
    if now.now is not None and abs(now.now - then.now) <= SLACK:
        return
    changes: tuple[Difference, ...] = (Difference((*at, "now"), now.now, then.now),)
    if now.unit != then.unit:
        changes = (Difference((*at, "unit"), now.unit, then.unit), *changes)
    total = then.total if now.total is None else now.total
    problem = ""
    if total is not None and then.now > total + SLACK:
        problem = "beyond_range"
        values |= {"most": total, "wanted": then.now}
    yield Item(
        kind=kind,
        place=place,
        changes=changes,
        amount=None if now.now is None else abs(then.now - now.now),
        unit=then.unit,
        direction="" if now.now is None else "out" if then.now > now.now else "in",
        problem=problem,
        values=values,
    )


def _ends(now: Adjuster, then: Adjuster) -> tuple[float, float] | None:
    """The readings fully out and fully in, from whichever setup records them; None: not known."""
    if now.from_out:
        recorded = [one.total for one in (now, then) if one.counting == now.counting and one.total is not None]
        total = recorded[0] if recorded else None
        return None if total is None else (0.0, total)
    out = then.reading_out if now.reading_out is None else now.reading_out
    fully_in = then.reading_in if now.reading_in is None else now.reading_in
    return None if out is None or fully_in is None or abs(out - fully_in) <= SLACK else (out, fully_in)


def _within(reading: float, one: float, other: float) -> bool:
    low, high = sorted((one, other))
    return low - SLACK <= reading <= high + SLACK


def _way(kind: str, unit: str, ends: tuple[float | None, float | None], *, up: bool) -> str:
    """Direction of a turn. In is more preload. A fork cap shows more at less preload; a collar's thread may be read
    either way."""
    if unit in STEPS:
        return "in" if up else "out"
    out, fully_in = ends
    if out is not None and fully_in is not None:
        return "in" if up == (fully_in > out) else "out"
    return "" if kind == "collar" else "out" if up else "in"
