"""The classes of wrong turns: how common each is, what it does in words, what to ask about it."""

import re
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Class:
    """A class of change: its part of all wrong turns, what it does in words, what to ask.

    {0}, {1}    the parts of the expression that it is about
    of_number   what to ask where {0} is a number that nothing can make bigger
    """

    part: float
    words: str
    question: str
    of_number: str = ""


_PLACE = {
    "length": "From where to where does that distance reach?",
    "weight": "Which weight belongs here?",
}
# Numbers, π and what is made of them: no letter of a problem.
_NUMBER = re.compile(r"[-−\d.,πg×/()^\s]+|sqrt\([\d.]+\)")
_WHICH = "Which number belongs here?"
# Parts from the share of each class among the listed slips, and among textbook ones.
CLASSES: dict[str, Class] = {
    name: Class(part, words, *questions)
    for name, part, words, *questions in (
        ("stopped", 0.07, "{0}, a step on the way",
         "What is asked, and which step is still missing?"),
        ("another result", 0.08, "{0}", "Is this what the question asks for?"),
        ("other axle", 0.03, "what you get with {1} in place of {0}", "Which axle is it about?"),
        ("wrong quantity", 0.17, "what you get with {1} in place of {0}", _WHICH),
        ("wrong everywhere", 0.03, "what you get with {1} in place of {0} all the way", _WHICH),
        ("swapped", 0.02, "what you get with {0} and {1} swapped", "Which of the two is which?"),
        ("dropped term", 0.07, "what you get when {0} is left out",
         "Did you include every part?"),
        ("one term", 0.02, "what you get with {0} alone", "Did you include every part?"),
        ("inner sign", 0.05, "what you get when {0} has the other sign",
         "Does this part add, or does it subtract?"),
        ("doubled term", 0.01, "what you get when {0} is counted twice",
         "Did you count a part twice?"),
        ("bracket moved", 0.02,
         "what you get when the whole sum is divided by {0}, not just one part of it",
         "What belongs above the fraction line?"),
        ("bracket widened", 0.015, "what you get when the whole sum is multiplied by {0}",
         "What does that factor belong to?"),
        ("bracket lost", 0.015, "what a calculator gives without the parentheses around {0}",
         "What do the parentheses hold together?"),
        ("upside down", 0.05, "what you get with {0} over {1}, upside down",
         "Make {0} bigger, and nothing else: should the answer grow?",
         "Which of the two stands above the fraction line, and why?"),
        ("dropped factor", 0.05, "what you get when {0} is left out of the product",
         "What is each factor for?"),
        ("not divided", 0.03, "what you get without dividing by {0}",
         "What do you divide by here, and why?"),
        ("times for divide", 0.025, "what you get when you multiply by {0} and do not divide by it",
         "Make {0} bigger, and nothing else: should the answer grow or shrink?",
         "Do you multiply by {0} here, or divide by it, and why?"),
        ("divide for times", 0.01, "what you get when you divide by {0} and do not multiply by it",
         "Make {0} bigger, and nothing else: should the answer grow or shrink?",
         "Do you multiply by {0} here, or divide by it, and why?"),
        ("power", 0.025, "what you get with another power of {0}",
         "Which power belongs here, and why?"),
        ("number", 0.025, "what you get with {1} in place of {0}",
         "Where does that number come from?"),
        ("function", 0.03, "what you get with another function of {0}",
         "Which side of which triangle is it?"),
        ("sign", 0.02, "the right size with the other sign",
         "Which direction counts positive here, and which way does it go?"),
        ("half", 0.03, "the right answer divided by {0}",
         "Is one wheel asked, or the axle? A mean, or a sum?"),
        ("double", 0.03, "{0} times the right answer",
         "Which part did you count twice?"),
        ("complement", 0.025, "the rest: {0} minus the right answer",
         "Is the part asked, or the rest?"),
        ("added", 0.02, "the right answer with {0} added",
         "What is asked, and what does your number include besides?"),
        ("reciprocal", 0.015, "the right answer upside down", "What is divided by what?"),
        ("unit", 0.03, "the right result in another unit",
         "Which unit is asked for, and in which one is your number?"),
        ("not yet percent", 0.03, "the fraction, not yet turned into percent",
         "What turns a fraction into percent?"),
        ("alike", 0.06, "{0}, and the same at every like piece",
         "What does each piece add, on its own?"),
        ("two changes", 0.0, "two wrong turns at once", "How did you come to it, step by step?"),
        ("two put together", 0.06, "two of the letters put together",
         "Why do these belong together this way?"),
        ("made up", 0.09, "the right letters put together in another way",
         "Why do these belong together this way?"),
    )
}  # fmt: skip
TWO = "two changes"
# Changes to the right answer as a whole: said in words, for their expression holds the right one.
OF_THE_WHOLE = {
    "sign",
    "half",
    "double",
    "complement",
    "added",
    "reciprocal",
    "unit",
    "not yet percent",
}


def question_about(change: str, kind: str | None = None, parts: Sequence[str] = ()) -> str:
    """What to ask about a class of change, with the parts that it is about."""
    known = CLASSES[change]
    fixed = known.of_number and parts and _NUMBER.fullmatch(parts[0])
    question = (known.of_number if fixed else known.question).format(*parts)
    return _PLACE.get(kind or "", question) if question == _WHICH else question
