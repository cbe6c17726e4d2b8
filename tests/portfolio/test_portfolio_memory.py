"""Memory that a review took is free before the next one begins."""

import gc

import pytest

from critique.picture.picture import Picture
from critique.portfolio.content import content_of
from critique.portfolio.memory import end_giving_back
from critique.portfolio.version import measuring_version
from critique.portfolio.work import Task, review_one


@pytest.fixture
def no_chance():
    """Without Python's own collections, which come when they come."""
    gc.collect()
    gc.disable()
    yield
    gc.enable()
    end_giving_back()


def pictures_alive() -> int:
    return sum(isinstance(thing, Picture) for thing in gc.get_objects())


@pytest.mark.slow
def test_no_picture_outlives_its_review(tools, tmp_path, no_chance):
    path = tools.paint(tmp_path / "marsh.png", 3)
    before = pictures_alive()
    task = Task(
        0, str(path), content_of(path), measuring_version(), str(tmp_path / "r"), str(tmp_path / "t.jpg"), plates=False
    )
    assert review_one(task).row is not None
    end_giving_back()  # so that what stays for good is counted too
    assert pictures_alive() == before and gc.collect() < 100
