"""The parts of a work list: its items, their kinds and order, and their cautions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from stanchion.base.record import record
from stanchion.job.diff import Difference
from stanchion.job.model import Path
from stanchion.judgement.criteria.cautions import CAUTIONS
from stanchion.judgement.results.codes import Caution

KINDS: Mapping[str, tuple[str, tuple[Caution, ...]]] = {
    "spring": ("bench", ("fork_caps", "support", "one_leg")),
    "spring_out": ("bench", ("fork_caps", "support", "one_leg")),
    "stack": ("bench", ("fork_caps", "support", "one_leg")),
    "set_length": ("bench", ()),
    "top_out": ("bench", ("fork_caps", "support", "one_leg")),
    "packers": ("bench", ("fork_caps", "support", "one_leg")),
    "oil": ("bench", ("fork_caps", "used_oil")),
    "oil_volume": ("bench", ("fork_caps", "used_oil")),
    "air_gap": ("bench", ("fork_caps", "used_oil")),
    "bleed": ("bench", ("bleed_extended", "support")),
    "shock_spring": ("bench", ("shock_spring", "shock_gas", "hot_shock", "support", "keep_clear")),
    "shock_set_length": ("bench", ()),
    "shock_top_out": ("bench", ("shock_gas", "hot_shock")),
    "shock_packers": ("bench", ("shock_spring", "shock_gas", "hot_shock", "support", "keep_clear")),
    "bump_rubber": ("bench", ("shock_spring", "shock_gas", "hot_shock", "support", "keep_clear")),
    "gas": ("bench", ("shock_gas", "hot_shock")),
    "fork_height": ("height", ("support", "fork_height")),
    "length": ("height", ("support", "keep_clear", "hot_shock")),
    "preload": ("preload", ("adjuster_end",)),
    "collar": ("preload", ("adjuster_end", "hot_shock", "keep_clear")),
    "compression": ("damping", ("adjuster_end",)),
    "rebound": ("damping", ("adjuster_end",)),
    "low_speed_compression": ("damping", ("adjuster_end",)),
    "high_speed_compression": ("damping", ("adjuster_end",)),
    "shock_rebound": ("damping", ("adjuster_end",)),
    "sprockets": ("upkeep", ("support",)),
    "axle": ("upkeep", ("support",)),
    "tyre": ("upkeep", ("support",)),
    "pressure": ("upkeep", ()),
}
"""Every kind of work in the order it is done, with its group and its cautions: work that needs the suspension apart,
height and length, preload, damping, chain and tyres."""

AFTERWARDS: tuple[Caution, ...] = ("after_work_torque", "after_work_brakes", "after_work_chain", "judgement")
"""The cautions shown when all work is done."""

SAG_MOVES = frozenset(
    {"spring", "spring_out", "stack", "top_out", "shock_spring", "shock_top_out", "preload", "collar"}
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
    values: Mapping[str, object] = field(default_factory=dict)
    """More values for the wording, such as the end of the adjuster's range and how it was counted before."""
    done: bool = False
    """Whether the job has the earlier values again."""

    @property
    def group(self) -> str:
        """ "bench", "height", "preload", "damping", "upkeep"."""
        return KINDS[self.kind][0]

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """The cautions that go with it."""
        return KINDS[self.kind][1]

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

    @property
    def left(self) -> tuple[Item, ...]:
        """The items still to do."""
        return tuple(item for item in self.items if item.to_do)

    @property
    def done(self) -> tuple[Item, ...]:
        """The items that are done."""
        return tuple(item for item in self.items if item.done)

    @property
    def finished(self) -> bool:
        """Whether nothing is left that can be done."""
        return not self.left

    @property
    def sag_again(self) -> bool:
        """Whether sag must be captured again, because springs or preload are among the work."""
        return any(item.kind in SAG_MOVES for item in self.items if not item.problem)

    def cautions(self, group: str) -> tuple[Caution, ...]:
        """The cautions for the work of a group that is not done, in the order they are shown."""
        wanted = {code for item in self.items if item.group == group and not item.done for code in item.cautions}
        return tuple(code for code in CAUTIONS if code in wanted)
