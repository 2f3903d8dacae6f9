"""The hand-over sheet: one page, whole, and steered by nothing a job holds."""

from __future__ import annotations

import html
import re
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest

from complete_job import complete_job
from judgement_jobs import PROFILES, judged, put
from stanchion.errors import NotSaved
from stanchion.handover import sheet_for, sheet_of, write_sheet
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.report.sheet import CLOSING, make_sheet
from stanchion.report.sheet_html import STYLE, sheet_html
from stanchion.report.sheet_text import LINES, WIDTH
from stanchion.samples import samples

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
HOSTILE = "x<script>alert(1)</script><img src=http://a/b onerror=alert(1)>\x1b]0;t\x07\x9b31m</style>&amp;"
JOBS = {sample.name: loads(sample.data).job for sample in samples()} | {"complete": complete_job(), "empty": Job()}


def hostile() -> Job:
    job = complete_job()
    return replace(
        job, job=replace(job.job, machine=HOSTILE[:60], rider=HOSTILE[:60], venue=HOSTILE[:60], notes=HOSTILE * 8)
    )


class TestText:
    @pytest.mark.parametrize("name", sorted(JOBS))
    def test_it_prints_on_one_page(self, name: str) -> None:
        lines = sheet_for(JOBS[name], PROFILES).splitlines()
        assert len(lines) <= LINES
        assert all(len(line) <= WIDTH for line in lines), [line for line in lines if len(line) > WIDTH]

    def test_however_long_the_notes_the_closing_words_stay(self) -> None:
        job = put(complete_job(), job__notes="\n".join(["a line of notes"] * 100))
        text = sheet_for(job, PROFILES)
        assert len(text.splitlines()) <= LINES
        assert " ".join(text.split()).endswith(CLOSING)

    def test_settings_sags_and_open_warnings_stand_on_it_with_their_units(self) -> None:
        text = sheet_for(JOBS["soft_springs"], PROFILES)
        for words in ("20.0 mm, over limit", "FAULT", "12 of 24 clicks", "34.5 mm", "28.0–38.0 mm", "8.00 N/mm"):
            assert words in text

    def test_what_was_changed_since_the_job_before_is_told_with_both_values(self) -> None:
        text = sheet_for(JOBS["carried_forward"], PROFILES, JOBS["well_set"])
        assert "9.50 N/mm → 10.00 N/mm" in text
        assert "250.0 mm → 245.0 mm" in text

    def test_an_invented_sample_says_that_it_is_one(self) -> None:
        assert "INVENTED SAMPLE" in sheet_for(JOBS["well_set"], PROFILES)

    def test_no_control_character_of_a_job_reaches_it(self) -> None:
        text = sheet_for(hostile(), PROFILES)
        assert not [c for c in text if (ord(c) < 32 and c != "\n") or 127 <= ord(c) < 160]


class TestHtml:
    @pytest.mark.parametrize("name", sorted(JOBS))
    def test_it_stands_alone(self, name: str) -> None:
        page = sheet_for(JOBS[name], PROFILES, html=True)
        assert not re.search(r"<script|<link|<iframe|https?:|@import|url\(|\bsrc=|\bon\w+=", page)
        assert "default-src 'none'" in page
        assert html.escape(CLOSING) in page

    def test_hostile_text_is_text(self) -> None:
        page = sheet_for(hostile(), PROFILES, html=True)
        assert "<script" not in page
        assert "<img" not in page
        assert page.count("</style>") == 1
        assert "&lt;script&gt;" in page
        assert not [c for c in page if (ord(c) < 32 and c != "\n") or 127 <= ord(c) < 160]

    def test_every_figure_of_the_tables_is_on_it(self) -> None:
        job = complete_job()
        sheet = make_sheet(job, judged(job))
        page = sheet_html(sheet)
        for table in sheet.tables:
            for name, cells in table.rows:
                assert html.escape(name) in page
                assert all(html.escape(cell) in page for cell in cells)

    def test_drawings_say_in_words_what_they_show(self) -> None:
        page = sheet_for(JOBS["well_set"], PROFILES, html=True)
        drawings = re.findall(r'<svg [^>]*role="img" aria-label="([^"]*)"', page)
        assert len(drawings) == 3
        assert "rider sag 33.3 mm" in drawings[0]

    def test_colours_of_text_reach_wcag_aa(self) -> None:
        """WCAG 2.1, relative luminance and contrast ratio; 4.5:1 for text of ordinary size."""
        colours = set(re.findall(r"(?<!-)color: (#[0-9a-f]{3,6})", STYLE))
        assert len(colours) >= 3
        for colour in colours:
            assert contrast(colour, "#ffffff") >= 4.5, colour


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
class TestInABrowser:
    def run(self, tmp_path: Path, *arguments: str) -> str:
        command = [str(CHROMIUM), *FLAGS, f"--user-data-dir={tmp_path / 'profile'}", *arguments]
        return subprocess.run(command, capture_output=True, text=True, timeout=120, check=True).stdout

    @pytest.mark.parametrize("name", ["soft_springs", "mismatched_lengths", "complete"])
    def test_it_prints_on_one_page(self, tmp_path: Path, name: str) -> None:
        page, pdf = tmp_path / "sheet.html", tmp_path / "sheet.pdf"
        page.write_text(sheet_for(JOBS[name], PROFILES, html=True), "utf-8")
        self.run(tmp_path, "--no-pdf-header-footer", f"--print-to-pdf={pdf}", page.as_uri())
        assert len(re.findall(rb"/Type\s*/Page\b", pdf.read_bytes())) == 1

    @pytest.mark.parametrize("job", [JOBS["mismatched_lengths"], hostile()], ids=["split", "hostile"])
    def test_a_phone_of_390_px_needs_no_sideways_scrolling(self, tmp_path: Path, job: Job) -> None:
        inside = html.escape(sheet_for(job, PROFILES, html=True))
        page = tmp_path / "phone.html"
        page.write_text(
            f'<!DOCTYPE html><title>w</title><iframe id="f" style="width:390px;height:900px;border:0" srcdoc="{inside}">'
            '</iframe><p id="told"></p><script>const f = document.getElementById("f");'
            'f.onload = () => { document.getElementById("told").textContent ='
            '"width " + f.contentDocument.documentElement.scrollWidth; };</script>',
            "utf-8",
        )
        told = self.run(tmp_path, "--virtual-time-budget=5000", "--dump-dom", page.as_uri())
        (width,) = re.findall(r"width (\d+)<", told)
        assert int(width) <= 390


def test_a_file_that_is_there_is_left_alone_unless_forced(tmp_path: Path) -> None:
    out = tmp_path / "sheet.txt"
    write_sheet(out, "one\n")
    with pytest.raises(NotSaved, match="left alone"):
        write_sheet(out, "two\n")
    write_sheet(out, "two\n", force=True)
    assert out.read_text("utf-8") == "two\n"


def test_a_job_file_is_turned_into_a_sheet_beside_the_job_it_came_from(tmp_path: Path) -> None:
    for sample in samples():
        (tmp_path / f"{sample.name}.toml").write_bytes(sample.data)
    assert "CHANGED SINCE" in sheet_of(tmp_path / "carried_forward.toml", str(tmp_path))


def contrast(one: str, other: str) -> float:
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def luminance(colour: str) -> float:
    digits = colour.lstrip("#")
    digits = "".join(digit * 2 for digit in digits) if len(digits) == 3 else digits
    channels = [int(digits[i : i + 2], 16) / 255 for i in (0, 2, 4)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
