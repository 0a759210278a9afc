"""How a definition that is no plain arithmetic prints itself in a formula."""

from collections.abc import Callable

from leverarm.numerals import Numeric


def printed_as(say: Callable[..., str]) -> Callable[..., Callable[..., Numeric]]:
    """A definition that is no plain arithmetic, with the way it is printed from its arguments."""

    def mark(function: Callable[..., Numeric]) -> Callable[..., Numeric]:
        function.say = say  # type: ignore[attr-defined]  # read where a Call is printed
        return function

    return mark


def over_100(name: str) -> Callable[..., str]:
    """How a function of a slope in percent is printed."""
    return lambda percent: (
        f"{name}(({percent})/100)" if " " in percent else f"{name}({percent}/100)"
    )
