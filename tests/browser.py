"""A page in headless Chromium, where there is one: printed, and measured as a browser lays it out."""

from __future__ import annotations

import html
import json
import re
import shutil
import subprocess
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


def _runs() -> bool:
    """Whether it is there and is more than a stub that asks to install it."""
    if CHROMIUM is None:
        return False
    try:
        return subprocess.run([CHROMIUM, "--version"], capture_output=True, timeout=30, check=False).returncode == 0
    except (OSError, subprocess.TimeoutExpired):
        return False


needs_browser = pytest.mark.skipif(not _runs(), reason="no Chromium that runs on this machine")

# The page stands in a frame of a page of ours, which may look into it; its own policy still holds within the frame.
_MEASURE = """
const measure = frame => {
  const page = frame.contentDocument, view = frame.contentWindow;
  const clear = colour => /^rgba\\(.*, 0\\)$/.test(colour);
  const behind = node => {
    while (node && clear(view.getComputedStyle(node).backgroundColor)) node = node.parentElement;
    return node ? view.getComputedStyle(node).backgroundColor : "rgb(255, 255, 255)";
  };
  const colours = new Set();
  const walker = page.createTreeWalker(page.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode.parentElement;
    if (!walker.currentNode.data.trim() || !node.getClientRects().length) continue;
    const look = view.getComputedStyle(node);
    colours.add((node.closest("svg") ? look.fill : look.color) + " on " + behind(node));
  }
  const drawings = [...page.querySelectorAll("svg")].map(drawing => ({
    width: drawing.viewBox.baseVal.width,
    height: drawing.viewBox.baseVal.height,
    words: [...drawing.querySelectorAll("text")].map(word => {
      const box = word.getBBox();
      return { text: word.textContent, x: box.x, y: box.y, width: box.width, height: box.height };
    }),
  }));
  return {
    width: page.documentElement.scrollWidth,
    text: page.body.textContent,
    title: page.title,
    foreign: page.querySelectorAll("script, img, iframe, object, embed, link, form, a, video, base").length,
    tags: [...new Set([...page.querySelectorAll("*")].map(node => node.localName))],
    colours: [...colours],
    drawings: drawings,
  };
};
const answers = [];
pages.forEach((page, at) => {
  const frame = document.createElement("iframe");
  frame.style = `width: ${width}px; height: 900px; border: 0`;
  frame.onload = () => {
    answers[at] = measure(frame);
    if (Object.keys(answers).length === pages.length) answer.textContent = JSON.stringify(answers);
  };
  frame.srcdoc = page;
  document.body.append(frame);
});
"""


def measured(folder: Path, pages: Sequence[str], width: int) -> list[dict[str, Any]]:
    """What a browser makes of each page in a window so many pixels wide."""
    host = folder / "host.html"
    host.write_text(
        '<!DOCTYPE html><meta charset="utf-8"><title>host</title><p id="answer"></p><script>'
        f"const answer = document.getElementById('answer'), width = {width};"
        f"const pages = {json.dumps(list(pages)).replace('<', chr(92) + 'u003c')};{_MEASURE}</script>",
        "utf-8",
    )
    dumped = _run(folder, "--virtual-time-budget=5000", "--dump-dom", host.as_uri())
    (result,) = re.findall(r'<p id="answer">(.*?)</p>', dumped, re.DOTALL)
    answers: list[dict[str, Any]] = json.loads(html.unescape(result))
    assert len(answers) == len(pages)
    return answers


def printed_pages(folder: Path, page: str) -> int:
    """On how many pages it prints."""
    source, pdf = folder / "page.html", folder / "page.pdf"
    source.write_text(page, "utf-8")
    pdf.unlink(missing_ok=True)
    _run(folder, "--no-pdf-header-footer", f"--print-to-pdf={pdf}", source.as_uri())
    return len(re.findall(rb"/Type\s*/Page\b", pdf.read_bytes()))


def _run(folder: Path, *arguments: str) -> str:
    command = [str(CHROMIUM), *FLAGS, f"--user-data-dir={folder / 'profile'}", *arguments]
    done = subprocess.run(command, capture_output=True, timeout=120, check=True)
    return done.stdout.decode("utf-8")
