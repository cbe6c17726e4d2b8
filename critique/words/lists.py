"""Lists and small numbers as a sentence has them."""

from collections.abc import Sequence

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


def listed_numbers(numbers: Sequence[int]) -> str:
    """Whole numbers joined as in a sentence."""
    return listed([str(number) for number in numbers])


def listed(words: Sequence[str]) -> str:
    """Words joined as in a sentence."""
    if len(words) < 2:
        return "".join(words)
    return ", ".join(words[:-1]) + " and " + words[-1]


def counted(number: int) -> str:
    """A small whole number in words."""
    return NUMBERS[number] if number < len(NUMBERS) else str(number)
