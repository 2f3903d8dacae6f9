"""The table of all keys: screens bind them, show them, and help lists them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from textual import events
from textual.binding import Binding, BindingType

from stanchion.base.record import record
from stanchion.store.typed_names import nearest_words
from stanchion.wording.american import worded


@record
class Key:
    """One command and its keys."""

    id: str
    """Name in the config file's [keys] table."""
    keys: str
    """Direct keys, separated by commas; may be empty."""
    letter: str
    """Letter or digit after Esc; empty on lists where letters filter."""
    action: str
    """Action of its screen, or of the application."""
    words: str
    """What it does, in two or three words."""
    on: str = ""
    """Screen it belongs to; empty: everywhere."""
    hint: str = ""
    """Its name at the foot of its screen; empty: the same as `words`."""


KEYS: tuple[Key, ...] = (
    Key("screen.machine", "f2", "m", "go('machine')", "Machine"),
    Key("screen.front", "f3", "f", "go('front')", "Front end"),
    Key("screen.rear", "f4", "r", "go('rear')", "Rear shock"),
    Key("screen.sag", "f5", "s", "go('sag')", "Sag"),
    Key("screen.adjusters", "ctrl+x", "5", "go('adjusters')", "Adjusters"),
    Key("screen.predict", "ctrl+p", "p", "go('predict')", "Prediction"),
    Key("screen.trial", "ctrl+t", "x", "go('trial')", "Try a change"),
    Key("screen.springs", "ctrl+g", "o", "go('springs')", "Springs to hand"),
    Key("screen.runs", "ctrl+l", "z", "go('runs')", "Runs"),
    Key("screen.upkeep", "ctrl+u", "1", "go('upkeep')", "Upkeep"),
    Key("screen.earlier", "ctrl+e", "4", "go('earlier')", "Earlier states"),
    Key("screen.worklist", "ctrl+w", "3", "go('worklist')", "Work list"),
    Key("screen.story", "ctrl+f", "2", "story", "Machine's story"),
    Key("screen.warnings", "f6", "w", "warnings", "Warnings"),
    Key("why", "f12", "?", "why", "Why this figure"),
    Key("legs.split", "f7", "l", "split_legs", "Split/join legs", on="front", hint="legs"),
    Key("guide.front", "ctrl+r", "e", "guide", "Fork by steps", on="front", hint="by steps"),
    Key("guide.rear", "ctrl+r", "e", "guide", "Shock by steps", on="rear", hint="by steps"),
    Key("sag.swap", "f7", "l", "swap_readings", "Swap down and up", on="sag", hint="swap"),
    Key("guide.sag", "ctrl+r", "e", "guide", "Sag by steps", on="sag", hint="by steps"),
    Key("reading.front", "ctrl+d", "d", "correct_reading", "Measured wrong", on="front"),
    Key("reading.rear", "ctrl+d", "d", "correct_reading", "Measured wrong", on="rear"),
    Key("reading.guide", "ctrl+d", "", "correct_reading", "Measured wrong", on="guide"),
    Key("missing.machine", "ctrl+a", "a", "next_missing", "Next missing value", on="machine", hint="missing"),
    Key("targets.standard", "f7", "l", "standard_targets", "Standard targets", on="machine", hint="standard targets"),
    Key("venue.notes", "ctrl+r", "e", "venue_notes", "Venue notes", on="machine", hint="venue"),
    Key("missing.front", "ctrl+a", "a", "next_missing", "Next missing value", on="front", hint="missing"),
    Key("missing.rear", "ctrl+a", "a", "next_missing", "Next missing value", on="rear", hint="missing"),
    Key("readings.sag", "ctrl+d", "d", "own_readings", "How sure readings are", on="sag", hint="how sure"),
    Key("missing.sag", "ctrl+a", "a", "next_missing", "Next missing value", on="sag", hint="missing"),
    Key("screen.balance", "f7", "l", "balance", "Balance, brakes", on="predict", hint="balance"),
    Key("screen.linkage", "f7", "l", "linkage", "Linkage by points", on="rear", hint="linkage"),
    Key("screen.gas", "ctrl+d", "d", "gas", "On the gas", on="predict", hint="on the gas"),
    Key("gas.balance", "ctrl+d", "d", "gas", "On the gas", on="balance", hint="on the gas"),
    Key("balance.ridden", "f7", "l", "take_ridden", "Braking as ridden", on="balance", hint="braking as ridden"),
    Key("guide.swingarm", "ctrl+r", "e", "guide_swingarm", "Swingarm by steps", on="gas", hint="by steps"),
    Key("guide.lifting", "ctrl+r", "e", "guide_lifting", "Lifting by steps", on="balance", hint="lifting by steps"),
    Key("missing.predict", "ctrl+a", "a", "next_missing", "Next missing value", on="predict", hint="missing"),
    Key("missing.gas", "ctrl+a", "a", "next_missing", "Next missing value", on="gas", hint="missing"),
    Key("missing.linkage", "ctrl+a", "a", "next_missing", "Next missing value", on="linkage", hint="missing"),
    Key("missing.balance", "ctrl+a", "a", "next_missing", "Next missing value", on="balance", hint="missing"),
    Key("screen.dampers", "ctrl+r", "e", "damper_sheets", "Damper sheets", on="damping", hint="sheets"),
    Key("dampers.import", "f7", "l", "import_sheet", "Read a file", on="dampers", hint="reads a file"),
    Key("dampers.delete", "ctrl+d", "d", "delete_sheet", "Take the sheet out", on="dampers", hint="takes it out"),
    Key("adjusters.base", "f7", "l", "set_base", "Base as set now", on="adjusters", hint="base"),
    Key("guide.found", "ctrl+r", "e", "guide_found", "As found, by steps", on="adjusters", hint="as found"),
    Key("found.take", "ctrl+a", "a", "take_found", "Take job as found", on="adjusters", hint="job as found"),
    Key("screen.damping", "ctrl+d", "d", "damping", "Frequency, damping", on="adjusters", hint="damping"),
    Key("rebound.right", "f7", "l", "rebound_right", "Confirm rebound", on="damping", hint="confirm rebound"),
    Key("guide.alone", "f7,ctrl+a", "", "guide_alone", "Alone, with a marker", on="guide"),
    Key("guide.drop", "ctrl+k", "", "drop_reading", "Drop the reading", on="guide"),
    Key("trial.apply", "f7", "a", "apply_trial", "Apply it", on="trial"),
    Key("trial.list", "ctrl+a", "l", "list_trial", "Put on the work list", on="trial", hint="work list"),
    Key("trial.drop", "ctrl+r", "d", "drop_trial", "Drop it", on="trial"),
    Key("run.log", "f7", "l", "log_run", "Log a run", on="runs"),
    Key("run.words", "ctrl+a", "a", "run_words", "The rider's words", on="runs"),
    Key("screen.what_to_try", "ctrl+s", "S", "what_to_try", "What to try", on="runs"),
    Key("try.trial", "f7", "l", "try_change", "Try it first", on="what_to_try", hint="tries it"),
    Key("try.complaint", "ctrl+a", "a", "add_complaint", "Another complaint", on="what_to_try", hint="complaint"),
    Key(
        "try.remove", "ctrl+d", "d", "remove_complaint", "Take a complaint out", on="what_to_try", hint="takes one out"
    ),
    Key("run.stamp", "ctrl+r", "e", "stamp_run", "Ridden as set now", on="runs"),
    Key("run.verdict", "ctrl+k", "V", "judge_run", "Better or worse?", on="runs", hint="better?"),
    Key("run.delete", "ctrl+d", "d", "delete_run", "Delete the run", on="runs"),
    Key("torque.tick", "f7", "l", "tick_torque", "Tick a torque", on="upkeep"),
    Key("upkeep.measured", "ctrl+r", "e", "measured_again", "Confirm the values", on="upkeep"),
    Key("torque.delete", "ctrl+d", "d", "delete_torque", "Delete the torque", on="upkeep"),
    Key("state.back", "f7", "l", "bring_back", "Bring it back", on="earlier"),
    Key("worklist.leave", "f7", "", "leave_work_list", "Put the list away", on="worklist"),
    Key("missing.springs", "ctrl+a", "a", "next_missing", "Next missing value", on="springs", hint="missing"),
    Key("springs.one_rate", "ctrl+r", "l", "one_rate", "One rate instead", on="springs", hint="one rate"),
    Key("stock.edit", "f7", "e", "edit_stock", "Edit the stock", on="springs", hint="stock"),
    Key("job.forward", "f8", "c", "carry_forward", "New from this job"),
    Key("jobs", "f9", "j", "go('jobs')", "Jobs"),
    Key("job.new", "ctrl+n", "n", "new_job", "New job"),
    Key("job.sheet", "ctrl+o", "b", "write_sheet", "Hand-over sheet"),
    Key("job.print", "", "8", "print_sheet", "Print the sheet"),
    Key("job.files", "", "0", "attached_files", "Attached files"),
    Key("job.copy", "", "v", "save_copy", "Save as a copy"),
    Key("job.settle", "", "g", "settle_file", "Settle the file"),
    Key("job.compare", "ctrl+k", "", "compare_job", "Compare with the open job", on="jobs"),
    Key("story.mark", "f7", "", "mark_row", "Mark to compare", on="story"),
    Key("story.compare", "ctrl+k", "", "compare_rows", "Compare with mark", on="story"),
    Key("job.delete", "ctrl+d", "", "delete_job", "Move to the bin", on="jobs"),
    Key("jobs.bin", "f7", "", "open_bin", "The bin", on="jobs"),
    Key("undo", "ctrl+z", "u", "undo", "Undo"),
    Key("redo", "ctrl+y", "y", "redo", "Redo"),
    Key("units.rates", "", "k", "next_unit('rates')", "Unit of rates"),
    Key("units.lengths", "", "i", "next_unit('lengths')", "Unit of lengths"),
    Key("units.pressures", "", "6", "next_unit('pressures')", "Unit of pressures"),
    Key("units.masses", "", "7", "next_unit('masses')", "Unit of masses"),
    Key("wording", "", "9", "next_wording", "US/British words"),
    Key("theme", "", "t", "cycle_theme", "Colours"),
    Key("help", "f1", "h", "help", "Help"),
    Key("quit", "ctrl+q", "q", "quit_saved", "Quit, all saved"),
)

BY_ID = {key.id: key for key in KEYS}

NAMES = {"ctrl+": "^", "pageup": "PgUp", "pagedown": "PgDn", "escape": "Esc", "enter": "Enter", "tab": "Tab"}


def shown(keys: str) -> str:
    """The first of some keys as a screen names it.

    >>> shown("ctrl+z,f12"), shown("f3")
    ('^Z', 'F3')
    """
    first = keys.split(",", maxsplit=1)[0]
    if first.startswith("ctrl+"):
        return "^" + first[5:].upper()
    return NAMES.get(first, first.upper())


def after_escape(event: events.Key) -> str:
    """The letter where Esc and a letter, or Alt and a letter, arrived as one key; otherwise empty."""
    name = event.key.removeprefix("alt+")
    if name == event.key or "ctrl" in name:
        return ""
    if event.character and event.is_printable:
        return event.character
    return name if len(name) == 1 else ""


def bindings(on: str = "") -> list[Binding]:
    """The bindings of a screen, or those of the application."""
    own = (key for key in KEYS if key.on == on and key.keys)
    return [Binding(key.keys, key.action, key.words, id=key.id, show=False) for key in own]


def list_moves() -> list[BindingType]:
    """The keys that move in a list while its filter has the focus."""
    moves = (("down", 1), ("up", -1), ("pagedown", 10), ("pageup", -10))
    return [Binding(key, f"move({step})", show=False, priority=True) for key, step in moves]


def elsewhere(keys: Iterable[Key], pressed: str) -> str:
    """What a key does on other screens than this one, where it does nothing; empty where it does nothing at all.

    >>> print(elsewhere(KEYS, "ctrl+k").partition(" On Machine's story")[0])
    ^K does nothing here. On By steps: drop the reading. On Runs: better or worse? On Jobs: compare with the open job.
    """
    found: dict[str, list[str]] = {}
    for key in keys:
        if key.on and pressed in key.keys.split(","):
            found.setdefault(worded(key.words), []).append(_screen(key.on))
    uses = [
        f"On {', '.join(screens)}: {words[:1].lower()}{words[1:]}{'' if words.endswith('?') else '.'}"
        for words, screens in found.items()
    ]
    return " ".join([f"{shown(pressed)} does nothing here.", *uses]) if uses else ""


def quitting() -> Binding:
    """The binding that quits from a dialog, where the application's own bindings do not apply."""
    return Binding(BY_ID["quit"].keys, "app.quit_saved", id="quit", show=False)


@record
class KeyProblem:
    """A key of the user's own that cannot be used."""

    name: str
    """The command it was set for."""
    words: str
    nameless: str
    """The same without text from the file."""


def with_changes(changes: dict[str, str]) -> tuple[tuple[Key, ...], list[KeyProblem]]:
    """The table with a user's keys put in, and what could not be used.

    Args:
        changes: key id to keys, as the config file's [keys] table has them.
    """
    problems: list[KeyProblem] = []
    table: dict[str, str] = {}

    def holders(one: str, name: str) -> list[str]:
        """The other commands with this key on the screens where this command can be given."""
        own = BY_ID[name].on
        others = (k for k in KEYS if k.id != name and (not own or not k.on or k.on == own))
        return [k.id for k in others if one in _each(table.get(k.id, changes.get(k.id, k.keys)))]

    for name, keys in changes.items():
        if name not in BY_ID:
            like = nearest_words(name, tuple(BY_ID)) or "The help, F1, lists them at its end."
            words = f"there is no such action. {like}"
            problems.append(KeyProblem(name, f"config.toml: keys.{name}: {words}", words))
            continue
        clash = [f"{one} ({', '.join(holders(one, name))})" for one in _each(keys) if holders(one, name)]
        bad = [one for one in _each(keys) if not _usable(one)]
        if clash:
            taken = f"config.toml: keys.{name}: already taken: {', '.join(clash)}."
            problems.append(KeyProblem(name, taken, "this key is taken already; the usual one is used."))
            table[name] = BY_ID[name].keys
        elif bad:
            unusable = f"config.toml: keys.{name}: not a key that can be used here: {', '.join(bad)}."
            problems.append(KeyProblem(name, unusable, "not a key that can be used here; the usual one is used."))
        else:
            table[name] = ",".join(_each(keys))
    return tuple(_rekeyed(key, table) for key in KEYS), problems


def _rekeyed(key: Key, table: dict[str, str]) -> Key:
    keys = table.get(key.id, key.keys)
    return replace(key, keys=keys)


def _each(keys: str) -> list[str]:
    return [one.strip().lower() for one in keys.split(",") if one.strip()]


def _usable(key: str) -> bool:
    """Whether it is a function key, ctrl with an arrow, or ctrl with a letter that does not give another key."""
    if key.startswith("ctrl+"):
        rest = key[5:]
        return rest in ("up", "down") or (len(rest) == 1 and rest.isascii() and rest.isalpha() and rest not in "cihjm")
    return key in {f"f{n}" for n in range(1, 13)}


def name_rows(keys: Iterable[Key]) -> list[str]:
    """The name of each action in the config file's [keys] table, and what it does where.

    >>> name_rows(KEYS[-1:])
    ['quit                Quit, all saved']
    """
    return [f"{key.id:<20}{worded(key.words)}" + (f", {_screen(key.on)}" if key.on else "") for key in keys]


def help_rows(keys: Iterable[Key]) -> list[tuple[str, str, str, str]]:
    """Direct key, letter after Esc, what it does, and on which screen; empty: everywhere."""
    return [(shown(key.keys) if key.keys else "", key.letter, worded(key.words), _screen(key.on)) for key in keys]


def _screen(name: str) -> str:
    """The name of a screen, as the key that leads to it has it."""
    if name == "guide":
        return "By steps"
    leads = {key.id.removeprefix("screen."): key.words for key in KEYS}
    return leads[name] if name else ""
