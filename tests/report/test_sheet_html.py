"""The hand-over sheet as HTML: it stands alone, fits paper and phone, and is steered by nothing a job holds."""

from __future__ import annotations

import html
import math
import re
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest

from browser import measured, needs_browser, printed_pages
from complete_job import complete_job
from judgement_jobs import PROFILES, judged, put
from sheet_jobs import HOSTILE, JOBS, brimful, hostile, sheet
from stanchion.base.text import clean
from stanchion.bench.handover import sheet_for
from stanchion.job.model import Job, Weights
from stanchion.judgement.predict.brakes import brakes_figures
from stanchion.judgement.predict.points_figures import points_figures
from stanchion.report import sheet_html
from stanchion.report.sheet import CLOSING
from stanchion.report.sheet_shape import Drawings, Section, Table
from stanchion.store.samples import samples

WORST = {"letters": brimful("W"), "wide": brimful("灰"), "words": brimful("wide word "), "hostile": hostile()}


def page(job: Job) -> str:
    return sheet_html.sheet_html(sheet(job))


class Nested(HTMLParser):
    """Sees to it that every tag is closed where it should be."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.wrong: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag != "meta":
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        return

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.wrong.append(tag)


class TestFile:
    @pytest.mark.parametrize("name", sorted(JOBS | WORST))
    def test_it_stands_alone_and_is_well_formed(self, name: str) -> None:
        text = page((JOBS | WORST)[name])
        bare = re.sub(r">[^<]*<|\"[^\"]*\"", "", text)  # without the texts and what stands in attributes
        assert not re.search(r"<script|<link|<iframe|<img|@import|url\(|\bon\w+=", bare)
        assert "url(" not in sheet_html.STYLE
        assert '<html lang="en">' in text
        assert re.search(r"<title>[^<]+</title>", text)
        parser = Nested()
        parser.feed(text)
        assert (parser.wrong, parser.open) == ([], [])

    def test_its_policy_allows_nothing_but_its_own_style(self) -> None:
        (policy,) = re.findall(r'Content-Security-Policy" content="([^"]*)"', page(complete_job()))
        rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
        assert rules == {
            "default-src": "'none'",
            "style-src": "'unsafe-inline'",
            "base-uri": "'none'",
            "form-action": "'none'",
        }

    def test_hostile_text_is_text(self) -> None:
        text = page(hostile())
        assert "<script" not in text
        assert "<img" not in text
        assert text.count("</style>") == 1
        assert "&lt;script&gt;" in text
        assert not [c for c in text if (ord(c) < 32 and c != "\n") or 127 <= ord(c) < 160 or c == "\u202e"]

    @pytest.mark.parametrize("name", sorted(JOBS))
    def test_every_figure_and_every_sentence_of_the_sheet_is_on_it(self, name: str) -> None:
        of = sheet(JOBS[name])
        text = html.unescape(sheet_html.sheet_html(of)).replace("\u00a0", " ")
        for part in (of.ready, *of.parts):
            match part:
                case Table():
                    assert all(title in text and all(cell in text for cell in cells) for title, cells in part.rows)
                case Section():
                    assert all(line.text in text for line in part.lines)
                case Drawings():
                    assert all(mark.text in text for travel in part.travels for mark in travel.marks)
        assert all(words in text for words in (*of.cautions, CLOSING, of.written))

    def test_headings_go_down_one_step_at_a_time_and_every_table_has_row_heads(self) -> None:
        text = page(complete_job())
        assert re.findall(r"<h(\d)", text)[0] == "1"
        assert set(re.findall(r"<h(\d)", text)[1:]) == {"2"}
        rows = re.findall(r"<tbody>(.*?)</tbody>", text)
        assert rows
        assert all(body.count("<tr>") == body.count('<th scope="row">') for body in rows)

    def test_drawings_say_in_words_what_they_show(self) -> None:
        drawings = re.findall(r'<svg [^>]*role="img" aria-label="([^"]*)"', page(JOBS["well_set"]))
        assert len(drawings) == 5
        assert "rider aboard, to scale: rake 23.49°; trail 97.0 mm" in drawings.pop(0)
        sag = judged(JOBS["well_set"]).sag.front
        sentences = f"static {sag.static.sag_mm.value:.1f} mm, rider {sag.rider.sag_mm.value:.1f} mm"
        assert f"Fork travel 120.0 mm: {sentences}" in drawings[0]
        assert "target 28.0–38.0 mm" in drawings[1]
        assert "Fork: 4.0 mm, 4 turns left to out, 4.0 mm, 4 turns left to in" in drawings[2]
        at = points_figures(JOBS["well_set"], judged(JOBS["well_set"])).now
        now = f"now, {at.wheel_mm.value:.1f} mm: {at.ratio.value:.3f}"
        assert drawings[3].startswith("Motion ratio over the travel of the rear wheel, 125.0 mm: from 0.")
        assert drawings[3].endswith(now)

    def test_sag_read_before_a_change_is_old_in_every_drawing(self) -> None:
        """Rider sag of the fork was read at 2 turns; 4 are in. Without the free length none is predicted in its place."""
        job = JOBS["well_set"]
        assert "old" not in "".join(re.findall(r"<svg.*?</svg>", page(job)))
        old = put(job, sag__front__rider__preload_at=(2.0, 2.0), front__left__spring__free_length_mm=None)
        sag = judged(job).sag.front.rider.sag_mm.value
        side, travels, bars = re.findall(r"<svg.*?</svg>", page(old))[:3]
        for drawing in (side, travels):
            assert f"rider {sag:.1f} mm (old)" in re.findall(r'aria-label="([^"]*)"', drawing)[0]
            assert f">rider {sag:.1f} mm (old)</text>" in drawing
            assert drawing.count("(old)") == 2
        assert f"Front, rider aboard {sag:.1f} mm (old), target" in bars
        assert bars.count(">old</text>") == 1

    def test_on_the_travel_a_predicted_sag_stands_in_place_of_an_old_one(self) -> None:
        job = put(JOBS["well_set"], sag__front__rider__preload_at=(2.0, 2.0))
        sag = judged(job).predicted.front.rider.sag_mm.value
        side, travels, bars = re.findall(r"<svg.*?</svg>", page(job))[:3]
        for drawing in (side, travels):
            assert f">rider {sag:.1f} mm (predicted)</text>" in drawing
            assert "(old)" not in drawing
        assert bars.count(">old</text>") == 1  # what was read, against its target

    def test_travels_are_drawn_to_one_scale(self) -> None:
        text = page(JOBS["well_set"])
        fork, rear = (float(width) for width in re.findall(r'class="room" x="8.0" y="\d+" width="([\d.]+)"', text)[:2])
        assert fork / rear == pytest.approx(120.0 / 125.0, abs=0.002)


class TestFromTheSide:
    """The rake of a line and the lengths on the ground are read off the drawing again."""

    def test_it_is_to_scale_in_every_part(self) -> None:
        job = JOBS["soft_springs"]
        drawing = re.findall(r'<svg class="wide".*?</svg>', page(job))[0]
        rear, front = (
            tuple(map(float, found))
            for found in re.findall(r'"room" cx="([\d.]+)" cy="([\d.]+)" r="([\d.]+)"', drawing)
        )
        axis = re.findall(r'<line class="axis" x1="([\d.]+)" y1="([\d.]+)" x2="([\d.]+)" y2="([\d.]+)"', drawing)
        foot_x, ground, top_x, top_y = map(float, axis[0])
        now, given = judged(job).geometry, job.geometry
        assert None not in (now.wheelbase_mm.value, given.front_radius_mm, given.rear_radius_mm)
        scale = (front[0] - rear[0]) / (now.wheelbase_mm.value or 0.0)
        assert front[2] / scale == pytest.approx(given.front_radius_mm, abs=0.5)
        assert rear[2] / scale == pytest.approx(given.rear_radius_mm, abs=0.5)
        assert front[1] + front[2] == pytest.approx(ground, abs=0.2)
        assert rear[1] + rear[2] == pytest.approx(ground, abs=0.2)
        assert (foot_x - front[0]) / scale == pytest.approx(now.trail_mm.value, abs=0.5)
        assert math.degrees(math.atan2(foot_x - top_x, ground - top_y)) == pytest.approx(now.rake_deg.value, abs=0.05)

    def test_places_of_the_front_axle_are_as_far_apart_as_along_the_leg(self) -> None:
        job = JOBS["soft_springs"]
        drawing = re.findall(r'<svg class="wide".*?</svg>', page(job))[0]
        axis = re.findall(r'<line class="axis" x1="([\d.]+)" y1="([\d.]+)" x2="([\d.]+)" y2="([\d.]+)"', drawing)
        x1, y1, x2, y2 = map(float, axis[2])
        rear, front = re.findall(r'"room" cx="([\d.]+)"', drawing)
        scale = (float(front) - float(rear)) / (judged(job).geometry.wheelbase_mm.value or 0.0)
        assert math.hypot(x2 - x1, y2 - y1) / scale == pytest.approx(job.front.travel_mm, abs=0.7)

    def test_the_machine_on_the_brakes_is_drawn_to_the_same_scale_with_what_differs_below(self) -> None:
        job = JOBS["well_set"]
        drawing = re.findall(r'<svg class="wide".*?</svg>', page(job))[0]
        rear, front = map(float, re.findall(r'"room" cx="([\d.]+)"', drawing))
        braking_rear, braking_front = map(float, re.findall(r'"braking" cx="([\d.]+)"', drawing)[:2])
        slow = brakes_figures(job, judged(job), with_ends=False).slow
        scale = (front - rear) / (judged(job).geometry.wheelbase_mm.value or 0.0)
        assert braking_rear == rear
        assert (braking_front - rear) / scale == pytest.approx(slow.wheelbase_mm.value, abs=0.7)
        assert f"on the brakes, 0.90 g, slow stroke, rake {slow.rake_deg.value:.2f}°" in drawing

    def test_what_is_not_known_is_not_drawn(self) -> None:
        assert 'class="wide"' not in page(JOBS["half_filled"])
        assert " on the front wheel" not in page(replace(JOBS["well_set"], weights=Weights()))


class TestColours:
    """WCAG 2.1: 1.4.3 asks 4.5:1 of text of ordinary size, 1.4.11 asks 3:1 of what a drawing is read by."""

    @pytest.mark.parametrize("name", ["INK", "QUIET", "RULE", "FAULT", "WARNING"])
    def test_text_stands_out_from_paper(self, name: str) -> None:
        assert contrast(getattr(sheet_html, name), sheet_html.PAPER) >= 4.5

    def test_marks_stand_out_from_paper_and_from_the_target_band(self) -> None:
        assert contrast(sheet_html.MARK, sheet_html.PAPER) >= 3
        assert contrast(sheet_html.MARK, sheet_html.TARGET) >= 3
        assert contrast(sheet_html.INK, sheet_html.TARGET) >= 3

    def test_the_formula_gives_the_ratio_of_black_on_white(self) -> None:
        assert contrast("#000000", "#ffffff") == pytest.approx(21)  # WCAG 2.1, definition of contrast ratio


@needs_browser
class TestInABrowser:
    @pytest.mark.parametrize("paper", ["letter", "A4"])
    def test_the_samples_print_on_two_pages_at_most(self, tmp_path: Path, paper: str) -> None:
        for name in [sample.name for sample in samples()]:
            text = sheet_for(JOBS[name], PROFILES, html=True).replace("size: auto", f"size: {paper}")
            assert printed_pages(tmp_path, text) <= 2, name

    def test_a_phone_of_390_px_needs_no_sideways_scrolling(self, tmp_path: Path) -> None:
        names = sorted(JOBS | WORST)
        answers = measured(tmp_path, [page((JOBS | WORST)[name]) for name in names], 390)
        widths = {name: of["width"] for name, of in zip(names, answers, strict=True)}
        assert {name: width for name, width in widths.items() if width > 390} == {}

    def test_hostile_text_is_shown_as_text_and_makes_no_element(self, tmp_path: Path) -> None:
        of, harmless = measured(tmp_path, [page(hostile()), page(complete_job())], 800)
        assert of["foreign"] == 0
        assert clean(HOSTILE[:60]) in of["text"]
        assert of["title"].startswith("x<script>")
        assert set(of["tags"]) == set(harmless["tags"])

    def test_every_text_as_drawn_reaches_wcag_aa(self, tmp_path: Path) -> None:
        for of in measured(tmp_path, [page(JOBS["soft_springs"]), page(JOBS["carried_forward"])], 800):
            assert len(of["colours"]) >= 4
            for pair in of["colours"]:
                text, behind = pair.split(" on ")
                assert contrast(hexadecimal(text), hexadecimal(behind)) >= 4.5, pair

    def test_words_on_drawings_stay_within_them_and_clear_of_each_other(self, tmp_path: Path) -> None:
        drawings = [d for of in measured(tmp_path, list(map(page, JOBS.values())), 800) for d in of["drawings"]]
        assert len(drawings) >= 9
        for drawing in drawings:
            words = drawing["words"]
            for at, word in enumerate(words):
                assert word["x"] >= -0.5, word
                assert word["x"] + word["width"] <= drawing["width"] + 0.5, word
                assert word["y"] + word["height"] <= drawing["height"] + 1, word
                assert not [other for other in words[at + 1 :] if overlap(word, other)], word


def overlap(one: dict[str, float], other: dict[str, float]) -> bool:
    """Whether two boxes share more than a hair."""
    return (
        one["x"] + one["width"] > other["x"]
        and other["x"] + other["width"] > one["x"]
        and one["y"] + one["height"] > other["y"] + 1
        and other["y"] + other["height"] > one["y"] + 1
    )


def hexadecimal(colour: str) -> str:
    """#rrggbb of a browser's rgb(r, g, b)."""
    red, green, blue = map(int, re.findall(r"\d+", colour)[:3])
    return f"#{red:02x}{green:02x}{blue:02x}"


def contrast(one: str, other: str) -> float:
    """WCAG 2.1, contrast ratio."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def luminance(colour: str) -> float:
    """WCAG 2.1, relative luminance."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
