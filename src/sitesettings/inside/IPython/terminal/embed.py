"""There is no terminal in a browser: what IPython would load for one stays away, and half a second
at the start with it.
"""


def embed(**told):
    """Say so."""
    raise RuntimeError("A browser's Python has no terminal to embed.")
