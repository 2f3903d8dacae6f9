"""The verbs of the command line that print or write something: one function each, which returns the exit status."""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from stanchion.base.exit_status import CLEAN, FAULTY, WARNED
from stanchion.base.output import terminal_columns

if TYPE_CHECKING:
    import argparse

LINE = 100
"""Columns of what is printed to be read."""


def _check(options: argparse.Namespace) -> int:
    from stanchion.base.progress import CommandProgress  # noqa: PLC0415
    from stanchion.commands import check  # noqa: PLC0415

    if options.why is not None:
        return _why(options)
    with CommandProgress() as progress:
        reports = check.check_files(
            [Path(name) for name in options.file],
            options.jobs,
            terminal_columns(),
            sure=options.json,
            progress=progress.report,
            cancelled=progress.stopped,
        )
    progress.end("nothing was printed.")
    if options.json:
        _print_json([report.data for report in reports])
    else:
        print("\n\n".join(report.text for report in reports))
    return max(report.status for report in reports)


def _why(options: argparse.Namespace) -> int:
    from stanchion.commands.why import why_file  # noqa: PLC0415

    reports = [why_file(Path(name), options.why, options.jobs, terminal_columns()) for name in options.file]
    if options.json:
        _print_json([report.data for report in reports])
    else:
        print("\n\n".join(report.text for report in reports))
    return max(report.status for report in reports)


def _list(options: argparse.Namespace) -> int:
    from stanchion.base.progress import CommandProgress  # noqa: PLC0415
    from stanchion.base.text import clean  # noqa: PLC0415
    from stanchion.bench.judged_library import library_of  # noqa: PLC0415

    if options.names:
        from stanchion.store.typed_names import job_names  # noqa: PLC0415

        for name in job_names(options.jobs):
            print(name)
        return CLEAN
    library = library_of(options.jobs)
    with CommandProgress() as progress:
        rows = library.rows(progress=progress.counter("judged"), cancelled=progress.stopped)
    progress.end("the list was not printed. What was judged is remembered, and the next list takes less long.")
    if options.json:
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


def _path(options: argparse.Namespace) -> int:
    from stanchion.store.paths import places  # noqa: PLC0415

    where = places(options.jobs)
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


def _compare(options: argparse.Namespace) -> int:
    from stanchion.bench.story_reading import one_of  # noqa: PLC0415
    from stanchion.report.comparison import compared, comparison_lines  # noqa: PLC0415
    from stanchion.units.known_units import METRIC  # noqa: PLC0415

    rows = one_of(options.one, options.jobs), one_of(options.other, options.jobs)
    if options.json:
        from stanchion.report.verbs_json import comparison_json  # noqa: PLC0415

        _print_json(comparison_json(*rows))
        return CLEAN
    comparison = compared(*rows, METRIC)
    for kind, line in comparison_lines(comparison, (terminal_columns() or LINE + 2) - 2):
        print(line if kind == "head" or comparison.same else f"  {line}")
    return CLEAN


def _worklist(options: argparse.Namespace) -> int:
    from stanchion.bench.handover import work_list_of  # noqa: PLC0415

    print(work_list_of(Path(options.job), options.to, options.jobs), end="")
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
        print("No job matches. `stanchion list` prints every machine, rider, venue and date there is.", file=sys.stderr)
    for problem in problems:
        print(clean(f"left out: {problem}", 1000), file=sys.stderr)
    return FAULTY if problems else CLEAN


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


def _export(options: argparse.Namespace) -> int:
    from stanchion.base.progress import CommandProgress  # noqa: PLC0415
    from stanchion.bench.handover import export_of, write_sheet  # noqa: PLC0415

    with CommandProgress() as progress:
        done = export_of(
            map(Path, options.file),
            options.jobs,
            runs=options.runs,
            progress=progress.report,
            cancelled=progress.stopped,
        )
    progress.end("nothing was written.")
    for problem in done.problems:
        print(problem, file=sys.stderr)
    for copy in done.copies:
        print(f"left out: {copy}", file=sys.stderr)
    if done.copies:
        print("`stanchion export FILE` exports a copy by its name.", file=sys.stderr)
    if not done.text:
        print("nothing was written: none of these can be read", file=sys.stderr)
    elif options.out is None:
        _print_bytes(done.text)
    else:
        write_sheet(Path(options.out), done.text, force=options.force)
    return FAULTY if done.problems else CLEAN


def _import(options: argparse.Namespace) -> int:
    from stanchion.base.progress import CommandProgress  # noqa: PLC0415
    from stanchion.base.text import clean  # noqa: PLC0415
    from stanchion.bench.judged_library import library_of  # noqa: PLC0415
    from stanchion.store.incoming import take_in  # noqa: PLC0415

    with CommandProgress() as progress:
        taken = take_in(
            library_of(options.jobs), map(Path, options.file), progress=progress.report, cancelled=progress.stopped
        )
    for one in taken:
        if one.problem:
            outcome = f"not imported: {one.problem}"
        elif one.already:
            outcome = f"is in the jobs folder already, as {one.name}"
        else:
            outcome = f"imported as {one.name}"
        print(clean(f"{one.source}: {outcome}" + (f" ({one.note})" if one.note else ""), 1000))
    progress.end("what was imported stays. The same command goes on: nothing is imported twice.")
    return FAULTY if any(one.problem for one in taken) else CLEAN


def _earlier(options: argparse.Namespace) -> int:
    from stanchion.commands.earlier import bring_back, list_earlier  # noqa: PLC0415

    number, out = options.bring_back, options.out
    if (number is None) != (out is None):
        print("--bring-back N and -o FILE belong together: which state, and the file to write.", file=sys.stderr)
        return FAULTY
    if number is None or out is None:
        print("\n".join(list_earlier(Path(options.job), options.jobs)))
    else:
        bring_back(Path(options.job), number, Path(out), options.jobs)
    return CLEAN


def _doctor(options: argparse.Namespace) -> int:
    from stanchion.commands.doctor_page import page_data, print_page  # noqa: PLC0415

    if options.json:
        data = page_data(options.jobs)
        _print_json(data)
        return CLEAN if data["well"] else WARNED
    return CLEAN if print_page(options.jobs, ask=not options.no_keys) else WARNED


def _completion(options: argparse.Namespace) -> int:
    from stanchion.commands.completion import script  # noqa: PLC0415

    print(script(options.shell), end="")
    return CLEAN


VERBS: Mapping[str, Callable[[argparse.Namespace], int]] = {
    "check": _check,
    "list": _list,
    "path": _path,
    "sheet": _sheet,
    "compare": _compare,
    "worklist": _worklist,
    "story": _story,
    "merge": _merge,
    "export": _export,
    "import": _import,
    "earlier": _earlier,
    "doctor": _doctor,
    "completion": _completion,
}
"""What each verb does with its arguments."""


def _print_json(data: object) -> None:
    """Print data as JSON, which is UTF-8 wherever it goes."""
    from stanchion.report.json_data import json_text  # noqa: PLC0415

    _print_bytes(json_text(data))


def _print_bytes(text: str) -> None:
    """Print what has an encoding and line ends of its own, wherever it goes."""
    sys.stdout.flush()
    sys.stdout.buffer.write(text.encode("utf-8"))
    sys.stdout.buffer.flush()
