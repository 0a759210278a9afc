"""A machine worked by hand: the lever and nothing else, and a page's words as a person reads them.

What is here asks the package's formulas nothing: tests hold its sentences against these numbers.
"""

import re
from html import unescape

KG_PER_LB, M_PER_IN, GRAVITY = 0.45359237, 0.0254, 9.80665


def on_front(weight, ahead, wheelbase):
    """Moments about the rear axle: weight times its way to the rear axle, over the wheelbase."""
    return weight * (wheelbase + ahead) / wheelbase


def on_rear(weight, ahead, wheelbase):
    """Moments about the front axle."""
    return -weight * ahead / wheelbase


def numbers_in(text, unit):
    """Every number in a text that stands before a unit, however its thousands and minus look."""
    number = r"([+−-]?\d[\d,\u202f\u00a0 ]*(?:\.\d+)?)"
    found = re.findall(rf"{number}(?: ± [\d.]+)?[ \u00a0]?{unit}(?![A-Za-z])", text)
    return [float(re.sub("[,\u202f\u00a0 ]", "", one).replace("−", "-")) for one in found]


def words_of(markup):
    """HTML as a person reads it, without styles and pictures."""
    markup = re.sub(r"<style.*?</style>|<svg.*?</svg>", " ", markup, flags=re.DOTALL)
    text = " ".join(unescape(re.sub(r"<[^>]+>", " ", markup)).split())
    return re.sub(r" ([.,;:?])", r"\1", text)
