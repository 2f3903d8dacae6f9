"""Every figure of `check --json` has a name of its own."""

from __future__ import annotations

import re
from collections import defaultdict

from complete_job import complete_job
from stanchion.job.codec import loads
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import load_profiles
from stanchion.report.check_json import as_json
from stanchion.report.why_figures import figures_in
from stanchion.store.samples import samples
from stanchion.wording.figure_titles import direction_words, figure_title


def paths() -> set[str]:
    """The figures of the samples and of the job with every field, known or absent."""
    found, profiles = set[str](), load_profiles()
    for job in (*(loads(sample.data).job for sample in samples()), complete_job()):
        data = as_json("", job, assess(job, profiles), profiles)
        found.update(path for path, _ in figures_in(data))
        found.update(data["missing"])
    return found


def test_each_has_a_name_that_no_other_has() -> None:
    by_name = defaultdict[str | None, list[str]](list)
    for path in paths():
        by_name[figure_title(path)].append(path)
    assert len(by_name) > 400
    assert by_name[None] == []
    assert {name: same for name, same in by_name.items() if len(same) > 1} == {}


def test_none_says_a_word_twice() -> None:
    twice = []
    for path in paths():
        words = [word for word in re.findall(r"\w+", (figure_title(path) or "").lower()) if len(word) > 2]
        words = [word for word in words if word != "the"]
        if len(words) != len({*words}):
            twice.append(figure_title(path))
    assert twice == []


def test_the_words_of_signs_are_those_of_known_figures() -> None:
    signed = {direction_words(path) for path in paths()} - {None}
    assert signed >= {("in", "out"), ("more", "less"), ("back", "forward"), ("up", "down"), ("longer", "shorter")}
