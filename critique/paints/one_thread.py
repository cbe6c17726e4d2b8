"""Why paint is mixed in one thread: its matrices are small, and there are thousands of them.

Handing each to several threads costs more than it brings (tenfold when other work is going on), and the order of their
sums may change last bits from run to run.
"""

from collections.abc import Callable
from functools import cache, wraps
from typing import Any, ParamSpec, TypeVar

Given = ParamSpec("Given")
Result = TypeVar("Result")


def in_one_thread(function: Callable[Given, Result]) -> Callable[Given, Result]:
    """The function with numpy's matrix products held to one thread while it runs."""

    @wraps(function)
    def held(*args: Given.args, **kwargs: Given.kwargs) -> Result:
        with _controller().limit(limits=1, user_api="blas"):
            return function(*args, **kwargs)

    return held


@cache
def _controller() -> Any:
    """Made once: finding the libraries takes milliseconds, holding them microseconds."""
    from threadpoolctl import ThreadpoolController

    return ThreadpoolController()
