"""Where most of a shape lies, by its pieces; the words are those of `picture/areas.py` and `picture/places.py`."""

import numpy as np

from critique.picture.pieces import most_of_it_lies


def boxes(*placed: tuple[float, float, float, float]) -> np.ndarray:
    """A mask with boxes (left, top, right, bottom), as fractions of its sides."""
    mask = np.zeros((200, 300), dtype=bool)
    for left, top, right, bottom in placed:
        mask[round(top * 200) : round(bottom * 200), round(left * 300) : round(right * 300)] = True
    return mask


def test_one_piece_is_told_by_the_area_it_fills() -> None:
    assert most_of_it_lies(boxes((0, 0.55, 0.5, 1))) == "in the lower left"


def test_a_large_piece_is_told_by_itself_whatever_small_ones_lie_about() -> None:
    assert most_of_it_lies(boxes((0, 0.5, 0.4, 1), (0.8, 0, 0.9, 0.1))) == "in the lower left"


def test_two_pieces_as_large_are_both_told_and_the_middle_between_them_is_not() -> None:
    assert (
        most_of_it_lies(boxes((0, 0.7, 0.3, 1), (0.75, 0, 1, 0.3))) == "low on the far left and high on the far right"
    )


def test_what_is_deeper_weighs_more_than_what_is_as_large() -> None:
    left, right = boxes((0, 0.6, 0.3, 1)), boxes((0.7, 0, 1, 0.4))
    assert most_of_it_lies(left * 0.05 + right * 0.9) == most_of_it_lies(right) == "high on the far right"


def test_a_strip_is_told_by_what_it_spans_and_not_by_its_middle() -> None:
    assert most_of_it_lies(boxes((0.1, 0.8, 0.9, 0.88))) == "along the bottom"


def test_what_lies_all_over_or_nowhere_has_no_place() -> None:
    spots = boxes(*((x, y, x + 0.1, y + 0.1) for x in (0.1, 0.45, 0.8) for y in (0.1, 0.45, 0.8)))
    assert most_of_it_lies(spots) == ""
    assert most_of_it_lies(np.zeros((20, 30), dtype=bool)) == ""
