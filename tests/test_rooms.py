"""Imports point one way: ui and cli lean on report and store, those on judgement, and judgement on mechanics.

The wall is read off the source, so that an import inside a function counts as much as one at the top.
"""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[1] / "src" / "stanchion"
MODULES = sorted(SOURCE.rglob("*.py"))

GROUND = {"errors", "text"}
TRADE = GROUND | {"job", "judgement", "quantity"}
DESK = (
    TRADE
    | {"merging", "joining", "van", "preferences"}
    | {"bundled", "samples", "session", "trial", "stock_session", "report", "store", "desk"}
)
ROOMS = {
    "__init__": set[str](),
    "record": set[str](),
    "errors": set[str](),
    "text": {"errors"},
    "bundled": {"errors"},
    "mechanics": {"errors"},
    "job": GROUND,
    "grammar": GROUND,
    "laptime": {"errors"},
    "quantity": GROUND | {"job", "grammar", "laptime"},
    "judgement": GROUND | {"job", "mechanics", "quantity", "bundled"},
    "samples": GROUND | {"job", "bundled"},
    "waiting": {"errors"},
    "plain_letters": set[str](),
    "printing": {"errors", "plain_letters"},
    "steps": set[str](),
    "session": TRADE | {"steps"},
    "trial": TRADE | {"session"},
    "guided": TRADE | {"session"},
    "stock_session": TRADE | {"session", "steps"},
    "report": TRADE,
    "store": TRADE | {"bundled", "samples", "waiting"},
    "preferences": TRADE | {"store"},
    "van": TRADE | {"stock_session", "store"},
    "desk": TRADE | {"session", "trial", "van", "preferences", "store", "samples", "handover"},
    "merging": TRADE,
    "joining": TRADE | {"merging", "store", "desk", "waiting"},
    "merged_file": TRADE | {"store"},
    "checking": TRADE | {"report", "store", "desk", "recovering", "waiting"},
    "recovering": TRADE | {"store"},
    "handover": TRADE | {"report", "store", "desk", "waiting"},
    "following": TRADE | {"store", "desk", "waiting"},
    "doctor": TRADE | {"store", "desk", "waiting"},
    "ui": DESK | {"guided", "following", "doctor", "plain_letters", "printing", "waiting"},
    "arguments": set(),
    "cli": DESK
    | {
        "arguments",
        "checking",
        "merged_file",
        "handover",
        "plain_letters",
        "recovering",
        "following",
        "ui",
        "waiting",
        "printing",
    },
    "__main__": {"cli"},
}
"""Every room, and the rooms it may lean on beside itself and those open to all."""
OPEN_TO_ALL = {"__init__", "record"}
"""The version, and how a value class is made."""

FILES = {"os", "io", "shutil", "tempfile", "glob", "fcntl", "mmap"}
SCREEN = {"textual", "rich"}
REFUSED = {
    "mechanics": FILES | SCREEN | {"pathlib", "pint", "platformdirs", "tomli_w", "tomllib"},
    "job": FILES | SCREEN | {"pathlib", "pint", "platformdirs"},
    "judgement": FILES | SCREEN | {"pint", "platformdirs", "tomli_w"},
    "session": FILES | SCREEN | {"pathlib", "pint", "platformdirs", "tomli_w"},
    "stock_session": FILES | SCREEN | {"pathlib", "pint", "platformdirs", "tomli_w"},
    "guided": FILES | SCREEN | {"pathlib", "pint", "platformdirs", "tomli_w"},
    "trial": FILES | SCREEN | {"pathlib", "pint", "platformdirs", "tomli_w"},
    "merging": FILES | SCREEN | {"pathlib", "pint", "platformdirs", "tomli_w"},
    "merged_file": SCREEN | {"pint"},
    "joining": SCREEN | {"pint"},
    "quantity": FILES | SCREEN | {"pathlib", "platformdirs"},
    "laptime": FILES | SCREEN | {"pathlib", "platformdirs", "pint"},
    "grammar": FILES | SCREEN | {"pathlib", "platformdirs", "pint"},
    "samples": SCREEN | {"pint"},
    "report": SCREEN | {"pint"},
    "store": SCREEN | {"pint"},
    "preferences": SCREEN | {"pint"},
    "van": SCREEN | {"pint"},
    "desk": SCREEN | {"pint"},
    "checking": SCREEN | {"pint"},
    "recovering": SCREEN | {"pint"},
    "handover": SCREEN | {"pint"},
    "following": SCREEN | {"pint"},
    "doctor": SCREEN | {"pint"},
    "ui": {"pint"},
    "cli": {"pint", "rich"},
}
"""Libraries that a room keeps out."""

NOWHERE = {
    *(
        "socket",
        "socketserver",
        "ssl",
        "http",
        "urllib",
        "ftplib",
        "smtplib",
        "poplib",
        "imaplib",
        "xmlrpc",
        "webbrowser",
    ),
    *("requests", "httpx", "aiohttp"),  # the program works without a network, and asks none
    *("pickle", "marshal", "shelve", "dbm", "runpy", "code", "codeop", "imp"),  # reading data never runs it
}
CALLS_NOWHERE = {
    *("eval", "exec", "compile", "__import__"),
    *("setattr", "delattr"),  # the type checker holds that no record is changed, and cannot see these
}
METHODS_NOWHERE = {
    ("os", "system"),
    ("os", "popen"),
    ("importlib", "import_module"),
    ("object", "__setattr__"),
}


def imports(tree: ast.AST) -> Iterator[str]:
    """Every module or name imported anywhere in it, dotted; a relative import keeps its leading dot."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from ("." * node.level + (node.module or "") + "." + alias.name for alias in node.names)


def room_of(module: str) -> str:
    """The room of a dotted name of ours: its second part; stanchion itself is its __init__."""
    parts = module.split(".")
    return parts[1] if len(parts) > 1 and parts[1] in ROOMS else "__init__"


def breaches(source: str, room: str) -> list[str]:
    """What in the source a room may not have."""
    tree = ast.parse(source)
    found = []
    for name in imports(tree):
        top = name.partition(".")[0]
        if top == "stanchion":
            other = room_of(name)
            if other not in ROOMS[room] | {room} | OPEN_TO_ALL:
                found.append(f"{room} imports {other}")
        elif not top or top in NOWHERE | REFUSED.get(room, set()):
            found.append(f"{room} imports {name}")
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            called = node.func
            if isinstance(called, ast.Name) and called.id in CALLS_NOWHERE:
                found.append(f"{room} calls {called.id}")
            elif isinstance(called, ast.Attribute) and isinstance(called.value, ast.Name):
                method = (called.value.id, called.attr)
                found += [f"{room} calls {'.'.join(method)}"] if method in METHODS_NOWHERE else []
    return found


def own_room(path: Path) -> str:
    return path.relative_to(SOURCE).parts[0].removesuffix(".py")


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_no_module_reaches_through_the_wall(path: Path) -> None:
    room = own_room(path)
    assert room in ROOMS, f"{path.name} is a new room: say in tests/test_rooms.py what it may lean on"
    assert breaches(path.read_text("utf-8"), room) == []


def test_a_unit_library_is_imported_by_one_module_and_only_when_it_is_needed() -> None:
    for path in MODULES:
        tree = ast.parse(path.read_text("utf-8"))
        everywhere = [name for name in imports(tree) if name.partition(".")[0] == "pint"]
        at_the_top = [
            name
            for node in tree.body
            for name in imports(node)
            if name.partition(".")[0] == "pint" and not isinstance(node, ast.FunctionDef | ast.ClassDef | ast.If)
        ]
        assert everywhere == [] or own_room(path) == "quantity", path
        assert at_the_top == [], path


@pytest.mark.parametrize(
    "package", ["mechanics", "job", "judgement", "session", "report", "store", "desk", "checking", "cli"]
)
def test_what_is_not_the_screen_runs_without_the_screen_s_library(package: str) -> None:
    modules = [
        ".".join(path.relative_to(SOURCE.parent).with_suffix("").parts).removesuffix(".__init__")
        for path in MODULES
        if own_room(path) == package
    ]
    program = "import importlib, sys\n" + "".join(f"importlib.import_module({name!r})\n" for name in modules)
    program += "print(*sorted({name.partition('.')[0] for name in sys.modules} & {'textual', 'rich', 'pint'}))"
    ran = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, timeout=60, check=False)
    assert (ran.stdout.strip(), ran.stderr) == ("", "")


class TestTheWallItself:
    @pytest.mark.parametrize(
        ("room", "line"),
        [
            ("mechanics", "from stanchion.job.model import Job"),
            ("mechanics", "from stanchion import job"),
            ("mechanics", "import pathlib"),
            ("mechanics", "def f():\n    import os.path"),
            ("mechanics", "from ..job import model"),
            ("job", "from stanchion.store.atomic import read"),
            ("job", "import stanchion.judgement.assess"),
            ("judgement", "from rich.text import Text"),
            ("judgement", "from stanchion.ui.theme import Themes"),
            ("store", "from textual.app import App"),
            ("report", "from stanchion.store import library"),
            ("ui", "from stanchion.mechanics.sag import sag"),
            ("ui", "from stanchion.commands.command_line import main"),
            ("cli", "from urllib.request import urlopen"),
            ("store", "import pickle"),
            ("ui", "import socket as s"),
            ("cli", "eval('1')"),
            ("ui", "exec(text)"),
            ("cli", "import os\nos.system('ls')"),
            ("job", "setattr(job, 'front', front)"),
            ("desk", "object.__setattr__(job, 'front', front)"),
            ("ui", "import importlib\nimportlib.import_module(name)"),
        ],
    )
    def test_a_breach_is_seen(self, room: str, line: str) -> None:
        assert len(breaches(line, room)) == 1

    @pytest.mark.parametrize(
        ("room", "line"),
        [
            (
                "mechanics",
                "import math\nfrom stanchion.base.errors import OutOfRange\nfrom stanchion.mechanics import sag",
            ),
            ("judgement", "from stanchion.job.model import Job\nfrom stanchion.mechanics.sag import sag"),
            ("job", "import re\nre.compile('a')"),
            ("cli", "from stanchion import __version__\nfrom stanchion.ui.app import Stanchion"),
            ("ui", "from textual.app import App\nself.exec(text)"),
        ],
    )
    def test_what_is_allowed_is_let_through(self, room: str, line: str) -> None:
        assert breaches(line, room) == []
