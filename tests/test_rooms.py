"""Imports point one way: a room may lean on those below it, and no module leans on one that leans on it.

The wall is read off the source, so that an import inside a function or for the type checker counts as much as one at
the top.
"""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[1] / "src" / "stanchion"

ROOMS = (
    "__init__",  # the version
    "base",
    "mechanics",
    "job",
    "units",
    "judgement.results",
    "judgement.criteria",
    "judgement.ends",
    "judgement.sag",
    "judgement.springs",
    "judgement.predict",
    "judgement.track",
    "judgement.work",
    "judgement",  # its modules that lie in no room of their own
    "planning",
    "wording",
    "store",
    "report",
    "bench",
    "ui",  # one room: keys, widgets, dialogs, core, commands, screens and the application lie in this order
    "commands",
    "__main__",
)
"""Every room, lowest first: one may lean on itself and on those before it."""

ONLY_FOR = {"mechanics": ("judgement", "planning")}
"""Rooms that only these may lean on."""

ON_THE_JOB_ALONE = {
    "bench.edit_session",
    "bench.field_edits",
    "bench.session",
    "bench.stock_session",
    "bench.trial",
    "bench.guided_measuring",
    "bench.found_round",
    "bench.lifting_round",
    "bench.swingarm_round",
    "bench.guided_readings",
    "bench.merging",
}
"""Modules of bench that work on what is in hand: they know no file, and of bench only each other."""
KEPT_OUT = {
    "report": {"store"},
    **{module: {"store", "report"} for module in ON_THE_JOB_ALONE},
    "commands": {"ui"},
    **{f"commands.{name}": set[str]() for name in ("start_screen", "doctor_page", "terminal_look", "key_delivery")},
}
"""Lower rooms that a room keeps out all the same; of a room and a module of it, the module's row holds."""

FILES = {"os", "io", "shutil", "tempfile", "glob", "fcntl", "mmap"}
SCREEN = {"textual", "rich"}
IN_HAND = FILES | SCREEN | {"pathlib", "pint", "platformdirs", "tomli_w"}
REFUSED = {
    "__init__": IN_HAND,
    "base": SCREEN | {"pint", "platformdirs", "tomli_w"},
    "mechanics": IN_HAND | {"tomllib"},
    "job": FILES | SCREEN | {"pathlib", "pint", "platformdirs"},
    "units": FILES | SCREEN | {"pathlib", "platformdirs"},
    "units.grammar": FILES | SCREEN | {"pathlib", "platformdirs", "pint"},
    "units.times": FILES | SCREEN | {"pathlib", "platformdirs", "pint"},
    "judgement": FILES | SCREEN | {"pint", "platformdirs", "tomli_w"},
    "planning": FILES | SCREEN | {"pint", "platformdirs", "tomli_w"},
    "wording": FILES | SCREEN | {"pint", "platformdirs", "tomli_w"},
    "store": SCREEN | {"pint"},
    "report": SCREEN | {"pint"},
    "bench": SCREEN | {"pint"},
    **dict.fromkeys(ON_THE_JOB_ALONE, IN_HAND),
    "ui": {"pint"},
    "commands": SCREEN | {"pint"},
    "commands.key_delivery": {"pint"},  # what a terminal sends and shows is asked of the screen's library
    "commands.terminal_look": {"pint"},
    "__main__": SCREEN | {"pint"},
}
"""Libraries that a room keeps out; of a room and a module of it, the module's row holds."""

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
    *("os.system", "os.popen"),
    *("importlib.import_module", "importlib.util", "importlib.machinery"),  # an import that nobody can read off
}
CALLS_NOWHERE = {
    *("eval", "exec", "compile", "__import__"),
    *("setattr", "delattr"),  # the type checker holds that no record is changed, and cannot see these
}
METHODS_NOWHERE = {
    ("os", "system"),
    ("os", "popen"),
    ("object", "__setattr__"),
}


def dotted(path: Path) -> str:
    """The module in a file, without the name of the program: "ui.app"; a package is called as its folder."""
    parts = path.relative_to(SOURCE).with_suffix("").parts
    return ".".join(parts if parts == ("__init__",) else parts[:-1] if parts[-1] == "__init__" else parts)


MODULES = {dotted(path): path for path in sorted(SOURCE.rglob("*.py"))}


def imports(tree: ast.AST) -> Iterator[str]:
    """Every module or name imported anywhere in it, dotted; a relative import keeps its leading dot."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from ("." * node.level + (node.module or "") + "." + alias.name for alias in node.names)


def ours(name: str) -> str | None:
    """The module of ours that an imported name is or lies in, such as "job.model" for "stanchion.job.model.Job"; None
    for a name of others. Where there is none of that name, the name itself."""
    top, _, rest = name.partition(".")
    if top != "stanchion":
        return None
    parts = rest.split(".")
    if len(parts) == 1 and rest not in MODULES:
        return "__init__"
    found = (".".join(parts[:count]) for count in range(len(parts), 0, -1))
    return next((module for module in found if module in MODULES), rest)


def room_of(module: str) -> str:
    """The room of a module of ours; its first part where no room is called so."""
    parts = module.split(".")
    inner = ".".join(parts[:2])
    return inner if inner in ROOMS else parts[0]


def may_lean(module: str, on: str) -> bool:
    """Whether one module of ours may import another."""
    room, other = room_of(module), room_of(on)
    if room == other:
        return module not in ON_THE_JOB_ALONE or on in ON_THE_JOB_ALONE
    kept_out = KEPT_OUT.get(module, KEPT_OUT.get(room, set()))
    open_to_it = room.partition(".")[0] in ONLY_FOR.get(other, (room.partition(".")[0],))
    return other in ROOMS and ROOMS.index(other) < ROOMS.index(room) and other not in kept_out and open_to_it


def refused(module: str) -> set[str]:
    """Libraries, and names of them, that a module keeps out."""
    return NOWHERE | REFUSED.get(module, REFUSED[room_of(module).partition(".")[0]])


def breaches(source: str, module: str) -> list[str]:
    """What in the source a module may not have."""
    tree = ast.parse(source)
    found = []
    for name in imports(tree):
        on = ours(name)
        parts = name.split(".")
        if on is not None:
            found += [] if may_lean(module, on) else [f"{module} imports {on}"]
        elif not parts[0] or {parts[0], ".".join(parts[:2])} & refused(module):
            found.append(f"{module} imports {name}")
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and node.attr == "import_module":
            found.append(f"{module} uses import_module")
        elif isinstance(node, ast.Call):
            called = node.func
            if isinstance(called, ast.Name) and called.id in CALLS_NOWHERE:
                found.append(f"{module} calls {called.id}")
            elif isinstance(called, ast.Attribute) and isinstance(called.value, ast.Name):
                method = (called.value.id, called.attr)
                found += [f"{module} calls {'.'.join(method)}"] if method in METHODS_NOWHERE else []
    return found


def leaning() -> dict[str, set[str]]:
    """Every module of ours and those it imports."""
    graph = {}
    for module, path in MODULES.items():
        found = {ours(name) for name in imports(ast.parse(path.read_text("utf-8")))}
        graph[module] = {on for on in found if on is not None and on != module}
    return graph


def in_circles(graph: Mapping[str, set[str]]) -> set[str]:
    """Those from which a way leads back to themselves."""

    def leads_back(module: str) -> bool:
        reached, waiting = set[str](), [module]
        while waiting:
            for on in graph.get(waiting.pop(), set()) - reached:
                reached.add(on)
                waiting.append(on)
        return module in reached

    return {module for module in graph if leads_back(module)}


def test_no_module_reaches_through_the_wall() -> None:
    for module, path in MODULES.items():
        assert room_of(module) in ROOMS, f"{module} is a new room: put it among ROOMS, above all that it leans on"
        assert breaches(path.read_text("utf-8"), module) == [], module


def test_no_two_modules_lean_on_each_other() -> None:
    assert in_circles(leaning()) == set(), "these lean on each other: put what both need into a module below them"


def test_a_package_imports_nothing_itself_for_whoever_imports_a_module_of_it_runs_it_too() -> None:
    packages = [path for path in MODULES.values() if path.name == "__init__.py"]
    assert len(packages) > len(ROOMS) / 2
    assert [path for path in packages if list(imports(ast.parse(path.read_text("utf-8"))))] == []


def test_every_rule_is_of_a_room_or_a_module_that_is_there() -> None:
    assert {room_of(module) for module in MODULES} == set(ROOMS)
    named = {*REFUSED, *KEPT_OUT, *ONLY_FOR, *ON_THE_JOB_ALONE}
    assert named - set(MODULES) == set()


def test_a_class_shares_its_name_with_no_other() -> None:
    where: dict[str, list[str]] = {}
    for module, path in MODULES.items():
        for node in ast.parse(path.read_text("utf-8")).body:
            if isinstance(node, ast.ClassDef):
                where.setdefault(node.name.lstrip("_"), []).append(module)
    assert {name: modules for name, modules in where.items() if len(modules) > 1} == {}


def test_toml_is_parsed_in_one_module_which_holds_the_limits() -> None:
    parsing = [m for m, path in MODULES.items() if "tomllib" in imports(ast.parse(path.read_text("utf-8")))]
    assert parsing == ["base.toml"]


def test_a_unit_library_is_imported_by_one_module_and_only_when_it_is_needed() -> None:
    for module, path in MODULES.items():
        tree = ast.parse(path.read_text("utf-8"))
        everywhere = [name for name in imports(tree) if name.partition(".")[0] == "pint"]
        at_the_top = [
            name
            for node in tree.body
            for name in imports(node)
            if name.partition(".")[0] == "pint" and not isinstance(node, ast.FunctionDef | ast.ClassDef | ast.If)
        ]
        assert everywhere == [] or module == "units.quantity", module
        assert at_the_top == [], module


@pytest.mark.parametrize(
    "package",
    [
        *("base", "mechanics", "job", "units", "judgement", "planning", "wording", "store", "report", "bench"),
        "commands",
    ],
)
def test_what_is_not_the_screen_runs_without_the_screen_s_library(package: str) -> None:
    of_the_terminal = {"commands.key_delivery", "commands.terminal_look", "commands.doctor_page"}
    modules = [
        f"stanchion.{module}"
        for module in MODULES
        if module.partition(".")[0] == package and module not in of_the_terminal
    ]
    assert modules
    program = "import importlib, sys\n" + "".join(f"importlib.import_module({name!r})\n" for name in modules)
    program += "print(*sorted({name.partition('.')[0] for name in sys.modules} & {'textual', 'rich', 'pint'}))"
    ran = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, timeout=60, check=False)
    assert (ran.stdout.strip(), ran.stderr) == ("", "")


class TestTheWallItself:
    @pytest.mark.parametrize(
        ("module", "line"),
        [
            ("mechanics.sag", "from stanchion.job.model import Job"),
            ("mechanics.sag", "from stanchion import job"),
            ("mechanics.sag", "import pathlib"),
            ("mechanics.sag", "def f():\n    import os.path"),
            ("mechanics.sag", "from ..job import model"),
            ("base.text", "if TYPE_CHECKING:\n    from stanchion.job.model import Job"),
            ("job.model", "from stanchion.store.atomic import read"),
            ("job.model", "import stanchion.judgement.assess"),
            ("job.model", "from stanchion.mechanics.sag import sag"),
            ("units.quantity", "from stanchion.judgement.results.figures import Figure"),
            ("judgement.assess", "from rich.text import Text"),
            ("judgement.sag.sag_figures", "from rich.text import Text"),
            ("judgement.assess", "from stanchion.ui.theme import Themes"),
            ("judgement.ends.rear", "from stanchion.judgement.sag.sag_figures import measure_end"),
            ("judgement.ends.rear", "from stanchion.judgement import sag"),
            ("judgement.work.work", "def f():\n    from stanchion.judgement.assess import assess"),
            ("judgement.assess", "from stanchion.planning.whatif import Trial"),
            ("planning.whatif", "from stanchion.wording.finding_words import FINDINGS"),
            ("store.library", "from textual.app import App"),
            ("store.library", "from stanchion.report.check import check_text"),
            ("report.check", "from stanchion.store import library"),
            ("report.check", "from stanchion.mechanics.sag import sag"),
            ("bench.workspace", "from stanchion.mechanics.sag import sag"),
            ("bench.workspace", "from stanchion.ui.app import StanchionApp"),
            ("bench.session", "from stanchion.store.library import Library"),
            ("bench.session", "from stanchion.bench.workspace import Workspace"),
            ("bench.session", "from pathlib import Path"),
            ("ui.app", "from stanchion.mechanics.sag import sag"),
            ("ui.app", "from stanchion.commands.command_line import main"),
            ("commands.check", "def f():\n    from stanchion.ui.app import StanchionApp"),
            ("commands.command_line", "import rich.text"),
            ("commands.command_line", "from urllib.request import urlopen"),
            ("store.library", "import pickle"),
            ("ui.app", "import socket as s"),
            ("commands.command_line", "eval('1')"),
            ("ui.app", "exec(text)"),
            ("commands.command_line", "import os\nos.system('ls')"),
            ("commands.command_line", "from os import system"),
            ("job.edit", "setattr(job, 'front', front)"),
            ("bench.workspace", "object.__setattr__(job, 'front', front)"),
            ("ui.app", "import importlib\nimportlib.import_module(name)"),
            ("ui.app", "import importlib as i\nload = i.import_module"),
            ("ui.app", "from importlib import import_module"),
            ("ui.app", "from importlib import import_module as load\nload(name)"),
        ],
    )
    def test_a_breach_is_seen(self, module: str, line: str) -> None:
        assert len(breaches(line, module)) == 1

    @pytest.mark.parametrize(
        ("module", "line"),
        [
            (
                "mechanics.linkage",
                "import math\nfrom stanchion.base.errors import OutOfRange\nfrom stanchion.mechanics import sag",
            ),
            ("judgement.assess", "from stanchion.job.model import Job\nfrom stanchion.mechanics.sag import sag"),
            ("judgement.assess", "from stanchion.judgement.sag.sag_figures import measure_end"),
            ("planning.whatif", "from stanchion.mechanics.sag import sag"),
            ("job.edit", "import re\nre.compile('a')"),
            ("bench.session", "from stanchion.bench.edit_session import Steps"),
            ("commands.start_screen", "from stanchion import __version__\nfrom stanchion.ui.app import Stanchion"),
            ("commands.doctor", "import importlib.metadata\nimportlib.metadata.version(name)"),
            ("ui.app", "from textual.app import App\nself.exec(text)"),
        ],
    )
    def test_what_is_allowed_is_let_through(self, module: str, line: str) -> None:
        assert breaches(line, module) == []

    def test_a_circle_is_found_with_all_that_are_in_it_and_no_other(self) -> None:
        graph = {"a": {"b"}, "b": {"c"}, "c": {"b", "d"}, "d": set[str]()}
        assert in_circles(graph) == {"b", "c"}
        assert in_circles({**graph, "d": {"a"}}) == {"a", "b", "c", "d"}
        assert in_circles({**graph, "c": {"d"}}) == set()
