"""The sheet in a real browser: two pages on both papers, whatever the picture's shape."""

import re
import shutil
import subprocess

import pytest

from critique.picture.picture import picture_from_srgb
from critique.report.plan_page import write_plan
from critique.tasks.plan import plan_repaint

pytestmark = pytest.mark.browser

FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--no-pdf-header-footer",
)  # fmt: skip


def pages_on(paper: str, folder, profile) -> int:
    """How many pages the sheet prints on."""
    found = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    assert found, "these tests need Chromium: install it, or leave them out with -m 'not browser'"
    text = (folder / "sheet.html").read_text(encoding="utf-8")
    assert "@page { margin" in text
    sized = folder / f"{paper}.html"
    sized.write_text(text.replace("@page { margin", f"@page {{ size: {paper}; margin"), encoding="utf-8")
    target = folder / f"{paper}.pdf"
    command = [found, *FLAGS, f"--user-data-dir={profile}", f"--print-to-pdf={target}", sized.as_uri()]
    subprocess.run(command, capture_output=True, check=True, timeout=120)
    return len(re.findall(rb"/Type\s*/Page\b", target.read_bytes()))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_sheet_prints_on_two_pages(plan, tmp_path, paper):
    write_plan(plan, tmp_path / "plan")
    assert pages_on(paper, tmp_path / "plan", tmp_path / "profile") == 2


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_so_does_that_of_an_upright_picture(meadow, four_tubes, tmp_path, paper):
    upright = picture_from_srgb(meadow.srgb.transpose(1, 0, 2)[::-1], "upright.png")
    write_plan(plan_repaint(upright, box=four_tubes), tmp_path / "plan")
    assert pages_on(paper, tmp_path / "plan", tmp_path / "profile") == 2
