"""The line `%pip install ...` in a cell."""

from .piplite import SENTENCE


async def get_transformed_code(words):
    """Code that says why nothing is installed."""
    return f"print({SENTENCE!r})"
