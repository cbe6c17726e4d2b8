"""Two that look different because one still shows its wall are told so, and nothing is judged of them."""

import sys
from dataclasses import replace
from pathlib import Path

import pytest

from critique.pair.answer import NO_CHANGE, Answer, stayed_in_words
from critique.pair.compare import compare_passes, compare_pictures
from critique.pair.comparison_words import light_in_words
from critique.pair.hold import state_of
from critique.photograph.corners import ALL
from critique.picture.picture import Picture
from critique.picture.view import View
from critique.report.comparison_page import comparison_html, draw_comparison
from critique.report.printing_compared import comparison_summary
from critique.report.templating import in_print

sys.path.insert(0, str(Path(__file__).parent))
from pictures import MEADOW, OTHERS, SECOND_PASS, demo

INSIDE = ((0.2, 0.2), (0.8, 0.2), (0.8, 0.8), (0.2, 0.8))


def not_cropped(name: str) -> Picture:
    return replace(demo(name), view=View("unsure", INSIDE))


@pytest.mark.slow
def test_of_two_that_look_different_an_uncropped_one_is_named_with_its_option_and_nothing_is_answered() -> None:
    done = compare_pictures(not_cropped(MEADOW), demo(OTHERS[1]))
    (told,) = done.verdict
    assert done.not_yet and MEADOW in told and "--corners-original" in told and "--corners-repaint" not in told
    printed = comparison_summary(done, Path("page.html"))
    assert "Is it quieter?" not in printed and "one subject" not in printed
    page = comparison_html(done, draw_comparison(done), "critique compare a.jpg b.jpg")
    assert "0.200,0.200" in page and 'id="figures"' not in page and 'id="questions"' not in page
    known = compare_pictures(replace(demo(MEADOW), view=View("asked whole", ALL)), demo(OTHERS[1]))
    assert not known.not_yet and known.verdict == ("These look like two different pictures: is that the right file?",)


@pytest.mark.slow
def test_a_pass_that_could_not_be_judged_is_not_counted_among_those_that_moved_nothing() -> None:
    first, second = not_cropped(OTHERS[1]), demo(MEADOW)
    done = compare_passes([state_of(first), state_of(second), state_of(second)])
    assert OTHERS[1] in done.texts[0] and "Neither of the last two" not in done.advice
    last = compare_passes([state_of(demo(MEADOW)), state_of(demo(SECOND_PASS)), state_of(first)])
    assert last.advice.startswith("The last photograph may show more than the painting")


def test_what_moved_as_another_light_would_is_asked_about_once_and_does_not_lean_as_it_did() -> None:
    """Its verdict says "as in warmer light" and asks for a grey."""
    assert "?" in light_in_words(None, "") and "?" not in light_in_words(None, "", alike=True)
    answers = [Answer(asked, NO_CHANGE, "", "none", "", "") for asked in ("richer", "lean")]
    assert "leans" in stayed_in_words(answers) and "leans" not in stayed_in_words(answers, alike=True)


def test_an_option_in_a_sentence_keeps_to_its_line_and_all_else_is_escaped() -> None:
    set_ = str(in_print("Say where <it> lies (--corners-original): 5 % -- or not"))
    assert '<span class="option">--corners-original</span>' in set_
    assert "&lt;it&gt;" in set_ and "5\u00a0%" in set_ and set_.count("<span") == 1
