"""A show of hands: how many chose A to D, what to do next, a second vote, before and after side by
side.
"""

from collections.abc import Sequence
from html import escape

import ipywidgets as w

from leverarm import statics
from leverarm.data import Entry, toml_file
from leverarm.panels.base import Panel, button, html, picture_html, row, set_if_changed
from leverarm.quantities import Refusal, show_number
from leverarm.scene import Axis, Bar, bar_chart

# Peer instruction: discuss in pairs between these shares of right answers (Crouch and Mazur 2001,
# from memory).
DISCUSS = (35.0, 70.0)
MOST_HANDS = 500


def after_the_vote(right: int, total: int) -> str:
    """What to do after a vote: re-teach, discuss or go on.

    >>> after_the_vote(5, 20), after_the_vote(10, 20), after_the_vote(16, 20)
    ('re-teach', 'discuss', 'go on')
    """
    percent = statics.share(right, total)
    return "re-teach" if percent < DISCUSS[0] else "discuss" if percent <= DISCUSS[1] else "go on"


def read_advice(words: Entry) -> dict[str, str]:
    """{"re-teach", "discuss", "go on": what to do after such a vote, "open": what is said until the
    right letter is shown}; Refusal with file and key.
    """
    shares = {"low": show_number(DISCUSS[0], 0), "high": show_number(DISCUSS[1], 0)}
    advice = {
        name: words.template(name.replace(" ", "_"), shares).format(**shares)
        for name in ("re-teach", "discuss", "go on", "open")
    }
    words.done()
    return advice


_SHORT = {"first": "1st", "second": "2nd"}


class TallyPanel(Panel):
    """Counts for A to D, once and once more after the discussion; nothing about who chose what.

    first, second   letter -> count
    """

    def __init__(self, question: str, options: Sequence[str], right: str) -> None:
        self.question, self.options, self.right = (
            question,
            dict(zip("ABCDEF", options)),
            right.upper(),
        )
        if self.right not in self.options:
            raise Refusal(
                "right answer",
                right,
                " or ".join(self.options),
                "name the letter of the right option",
            )
        super().__init__()

    def build(self) -> list[w.Widget]:
        self._rows = {
            name: {letter: self._count(letter, name) for letter in self.options}
            for name in ("first", "second")
        }
        self.second_row = row(*self._rows["second"].values())
        self.again_button = button("Second vote", self.vote_again)
        self.show_button = button("Show the right answer", self.show_right)
        self.out, self.shown = html(), False
        self._second_open = False
        options = "".join(f"<li>{escape(text)}</li>" for text in self.options.values())
        head = html(f'<p><b>{escape(self.question)}</b></p><ol type="A">{options}</ol>')
        return [
            head,
            row(*self._rows["first"].values()),
            self.second_row,
            row(self.again_button, self.show_button),
            self.out,
        ]

    def _count(self, letter, vote):
        box = w.BoundedIntText(
            0,
            0,
            MOST_HANDS,
            description=f"{letter}, {vote} vote",
            style={"description_width": "initial"},
        )
        box.add_class("lv-count")
        box.observe(self.redraw, "value")
        return box

    @property
    def first(self) -> dict[str, int]:
        return {letter: box.value for letter, box in self._rows["first"].items()}

    @property
    def second(self) -> dict[str, int]:
        return {letter: box.value for letter, box in self._rows["second"].items()}

    def count(self, vote: str = "first", **counts: int) -> None:
        """Enter counts: count(A=3, B=10), count("second", B=17)."""
        for letter, number in counts.items():
            if (
                letter not in self.options
                or not isinstance(number, int)
                or not 0 <= number <= MOST_HANDS
            ):
                raise Refusal(
                    "count",
                    f"{letter}={number}",
                    f"a whole number up to {MOST_HANDS} for {' or '.join(self.options)}",
                    "count the hands again",
                )
        if vote == "second":
            self.vote_again()
        for letter, number in counts.items():
            self._rows[vote][letter].value = number
        self.redraw()

    def vote_again(self) -> None:
        """Open the second vote."""
        self._second_open = True
        self.redraw()

    def show_right(self) -> None:
        """Close the voting, and show which letter is right."""
        self.shown = True
        self.redraw()

    def draw(self) -> None:
        self.second_row.layout.display = "" if self._second_open else "none"
        self.again_button.layout.display = "none" if self._second_open else ""
        set_if_changed(
            self.out,
            self._advice()
            + (picture_html(self._chart(), self) if sum(self.first.values()) else ""),
        )

    def _advice(self):
        """What the last vote says to do; the same whichever letter is right until it is shown."""
        votes = self.second if sum(self.second.values()) else self.first
        total = sum(votes.values())
        if not total:
            return "<p>Type the number of hands for each letter.</p>"
        advice = read_advice(toml_file("polls").part("after_the_vote"))
        if not self.shown:
            return f'<p class="lv-say">{advice["open"]}</p>'
        right = votes[self.right]
        return (
            f'<p class="lv-say">{advice[after_the_vote(right, total)]} The right answer is '
            f"<b>{self.right}</b>: {escape(self.options[self.right])}. "
            f"{right} of {total} chose it.</p>"
        )

    def _chart(self):
        """Both votes side by side, in percent of the hands of each vote."""
        votes = [("first", self.first, "muted"), ("second", self.second, "front")]
        shown = [(name, counts, role) for name, counts, role in votes if sum(counts.values())]
        bars = [
            Bar(
                letter if len(shown) == 1 else f"{letter}\n{_SHORT[name]}",
                statics.share(counts[letter], sum(counts.values())),
                role=role,
                text=f"{counts[letter]}",
            )
            for letter in self.options
            for name, counts, role in shown
        ]
        desc = ". ".join(
            f"{name.capitalize()} vote: " + ", ".join(f"{k} {v}" for k, v in counts.items())
            for name, counts, _ in shown
        )
        return bar_chart(
            "Votes for each letter", f"{desc}.", Axis("percent of the hands", 0, 100), bars
        )


def tally(question: str, options: Sequence[str], right: str) -> TallyPanel:
    """A show of hands: tally("Front change?", ("less than W", "W", "more than W"), right="C").

    In code: .count(A=3, B=10), .count("second", B=17), .first, .second, .show_right().
    """
    return TallyPanel(question, options, right)


def class_poll(lesson: str) -> TallyPanel:
    """The show of hands of a lesson by its number; question and answer stand in its data."""
    poll = toml_file(f"lesson_{lesson}").part("poll")
    return TallyPanel(poll.text("question"), poll.texts("options"), poll.text("right"))
