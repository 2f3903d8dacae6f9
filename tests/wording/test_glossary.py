"""One term has one meaning: no sentence of the program uses another name for it."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path as File

import pytest

import stanchion
from stanchion.ui.help_reference import GENERAL
from stanchion.ui.help_text import PARTS
from stanchion.wording.glossary import GLOSSARY, Term, glossary_text

SOURCE = File(stanchion.__file__).parent
SHOWN = ("wording", "ui", "report", "commands", "store")
"""The packages that hold what a user reads."""


def texts(source: str) -> Iterator[str]:
    """Every text of more than one word in a module, without its docstrings."""
    tree = ast.parse(source)
    docstrings = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docstrings:
            text = " ".join(node.value.split())
            if " " in text:
                yield text


@cache
def sentences() -> tuple[tuple[str, str], ...]:
    """What a user reads, with the file it comes from; the glossary itself is the one place for other names."""
    files = [file for package in SHOWN for file in sorted((SOURCE / package).rglob("*.py"))]
    return tuple(
        (file.name, text) for file in files if file.name != "glossary.py" for text in texts(file.read_text("utf-8"))
    )


def used(word: str, text: str) -> bool:
    return re.search(rf"\b{re.escape(word)}\b", text, re.IGNORECASE) is not None


def test_the_sentences_are_found() -> None:
    assert any(used("measure again", text) for _, text in sentences())
    assert any(used("Installed preload", text) for name, text in sentences() if name == "help_setup.py")
    module = '"""Captured sag."""\nA = "one"\nB = "two of them"\n"""Captured, too."""'
    assert list(texts(module)) == ["two of them"]


@pytest.mark.parametrize("term", GLOSSARY, ids=lambda term: term.name)
def test_no_sentence_calls_a_term_by_another_name(term: Term) -> None:
    others = [re.sub(r" \(.*\)", "", name) for name in (*term.also, *term.never)]
    assert not [(name, text, word) for word in others for name, text in sentences() if used(word, text)]


def test_the_glossary_is_short_and_part_of_the_help() -> None:
    assert len(GLOSSARY) <= 20
    assert len({term.name for term in GLOSSARY}) == len(GLOSSARY)
    for term in GLOSSARY:
        assert term.meaning.endswith(".")
        assert term.meaning.count(". ") == 0, f"{term.name}: one sentence"
    whole = " ".join("\n".join(part.text for part in (*PARTS, *GENERAL)).split())
    assert " ".join(glossary_text(75).split()) in whole
    for name in ("free sag", "unladen sag", "race sag", "laden sag"):
        assert name in whole
