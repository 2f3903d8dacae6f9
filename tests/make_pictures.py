"""Writes the README's pictures from the real program: `python tests/make_pictures.py`.

The sample jobs are opened in a folder of their own, keys are pressed, and what stands on the screen is written as SVG.
"""

from __future__ import annotations

import asyncio
import re
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parent.parent
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "tests")]

from desks import desk_in  # noqa: E402
from stanchion.samples import samples  # noqa: E402
from stanchion.ui.app import StanchionApp  # noqa: E402

PICTURES = (
    ("front", "mismatched_lengths", ("f3",), (80, 24)),
    ("sag", "soft_springs", ("f5",), (100, 36)),
    ("predict", "well_set", ("ctrl+p",), (120, 36)),
)
FOLDER = ROOT / ".pictures"


async def picture(name: str, sample: str, keys: tuple[str, ...], size: tuple[int, int]) -> str:
    """The screen after those keys, as SVG that loads nothing from elsewhere."""
    with tempfile.TemporaryDirectory() as folder:
        desk = desk_in(Path(folder))
        desk.create_from(next(one.data for one in samples() if one.name == sample))
        desk.remember("machine")
        desk.close()
        app = StanchionApp(desk_in(Path(folder)))
        async with app.run_test(size=size) as pilot:
            await pilot.pause(0.5)
            for key in keys:
                await pilot.press(key)
                await pilot.pause(0.5)
            svg = app.export_screenshot(title="stanchion")
    svg = re.sub(r"@font-face\s*{.*?}", "", svg, flags=re.S)
    return re.sub(r"terminal-\d+", f"stanchion-{name}", svg)


def main() -> None:
    """Write every picture."""
    FOLDER.mkdir(exist_ok=True)
    for name, sample, keys, size in PICTURES:
        (FOLDER / f"{name}.svg").write_text(asyncio.run(picture(name, sample, keys, size)), "utf-8")


if __name__ == "__main__":
    main()
