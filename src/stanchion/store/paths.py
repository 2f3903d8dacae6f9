"""Where the program keeps its files."""

from __future__ import annotations

import os
from pathlib import Path

from stanchion.base.record import record

APP = "stanchion"


@record
class Places:
    """The four folders of the program. Each is made when something is first written into it."""

    jobs: Path
    """The jobs, one TOML file each: the user's own, and all that needs a backup."""
    config: Path
    """Settings, profiles and the stock of springs."""
    state: Path
    """Earlier states, deleted jobs, and the last job and screen."""
    cache: Path
    """What can be computed again."""

    @property
    def sheets(self) -> Path:
        """Hand-over sheets, beside the jobs folder."""
        return self.jobs.parent / "sheets"

    @property
    def history(self) -> Path:
        """Earlier states of jobs."""
        return self.state / "history"

    @property
    def bin(self) -> Path:
        """Deleted jobs."""
        return self.state / "bin"

    @property
    def spill(self) -> Path:
        """Edits that could not be written into their file."""
        return self.state / "unsaved"

    @property
    def faults(self) -> Path:
        """Reports of faults of the program itself."""
        return self.state / "faults"


def places(jobs: str | None = None) -> Places:
    """The folders for this run.

    The jobs folder is the one asked for, or that of the environment variable STANCHION_JOBS, or the user's data
    folder. STANCHION_HOME moves all four under one folder, as on a memory stick.

    Args:
        jobs: the folder given on the command line.
    """
    home = os.environ.get("STANCHION_HOME")
    asked = jobs or os.environ.get("STANCHION_JOBS")
    if home:
        base = _absolute(home)
        defaults = Places(base / "jobs", base / "config", base / "state", base / "cache")
    else:
        # only asked for where it is needed: it costs a few ms of the start
        import platformdirs  # noqa: PLC0415

        dirs = platformdirs.PlatformDirs(appname=APP, appauthor=False)
        defaults = Places(
            dirs.user_data_path / "jobs",
            # on some systems these are one and the same folder: keep them apart below it
            dirs.user_config_path / "config" if dirs.user_config_path == dirs.user_data_path else dirs.user_config_path,
            dirs.user_state_path / "state" if dirs.user_state_path == dirs.user_data_path else dirs.user_state_path,
            dirs.user_cache_path,
        )
    if not asked:
        return defaults
    return Places(_absolute(asked), defaults.config, defaults.state, defaults.cache)


def _absolute(text: str) -> Path:
    """The absolute path, which a later change of the current folder does not affect."""
    return Path(text).expanduser().absolute()
