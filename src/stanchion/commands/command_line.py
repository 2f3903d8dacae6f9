"""Running the verbs of the command line; the screen is loaded only when it is needed."""

from __future__ import annotations

import contextlib
import gc
import io
import os
import sys
import textwrap
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from stanchion.base.ascii_only import IN_PLAIN_LETTERS, prints
from stanchion.base.errors import BadFile, NotPrinted, StanchionError, Stopped
from stanchion.base.output import guarded_streams, let_go, terminal_columns

if TYPE_CHECKING:
    import argparse

CLEAN, WARNED, FAULTY, BROKEN = 0, 1, 2, 3
STOPPED = 130
"""As a program has it that ^C ended: 128 and the number of the signal."""
LINE = 100
"""Columns of what is printed to be read."""


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
    except Exception as error:
        print(_fault(error), file=sys.stderr)
        return BROKEN


def _fault(error: Exception) -> str:
    """Write a report of a fault of the program and say so. A command has no open job that could be lost."""
    from stanchion.store.faults import write_report  # noqa: PLC0415
    from stanchion.store.paths import places  # noqa: PLC0415

    words = write_report(places().faults, error, {})
    return f"stanchion stopped: a fault of the program ({type(error).__name__}). {words}"


def run(argv: Sequence[str]) -> int:
    """Do what the arguments say and give the exit status."""
    if not argv:
        return _screen(None, None)
    from stanchion.commands.arguments import parsed  # noqa: PLC0415 - the screen alone needs no arguments read

    options = parsed(argv)
    verb: str | None = options.verb
    if verb not in (None, "open", "sample"):  # the screen spells what it writes itself
        for stream in (sys.stdout, sys.stderr):
            prints(stream)
    if verb == "check":
        return _check(options.file, as_json=options.json, jobs=options.jobs)
    if verb == "list":
        return _list(options.jobs, as_json=options.json, names=options.names)
    if verb == "path":
        return _path(options.jobs)
    if verb == "sheet":
        return _sheet(options)
    if verb == "compare":
        return _compare(options.one, options.other, options.jobs, as_json=options.json)
    if verb == "worklist":
        return _worklist(options.job, options.to, options.jobs)
    if verb == "story":
        return _story(options)
    if verb == "merge":
        return _merge(options)
    if verb == "export":
        return _export(options.file, options.out, runs=options.runs, force=options.force, jobs=options.jobs)
    if verb == "import":
        return _import(options.file, options.jobs)
    if verb == "earlier":
        return _earlier(options.job, options.bring_back, options.out, options.jobs)
    if verb == "doctor":
        return _doctor(options.jobs, ask=not options.no_keys, as_json=options.json)
    if verb == "completion":
        return _completion(options.shell)
    if verb == "sample":
        return _sample(options.name, options.jobs)
    if verb == "open":
        return _open(options.path, options.jobs)
    return _screen(options.jobs, None)


def _check(files: Sequence[str], *, as_json: bool, jobs: str | None) -> int:
    from stanchion.base.progress import CommandProgress  # noqa: PLC0415
    from stanchion.commands import check  # noqa: PLC0415

    with CommandProgress() as progress:
        reports = check.check_files(
            [Path(name) for name in files],
            jobs,
            terminal_columns(),
            progress=progress.report,
            cancelled=progress.stopped,
        )
    progress.end("nothing was printed.")
    if as_json:
        _print_json([report.data for report in reports])
    else:
        print("\n\n".join(report.text for report in reports))
    return max(report.status for report in reports)


def _print_json(data: object) -> None:
    """Print data as JSON, which is UTF-8 wherever it goes."""
    from stanchion.report.json_data import json_text  # noqa: PLC0415

    _print_bytes(json_text(data))


def _list(jobs: str | None, *, as_json: bool, names: bool) -> int:
    from stanchion.base.progress import CommandProgress  # noqa: PLC0415
    from stanchion.base.text import clean  # noqa: PLC0415
    from stanchion.bench.judged_library import library_of  # noqa: PLC0415

    if names:
        from stanchion.store.names import job_names  # noqa: PLC0415

        for name in job_names(jobs):
            print(name)
        return CLEAN
    library = library_of(jobs)
    with CommandProgress() as progress:
        rows = library.rows(progress=progress.counter("judged"), cancelled=progress.stopped)
    progress.end("the list was not printed. What was judged is remembered, and the next list takes less long.")
    if as_json:
        from stanchion.commands.job_list import list_json  # noqa: PLC0415

        _print_json([list_json(row) for row in rows])
        return CLEAN
    if not rows:
        print(
            f"No jobs in {clean(str(library.places.jobs), 1000)}. `stanchion` starts one; `stanchion sample` opens a "
            "sample.",
            file=sys.stderr,
        )
        return CLEAN
    from stanchion.commands.job_list import list_text  # noqa: PLC0415

    print("\n".join(list_text(rows, terminal_columns())))
    return CLEAN


def _path(jobs: str | None) -> int:
    from stanchion.store.paths import places  # noqa: PLC0415

    where = places(jobs)
    for name, folder in (
        ("jobs", where.jobs),
        ("config", where.config),
        ("state", where.state),
        ("cache", where.cache),
    ):
        print(f"{name}\t{folder}")
    return CLEAN


def _sheet(options: argparse.Namespace) -> int:
    from stanchion.bench.handover import sheet_of, write_sheet  # noqa: PLC0415

    text = sheet_of(Path(options.job), options.jobs, options.units or "", html=options.html)
    if options.out is not None:
        write_sheet(Path(options.out), text, force=options.force)
    elif options.html:
        _print_bytes(text)  # the file says of itself that it is UTF-8
    else:
        print(text, end="")
    return CLEAN


def _print_bytes(text: str) -> None:
    """Print what has an encoding and line ends of its own, wherever it goes."""
    sys.stdout.flush()
    sys.stdout.buffer.write(text.encode("utf-8"))
    sys.stdout.buffer.flush()


def _compare(one: str, other: str, jobs: str | None, *, as_json: bool) -> int:
    from stanchion.bench.story_reading import one_of  # noqa: PLC0415
    from stanchion.report.comparison import compared, comparison_lines  # noqa: PLC0415
    from stanchion.units.known_units import METRIC  # noqa: PLC0415

    rows = one_of(one, jobs), one_of(other, jobs)
    if as_json:
        from stanchion.report.verbs_json import comparison_json  # noqa: PLC0415

        _print_json(comparison_json(*rows))
        return CLEAN
    comparison = compared(*rows, METRIC)
    for kind, line in comparison_lines(comparison, (terminal_columns() or LINE + 2) - 2):
        print(line if kind == "head" or comparison.same else f"  {line}")
    return CLEAN


def _story(options: argparse.Namespace) -> int:
    from stanchion.base.progress import CommandProgress  # noqa: PLC0415
    from stanchion.base.text import clean  # noqa: PLC0415
    from stanchion.bench.story_reading import stories  # noqa: PLC0415
    from stanchion.report.story import (  # noqa: PLC0415
        story_in,
        story_table,
        units_line,
    )
    from stanchion.units.known_units import METRIC  # noqa: PLC0415

    asked = {name: getattr(options, name) for name in ("machine", "rider", "venue", "since", "until")}
    with CommandProgress() as progress:
        rows, problems = stories(options.jobs, **asked, progress=progress.report, cancelled=progress.stopped)
    progress.end("nothing was printed.")
    if options.json:
        from stanchion.report.verbs_json import story_json  # noqa: PLC0415

        _print_json([story_json(row) for row in rows])
    elif rows:
        width = None if options.tabs else terminal_columns()
        table = story_table(rows, METRIC, tabs=options.tabs) if width is None else story_in(rows, METRIC, width)
        print("\n".join(table))
        if not options.tabs:
            print("\n".join(textwrap.wrap(units_line(METRIC), width or 1000)))
    else:
        print("No job fits. `stanchion list` prints every machine, rider, venue and date there is.", file=sys.stderr)
    for problem in problems:
        print(clean(f"left out: {problem}", 1000), file=sys.stderr)
    return FAULTY if problems else CLEAN


def _worklist(name: str, to: str, jobs: str | None) -> int:
    from stanchion.bench.handover import work_list_of  # noqa: PLC0415

    print(work_list_of(Path(name), to, jobs), end="")
    return CLEAN


def _merge(options: argparse.Namespace) -> int:
    from stanchion.commands.merge_files import merge_files  # noqa: PLC0415

    base = Path(options.base) if options.base else None
    done = merge_files(
        Path(options.one),
        Path(options.other),
        base,
        Path(options.out),
        options.take,
        different_machines=options.different_machines,
    )
    print("\n".join(done.lines))
    return WARNED if done.undecided else CLEAN


def _export(files: Sequence[str], out: str | None, *, runs: bool, force: bool, jobs: str | None) -> int:
    from stanchion.base.progress import CommandProgress  # noqa: PLC0415
    from stanchion.bench.handover import export_of, write_sheet  # noqa: PLC0415

    with CommandProgress() as progress:
        done = export_of(map(Path, files), jobs, runs=runs, progress=progress.report, cancelled=progress.stopped)
    progress.end("nothing was written.")
    for problem in done.problems:
        print(problem, file=sys.stderr)
    for copy in done.copies:
        print(f"left out: {copy}", file=sys.stderr)
    if done.copies:
        print("`stanchion export FILE` exports a copy by its name.", file=sys.stderr)
    if not done.text:
        print("nothing was written: none of these can be read", file=sys.stderr)
    elif out is None:
        _print_bytes(done.text)
    else:
        write_sheet(Path(out), done.text, force=force)
    return FAULTY if done.problems else CLEAN


def _import(files: Sequence[str], jobs: str | None) -> int:
    from stanchion.base.progress import CommandProgress  # noqa: PLC0415
    from stanchion.base.text import clean  # noqa: PLC0415
    from stanchion.bench.judged_library import library_of  # noqa: PLC0415
    from stanchion.store.incoming import take_in  # noqa: PLC0415

    with CommandProgress() as progress:
        taken = take_in(library_of(jobs), map(Path, files), progress=progress.report, cancelled=progress.stopped)
    for one in taken:
        if one.problem:
            outcome = f"not taken in: {one.problem}"
        elif one.already:
            outcome = f"lies in the jobs folder already, as {one.name}"
        else:
            outcome = f"taken in as {one.name}"
        print(clean(f"{one.source}: {outcome}" + (f" ({one.note})" if one.note else ""), 1000))
    progress.end("what was taken in stays. The same command goes on: nothing is taken in twice.")
    return FAULTY if any(one.problem for one in taken) else CLEAN


def _earlier(name: str, number: int | None, out: str | None, jobs: str | None) -> int:
    from stanchion.commands.earlier import bring_back, list_earlier  # noqa: PLC0415

    if (number is None) != (out is None):
        print("--bring-back N and -o FILE belong together: which state, and the file to write.", file=sys.stderr)
        return FAULTY
    if number is None or out is None:
        print("\n".join(list_earlier(Path(name), jobs)))
    else:
        bring_back(Path(name), number, Path(out), jobs)
    return CLEAN


def _doctor(jobs: str | None, *, ask: bool, as_json: bool) -> int:
    from stanchion.commands.doctor_page import page_data, print_page  # noqa: PLC0415

    if as_json:
        data = page_data(jobs)
        _print_json(data)
        return CLEAN if data["well"] else WARNED
    return CLEAN if print_page(jobs, ask=ask) else WARNED


def _completion(shell: str) -> int:
    from stanchion.commands.completion import script  # noqa: PLC0415

    print(script(shell), end="")
    return CLEAN


def _open(path: str, jobs: str | None) -> int:
    from stanchion.store.names import existing_file  # noqa: PLC0415

    where = Path(path)
    if not where.is_dir():
        where = existing_file(where, jobs)
    try:
        return _screen(jobs, None, where)
    except BadFile as error:
        from stanchion.commands.earlier import newest_good_words  # noqa: PLC0415

        raise BadFile(" ".join(filter(None, (f"{path}: {error}.", newest_good_words(where, jobs))))) from error


def _is_terminal(stream: TextIO | None) -> bool:
    """Whether a stream is a terminal; one that the caller closed is None."""
    return stream is not None and stream.isatty()


def _sample(name: str, jobs: str | None) -> int:
    from stanchion.store.samples import samples  # noqa: PLC0415

    found = [sample for sample in samples() if name in ("", sample.name)]
    if not found:
        print(f"There is no sample '{name}'. There are: {', '.join(s.name for s in samples())}", file=sys.stderr)
        return FAULTY
    if not (_is_terminal(sys.stdin) and _is_terminal(sys.stdout)):
        from stanchion.commands import check  # noqa: PLC0415

        report = check.check_bytes(f"{found[0].name}.toml", found[0].data)
        print(report.text)
        return CLEAN
    return _screen(jobs, found[0].name)


def _screen(jobs: str | None, sample: str | None, path: Path | None = None) -> int:
    if not all(map(_is_terminal, (sys.stdin, sys.stdout, sys.stderr))):  # it is drawn on the last of them
        print("The screen needs a terminal. `stanchion check JOB.toml` and `stanchion list` do not.", file=sys.stderr)
        return FAULTY
    if os.environ.get("TERM", "") in ("", "dumb"):
        print("This terminal cannot show a screen (TERM is not set or 'dumb').", file=sys.stderr)
        return FAULTY
    # Textual reads these when it is first imported: repaint soon after a key, and no animation in between.
    os.environ.setdefault("TEXTUAL_FPS", "1000")
    os.environ.setdefault("TEXTUAL_ANIMATIONS", "none")
    # What is made while starting stays, and looking for garbage in it takes a twelfth of the start; ui/idle.py goes on.
    gc.disable()
    from stanchion.ui.app import run_app  # noqa: PLC0415

    return run_app(jobs, sample, path)
