"""The page in a real browser: nothing sticks out on a phone, and it prints on both papers."""

import html
import re
import shutil
import subprocess

import pytest

from critique.report.write import write_review

pytestmark = pytest.mark.browser

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
  const small = [...root.querySelectorAll("img")].filter(each => each.complete && each.naturalWidth === 0);
  document.title = `width ${{root.scrollWidth}} sticking ${{wide.map(each => each.tagName)}} broken ${{small.length}};`;
}});
</script>"""


def browser():
    found = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    assert found, "these tests need Chromium: install it, or leave them out with -m 'not browser'"
    return found


@pytest.mark.parametrize("width", [320, 390, 768])
def test_nothing_sticks_out_on_a_narrow_screen(review, tmp_path, width):
    page = write_review(review, tmp_path / "meadow").read_text(encoding="utf-8")
    outside = tmp_path / "outside.html"
    outside.write_text(PHONE.format(width=width, page=html.escape(page, quote=True)), encoding="utf-8")
    command = [browser(), *QUIET, f"--user-data-dir={tmp_path / 'profile'}", "--virtual-time-budget=8000", "--dump-dom"]
    dom = subprocess.run([*command, outside.as_uri()], capture_output=True, text=True, check=True, timeout=120).stdout
    title = re.search(r"<title>(.*?);</title>", dom)
    assert title and title.group(1) == f"width {width} sticking  broken 0"


@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_page_prints_on_both_papers_in_few_pages(review, tmp_path, paper):
    page = write_review(review, tmp_path / "meadow")
    text = page.read_text(encoding="utf-8")
    assert "@page { margin" in text
    page.write_text(text.replace("@page { margin", f"@page {{ size: {paper}; margin"), encoding="utf-8")
    target = tmp_path / "page.pdf"
    command = [browser(), *QUIET, f"--user-data-dir={tmp_path / 'profile'}", f"--print-to-pdf={target}"]
    subprocess.run([*command, page.as_uri()], capture_output=True, check=True, timeout=120)
    pages = len(re.findall(rb"/Type\s*/Page\b", target.read_bytes()))
    assert 5 <= pages <= 16
