"""Pages of paint in a real browser: nothing sticks out on a phone."""

import html
import re
import shutil
import subprocess

import pytest

from critique.paints.box import box_of
from critique.paints.chart import mixing_chart
from critique.palette import plan_palette
from critique.report.chart_page import write_chart
from critique.report.palette_page import write_palette

pytestmark = pytest.mark.browser

NAMES = ("yellow ochre", "quinacridone magenta", "phthalo blue green shade", "phthalo green yellow shade", "PB29")
QUIET = (
    "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip
PHONE = """<!doctype html>
<iframe id="phone" style="width:{width}px;height:800px;border:0" srcdoc="{page}"></iframe>
<script>
const frame = document.getElementById("phone");
frame.addEventListener("load", () => {{
  const root = frame.contentDocument.documentElement;
  const wide = [...root.querySelectorAll("body *")].filter(
    each => each.getBoundingClientRect().right > {width} + 0.5 && each.getBoundingClientRect().width > 0);
  document.title = `width ${{root.scrollWidth}} sticking ${{wide.map(each => each.tagName + each.className)}};`;
}});
</script>"""


@pytest.fixture(scope="module")
def pages(review, tmp_path_factory):
    folder = tmp_path_factory.mktemp("pages")
    plan = plan_palette(review.picture, box_of(NAMES), 3, "A")
    return write_palette(plan, folder / "palette"), write_chart(mixing_chart(NAMES), folder / "chart")


@pytest.mark.parametrize("which", [0, 1], ids=["palette", "chart"])
@pytest.mark.parametrize("width", [320, 390, 768])
def test_no_swatch_sticks_out_on_a_narrow_screen(pages, tmp_path, width, which):
    browser = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    assert browser, "these tests need Chromium: install it, or leave them out with -m 'not browser'"
    outside = tmp_path / "outside.html"
    page = html.escape(pages[which].read_text(encoding="utf-8"), quote=True)
    outside.write_text(PHONE.format(width=width, page=page), encoding="utf-8")
    command = [browser, *QUIET, f"--user-data-dir={tmp_path / 'profile'}", "--virtual-time-budget=8000", "--dump-dom"]
    dom = subprocess.run([*command, outside.as_uri()], capture_output=True, text=True, check=True, timeout=120).stdout
    title = re.search(r"<title>(.*?);</title>", dom)
    assert title and title.group(1) == f"width {width} sticking "
