"""The size the program draws for is that of the terminal, and it works in whatever there is."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("pseudo-terminals are POSIX", allow_module_level=True)

from real_terminal import RealTerminal


@pytest.mark.parametrize("size", [(100, 30), (80, 24)], ids=["larger", "smaller"])
def test_the_real_size_decides_and_not_what_a_shell_exported(tmp_path: Path, size: tuple[int, int]) -> None:
    columns, lines = size
    exported = {"COLUMNS": "90", "LINES": "27"}
    with RealTerminal(tmp_path, columns=columns, lines=lines, env=exported) as terminal:
        terminal.wait_for("no jobs here yet", "^Q quit")
        assert "^Q quit" in terminal.screen.display[lines - 1]
        terminal.resize(columns + 10, lines + 6)
        for _ in range(200):
            terminal.read(0.1)
            if "^Q quit" in terminal.screen.display[lines + 5]:
                break
        assert "^Q quit" in terminal.screen.display[lines + 5], terminal.text


def test_a_value_is_typed_in_forty_columns_and_ten_lines_and_saved(tmp_path: Path) -> None:
    with RealTerminal(tmp_path, "sample", "soft_springs", columns=40, lines=10) as terminal:
        terminal.wait_for("Spring rate", "FAULT", "OVER LIMIT")
        terminal.press("9.5", "enter")
        terminal.wait_for("Free length", "if 8.00 was wrong", "9.5", "saved ")  # another rate: which of the two it is
        terminal.resize(80, 24)
        terminal.wait_for("INSTALLED PRELOAD", "if 8.00 was wrong", "9.5")
        terminal.press("ctrl+q")
        assert terminal.wait_end() == 0
    (path,) = (tmp_path / "jobs").glob("*.toml")
    assert "rate_n_per_mm = 9.5" in path.read_text("utf-8")
