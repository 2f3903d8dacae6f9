"""The arguments of the command line."""

from __future__ import annotations

import argparse
import datetime as dt

from stanchion import __version__


def parser() -> argparse.ArgumentParser:
    """What is read off the command line; its `verb` is None for the full-screen program."""
    whole = argparse.ArgumentParser(
        prog="stanchion",
        description="Workshop assistant for setting up motorcycle forks and shocks. Without a verb the full-screen "
        "program opens where it was left.",
        epilog="The program computes; it does not approve a machine as safe. The manufacturer's manual, local rules "
        "and a qualified technician's judgement come first.",
    )
    whole.add_argument("--version", action="version", version=f"stanchion {__version__}")
    whole.add_argument("--jobs", metavar="DIR", help="folder of the jobs (also: environment variable STANCHION_JOBS)")
    verbs = whole.add_subparsers(dest="verb", metavar="VERB")
    check = verbs.add_parser("check", help="print figures and warnings of job files")
    check.add_argument("file", nargs="+", metavar="JOB.toml")
    check.add_argument("--json", action="store_true", help="as JSON: an array of one object a file")
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
    merge.add_argument("one", metavar="A.toml", help="its values are used where nothing decides")
    merge.add_argument("other", metavar="B.toml")
    merge.add_argument("--base", metavar="O.toml", help="the state both came from")
    merge.add_argument("--take", choices=("a", "b"), help="whose value stands where both changed a field")
    merge.add_argument(
        "--different-machines", action="store_true", help="join them although they name two different machines"
    )
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
    return whole


def _day(text: str) -> dt.date:
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError("a date is written as 2026-05-31: year, month, day") from None
