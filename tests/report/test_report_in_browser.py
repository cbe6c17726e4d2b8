"""The page in a real browser: nothing sticks out on a phone, and it prints on both papers."""

import re
import subprocess

import pytest

from critique.report.write import write_review

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("width", [320, 390, 768])
def test_nothing_sticks_out_on_a_narrow_screen(review, tmp_path, on_a_screen, width):
    page = write_review(review, tmp_path / "meadow").read_text(encoding="utf-8")
    assert on_a_screen(page, width) == f"width {width} sticking  broken 0"


@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_page_prints_on_both_papers_in_few_pages(review, tmp_path, chromium, paper):
    page = write_review(review, tmp_path / "meadow")
    text = page.read_text(encoding="utf-8")
    assert "@page { margin" in text
    page.write_text(text.replace("@page { margin", f"@page {{ size: {paper}; margin"), encoding="utf-8")
    target = tmp_path / "page.pdf"
    command = [*chromium, f"--print-to-pdf={target}"]
    subprocess.run([*command, page.as_uri()], capture_output=True, check=True, timeout=120)
    pages = len(re.findall(rb"/Type\s*/Page\b", target.read_bytes()))
    assert 2 <= pages <= 4  # with all figures folded away, as the page comes


def test_verdict_aim_first_step_and_command_stand_on_the_first_screen_and_the_page_is_short(review, tmp_path, bottoms):
    page = write_review(review, tmp_path / "meadow").read_text(encoding="utf-8")
    height, *ends = bottoms(page, 1280, "header img", "header figcaption", ".verdict", ".steps li:first-child", "code")
    assert max(ends) <= 800 and 1000 < height <= 6000
