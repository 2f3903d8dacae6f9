"""Writes the README's pictures from the real program, on the way through its tour: `python tests/make_pictures.py`."""

from __future__ import annotations

import asyncio
import re
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parent.parent
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "tests")]

from tour import tour  # noqa: E402

FOLDER = ROOT / ".pictures"


async def pictures() -> dict[str, str]:
    """Every picture of the tour by its name, as SVG that loads nothing from elsewhere."""
    taken = {}
    with tempfile.TemporaryDirectory() as folder:
        async for stop, app in tour(Path(folder)):
            if stop.picture:
                svg = app.export_screenshot(title="stanchion")
                svg = re.sub(r"@font-face\s*{.*?}", "", svg, flags=re.DOTALL)
                svg = re.sub(r"saved \d\d:\d\d:\d\d|saved&#160;\d\d:\d\d:\d\d", "saved&#160;--:--:--", svg)
                taken[stop.picture] = re.sub(r"terminal-\d+", f"stanchion-{stop.picture}", svg)
    return taken


def main() -> None:
    """Write every picture."""
    FOLDER.mkdir(exist_ok=True)
    for name, svg in asyncio.run(pictures()).items():
        (FOLDER / f"{name}.svg").write_text(svg, "utf-8")


if __name__ == "__main__":
    main()
