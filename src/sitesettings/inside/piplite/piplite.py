"""What the kernel sets before it starts, and what a student gets who asks for a package."""

_PIPLITE_DISABLE_PYPI, _PIPLITE_URLS = True, []
SENTENCE = (
    "Nothing can be installed in this browser: the class site holds all that the lessons need."
)


async def install(requirements, **told):
    """Refuse, in one sentence."""
    raise ValueError(SENTENCE)
