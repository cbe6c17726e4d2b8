"""Pages of paint in a real browser: nothing sticks out on a phone."""

import pytest

from critique.paints.box import box_of
from critique.paints.chart import mixing_chart
from critique.report.chart_page import write_chart
from critique.report.palette_page import write_palette
from critique.tasks.palette import plan_palette

pytestmark = pytest.mark.browser

NAMES = ("yellow ochre", "quinacridone magenta", "phthalo blue green shade", "phthalo green yellow shade", "PB29")


@pytest.fixture(scope="module")
def pages(review, tmp_path_factory):
    folder = tmp_path_factory.mktemp("pages")
    plan = plan_palette(review.picture, box_of(NAMES), 3, "A")
    return write_palette(plan, folder / "palette"), write_chart(mixing_chart(NAMES), folder / "chart")


@pytest.mark.parametrize("which", [0, 1], ids=["palette", "chart"])
@pytest.mark.parametrize("width", [320, 390, 768])
def test_no_swatch_sticks_out_on_a_narrow_screen(pages, on_a_screen, width, which):
    page = pages[which].read_text(encoding="utf-8")
    assert on_a_screen(page, width) == f"width {width} sticking  broken 0"


def test_all_of_the_chart_is_seen_on_a_phone_and_the_wheel_around_it_on_a_desk(pages, bottoms):
    """One of the two is shown; what isn't ends nowhere."""
    page = pages[1].read_text(encoding="utf-8")
    for width, shown, hidden in ((390, ".narrow", ".broad"), (1280, ".broad", ".narrow")):
        _, end, nowhere = bottoms(page, width, shown, hidden)
        assert end > 300 and nowhere == 0
