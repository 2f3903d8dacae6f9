"""The file of a dynamometer that measured the fork leg of a sample: machine, damper and numbers are invented.

Each force is a law of two slopes that meet at 150 mm/s, rounded to a newton as a load cell reads; turned in, rebound
resists more, and compression stays as it is. The leg has no gas.
"""

from __future__ import annotations

import hashlib
from dataclasses import replace

from stanchion.bench.damper_import import read_sheet
from stanchion.bench.table_file import table_in
from stanchion.job.damper_columns import DamperColumns
from stanchion.job.model import DamperSheet

FILE = "fork_leg_invented.csv"
POSITIONS = (4, 10, 16)
SPEEDS = (10, 25, 50, 100, 150, 250, 400)
KNEE = 150


def resisting(stroke: str, position: int, speed: int) -> float:
    """Force against the motion [N], with rebound so many clicks out from fully in."""
    low, high = (1.0, 0.4) if stroke == "rebound" else (0.5, 0.25)
    share = 1.0 - 0.03 * position if stroke == "rebound" else 1.0
    return share * (low * min(speed, KNEE) + high * max(0, speed - KNEE))


def fork_csv() -> str:
    """The file: speed below 0 in rebound, and the force with which the leg pushes outwards."""
    lines = ["Dynamometer (invented)", "Velocity mm/s,Force N,Clicks,Stroke mm,Temperature C"]
    for at in POSITIONS:
        for way, stroke in ((1, "compression"), (-1, "rebound")):
            lines += [f"{way * v},{way * resisting(stroke, at, v):.0f},{at},30,24" for v in SPEEDS]
    return "\n".join(lines) + "\n"


def fork_sheet() -> DamperSheet:
    """The damper sheet that the program reads in it."""
    text = fork_csv()
    table = table_in(text, FILE, hashlib.sha256(text.encode()).hexdigest())
    columns = DamperColumns(
        damper="front", turned="rebound", speed="1", force="2", position="3", stroke="4", temperature="5"
    )
    return replace(read_sheet(table, columns).sheet, gas="removed")
