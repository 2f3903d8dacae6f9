"""The content of a hand-over sheet as records, before it is laid out as text or as HTML.

Every text in it is safe to show.
"""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.judgement.results.side import SidePart, Standing
from stanchion.wording.advice_values import PREDICTED


@record
class Table:
    """Rows of values, below heads where there is more than one kind of them."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]
    narrow: bool = False
    """Whether half the width of a page is enough, so that another may stand beside it."""


@record
class Line:
    """One line of a section, which may begin with a word such as WARNING."""

    word: str
    text: str


@record
class Section:
    """Lines below a title."""

    title: str
    lines: tuple[Line, ...]


@record
class Mark:
    """A place on a drawing."""

    name: str
    mm: float
    text: str
    """The value with its unit."""
    old: bool = False
    """Whether it is a sag that was read before a change of springs or preload."""
    predicted: bool = False
    """Whether it is the predicted sag in place of one that is old."""

    @property
    def value(self) -> str:
        """The value with its unit; one that is old or predicted says so."""
        return f"{self.text} (old)" if self.old else f"{self.text} ({PREDICTED})" if self.predicted else self.text


@record
class Travel:
    """The whole travel of one end, with the sags on it."""

    name: str
    full: Mark
    marks: tuple[Mark, ...]


@record
class SagBar:
    """One sag against its target."""

    name: str
    sag: Mark
    low_mm: float
    high_mm: float
    target: str


@record
class Gauge:
    """The position of a preload adjuster between its ends."""

    name: str
    out: Mark
    """From fully out to now."""
    to_in: Mark
    """From now to fully in."""


@record
class Measure:
    """A number of a drawing as text; empty where it is not known."""

    number: str = ""
    unit: str = ""
    text: str = ""
    """Number and unit together, with a mark where it is an estimate."""


@record(kw_only=True)
class SidePose:
    """The machine from the side in one state: its parts in mm, and its numbers as text."""

    state: Standing
    name: str
    """The state in words."""
    parts: tuple[SidePart, ...]
    fork_used_mm: float
    """Fork travel used, from which the places along the leg are counted."""
    rear_used_mm: float | None
    rake: Measure
    trail: Measure
    wheelbase: Measure
    fork_used: Measure = Measure()
    rear_used: Measure = Measure()
    front_load: Measure = Measure()
    """What a scale under the front wheel would read."""
    rear_load: Measure = Measure()


@record(kw_only=True)
class SideView:
    """The machine from the side in every state that is known: nothing of it is guessed."""

    poses: tuple[SidePose, ...]
    """At least one; at rest first."""
    fork: Travel | None
    """Travel along the leg; None: not known."""
    rear: Travel | None
    """Travel of the rear wheel, vertically."""

    @property
    def standing(self) -> SidePose:
        """The machine as it stands: rider aboard where that is known."""
        at_rest = [pose for pose in self.poses if pose.state not in ("brakes", "gas")]
        return at_rest[-1]

    def pose(self, state: Standing) -> SidePose:
        """The machine in a state; as it stands where that is not known."""
        return next((pose for pose in self.poses if pose.state == state), self.standing)

    def beside(self, pose: SidePose) -> SidePose | None:
        """The state that one is compared with: rider aboard, and that itself with the machine alone; None: no other."""
        other = self.standing if pose != self.standing else self.poses[0]
        return None if other == pose else other


@record(kw_only=True)
class ForceCurve:
    """The force of one end over its travel, now and in the job before."""

    name: str
    now: tuple[tuple[float, float], ...]
    """Travel [mm] and force [N], rising in travel."""
    before: tuple[tuple[float, float], ...]
    full: Mark
    at_full: str
    """Force at full travel, with its unit."""
    at_full_before: str
    since: str
    """Day of the job before."""


@record(kw_only=True)
class RatioCurve:
    """The motion ratio over the travel of the rear wheel, by the points of the linkage."""

    name: str
    points: tuple[tuple[float, float], ...]
    """Wheel travel [mm] and ratio, rising in travel."""
    pairs: tuple[tuple[float, float], ...]
    """The same between measured pairs."""
    low: str
    high: str
    """Lowest and highest ratio of both."""
    full: Mark
    now: Mark | None
    """Where the wheel is now."""


@record
class Drawings:
    """What is drawn where a sheet can hold drawings."""

    machine: SideView | None
    travels: tuple[Travel, ...]
    bars: tuple[SagBar, ...]
    gauges: tuple[Gauge, ...]
    curves: tuple[ForceCurve, ...] = ()
    ratio: RatioCurve | None = None


SheetPart = Section | Table | Drawings
"""What a sheet is made of."""


@record
class Sheet:
    """A job as it is handed over."""

    title: str
    about: tuple[tuple[str, str], ...]
    """Who, where, when, what for."""
    sample: bool
    ready: Section
    """What stands against riding; at least one line, which says so where nothing does."""
    parts: tuple[SheetPart, ...]
    """In the order they are read; no section or table is empty."""
    cautions: tuple[str, ...]
    written: str
    """When, and by what version of the program."""
