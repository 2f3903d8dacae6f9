"""Where a terminal has no Unicode: how that is concluded, and what is printed there."""

from __future__ import annotations

import io
from collections.abc import Mapping

import pytest

from stanchion.base.ascii_only import locale_named, only_ascii, prints, typed_in

TERM = {"TERM": "xterm-256color"}


@pytest.mark.parametrize(
    ("environ", "encoding", "ascii_alone"),
    [
        ({**TERM, "LANG": "C.UTF-8"}, "utf-8", False),
        ({**TERM, "LANG": "de_DE.utf8"}, "utf-8", False),
        ({**TERM, "LANG": "sr_RS.UTF-8@latin"}, "utf-8", False),
        ({**TERM, "LC_ALL": "C", "LANG": "C.UTF-8"}, "utf-8", True),  # POSIX: LC_ALL comes before the others
        ({**TERM, "LC_ALL": "", "LANG": "POSIX"}, "utf-8", True),  # POSIX: an empty one counts as not set
        ({**TERM, "LC_CTYPE": "POSIX", "LANG": "C.UTF-8"}, "utf-8", True),
        ({**TERM, "LANG": "de_DE.ISO-8859-1"}, "utf-8", True),
        ({**TERM, "LANG": "de_DE.ISO-8859-15@euro"}, "iso8859-15", True),
        ({**TERM, "LANG": "C.UTF-8"}, "ascii", True),
        ({**TERM, "LANG": "de_DE"}, "iso8859-1", True),
        (TERM, "utf-8", False),  # nothing is said of the terminal
        ({"TERM": "linux", "LANG": "C.UTF-8"}, "utf-8", True),
        ({"TERM": "dumb", "LANG": "C.UTF-8"}, "utf-8", True),
        ({"TERM": "vt220", "LANG": "C.UTF-8"}, "utf-8", True),
    ],
)
def test_what_the_terminal_is_said_to_be_decides(environ: Mapping[str, str], encoding: str, ascii_alone: bool) -> None:
    assert only_ascii("terminal", environ, encoding, coerced=False) is ascii_alone
    assert only_ascii("ascii", environ, encoding, coerced=False)
    assert not only_ascii("unicode", environ, encoding, coerced=False)


def test_what_python_sets_by_itself_in_the_bare_locale_says_nothing() -> None:
    # PEP 538: LC_CTYPE is set to C.UTF-8 where the locale is C
    environ = {"LC_CTYPE": "C.UTF-8", "LANG": "C"}
    assert locale_named(environ, coerced=True) == "C"
    assert locale_named(environ, coerced=False) == "C.UTF-8"
    assert locale_named({"LC_CTYPE": "C.UTF-8"}, coerced=True) == ""


@pytest.mark.parametrize(
    ("name", "encoding"),
    [
        ("de_DE.ISO-8859-15@euro", "iso8859-15"),
        ("ja_JP.eucJP", "euc_jp"),
        ("C.UTF-8", "utf-8"),
        ("C", "utf-8"),
        ("xx.hex", "utf-8"),
        ("xx.utf-16", "utf-8"),
        ("xx.nonsense", "utf-8"),
        ("", "utf-8"),
    ],
)
def test_what_is_typed_is_read_as_the_locale_says_where_that_can_be(name: str, encoding: str) -> None:
    assert typed_in({"LC_ALL": name}) == encoding


class Terminal(io.BytesIO):
    """Bytes that go to a terminal."""

    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(
    ("locale", "goes_to", "printed"),
    [
        ("C", Terminal, b"-1.0 mm +-0.4 x2 Jorg"),
        ("C.UTF-8", Terminal, "−1.0 mm ±0.4 ×2 Jörg".encode()),
        ("C", io.BytesIO, "−1.0 mm ±0.4 ×2 Jörg".encode()),  # a file keeps every letter
    ],
)
def test_stand_ins_are_printed_to_a_bare_terminal_alone(
    monkeypatch: pytest.MonkeyPatch, locale: str, goes_to: type[io.BytesIO], printed: bytes
) -> None:
    monkeypatch.setenv("LC_ALL", locale)
    monkeypatch.setenv("TERM", "xterm")
    buffer = goes_to()
    stream = io.TextIOWrapper(buffer, encoding="utf-8")
    prints(stream)
    stream.write("−1.0 mm ±0.4 ×2 Jörg")
    stream.flush()
    assert buffer.getvalue() == printed
