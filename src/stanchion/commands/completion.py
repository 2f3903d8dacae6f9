"""What makes a shell complete verbs, options and job names: a script for each shell, made from the arguments.

A script knows verbs and options by heart. It asks `stanchion list --names` for the jobs, so that it completes those of
the folder the command line names.
"""

from __future__ import annotations

import argparse

from stanchion.base.record import record
from stanchion.commands.arguments import FIGURE, FILE, FOLDER, JOB, JOB_OR_RUN, SAMPLE, help_of, parser, verbs_of
from stanchion.store.samples import samples

JOBS, FILES, FOLDERS, NOTHING = "jobs", "files", "folders", "nothing"
"""What a word may be completed to, where it is not one of a few words."""
_OF_METAVAR = {
    JOB: JOBS,
    JOB_OR_RUN: JOBS,
    "JOB.toml|FOLDER": JOBS,
    "A.toml": JOBS,
    "B.toml": JOBS,
    "O.toml": JOBS,
    "C.toml": FILES,
    FILE: FILES,
    FOLDER: FOLDERS,
}


@record
class ShellOption:
    """One option of a verb."""

    spellings: tuple[str, ...]
    takes: str
    """What its value may be: one of the words above, or words with blanks between; empty: it has no value."""
    words: str


@record
class ShellVerb:
    """One verb as a shell sees it."""

    name: str
    words: str
    options: tuple[ShellOption, ...]
    takes: str
    """What its arguments may be, as for an option."""


def script(shell: str) -> str:
    """The script for a shell: "bash", "zsh" or "fish"."""
    whole = parser()
    words = help_of(whole)
    verbs = [_verb(name, words[name], of) for name, of in verbs_of(whole).items()]
    options = _options(whole)
    return {"bash": _bash, "zsh": _zsh, "fish": _fish}[shell](verbs, options)


def _verb(name: str, words: str, of: argparse.ArgumentParser) -> ShellVerb:
    positional = [_takes(action) for action in of._actions if not action.option_strings]
    return ShellVerb(name, words, _options(of), positional[0] if positional else NOTHING)


def _options(of: argparse.ArgumentParser) -> tuple[ShellOption, ...]:
    """The options, those that help leaves out too."""
    return tuple(
        ShellOption(tuple(action.option_strings), "" if action.nargs == 0 else _takes(action), _words(action))
        for action in of._actions
        if action.option_strings
    )


def _words(action: argparse.Action) -> str:
    if action.help in (None, argparse.SUPPRESS):
        return "folder of the jobs" if "--jobs" in action.option_strings else ""
    return str(action.help)


def _takes(action: argparse.Action) -> str:
    if action.choices is not None:
        return " ".join(map(str, action.choices))
    if action.metavar == FIGURE:
        return " ".join(_figures())
    if action.metavar == SAMPLE:
        return " ".join(sample.name for sample in samples())
    return _OF_METAVAR.get(str(action.metavar), NOTHING)


def _figures() -> list[str]:
    """The paths of the figures that the samples have, without those in lists, whose length differs by job."""
    from stanchion.job.codec import loads  # noqa: PLC0415 - only while a script is written
    from stanchion.report.why_figures import figure_paths  # noqa: PLC0415

    jobs = (loads(sample.data).job for sample in samples())
    paths = dict.fromkeys(path for job in jobs for path in figure_paths(job))
    return sorted(path for path in paths if not any(step.isdigit() for step in path.split(".")))


def _spellings(options: tuple[ShellOption, ...]) -> str:
    return " ".join(one for option in options for one in option.spellings)


def _plain(words: str) -> str:
    """Words that can stand in single quotes in every shell."""
    return words.replace("'", "’").replace("\n", " ").replace("%%", "%")


# --- bash -------------------------------------------------------------------------------------------------------------

_BASH = """\
# stanchion for bash. In ~/.bashrc:  eval "$(stanchion completion bash)"
_stanchion() {{
    local word=${{COMP_WORDS[COMP_CWORD]}} before=${{COMP_WORDS[COMP_CWORD-1]}} verb= at jobs=() takes= options=
    for ((at = 1; at < COMP_CWORD; at++)); do
        case ${{COMP_WORDS[at]}} in
            --jobs) jobs=(--jobs "${{COMP_WORDS[at+1]}}"); ((at++)) ;;
            -*) ;;
            *) [[ -z $verb ]] && verb=${{COMP_WORDS[at]}} ;;
        esac
    done
    case $verb in
{verbs}
    esac
    case "$verb $before" in
{values}
    esac
    [[ $before == --jobs ]] && takes=folders
    COMPREPLY=()
    local IFS=$'\\n'
    if [[ $word == -* && $takes != value:* ]]; then
        COMPREPLY=($(compgen -W "${{options// /$'\\n'}}" -- "$word"))
        return
    fi
    takes=${{takes#value:}}
    case $takes in
        jobs)
            compopt -o filenames 2>/dev/null
            COMPREPLY=($(compgen -W "$(stanchion "${{jobs[@]}}" list --names 2>/dev/null)" -- "$word")
                $(compgen -f -X '!*.toml' -- "$word") $(compgen -d -- "$word")) ;;
        files)
            compopt -o filenames 2>/dev/null
            COMPREPLY=($(compgen -f -- "$word")) ;;
        folders)
            compopt -o filenames 2>/dev/null
            COMPREPLY=($(compgen -d -- "$word")) ;;
        nothing) ;;
        *) COMPREPLY=($(compgen -W "${{takes// /$'\\n'}}" -- "$word")) ;;
    esac
    if [[ -z $verb && $before != --jobs ]]; then
        COMPREPLY+=($(compgen -f -X '!*.toml' -- "$word") $(compgen -d -- "$word"))
    fi
}}
complete -F _stanchion stanchion
"""


def _bash(verbs: list[ShellVerb], options: tuple[ShellOption, ...]) -> str:
    names = " ".join(verb.name for verb in verbs)
    lines = [f"        {verb.name}) options='{_spellings(verb.options)}' takes='{verb.takes}' ;;" for verb in verbs]
    lines.append(f"        '') options='{_spellings(options)}' takes='{names}' ;;")
    lines.append("        *) takes=nothing ;;")
    values = [
        f"        {_either(verb, option)}) takes='value:{option.takes}' ;;"
        for verb in verbs
        for option in verb.options
        if option.takes
    ]
    return _BASH.format(verbs="\n".join(lines), values="\n".join(values))


def _either(verb: ShellVerb, option: ShellOption) -> str:
    return "|".join(f'"{verb.name} {one}"' for one in option.spellings)


# --- zsh --------------------------------------------------------------------------------------------------------------

_ZSH = """\
#compdef stanchion
# stanchion for zsh. In ~/.zshrc, after compinit:  eval "$(stanchion completion zsh)"
_stanchion_jobs() {{
    local -a found jobs
    local at=${{words[(I)--jobs]}}
    (( at )) && jobs=(--jobs "${{words[at+1]}}")
    found=(${{(f)"$(stanchion $jobs list --names 2>/dev/null)"}})
    compadd -a found
    _files -g '*.toml'
}}
_stanchion() {{
    local -a verbs
    local curcontext=$curcontext state line
    typeset -A opt_args
    verbs=(
{names}
    )
    _arguments -C \\
{options}
        '1: :->verb' '*:: :->rest'
    case $state in
        verb)
            _describe verb verbs
            _files -g '*.toml' ;;
        rest)
            case $words[1] in
{verbs}
            esac ;;
    esac
}}
compdef _stanchion stanchion
"""
_ZSH_TAKES = {JOBS: "_stanchion_jobs", FILES: "_files", FOLDERS: "_files -/", NOTHING: " "}


def _zsh(verbs: list[ShellVerb], options: tuple[ShellOption, ...]) -> str:
    names = [f"        '{verb.name}:{_zsh_words(verb.words)}'" for verb in verbs]
    lines = []
    for verb in verbs:
        parts = [*_zsh_options(verb.options)]
        parts += [] if verb.takes == NOTHING else [f"'*: :{_zsh_takes(verb.takes)}'"]
        lines.append(f"                {verb.name}) _arguments {' '.join(parts)} ;;")
    head = [f"        {one} \\" for one in _zsh_options(options)]
    return _ZSH.format(names="\n".join(names), options="\n".join(head), verbs="\n".join(lines))


def _zsh_options(options: tuple[ShellOption, ...]) -> list[str]:
    return [
        f"'{one}[{_zsh_words(option.words)}]{f': :{_zsh_takes(option.takes)}' if option.takes else ''}'"
        for option in options
        for one in option.spellings
    ]


def _zsh_takes(takes: str) -> str:
    return _ZSH_TAKES.get(takes) or f"({takes})"


def _zsh_words(words: str) -> str:
    return _plain(words).replace("[", "(").replace("]", ")").replace(":", ",").replace("`", "")


# --- fish -------------------------------------------------------------------------------------------------------------

_FISH = """\
# stanchion for fish. In ~/.config/fish/config.fish:  stanchion completion fish | source
function __stanchion_jobs
    set -l words (commandline -opc)
    set -l jobs
    if set -l at (contains -i -- --jobs $words)
        set jobs --jobs $words[(math $at + 1)]
    end
    stanchion $jobs list --names 2>/dev/null
end
function __stanchion_files
    __fish_complete_path (commandline -ct) | string match -r '.*(?:\\.toml|/)(?:\\t.*)?$'
end
complete -c stanchion -f
"""
_FISH_TAKES = {
    JOBS: "(__stanchion_jobs; __stanchion_files)",
    FILES: "(__fish_complete_path (commandline -ct))",
    FOLDERS: "(__fish_complete_directories (commandline -ct))",
    NOTHING: "",
}


def _fish(verbs: list[ShellVerb], options: tuple[ShellOption, ...]) -> str:
    names = " ".join(verb.name for verb in verbs)
    first = f"'not __fish_seen_subcommand_from {names}'"
    lines = [_fish_option("__fish_use_subcommand", option) for option in options]
    lines.append(f"complete -c stanchion -n {first} -a '(__stanchion_files)'")
    for verb in verbs:
        seen = f"__fish_seen_subcommand_from {verb.name}"
        lines.append(f"complete -c stanchion -n {first} -a {verb.name} -d '{_plain(verb.words)}'")
        takes = _FISH_TAKES.get(verb.takes, verb.takes)
        lines += [f"complete -c stanchion -n '{seen}' -a '{takes}'"] if takes else []
        lines += [_fish_option(seen, option) for option in verb.options]
    return _FISH + "\n".join(lines) + "\n"


def _fish_option(when: str, option: ShellOption) -> str:
    names = [f"-l {one[2:]}" if one.startswith("--") else f"-s {one[1:]}" for one in option.spellings]
    takes = _FISH_TAKES.get(option.takes, option.takes)
    value = f" -r{f' -a {chr(39)}{takes}{chr(39)}' if takes else ''}" if option.takes else ""
    return f"complete -c stanchion -n '{when}' {' '.join(names)}{value} -d '{_plain(option.words)}'"
