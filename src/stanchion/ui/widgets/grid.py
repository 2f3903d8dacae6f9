"""Where the fields of a form are, and which one a key leads to."""

from __future__ import annotations

from stanchion.job.model import Path
from stanchion.ui.form_lines import FormLine, Heading, Row


class Grid:
    """The fields of some lines by line and column.

    Args:
        lines: the form.
    """

    def __init__(self, lines: tuple[FormLine, ...] = ()) -> None:
        self.lines = lines
        self.places: dict[Path, tuple[int, int]] = {
            cell: (y, x)
            for y, line in enumerate(lines)
            if isinstance(line, Row)
            for x, cell in enumerate(line.cells)
            if cell is not None
        }
        """Line and column of every field, in reading order."""

    def __contains__(self, path: object) -> bool:
        """Whether a field is in the form."""
        return path in self.places

    def row(self, path: Path) -> Row:
        """The line of a field."""
        line = self.lines[self.places[path][0]]
        assert isinstance(line, Row)  # noqa: S101 - only rows have places
        return line

    def headed(self, y: int) -> bool:
        """Whether there is a heading right above a line."""
        return y > 0 and isinstance(self.lines[y - 1], Heading)

    def heading_over(self, y: int) -> Heading | None:
        """The heading under which a line stands; None: there is none above it, or it is one itself."""
        if not 0 <= y < len(self.lines) or isinstance(self.lines[y], Heading):
            return None
        return next((line for line in self.lines[y::-1] if isinstance(line, Heading)), None)

    def section(self, path: Path, step: int) -> Path | None:
        """The first field of the next section (1); of this one, or from there of the one before (-1), in its column.

        Beyond the last section it is the last field in that column.
        """
        y, x = self.places[path]
        starts = [at for at in self._starts if at < y] if step < 0 else [at for at in self._starts if at > y]
        if not starts and step < 0:
            return self.first()
        line = self.lines[starts[-1] if step < 0 else starts[0] if starts else max(y for y, _ in self.places.values())]
        cells = [cell for cell in line.cells if cell is not None] if isinstance(line, Row) else []
        within = [cell for cell in cells if self.places[cell][1] <= x]
        return (within or cells[:1])[-1]

    @property
    def _starts(self) -> list[int]:
        """The line of the first field of each section."""
        lines = sorted({y for y, _ in self.places.values()})
        return [y for at, y in enumerate(lines) if at == 0 or self._headed_since(lines[at - 1], y)]

    def _headed_since(self, above: int, y: int) -> bool:
        return any(isinstance(line, Heading) for line in self.lines[above + 1 : y])

    def first(self) -> Path | None:
        """The first field; None: there is none."""
        return next(iter(self.places), None)

    def nearest(self, path: Path) -> Path | None:
        """The field at a path; of a whole part its first field in the form; otherwise one of the part it belongs to."""
        for length in range(len(path), 0, -1):
            found = next((place for place in self.places if place[:length] == path[:length]), None)
            if found is not None:
                return found
        return None

    def down(self, path: Path, step: int) -> Path | None:
        """The field below (1) or above (-1) in the column, or in the last column there is; None at the end."""
        y, x = self.places[path]
        for line in self.lines[y + 1 :] if step > 0 else self.lines[y - 1 :: -1] if y else ():
            if isinstance(line, Row):
                cells = [cell for cell in line.cells[: x + 1] if cell is not None]
                if cells:
                    return cells[-1]
        return None

    def along(self, path: Path, step: int) -> Path:
        """The next or previous field in reading order; from the last on to the first."""
        order = list(self.places)
        return order[(order.index(path) + step) % len(order)]

    def beside(self, path: Path, step: int) -> Path | None:
        """The field to the right (1) or left (-1); None at the edge."""
        _, x = self.places[path]
        cells = self.row(path).cells
        there = cells[x + 1 :] if step > 0 else cells[:x][::-1]
        return next((cell for cell in there if cell is not None), None)

    def away(self, path: Path, lines: int) -> Path:
        """The field nearest to so many lines below, or above where that is less than 0."""
        y, x = self.places[path]
        return min(self.places, key=lambda to: (abs(self.places[to][0] - y - lines), abs(self.places[to][1] - x)))

    def edge(self, which: int) -> Path | None:
        """The first (0) or the last (-1) field."""
        return list(self.places)[which] if self.places else None
