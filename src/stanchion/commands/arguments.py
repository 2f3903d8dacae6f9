"""The arguments of the command line."""

from __future__ import annotations

import argparse
import datetime as dt
import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from stanchion import __version__
from stanchion.base.errors import NotFound

if TYPE_CHECKING:
    Verbs = argparse._SubParsersAction[argparse.ArgumentParser]

SHELLS = ("bash", "zsh", "fish")
JOB, JOB_OR_RUN, FILE, FOLDER, SAMPLE = "JOB.toml", "JOB.toml[:RUN]", "FILE", "DIR", "NAME"
"""What an argument stands for: the shells complete it by this name."""
OPEN = "open"
"""The verb that may be left out."""


def parsed(argv: Sequence[str]) -> argparse.Namespace:
    """The arguments as they were read; the program ends here with usage and status 2 where they cannot be.

    Args:
        argv: the arguments; a path in place of a verb is opened.
    """
    whole = parser()
    verbs = verbs_of(whole)
    at = _at_verb(argv)
    if at is not None and argv[at] not in verbs:
        if not _may_be_path(argv[at], argv):
            whole.error(_unknown(argv[at], list(verbs)))
        argv = [*argv[:at], OPEN, *argv[at:]]
    return whole.parse_args(argv)


def parser() -> argparse.ArgumentParser:
    """What is read off the command line; its `verb` is None for the full-screen program."""
    whole = argparse.ArgumentParser(
        prog="stanchion",
        usage="stanchion [-h] [--version] [--jobs DIR] [JOB.toml | FOLDER | VERB ...]",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        description="Workshop assistant for setting up motorcycle forks and shocks. Without arguments the full-screen\n"
        "program opens where it was left; with a job file it opens that job, with a folder the jobs in it.",
        epilog="`stanchion VERB --help` explains a verb, with an example.\n\n"
        "The program computes; it does not approve a machine as safe. The manufacturer's manual, local rules\n"
        "and a qualified technician's judgement come first.",
    )
    whole.add_argument("--version", action="version", version=f"stanchion {__version__}")
    whole.add_argument("--jobs", metavar=FOLDER, help="folder of the jobs (also: environment variable STANCHION_JOBS)")
    verbs = whole.add_subparsers(dest="verb", metavar="VERB", prog="stanchion")
    _open(verbs)
    _looking(verbs)
    _handing_over(verbs)
    _files(verbs)
    _about_the_program(verbs)
    for verb in verbs.choices.values():
        verb.add_argument("--jobs", metavar=FOLDER, default=argparse.SUPPRESS, help=argparse.SUPPRESS)
    return whole


def verbs_of(whole: argparse.ArgumentParser) -> dict[str, argparse.ArgumentParser]:
    """The arguments of each verb, by its name."""
    (found,) = (action for action in whole._actions if isinstance(action, argparse._SubParsersAction))
    return dict(found.choices)


def help_of(whole: argparse.ArgumentParser) -> dict[str, str]:
    """What each verb does, in a few words, by its name."""
    (found,) = (action for action in whole._actions if isinstance(action, argparse._SubParsersAction))
    return {action.dest: action.help or "" for action in found._choices_actions}


# --- the verbs --------------------------------------------------------------------------------------------------------


def _verb(verbs: Verbs, name: str, words: str, *examples: str) -> argparse.ArgumentParser:
    """A verb.

    Args:
        verbs: all of them.
        name: its name.
        words: what it does.
        examples: commands that show how it is used; the tests run each.
    """
    heading = "example:" if len(examples) == 1 else "examples:"
    return verbs.add_parser(
        name,
        help=words,
        description=f"{words[:1].upper()}{words[1:]}.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        epilog="\n".join([heading, *(f"  {one}" for one in examples)]),
    )


def _json(verb: argparse.ArgumentParser, what: str) -> None:
    verb.add_argument("--json", action="store_true", help=f"as JSON: {what}")


def _out(verb: argparse.ArgumentParser) -> None:
    verb.add_argument("-o", "--out", metavar=FILE, help="write there instead of printing")
    verb.add_argument("--force", action="store_true", help="overwrite FILE")


def _open(verbs: Verbs) -> None:
    verb = _verb(
        verbs,
        OPEN,
        "open a job file, or the jobs of a folder, on the screen; the word open may be left out",
        "stanchion soft_springs.toml",
        "stanchion open .",
    )
    verb.add_argument(
        "path",
        metavar="JOB.toml|FOLDER",
        help="a job outside the jobs folder is opened and saved where it is; a folder is the jobs folder of this "
        "start only",
    )


def _looking(verbs: Verbs) -> None:
    check = _verb(
        verbs,
        "check",
        "print figures and warnings of job files",
        "stanchion check soft_springs.toml",
        "stanchion check --json - < soft_springs.toml",
    )
    check.add_argument("file", nargs="+", metavar=JOB, help="a file, a name of the list, or - for standard input")
    _json(check, "an array with one object for each file")
    jobs = _verb(verbs, "list", "list the jobs, newest first", "stanchion list", "stanchion list --json")
    jobs.add_argument("--names", action="store_true", help="the file names alone, without judging")
    _json(jobs, "an array of one object a job")
    compare = _verb(
        verbs,
        "compare",
        "print where two jobs or runs differ, and nothing else",
        "stanchion compare well_set.toml soft_springs.toml",
        "stanchion compare soft_springs.toml:1 soft_springs.toml:2",
    )
    compare.add_argument("one", metavar=JOB_OR_RUN, help="a job as it stands, or with :2 its second run")
    compare.add_argument("other", metavar=JOB_OR_RUN)
    _json(compare, "one object")
    story = _verb(
        verbs,
        "story",
        "print all occasions and runs of a machine in time order",
        "stanchion story --machine damson --since 2026-01-01",
    )
    for name, what in (("machine", "machine"), ("rider", "rider"), ("venue", "venue")):
        story.add_argument(f"--{name}", metavar="WORDS", default="", help=f"words of the {what}'s name")
    story.add_argument("--since", metavar="DATE", type=_day, help="first day, as 2026-05-31")
    story.add_argument("--until", metavar="DATE", type=_day, help="last day")
    story.add_argument("--tabs", action="store_true", help="a tab between cells, for other programs")
    _json(story, "an array of one object an occasion or run")


def _handing_over(verbs: Verbs) -> None:
    sheet = _verb(
        verbs,
        "sheet",
        "write the hand-over sheet of a job, as text or as one HTML file",
        "stanchion sheet soft_springs.toml",
        "stanchion sheet soft_springs.toml --html --units in,lb/in -o sheet.html",
    )
    sheet.add_argument("job", metavar=JOB, help="a file, a name of the list, or - for standard input")
    sheet.add_argument("--html", action="store_true", help="one HTML file that stands alone, to print or to send")
    sheet.add_argument(
        "--units",
        metavar="in,lb/in",
        help="mm or in; N/mm, kg/mm or lb/in; bar, kPa or psi; kg or lb; otherwise as in config.toml",
    )
    _out(sheet)
    work = _verb(
        verbs,
        "worklist",
        "print what to do to return a machine to another job, or to a run",
        "stanchion worklist soft_springs.toml --to :1",
    )
    work.add_argument("job", metavar=JOB)
    work.add_argument(
        "--to",
        metavar=JOB_OR_RUN,
        default="",
        help="what to return to; :RUN alone for a run of the same job; RUN is a number, latest or best. Without it: "
        "the list the job has in hand",
    )
    export = _verb(
        verbs,
        "export",
        "write settings and figures of jobs as CSV for a spreadsheet",
        "stanchion export -o jobs.csv",
        "stanchion export --runs soft_springs.toml",
    )
    export.add_argument("file", nargs="*", metavar=JOB, help="which; without any, every job of the folder")
    export.add_argument("--runs", action="store_true", help="one row a run, not one a job")
    _out(export)


def _files(verbs: Verbs) -> None:
    taken = _verb(
        verbs,
        "import",
        "take job files into the jobs folder; nothing there is overwritten",
        "stanchion import well_set.toml soft_springs.toml",
    )
    taken.add_argument("file", nargs="+", metavar=FILE)
    merge = _verb(
        verbs,
        "merge",
        "join two copies of one job field by field; the exit status is 1 if fields are still to be chosen",
        "stanchion merge soft_springs.toml copy.toml --take a -o merged.toml",
    )
    merge.add_argument("one", metavar="A.toml", help="its values are used where nothing decides")
    merge.add_argument("other", metavar="B.toml")
    merge.add_argument("--base", metavar="O.toml", help="the state both came from")
    merge.add_argument("--take", choices=("a", "b"), help="whose value stands where both changed a field")
    merge.add_argument(
        "--different-machines", action="store_true", help="join them although they name two different machines"
    )
    merge.add_argument("-o", "--out", metavar="C.toml", required=True, help="a new file, or A.toml itself")
    earlier = _verb(
        verbs,
        "earlier",
        "list earlier states of a job, or write one into a file of its own",
        "stanchion earlier soft_springs.toml",
    )
    earlier.add_argument("job", metavar=JOB)
    earlier.add_argument("--bring-back", metavar="N", type=int, help="write state N of the list into FILE")
    earlier.add_argument("-o", "--out", metavar=FILE, help="the new file; one that is there is left alone")


def _about_the_program(verbs: Verbs) -> None:
    _verb(verbs, "path", "print where jobs, settings and earlier states live", "stanchion path")
    doctor = _verb(
        verbs,
        "doctor",
        "print the state of program, terminal, folders and job files, to send to whoever helps; the status is 1 if "
        "something needs a look",
        "stanchion doctor --no-keys",
    )
    doctor.add_argument("--no-keys", action="store_true", help="do not ask for keys")
    _json(doctor, "one object; it asks for no keys")
    completion = _verb(
        verbs,
        "completion",
        "print what makes a shell complete verbs, options and job names",
        "stanchion completion bash > stanchion.bash",
    )
    completion.add_argument("shell", choices=SHELLS, help="bash, zsh or fish")
    sample = _verb(
        verbs,
        "sample",
        "open a copy of an invented sample job to try things out on",
        "stanchion sample soft_springs",
    )
    sample.add_argument("name", metavar=SAMPLE, nargs="?", default="", help="which one; without a name the first")


# --- a path in place of a verb ----------------------------------------------------------------------------------------


def _at_verb(argv: Sequence[str]) -> int | None:
    """Where the verb is, or what stands in its place; None where neither is given."""
    at = 0
    while at < len(argv):
        word = argv[at]
        if not word.startswith("-") or word == "-":
            return at
        takes_value = len(word) > 2 and "--jobs".startswith(word)
        at += 2 if takes_value else 1
    return None


def _may_be_path(word: str, argv: Sequence[str]) -> bool:
    """Whether a word that is no verb is meant for a file or a folder."""
    if Path(word).is_dir() or word.casefold().endswith(".toml") or os.sep in word:
        return True
    from stanchion.store.names import existing_file  # noqa: PLC0415

    options = argparse.ArgumentParser(add_help=False)
    options.add_argument("--jobs")
    try:
        existing_file(Path(word), options.parse_known_args(argv)[0].jobs)
    except NotFound:
        return False
    return True


def _unknown(word: str, verbs: list[str]) -> str:
    from stanchion.base.text import clean  # noqa: PLC0415
    from stanchion.store.names import nearest_words  # noqa: PLC0415

    words = f"'{clean(word, 200)}' is no verb, and there is no such job or folder. {nearest_words(word, verbs)}"
    return f"{words.rstrip()} `stanchion --help` lists the verbs."


def _day(text: str) -> dt.date:
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError("a date is written as 2026-05-31: year, month, day") from None
