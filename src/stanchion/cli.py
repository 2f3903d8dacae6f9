"""Arguments and verbs; everything else is elsewhere, and the screen is loaded only when it is wanted."""

from __future__ import annotations

import argparse
import codecs
import datetime as dt
import io
import json
import os
import sys
from collections.abc import Sequence
from pathlib import Path

from stanchion import __version__
from stanchion.errors import StanchionError

CLEAN, WARNED, FAULTY, BROKEN = 0, 1, 2, 3
LINE = 100
"""Columns of what is printed to be read."""
IN_PLAIN_LETTERS = "stanchion_plain"
_PLAIN = {"\u2212": "-", "\u2013": "-", "\u2192": "->", "\u2026": "...", "\u00b0": " deg", "\u00b7": "."}
"""What is printed where a terminal lacks a letter: a sign must not be lost."""


def _plainly(error: UnicodeError) -> tuple[str, int]:
    """Stand-ins for letters that the encoding of a terminal lacks."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    lacking = error.object[error.start : error.end]
    return "".join(_PLAIN.get(letter, "?") for letter in lacking), error.end


codecs.register_error(IN_PLAIN_LETTERS, _plainly)


def main(argv: Sequence[str] | None = None) -> None:
    """Run the command and leave with its status.

    `check` leaves with 0 where nothing is above a note, 1 for warnings, 2 for a fault or a file that cannot be read.
    Status 3 is a fault of the program itself.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors=IN_PLAIN_LETTERS)
    try:
        status = run(sys.argv[1:] if argv is None else argv)
        sys.stdout.flush()
    except StanchionError as error:
        from stanchion.text import clean  # noqa: PLC0415

        print(f"stanchion: {clean(str(error), 2000)}", file=sys.stderr)
        status = FAULTY
    except BrokenPipeError:
        # Whoever read our output has had enough; nothing more can be said, and that is no fault.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        status = CLEAN
    except Exception as error:
        print(_fault(error), file=sys.stderr)
        status = BROKEN
    sys.exit(status)


def _fault(error: Exception) -> str:
    """A fault of our own, written down without a word of the job, and told."""
    from stanchion.desk import Desk  # noqa: PLC0415
    from stanchion.store.paths import places  # noqa: PLC0415

    told = Desk(places()).report_fault(error, {})
    return f"stanchion stopped: a fault of the program ({type(error).__name__}). {told}"


def run(argv: Sequence[str]) -> int:
    """Do what the arguments say and give the exit status."""
    options = _parser().parse_args(argv)
    verb: str | None = options.verb
    if verb == "check":
        return _check(options.file, as_json=options.json, jobs=options.jobs)
    if verb == "list":
        return _list(options.jobs)
    if verb == "path":
        return _path(options.jobs)
    if verb == "sheet":
        return _sheet(options)
    if verb == "compare":
        return _compare(options.one, options.other, options.jobs)
    if verb == "worklist":
        return _worklist(options.job, options.to, options.jobs)
    if verb == "story":
        return _story(options)
    if verb == "merge":
        return _merge(options.one, options.other, options.base, options.out, options.take)
    if verb == "export":
        return _export(options.file, options.out, runs=options.runs, force=options.force, jobs=options.jobs)
    if verb == "import":
        return _import(options.file, options.jobs)
    if verb == "earlier":
        return _earlier(options.job, options.bring_back, options.out, options.jobs)
    if verb == "doctor":
        return _doctor(options.jobs, ask=not options.no_keys)
    if verb == "sample":
        return _sample(options.name, options.jobs)
    return _screen(options.jobs, None)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="stanchion",
        description="Workshop assistant for setting up motorcycle forks and shocks. Without a verb the full-screen "
        "program opens where it was left.",
        epilog="The program computes; it does not approve a machine as safe. The manufacturer's manual, local rules "
        "and a qualified technician's judgement come first.",
    )
    parser.add_argument("--version", action="version", version=f"stanchion {__version__}")
    parser.add_argument("--jobs", metavar="DIR", help="folder of the jobs (also: environment variable STANCHION_JOBS)")
    verbs = parser.add_subparsers(dest="verb", metavar="VERB")
    check = verbs.add_parser("check", help="print figures and warnings of job files")
    check.add_argument("file", nargs="+", metavar="JOB.toml")
    check.add_argument("--json", action="store_true", help="as JSON, one object a file")
    verbs.add_parser("list", help="list the jobs, newest first")
    verbs.add_parser("path", help="print where jobs, settings and earlier states live")
    sheet = verbs.add_parser("sheet", help="write the hand-over sheet of a job, as text or as one HTML file")
    sheet.add_argument("job", metavar="JOB.toml")
    sheet.add_argument("--html", action="store_true", help="one HTML file that stands alone, to print or to send")
    sheet.add_argument(
        "--units", metavar="in,lb/in", help="mm or in, N/mm, kg/mm or lb/in; otherwise as in config.toml"
    )
    sheet.add_argument("-o", "--out", metavar="FILE", help="write there instead of printing")
    sheet.add_argument("--force", action="store_true", help="overwrite FILE")
    work = verbs.add_parser("worklist", help="print what to do to return a machine to another job, or to a run")
    work.add_argument("job", metavar="JOB.toml")
    work.add_argument(
        "--to",
        metavar="JOB.toml[:RUN]",
        default="",
        help="what to return to; :RUN alone for a run of the same job; RUN is a number, latest or best. Without it: "
        "the list the job has in hand",
    )
    compare = verbs.add_parser("compare", help="print where two jobs or runs differ, and nothing else")
    compare.add_argument("one", metavar="JOB.toml[:RUN]", help="a job as it stands, or with :2 its second run")
    compare.add_argument("other", metavar="JOB.toml[:RUN]")
    story = verbs.add_parser("story", help="print all occasions and runs of a machine in time order")
    for name, what in (("machine", "machine"), ("rider", "rider"), ("venue", "venue")):
        story.add_argument(f"--{name}", metavar="WORDS", default="", help=f"words of the {what}'s name")
    story.add_argument("--since", metavar="DATE", type=_day, help="first day, as 2026-05-31")
    story.add_argument("--until", metavar="DATE", type=_day, help="last day")
    story.add_argument("--tabs", action="store_true", help="a tab between cells, for other programs")
    merge = verbs.add_parser(
        "merge", help="join two copies of one job field by field; leaves with 1 if fields are left"
    )
    merge.add_argument("one", metavar="A.toml", help="its values stand where nothing decides")
    merge.add_argument("other", metavar="B.toml")
    merge.add_argument("--base", metavar="O.toml", help="the state both came from")
    merge.add_argument("--take", choices=("a", "b"), help="whose value stands where both changed a field")
    merge.add_argument("-o", "--out", metavar="C.toml", required=True, help="a new file, or A.toml itself")
    export = verbs.add_parser("export", help="write settings and figures of jobs as CSV for a spreadsheet")
    export.add_argument("file", nargs="*", metavar="JOB.toml", help="which; without any, every job of the folder")
    export.add_argument("--runs", action="store_true", help="one row a run, not one a job")
    export.add_argument("-o", "--out", metavar="FILE", help="write there instead of printing")
    export.add_argument("--force", action="store_true", help="overwrite FILE")
    taken = verbs.add_parser("import", help="take job files into the jobs folder; nothing there is overwritten")
    taken.add_argument("file", nargs="+", metavar="FILE")
    earlier = verbs.add_parser("earlier", help="list earlier states of a job, or write one into a file of its own")
    earlier.add_argument("job", metavar="JOB.toml")
    earlier.add_argument("--bring-back", metavar="N", type=int, help="write state N of the list into FILE")
    earlier.add_argument("-o", "--out", metavar="FILE", help="the new file; one that is there is left alone")
    doctor = verbs.add_parser(
        "doctor",
        help="print how program, terminal, folders and job files are, for a mail to a friend; leaves with 1 if "
        "something needs a look",
    )
    doctor.add_argument("--no-keys", action="store_true", help="do not ask for keys")
    sample = verbs.add_parser("sample", help="open a copy of an invented sample job to try things out on")
    sample.add_argument("name", nargs="?", default="", help="which one; without a name the first")
    for verb in verbs.choices.values():
        verb.add_argument("--jobs", metavar="DIR", default=argparse.SUPPRESS, help=argparse.SUPPRESS)
    return parser


def _day(text: str) -> dt.date:
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError("a date is written as 2026-05-31: year, month, day") from None


def _check(files: Sequence[str], *, as_json: bool, jobs: str | None) -> int:
    from stanchion import checking  # noqa: PLC0415

    reports = checking.check_files([Path(name) for name in files], jobs)
    if as_json:
        print(json.dumps([report.data for report in reports], indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print("\n\n".join(report.text for report in reports))
    return max(report.status for report in reports)


def _list(jobs: str | None) -> int:
    from stanchion.desk import library_of  # noqa: PLC0415
    from stanchion.text import clean  # noqa: PLC0415

    library = library_of(jobs)
    rows = library.rows()
    if not rows:
        print(f"No jobs in {library.places.jobs}. `stanchion` starts one; `stanchion sample` opens a sample.")
    for row in rows:
        verdict = f"{row.severity.upper()} {row.headline}" if row.severity else "nothing to warn about"
        verdict = f"UNREADABLE {row.problem}" if row.problem else verdict
        verdict = f"ANOTHER COPY of {row.copy_of}: {verdict}" if row.copy_of else verdict
        cells = (row.date.isoformat(), row.machine, row.rider, row.venue, verdict, row.name)
        print("\t".join(clean(cell) for cell in cells))
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
    from stanchion.handover import sheet_of, write_sheet  # noqa: PLC0415

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


def _compare(one: str, other: str, jobs: str | None) -> int:
    from stanchion.following import one_of  # noqa: PLC0415
    from stanchion.quantity import METRIC  # noqa: PLC0415
    from stanchion.report.comparison import compared, comparison_lines  # noqa: PLC0415

    comparison = compared(one_of(one, jobs), one_of(other, jobs), METRIC)
    for kind, line in comparison_lines(comparison, LINE):
        print(line if kind == "head" or comparison.same else f"  {line}")
    return CLEAN


def _story(options: argparse.Namespace) -> int:
    from stanchion.following import stories  # noqa: PLC0415
    from stanchion.quantity import METRIC  # noqa: PLC0415
    from stanchion.report.story import story_table, units_line  # noqa: PLC0415
    from stanchion.text import clean  # noqa: PLC0415

    asked = {name: getattr(options, name) for name in ("machine", "rider", "venue", "since", "until")}
    rows, problems = stories(options.jobs, **asked)
    if rows:
        print("\n".join(story_table(rows, METRIC, tabs=options.tabs)))
        if not options.tabs:
            print(units_line(METRIC))
    else:
        print("No job fits. `stanchion list` prints every machine, rider, venue and date there is.", file=sys.stderr)
    for problem in problems:
        print(clean(f"not told: {problem}", 1000), file=sys.stderr)
    return FAULTY if problems else CLEAN


def _worklist(name: str, to: str, jobs: str | None) -> int:
    from stanchion.handover import work_list_of  # noqa: PLC0415

    print(work_list_of(Path(name), to, jobs), end="")
    return CLEAN


def _merge(one: str, other: str, base: str | None, out: str, take: str | None) -> int:
    from stanchion.merged_file import merge_files  # noqa: PLC0415

    done = merge_files(Path(one), Path(other), Path(base) if base else None, Path(out), take)
    print("\n".join(done.lines))
    return WARNED if done.left else CLEAN


def _export(files: Sequence[str], out: str | None, *, runs: bool, force: bool, jobs: str | None) -> int:
    from stanchion.handover import export_of, write_sheet  # noqa: PLC0415

    text, problems = export_of(map(Path, files), jobs, runs=runs)
    for problem in problems:
        print(problem, file=sys.stderr)
    if out is None:
        _print_bytes(text)
    else:
        write_sheet(Path(out), text, force=force)
    return FAULTY if problems else CLEAN


def _import(files: Sequence[str], jobs: str | None) -> int:
    from stanchion.desk import library_of  # noqa: PLC0415
    from stanchion.store.incoming import take_in  # noqa: PLC0415
    from stanchion.text import clean  # noqa: PLC0415

    taken = take_in(library_of(jobs), map(Path, files))
    for one in taken:
        if one.problem:
            told = f"not taken in: {one.problem}"
        elif one.already:
            told = f"lies in the jobs folder already, as {one.name}"
        else:
            told = f"taken in as {one.name}"
        print(clean(f"{one.source}: {told}" + (f" ({one.note})" if one.note else ""), 1000))
    return FAULTY if any(one.problem for one in taken) else CLEAN


def _earlier(name: str, number: int | None, out: str | None, jobs: str | None) -> int:
    from stanchion.recovering import bring_back, list_earlier  # noqa: PLC0415

    if (number is None) != (out is None):
        print("--bring-back N and -o FILE belong together: which state, and the file to write.", file=sys.stderr)
        return FAULTY
    if number is None or out is None:
        print("\n".join(list_earlier(Path(name), jobs)))
    else:
        bring_back(Path(name), number, Path(out), jobs)
    return CLEAN


def _doctor(jobs: str | None, *, ask: bool) -> int:
    from stanchion.ui.doctor_page import print_page  # noqa: PLC0415

    return CLEAN if print_page(jobs, ask=ask) else WARNED


def _sample(name: str, jobs: str | None) -> int:
    from stanchion.samples import samples  # noqa: PLC0415

    found = [sample for sample in samples() if name in ("", sample.name)]
    if not found:
        print(f"There is no sample '{name}'. There are: {', '.join(s.name for s in samples())}", file=sys.stderr)
        return FAULTY
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        from stanchion import checking  # noqa: PLC0415

        report = checking.check_bytes(f"{found[0].name}.toml", found[0].data)
        print(report.text)
        return CLEAN
    return _screen(jobs, found[0].name)


def _screen(jobs: str | None, sample: str | None) -> int:
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        print("The screen needs a terminal. `stanchion check JOB.toml` and `stanchion list` do not.", file=sys.stderr)
        return FAULTY
    if os.environ.get("TERM", "") in ("", "dumb"):
        print("This terminal cannot show a screen (TERM is not set or 'dumb').", file=sys.stderr)
        return FAULTY
    # Textual reads these when it is first imported: repaint soon after a key, and no animation in between.
    os.environ.setdefault("TEXTUAL_FPS", "1000")
    os.environ.setdefault("TEXTUAL_ANIMATIONS", "none")
    from stanchion.ui.app import run_app  # noqa: PLC0415

    return run_app(jobs, sample)
