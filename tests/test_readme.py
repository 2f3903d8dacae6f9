"""What the documents say is what the program does."""

from __future__ import annotations

import re
from pathlib import Path

from stanchion.commands.arguments import OPEN, parser, verbs_of
from stanchion.job.codec import loads
from stanchion.ui.help_reference import GENERAL
from stanchion.ui.help_text import PARTS
from stanchion.ui.keys import KEYS, shown
from test_rooms import ROOMS

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text("utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")


def table(heading: str) -> dict[str, str]:
    """The first two cells of each row of a table of the README, by the first cell of its head."""
    rows = README.split(f"\n| {heading} |")[1].split("\n\n")[0].splitlines()[2:]
    return {cells[1].strip(): cells[2].strip() for cells in (row.split("|") for row in rows)}


def test_the_readme_is_short() -> None:
    assert len(README.splitlines()) <= 130, "reference belongs into the program's help"


def test_the_readme_names_every_screen_by_its_key() -> None:
    assert table("key") == {shown(key.keys): key.words for key in KEYS if key.action.startswith(("go(", "story"))}


def test_the_readme_names_every_verb_and_none_that_is_gone() -> None:
    named = {name.removeprefix("stanchion ") for cell in table("command") for name in re.findall(r"`([^`]+)`", cell)}
    assert named == {*verbs_of(parser())} - {OPEN} | {"JOB.toml", "FOLDER"}


def test_the_parts_of_the_help_that_the_readme_leads_to_are_there() -> None:
    (named,) = re.findall(r'F1, under "([^"]+)" and "([^"]+)"', README)
    assert set(named) <= {part.title for part in GENERAL}


def test_nothing_is_said_both_in_the_readme_and_in_the_help_but_the_cautions() -> None:
    help_words = " ".join(" ".join(part.text for part in (*PARTS, *GENERAL)).split())
    text = " ".join(README.partition("## Cautions")[0].split())
    assert [one for one in re.split(r"(?<=[.:;]) ", text) if len(one.split()) >= 6 and one in help_words] == []


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


def listed() -> dict[str, list[str]]:
    """The modules named in the list of rooms, by room: "judgement" for the modules that lie in no room within it."""
    paragraphs = re.split(r"\n(?=- |\n)", section("Rooms and their modules"))
    found = [re.findall(r"`([^`]+)`", one) for one in paragraphs if one.startswith("- `")]
    return {names[0].removesuffix("/*").rstrip("/"): names[1:] for names in found}


def test_the_list_of_rooms_names_every_module_once_and_none_that_is_gone() -> None:
    source = ROOT / "src" / "stanchion"
    there: dict[str, list[str]] = {}
    for path in sorted(source.rglob("*.py")):
        if not path.stem.startswith("__"):
            there.setdefault(path.parent.relative_to(source).as_posix(), []).append(path.stem)
    assert {room: sorted(names) for room, names in listed().items()} == there


def test_the_list_has_the_rooms_in_their_order() -> None:
    order = [room for room in ROOMS if not room.startswith("__")]
    rooms = [room.replace("/", ".") for room in listed()]
    assert [room for room in rooms if room in order] == order
    assert {room.partition(".")[0] for room in rooms if room not in order} == {"ui"}


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
