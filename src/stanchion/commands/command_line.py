"""The command line: from arguments to exit status. The screen, and each verb, is loaded only when it is needed."""

from __future__ import annotations

import contextlib
import io
import sys
from collections.abc import Sequence

from stanchion.base.ascii_only import IN_PLAIN_LETTERS, prints
from stanchion.base.errors import NotPrinted, StanchionError, Stopped
from stanchion.base.exit_status import BROKEN, FAULTY, STOPPED
from stanchion.base.output import guarded_streams, let_go
from stanchion.commands.start_screen import open_path, open_sample, start_screen


def main(argv: Sequence[str] | None = None) -> None:
    """Run the command and leave with its status.

    `check` leaves with 0 where nothing is above a note, 1 for warnings, 2 for a fault or a file that cannot be read.
    Status 2 of any verb also means that its output could not be written, 3 is a fault of the program itself, 130 is ^C.
    """
    with guarded_streams():
        for stream in (sys.stdout, sys.stderr):
            if isinstance(stream, io.TextIOWrapper):
                stream.reconfigure(errors=IN_PLAIN_LETTERS)
        status = _done(sys.argv[1:] if argv is None else argv)
        with contextlib.suppress(NotPrinted):  # it was reported, and the rest of the output is dropped
            sys.stdout.flush()
        sys.stderr.flush()
    let_go()
    sys.exit(status)


def _done(argv: Sequence[str]) -> int:
    """Run the command, report what ended it early, and return its exit status."""
    try:
        try:
            return run(argv)
        finally:
            sys.stdout.flush()
    except SystemExit as end:  # help, the version, or arguments that cannot be read
        return end.code if isinstance(end.code, int) else FAULTY
    except (Stopped, KeyboardInterrupt) as error:
        print(f"stanchion: {str(error) or 'stopped'}", file=sys.stderr)
        return STOPPED
    except StanchionError as error:
        from stanchion.base.text import clean  # noqa: PLC0415

        print(f"stanchion: {clean(str(error), 2000)}", file=sys.stderr)
        return FAULTY
    except Exception as error:  # noqa: BLE001 - it is reported, by its status too
        print(_fault(error), file=sys.stderr)
        return BROKEN


def _fault(error: Exception) -> str:
    """Write a report of a fault of the program and say so. A command has no open job that could be lost."""
    from stanchion.store.faults import write_report  # noqa: PLC0415
    from stanchion.store.paths import places  # noqa: PLC0415

    words = write_report(places().faults, error, {})
    return f"stanchion stopped: a fault in the program ({type(error).__name__}). {words}"


def run(argv: Sequence[str]) -> int:
    """Do what the arguments say and return the exit status."""
    if not argv:
        return start_screen(None, None)
    from stanchion.commands.arguments import parsed  # noqa: PLC0415 - the screen alone needs no arguments read

    options = parsed(argv)
    verb: str | None = options.verb
    if verb is None:
        return start_screen(options.jobs, None)
    if verb == "open":
        return open_path(options.path, options.jobs)
    if verb == "sample":
        return open_sample(options.name, options.jobs)
    from stanchion.commands.verbs import VERBS  # noqa: PLC0415

    for stream in (sys.stdout, sys.stderr):  # the screen spells what it writes itself
        prints(stream)
    if hasattr(options, "us"):
        _choose_words(options.jobs, us=options.us)
    return VERBS[verb](options)


def _choose_words(jobs: str | None, *, us: bool) -> None:
    """Use American words where they are asked for, or chosen in the settings."""
    from stanchion.store.paths import places  # noqa: PLC0415
    from stanchion.store.settings import load_settings  # noqa: PLC0415
    from stanchion.wording.american import choose_wording  # noqa: PLC0415

    choose_wording("us" if us else load_settings(places(jobs)).settings.wording)
