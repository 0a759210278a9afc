"""What a notebook page needs once: the style sheet ``page.css`` and the script ``page.js``."""

import re
from functools import cache
from importlib.resources import files

from leverarm.scene import formula_rules, page_style


@cache
def _text(name: str) -> str:
    return files(__package__).joinpath(name).read_text("utf-8")


@cache
def page_rules() -> str:
    """The rules for panels and pictures on one line, since every panel carries them."""
    rules = re.sub(r"/\*.*?\*/", "", _text("page.css"), flags=re.DOTALL)
    return page_style() + formula_rules() + "".join(line.strip() for line in rules.splitlines())


def style_and_script() -> str:
    """Rules and script as one piece of HTML, for the set-up cell."""
    stage = files("leverarm.stage")
    rules = page_rules() + stage.joinpath("stage.css").read_text("utf-8")
    script = stage.joinpath("stage.js").read_text("utf-8") + _text("page.js")
    return f"<style>{rules}</style><script>{script}</script>"
