"""Nothing in the source is dead: the command line and the application reach every function, class and constant.

The walk goes by names, read off the source. It starts at the command line and follows what the code of each definition
names: definitions of the module or imported there, and for methods any attribute or text of that name. So it may take a
dead method for a living one, but never the other way round.
"""

from __future__ import annotations

import argparse
import ast
import enum
import re
import threading
from collections.abc import Iterable, Mapping
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

from textual._compositor import Compositor
from textual.app import App
from textual.css.stylesheet import Stylesheet
from textual.drivers.linux_driver import LinuxDriver
from textual.screen import Screen
from textual.scrollbar import ScrollBar
from textual.strip import Strip
from textual.theme import Theme
from textual.widgets import Input, OptionList, TextArea

SOURCE = Path(__file__).parents[1] / "src" / "stanchion"
STARTS = (("commands.command_line", "main"),)

KEPT = dict.fromkeys(
    ("mechanics.spring.in_series", "mechanics.spring.in_parallel"), "two springs in one leg or shock"
) | {
    **dict.fromkeys(
        ("mechanics.gas.polytropic_pressure", "mechanics.gas.air_spring_force", "mechanics.gas.air_spring_rate"),
        "forks and shocks sprung by air",
    ),
    "mechanics.fork.fork_rate": "the fork's rate where the machine rests",
    "mechanics.sag.friction_force": "friction beside stiction",
}
"""What nothing reaches yet, and what is to be shown with it."""

CALLED_BY_OTHERS = set[str]().union(
    *map(
        dir,
        (
            *(App, Screen, Input, OptionList, TextArea, ScrollBar, Strip, Theme, LinuxDriver, Stylesheet),
            Compositor,
            *(argparse.ArgumentParser, argparse.Action, argparse.HelpFormatter, enum.IntEnum, threading.Thread),
            *(HTMLParser, Exception),
        ),
    )
)
"""Methods that Textual or the standard library calls."""
CODES = "judgement.results.codes"
HANDLERS = ("on_", "_on_", "watch_", "validate_", "compute_", "_watch_")
"""Textual calls a method whose name begins so."""

Definition = tuple[str, str]
"""Module, and name in it; a method is called "Class.method"."""


class Uses:
    """What a piece of code names."""

    def __init__(self, nodes: Iterable[ast.AST]) -> None:
        self.names: set[str] = set()
        self.attributes: set[str] = set()
        """Attributes, and words of texts: those may be the name of a method or an action."""
        self.of: set[tuple[str, str]] = set()
        """Attributes of a plain name, which may be a module."""
        for node in nodes:
            for part in ast.walk(node):
                if isinstance(part, ast.Name):
                    self.names.add(part.id)
                elif isinstance(part, ast.Attribute):
                    self.attributes.add(part.attr)
                    if isinstance(part.value, ast.Name):
                        self.of.add((part.value.id, part.attr))
                elif isinstance(part, ast.Constant) and isinstance(part.value, str) and len(part.value) < 200:
                    words = set(re.findall(r"\w+", part.value))
                    self.attributes |= words | {f"action_{word}" for word in words}
                    if re.fullmatch(r"[\w\[\], .|]+", part.value):  # an annotation that is text
                        self.names |= {word for word in words if word[:1].isupper()}


class Module:
    """What one module defines and imports."""

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        self.defined: dict[str, list[ast.AST]] = {}
        self.methods: dict[str, list[str]] = {}
        self.run: list[ast.AST] = []
        self.imported: dict[str, tuple[str, str]] = {}
        tree = ast.parse(text)
        for statement in tree.body:
            self._define(statement)
        self.uses = {name: Uses(nodes) for name, nodes in self.defined.items()}
        self.uses_when_run = Uses(self.run)
        for node in ast.walk(tree):
            if isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] == "stanchion":
                module = (node.module or "").removeprefix("stanchion").removeprefix(".")
                self.imported |= {alias.asname or alias.name: (module, alias.name) for alias in node.names}

    def _define(self, statement: ast.stmt) -> None:
        if isinstance(statement, ast.FunctionDef | ast.AsyncFunctionDef):
            self.defined.setdefault(statement.name, []).append(statement)
        elif isinstance(statement, ast.ClassDef):
            self.methods[statement.name] = []
            outside: list[ast.AST] = [*statement.bases, *statement.keywords, *statement.decorator_list]
            for part in statement.body:
                if isinstance(part, ast.FunctionDef | ast.AsyncFunctionDef):
                    self.methods[statement.name].append(part.name)
                    self.defined.setdefault(f"{statement.name}.{part.name}", []).append(part)
                else:
                    outside.append(part)
            self.defined[statement.name] = outside
        elif isinstance(statement, ast.Assign | ast.AnnAssign):
            targets = statement.targets if isinstance(statement, ast.Assign) else [statement.target]
            names = [name.id for target in targets for name in ast.walk(target) if isinstance(name, ast.Name)]
            parts = [statement.value] if isinstance(statement, ast.Assign) else [statement.value, statement.annotation]
            for name in names:
                self.defined.setdefault(name, []).extend(part for part in parts if part is not None)
        elif isinstance(statement, ast.If | ast.Try):
            inner = [*statement.body, *statement.orelse]
            if isinstance(statement, ast.Try):
                inner += [part for handler in statement.handlers for part in handler.body]
            else:
                self.run.append(statement.test)
            for part in inner:
                self._define(part)
        elif not isinstance(statement, ast.Import | ast.ImportFrom):
            self.run.append(statement)


class Walk:
    """Follows names from where the program starts."""

    def __init__(self, modules: Mapping[str, Module]) -> None:
        self.modules = modules
        self.reached: set[Definition] = set()
        self.named: set[str] = set()
        """Every attribute that reached code names, and every text in it that may be the name of one."""
        self._open: list[tuple[Module, Uses]] = []

    def from_starts(self, starts: Iterable[Definition]) -> set[Definition]:
        """What is reached."""
        self._open += [(module, module.uses_when_run) for module in self.modules.values()]
        for start in starts:
            self._reach(*start)
        while self._open:
            while self._open:
                self._follow(*self._open.pop())
            self._reach_methods()
        return self.reached

    def _reach(self, module: str, name: str) -> None:
        of = self.modules.get(module)
        if of is None:
            return
        if name not in of.defined:
            if name in of.imported and of.imported[name] != (module, name):
                self._reach(*of.imported[name])
            return
        if (module, name) not in self.reached:
            self.reached.add((module, name))
            self._open.append((of, of.uses[name]))

    def _follow(self, module: Module, uses: Uses) -> None:
        self.named |= uses.attributes
        for name in uses.names:
            self._reach(module.name, name)
        for holder, attribute in uses.of:
            if holder in module.imported:
                where, name = module.imported[holder]
                self._reach(f"{where}.{name}".removeprefix("."), attribute)

    def _reach_methods(self) -> None:
        for name, module in self.modules.items():
            for kind, methods in module.methods.items():
                if (name, kind) in self.reached:
                    for method in methods:
                        dunder = method.startswith("__") and method.endswith("__")
                        if dunder or method in self.named or method in CALLED_BY_OTHERS or method.startswith(HANDLERS):
                            self._reach(name, f"{kind}.{method}")


parsed = cache(Module)


def sources() -> dict[str, str]:
    """Every module by its name below the package, and its text."""
    found = {}
    for file in sorted(SOURCE.rglob("*.py")):
        parts = file.relative_to(SOURCE).with_suffix("").parts
        found[".".join(part for part in parts if part != "__init__")] = file.read_text("utf-8")
    return found


def unreached(texts: Mapping[str, str], starts: Iterable[Definition] = STARTS) -> list[str]:
    """What nothing reaches, as "module.name"."""
    modules = {name: parsed(name, text) for name, text in texts.items()}
    reached = Walk(modules).from_starts(starts)
    return [
        f"{name}.{definition}"
        for name, module in modules.items()
        for definition in module.defined
        if (name, definition) not in reached and not definition.startswith("__") and ".__" not in definition
    ]


def test_nothing_in_the_source_is_dead() -> None:
    dead = unreached(sources())
    assert sorted(set(dead) - set(KEPT)) == []
    assert sorted(set(KEPT) - set(dead)) == [], "reached: take it from the list"
    assert all(KEPT.values())


def planted(text: str) -> list[str]:
    """What is dead of a text planted in a module that the program uses."""
    texts = sources()
    texts["judgement.assess"] += f"\n\n{text}\n"
    return [name for name in unreached(texts) if name not in KEPT]


def test_planted_dead_code_is_found() -> None:
    assert planted("def left_over() -> int:\n    return 1") == ["judgement.assess.left_over"]
    assert planted("LEFT_OVER = 3") == ["judgement.assess.LEFT_OVER"]
    assert planted("class LeftOver:\n    pass") == ["judgement.assess.LeftOver"]
    # ... what only dead code calls is dead, even where each calls the other
    both = "def one_of_two():\n    return other_of_two()\n\n\ndef other_of_two():\n    return one_of_two()"
    assert planted(both) == ["judgement.assess.one_of_two", "judgement.assess.other_of_two"]


def test_a_method_nobody_names_is_found() -> None:
    texts = {
        "commands.command_line": "from stanchion.a import A\n\n\ndef main():\n    A().used()",
        "a": "class A:\n    def used(self):\n        pass\n\n    def left_over(self):\n        pass",
    }
    assert unreached(texts) == ["a.A.left_over"]


def never_given(texts: Mapping[str, str]) -> list[str]:
    """The codes of findings, verdicts, reasons and cautions that no module gives as a literal: their words are dead."""
    given = [text for name, text in texts.items() if name != CODES and not name.startswith("wording.")]
    found = {one for text in given for one in re.findall(r'"([a-z_]+)"', text)}
    return [code for code in re.findall(r'"([a-z_]+)"', texts[CODES]) if code not in found]


def test_every_code_is_given_by_some_module() -> None:
    assert never_given(sources()) == []


def test_a_planted_code_that_nothing_gives_is_found() -> None:
    texts = sources()
    texts[CODES] += 'More = Literal[\n    "left_over",\n    "stiction_note",\n]\n'
    assert never_given(texts) == ["left_over"]
