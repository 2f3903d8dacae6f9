"""Files that belong to a job, such as photographs and damper sheets: only where they are, never what is in them."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.spec import text


@record(kw_only=True)
class Attached:
    """One file."""

    path: str = text(200)
    """Where it is, from the folder of the job's file on."""
