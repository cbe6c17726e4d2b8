"""One small painted scene and its review, for every test of the report."""

import html
import json
import re
import shutil
import subprocess
from collections.abc import Callable
from html.parser import HTMLParser

import numpy as np
import pytest

from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import picture_from_srgb
from critique.tasks.review import Review, review_picture

SKY, QUIET, RAW = (78.0, -4.0, -16.0), (48.0, -10.0, 18.0), (62.0, -46.0, 52.0)  # L*a*b*


def scene(width: int = 360, height: int = 240) -> np.ndarray:
    """Sky above, a quiet green to the left and a raw one to the right below; a light house and a dark tree."""
    lab = np.zeros((height, width, 3), dtype=np.float32)
    lab[: height // 2] = SKY
    lab[height // 2 :, : width // 2] = QUIET
    lab[height // 2 :, width // 2 :] = RAW
    lab[height // 2 - 20 : height // 2, 60:90] = (88, 4, 10)
    lab[height // 2 - 50 : height // 2 + 6, 250:262] = (18, 2, 6)
    return lab_to_srgb8(lab)


@pytest.fixture(scope="session")
def review() -> Review:
    return review_picture(picture_from_srgb(scene(), "meadow at noon.jpg"), aim=True)


class Page(HTMLParser):
    """What a browser's parser would find: elements with their attributes, their text, and tags left open."""

    VOID = frozenset({"meta", "img", "br", "wbr", "link", "input", "hr", "col"})

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[tuple[str, dict[str, str]]] = []
        self.texts: dict[str, list[str]] = {}
        self.open: list[str] = []
        self.strays: list[str] = []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in self.VOID:
            self.open.append(tag)
            self.texts.setdefault(tag, []).append("")

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        if self.open and self.open[-1] == tag:
            self.open.pop()
        else:
            self.strays.append(tag)

    def handle_data(self, data: str) -> None:
        for tag in set(self.open):
            self.texts[tag][-1] += data

    def all(self, *tags: str) -> list[dict[str, str]]:
        """Attributes of every element of these kinds."""
        return [attributes for tag, attributes in self.elements if tag in tags]


@pytest.fixture(scope="session")
def parsed() -> Callable[[str], Page]:
    return Page


BROWSER_FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip

PHONE = """<!doctype html>
<iframe id="phone" style="width:{width}px;height:800px;border:0" srcdoc="{page}"></iframe>
<script>
const frame = document.getElementById("phone");
frame.addEventListener("load", () => {{
  const root = frame.contentDocument.documentElement;
  // What lies in a box that scrolls by itself is reached there, and the page stays as wide as the screen.
  const scrolls = each => each !== root && (getComputedStyle(each).overflowX === 'auto' || scrolls(each.parentElement));
  const sticks = box => box.right > {width} + 0.5 && box.width > 0;
  const wide = [...root.querySelectorAll("body *")].filter(
    each => sticks(each.getBoundingClientRect()) && !scrolls(each));
  const broken = [...root.querySelectorAll("img")].filter(each => each.complete && each.naturalWidth === 0);
  const sticking = wide.map(each => each.tagName + each.className);
  document.title = `width ${{root.scrollWidth}} sticking ${{sticking}} broken ${{broken.length}};`;
}});
</script>"""


@pytest.fixture
def chromium(tmp_path) -> list[str]:
    """The command that starts a quiet Chromium with a profile of its own."""
    found = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    assert found, "these tests need Chromium: install it, or leave them out with -m 'not browser'"
    return [found, *BROWSER_FLAGS, f"--user-data-dir={tmp_path / 'profile'}"]


@pytest.fixture
def on_a_screen(chromium, tmp_path) -> Callable[[str, int], str]:
    """Shows a page in a frame so many px wide: its scroll width, what sticks out, how many pictures are broken."""

    def show(page: str, width: int) -> str:
        outside = tmp_path / "outside.html"
        outside.write_text(PHONE.format(width=width, page=html.escape(page, quote=True)), encoding="utf-8")
        command = [*chromium, "--virtual-time-budget=8000", "--dump-dom", outside.as_uri()]
        dom = subprocess.run(command, capture_output=True, text=True, check=True, timeout=120).stdout
        title = re.search(r"<title>(.*?);</title>", dom)
        assert title, "the page did not load"
        return title.group(1)

    return show


BOTTOMS = """<!doctype html>
<iframe id="screen" style="width:{width}px;height:800px;border:0" srcdoc="{page}"></iframe>
<script>
const frame = document.getElementById("screen");
frame.addEventListener("load", () => {{
  const whole = frame.contentDocument;
  const ends = {queries}.map(query => Math.max(...[...whole.querySelectorAll(query)].map(
    each => Math.round(each.getBoundingClientRect().bottom))));
  document.title = `${{[whole.documentElement.scrollHeight, ...ends].join(" ")}};`;
}});
</script>"""


@pytest.fixture
def bottoms(chromium, tmp_path) -> Callable[..., list[int]]:
    """How high a page is in a frame of so many px by 800, and where what some selectors find ends at the latest."""

    def ask(page: str, width: int, *queries: str) -> list[int]:
        outside = tmp_path / "outside.html"
        framed = BOTTOMS.format(width=width, page=html.escape(page, quote=True), queries=json.dumps(queries))
        outside.write_text(framed, encoding="utf-8")
        command = [*chromium, "--virtual-time-budget=8000", "--dump-dom", outside.as_uri()]
        dom = subprocess.run(command, capture_output=True, text=True, check=True, timeout=120).stdout
        title = re.search(r"<title>([\d -]+);</title>", dom)
        assert title, "the page did not load"
        return [int(number) for number in title.group(1).split()]

    return ask
