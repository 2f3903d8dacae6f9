"""The arguments of the command line."""

from __future__ import annotations

import argparse
import datetime as dt
import os
import textwrap
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from stanchion import __version__
from stanchion.base.errors import NotFound
from stanchion.wording.american import worded

if TYPE_CHECKING:
    Verbs = argparse._SubParsersAction[argparse.ArgumentParser]

SHELLS = ("bash", "zsh", "fish")
JOB, JOB_OR_RUN, FILE, FOLDER, SAMPLE, FIGURE = "JOB.toml", "JOB.toml[:RUN]", "FILE", "DIR", "NAME", "FIGURE"
"""What an argument stands for: the shells complete it by this name."""
OPEN = "open"
"""The verb that may be left out."""
HELP_COLUMNS = 79
"""As wide as the help of a verb is in a terminal of eighty columns."""


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
        + worded("and a qualified technician's judgement come first."),
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


def _verb(verbs: Verbs, name: str, words: str, *examples: str, more: str = "") -> argparse.ArgumentParser:
    """A verb.

    Args:
        verbs: all of them.
        name: its name.
        words: what it does.
        examples: commands that show how it is used; the tests run each.
        more: sentences on what its arguments do not say.
    """
    heading = "example:" if len(examples) == 1 else "examples:"
    return verbs.add_parser(
        name,
        help=words,
        description="\n".join(textwrap.wrap(f"{words[:1].upper()}{words[1:]}. {more}", HELP_COLUMNS)),
        formatter_class=argparse.RawDescriptionHelpFormatter,
        epilog="\n".join([heading, *(f"  {one}" for one in examples)]),
    )


def _us(verb: argparse.ArgumentParser) -> None:
    verb.add_argument(
        "--us", action="store_true", help="American trade words and spelling; otherwise as in config.toml"
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
        "stanchion check well_set.toml --why geometry.trail_mm",
        more="The exit status is 0 where nothing is worse than a note, 1 for warnings, 2 for a fault or a file that "
        "cannot be read.",
    )
    check.add_argument("file", nargs="+", metavar=JOB, help="a file, a name of the list, or - for standard input")
    check.add_argument(
        "--why",
        metavar=FIGURE,
        help="explain one figure, by its dotted path in --json: its formula with this job's numbers, and the readings",
    )
    _us(check)
    _json(check, "an array with one object for each file")
    jobs = _verb(
        verbs,
        "list",
        "list the jobs, newest first",
        "stanchion list",
        "stanchion list --json",
        more="In a terminal it is fitted to its width; in a file or a pipe there are tabs between the cells.",
    )
    jobs.add_argument("--names", action="store_true", help="the file names alone, without judging")
    _us(jobs)
    _json(jobs, "an array with one object for each job")
    compare = _verb(
        verbs,
        "compare",
        "print only where two jobs or runs differ",
        "stanchion compare well_set.toml soft_springs.toml",
        "stanchion compare soft_springs.toml:1 soft_springs.toml:2",
    )
    compare.add_argument("one", metavar=JOB_OR_RUN, help="a job as it stands, or with :2 its second run")
    compare.add_argument("other", metavar=JOB_OR_RUN)
    _us(compare)
    _json(compare, "one object")
    story = _verb(
        verbs,
        "story",
        "print all occasions and runs of a machine in time order",
        "stanchion story --machine damson --since 2026-01-01",
        more="Columns that a terminal has no room for are named below.",
    )
    for name, what in (("machine", "machine"), ("rider", "rider"), ("venue", "venue")):
        story.add_argument(f"--{name}", metavar="WORDS", default="", help=f"words of the {what}'s name")
    story.add_argument("--since", metavar="DATE", type=_day, help="first day, as 2026-05-31")
    story.add_argument("--until", metavar="DATE", type=_day, help="last day")
    story.add_argument("--tabs", action="store_true", help="a tab between cells, for other programs")
    _us(story)
    _json(story, "an array with one object for each occasion or run")


def _handing_over(verbs: Verbs) -> None:
    sheet = _verb(
        verbs,
        "sheet",
        "write the hand-over sheet of a job, as text or as one HTML file",
        "stanchion sheet soft_springs.toml",
        "stanchion sheet soft_springs.toml --html --units in,lb/in -o sheet.html",
        more="The order and what is on it: F1 in the program, Hand-over sheet.",
    )
    sheet.add_argument("job", metavar=JOB, help="a file, a name of the list, or - for standard input")
    sheet.add_argument("--html", action="store_true", help="one HTML file that stands alone, to print or to send")
    sheet.add_argument(
        "--units",
        metavar="in,lb/in",
        help="mm or in; N/mm, kg/mm or lb/in; bar, kPa or psi; kg or lb; otherwise as in config.toml",
    )
    _us(sheet)
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
        help="what to return to; :RUN alone for a run of the same job; RUN is a number, latest, best or found. "
        "Without it: the job's current work list",
    )
    _us(work)
    export = _verb(
        verbs,
        "export",
        "write settings and figures of jobs as CSV for a spreadsheet",
        "stanchion export -o jobs.csv",
        "stanchion export --runs soft_springs.toml",
        more="Copies left by a tool that synchronises folders are named and left out. For a name that does not exist "
        "nothing is written at all.",
    )
    export.add_argument("file", nargs="*", metavar=JOB, help="the jobs; without any, every job in the folder")
    export.add_argument("--runs", action="store_true", help="one row for each run instead of each job")
    _out(export)


def _files(verbs: Verbs) -> None:
    taken = _verb(
        verbs,
        "import",
        "import job files into the jobs folder; nothing there is overwritten",
        "stanchion import well_set.toml soft_springs.toml",
        more="Files may come from a memory stick or by e-mail; none is imported twice.",
    )
    taken.add_argument("file", nargs="+", metavar=FILE)
    merge = _verb(
        verbs,
        "merge",
        "join two copies of one job field by field",
        "stanchion merge soft_springs.toml copy.toml --take a -o merged.toml",
        more="Status 0: all is joined. Status 1: both changed the same field; each is listed, and the file written to "
        "is kept until somebody chooses. Status 2: nothing could be done. For version control: "
        "stanchion merge MINE THEIRS --base ANCESTOR -o MINE.",
    )
    merge.add_argument("one", metavar="A.toml", help="the job whose values are used where nothing else decides")
    merge.add_argument("other", metavar="B.toml")
    merge.add_argument("--base", metavar="O.toml", help="the state both came from")
    merge.add_argument("--take", choices=("a", "b"), help="whose value to use where both changed a field")
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
    earlier.add_argument("-o", "--out", metavar=FILE, help="the new file; an existing one is left alone")


def _about_the_program(verbs: Verbs) -> None:
    _verb(verbs, "path", "print where jobs, settings and earlier states are kept", "stanchion path")
    doctor = _verb(
        verbs,
        "doctor",
        "print the state of program, terminal, folders and job files, to send to whoever helps; the status is 1 if "
        "something needs a look",
        "stanchion doctor --no-keys",
        more=worded("It writes down versions, whether each folder can be written, size, colours and letters of the ")
        + "terminal, and the state of every job file: ok, edited by hand, cut short, unreadable, newer, a copy of "
        "another. It names no rider, machine, venue or file, and no folder that you named; a job is identified by its "
        "line in `stanchion list`. In a terminal it asks for each key of the program and shows the bytes that came and "
        "how they are read: Esc skips a key, ^C ends, and it goes on by itself after 10 s. "
        "Lines with ! need attention.",
    )
    doctor.add_argument("--no-keys", action="store_true", help="do not ask for keys")
    _json(doctor, "one object; it asks for no keys")
    completion = _verb(
        verbs,
        "completion",
        "print a script with which a shell completes verbs, options and job names",
        "stanchion completion bash > stanchion.bash",
        more='In ~/.bashrc: eval "$(stanchion completion bash)". In ~/.zshrc the same with zsh, after compinit. In '
        "config.fish: stanchion completion fish | source.",
    )
    completion.add_argument("shell", choices=SHELLS, help="bash, zsh or fish")
    sample = _verb(
        verbs,
        "sample",
        "open a copy of an invented sample job to try things out on",
        "stanchion sample soft_springs",
    )
    sample.add_argument("name", metavar=SAMPLE, nargs="?", default="", help="which one; the first if none is named")


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
    from stanchion.store.typed_names import existing_file  # noqa: PLC0415

    options = argparse.ArgumentParser(add_help=False)
    options.add_argument("--jobs")
    try:
        existing_file(Path(word), options.parse_known_args(argv)[0].jobs)
    except NotFound:
        return False
    return True


def _unknown(word: str, verbs: list[str]) -> str:
    from stanchion.base.text import clean  # noqa: PLC0415
    from stanchion.store.typed_names import nearest_words  # noqa: PLC0415

    words = f"'{clean(word, 200)}' is not a verb, and there is no such job or folder. {nearest_words(word, verbs)}"
    return f"{words.rstrip()} `stanchion --help` lists the verbs."


def _day(text: str) -> dt.date:
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError("a date is written as 2026-05-31: year, month, day") from None
