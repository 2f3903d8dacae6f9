"""What the documents say is what the program does."""

from __future__ import annotations

import re
from pathlib import Path

from stanchion.job.codec import loads
from stanchion.ui.keys import KEYS, help_rows

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text("utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")


def key_table() -> str:
    """The README's table of keys, as the program has them."""
    rows = zip(help_rows(KEYS), KEYS, strict=True)
    return "\n".join(f"| {' | '.join((*row, f'`{key.id}`'))} |" for row, key in rows)


def test_the_readme_lists_every_key() -> None:
    assert key_table() in README


def test_the_example_the_developers_guide_points_to_is_a_whole_job_file() -> None:
    (example,) = set(re.findall(r"`(sample_jobs/\w+\.toml)` is a complete example", DEVELOPERS))
    assert not loads((ROOT / example).read_bytes()).edited_by_hand


def section(title: str) -> str:
    """One section of the developers' guide."""
    return DEVELOPERS.split(f"\n## {title}\n")[1].split("\n## ")[0]


def names_in(title: str) -> list[list[str]]:
    """The names in code marks in the last column of each row of a section's table."""
    rows = [line for line in section(title).splitlines() if line.startswith("| ")][2:]
    return [re.findall(r"`([^`]+)`", row.split("|")[-2]) for row in rows]


def test_every_file_that_answers_where_a_rule_is_exists() -> None:
    rows = names_in("Where is rule X")
    assert len(rows) > 20
    for row in rows:
        room = ""
        for name in row:
            if "*" in name:
                continue
            room = name.rpartition("/")[0] if "/" in name else room
            path = ROOT / "src" / "stanchion" / (name if "/" in name else f"{room}/{name}")
            assert path.is_file() or path.with_suffix(".py").is_file(), name


def test_every_test_that_keeps_a_promise_exists() -> None:
    rows = names_in("Promises and their tests")
    assert len(rows) > 10
    for row in rows:
        for name in row:
            folder, _, stem = name.rpartition("/")
            assert stem == "" or (ROOT / "tests" / folder / f"test_{stem}.py").is_file(), name


def test_the_developers_guide_stays_under_300_lines() -> None:
    assert len(DEVELOPERS.splitlines()) < 300


def test_every_picture_the_readme_shows_is_there_and_loads_nothing_from_elsewhere() -> None:
    pictures = re.findall(r"!\[[^\]]*\]\(([^)]*)\)", README)
    assert pictures
    for picture in pictures:
        text = (ROOT / picture).read_text("utf-8")
        links = set(re.findall(r"(?:https?:)?//[\w.]+", text)) - {"http://www.w3.org", "//www.w3.org"}
        assert {link for link in links if "w3.org" not in link and "textualize" not in link} == set()


def test_the_check_command_of_the_readme_is_the_one_ci_runs() -> None:
    assert "tests/check.py" in README
    assert "tests/check.py" in (ROOT / ".ci" / "run").read_text("utf-8")
