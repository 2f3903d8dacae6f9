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
