"""The table of coverage adds up by room, and a room below its limit is seen."""

from __future__ import annotations

from coverage_limits import ELSEWHERE, ITSELF, UI, rooms, table


def measured(branches: int, covered: int) -> dict[str, dict[str, int]]:
    counts = {"num_statements": 10, "covered_lines": 9, "num_branches": branches, "covered_branches": covered}
    return {"summary": counts}


def test_files_are_added_up_by_room() -> None:
    files = {
        "src/stanchion/__main__.py": measured(4, 4),
        "src/stanchion/judgement/assess.py": measured(6, 6),
        "src/stanchion/judgement/ends/rear.py": measured(12, 11),
        "src/stanchion/store/atomic.py": measured(10, 9),
        "src/stanchion/store/names.py": measured(30, 30),
        "src/stanchion/ui/screens/jobs.py": measured(20, 17),
    }
    found = {room.name: (room.branches, room.branches_covered, room.short) for room in rooms(files)}
    assert found == {
        ITSELF: (4, 4, False),
        "judgement": (18, 17, False),
        "store": (40, 39, False),
        ELSEWHERE: (62, 60, False),
        UI: (20, 17, False),
    }


def test_a_branch_too_few_is_below_the_limit() -> None:
    files = {"src/stanchion/store/atomic.py": measured(100, 94), "src/stanchion/ui/app.py": measured(100, 85)}
    lines = table(rooms(files)).splitlines()
    assert [line for line in lines if "BELOW ITS LIMIT" in line] == [lines[2]]
    assert lines[2].startswith(ELSEWHERE)
    assert lines[2].split()[-4:] == ["%", "BELOW", "ITS", "LIMIT"]
    files["src/stanchion/ui/app.py"] = measured(100, 84)
    assert table(rooms(files)).count("BELOW ITS LIMIT") == 2
