"""One change to a job: a path and a value give a new job."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, cast

from stanchion.base.errors import BadEdit
from stanchion.base.record import record
from stanchion.job.ends import STEPS
from stanchion.job.model import Adjuster, Clicker, Front, Job, Path
from stanchion.job.spec import Leaf, Many, Number, Part, Rows, Spec, specs_of


@record
class Edit:
    """Set the value at a path. None empties a number field, and removes an item of a list."""

    path: Path
    value: Any


def dotted(path: Path) -> str:
    """The path as the file's keys spell it.

    >>> dotted(("sag", "front", "static", "down_mm", 0))
    'sag.front.static.down_mm[0]'
    """
    text = ""
    for step in path:
        text += f"[{step}]" if isinstance(step, int) else f".{step}" if text else step
    return text


def spec_at(path: Path) -> Spec:
    """The spec of the field a path names; an item of a list gives the spec of one item.

    Raises:
        BadEdit: the path names no field of a job.
    """
    spec: Spec = Part(Job)
    for step in path:
        inner: Spec | None = None
        if isinstance(spec, Part) and isinstance(step, str):
            inner = specs_of(spec.type).get(step)
        elif isinstance(spec, Many) and isinstance(step, int) and 0 <= step < spec.most:
            inner = spec.item
        elif isinstance(spec, Rows) and isinstance(step, int) and 0 <= step < spec.most:
            inner = Part(spec.type)
        if inner is None:
            raise BadEdit(f"there is no field '{dotted(path)}' in a job")
        spec = inner
    return spec


def value_at(job: Job, path: Path) -> Any:
    """The value at a path; None past the end of a list or inside a part that is absent.

    While the legs of a fork are not split, paths of the right leg give the values of the left one; also in a run.

    Raises:
        BadEdit: the path names no field of a job.
    """
    spec_at(path)
    value: Any = job
    for position, step in enumerate(path):
        if value is None:
            return None
        if isinstance(step, int):
            value = value[step] if step < len(value) else None
        elif isinstance(value, Front) and step == "right" and position + 1 < len(path):
            value = value.leg("right")
        else:
            value = getattr(value, step)
    return value


def number_at(job: Job, path: Path) -> Number | None:
    """The spec of a number field, for adjuster positions with the step of what they are counted in; None for other
    fields."""
    spec = spec_at(path)
    if not isinstance(spec, Number) or path[-1] not in POSITIONS:
        return spec if isinstance(spec, Number) else None
    part = value_at(job, path[:-1])
    counted = part.counting if isinstance(part, Adjuster) else part.unit if isinstance(part, Clicker) else ""
    return replace(spec, step=STEPS.get(counted, spec.step))


POSITIONS = ("now", "base", "total", "total_clicks")
"""Fields of an adjuster that are counted in its clicks or turns."""


def apply(job: Job, edit: Edit) -> Job:
    """The job after the edit.

    An edit just past the end of a list appends an item; None removes one, and the later ones move up.

    Raises:
        BadEdit: the path names no field, or the field refuses the value; the message says which and why.
    """
    spec = spec_at(edit.path)
    try:
        return cast(Job, _put(Part(Job), job, edit.path, _checked(spec, edit.value)))
    except BadEdit as refused:
        raise BadEdit(f"{dotted(edit.path)}: {refused}") from None


def _checked(spec: Spec, value: Any) -> Any:
    """The value as the field stores it; a whole part or list may be given at once."""
    if isinstance(spec, Number) and value is None:
        return None
    if isinstance(spec, Leaf):
        return spec.check(value)
    if isinstance(spec, Part):
        if isinstance(value, spec.type) or (value is None and spec.optional):
            return value
        raise BadEdit(f"a {spec.type.__name__} is needed")
    if not isinstance(value, tuple) or len(value) > spec.most:
        raise BadEdit(f"a list of at most {spec.most} is needed")
    if isinstance(spec, Many):
        return tuple(spec.item.check(item) for item in value)
    if not all(isinstance(item, spec.type) for item in value):
        raise BadEdit(f"each row must be a {spec.type.__name__}")
    return value


def _put(spec: Spec, node: Any, path: Path, value: Any) -> Any:
    """The node with the value at the path below it."""
    if not path:
        return value
    step, rest = path[0], path[1:]
    if isinstance(spec, Part) and isinstance(step, str):
        inner = getattr(node, step)
        below = specs_of(spec.type)[step]
        if inner is None and rest and isinstance(below, Part):  # the right leg, edited before the legs were split
            inner = node.left if step == "right" else below.type()
        return replace(node, **{step: _put(below, inner, rest, value)})
    if not isinstance(spec, Many | Rows) or not isinstance(step, int):
        raise BadEdit("no such field")
    return _put_item(spec, node, step, rest, value)


def _put_item(spec: Many | Rows, node: tuple[Any, ...], at: int, rest: Path, value: Any) -> tuple[Any, ...]:
    items = list(node)
    if at > len(items):
        raise BadEdit(f"item {at + 1} cannot be filled before item {len(items) + 1}")
    old = items[at] if at < len(items) else spec.type() if isinstance(spec, Rows) else None
    item_spec: Spec = Part(spec.type) if isinstance(spec, Rows) else spec.item
    items[at : at + 1] = [_put(item_spec, old, rest, value)]
    blank = spec.type() if isinstance(spec, Rows) else None
    return tuple(item for item in items if item != blank)
