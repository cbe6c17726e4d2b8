"""Who waits for a task is told what is being done; nobody else is."""

import io
import sys
import threading

from demo_pictures import demo_path
from PIL import Image

import critique
from critique.cli.doing import doing
from critique.steps import step, telling


def test_steps_are_told_to_who_listens_and_only_while_they_do():
    heard = []
    step("before")
    with telling(heard.append):
        step("within")
        other = threading.Thread(target=lambda: step("elsewhere"))
        other.start()
        other.join()
    step("after")
    assert heard == ["within"]


def test_a_review_tells_its_steps_in_order(tmp_path):
    heard = []
    with critique.telling(heard.append):
        image = Image.open(demo_path("tolvesk_07_vellisund_haze.jpg"))
        image.thumbnail((240, 240))
        done = critique.review(image)
        critique.write(done, tmp_path)
    assert heard[0] == "Measuring" and heard[-1] == "Drawing the page"
    assert len(heard) == len(set(heard)) >= 3


class Terminal(io.StringIO):
    def isatty(self):
        return True


def test_a_terminal_shows_one_step_after_another_and_nothing_in_the_end(monkeypatch):
    terminal = Terminal()
    monkeypatch.setattr(sys, "stderr", terminal)
    with doing("Reading"):
        step("Measuring")
    shown = terminal.getvalue().split("\r\x1b[K")
    assert shown == ["", "Reading …", "Measuring …", ""]


def test_a_pipe_is_told_nothing(monkeypatch):
    pipe = io.StringIO()
    monkeypatch.setattr(sys, "stderr", pipe)
    with doing("Reading"):
        step("Measuring")
    assert pipe.getvalue() == ""
