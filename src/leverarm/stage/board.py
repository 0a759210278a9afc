"""The board of a free body: cut a machine free, put every arrow in its place, measure the arms.

The page moves it; whether it is right is Python's to say (:mod:`leverarm.exercises.free_body`),
and nothing here knows.  All that a hand does in the picture can be done in the list beside it.
"""

from collections.abc import Mapping
from functools import partial

from leverarm.numerals import Numeric
from leverarm.stage.board_case import LAYOUTS, BoardCase, chosen_words
from leverarm.stage.board_picture import BoardPicture, _carried
from leverarm.stage.controls import act_drawing, entry, hidden_unless, push_button
from leverarm.stage.elements import Element, element
from leverarm.stage.recorder import where
from leverarm.stage.recording import Drawing


class Board:
    """The board as a drawing function.

    question    the words at the top; buttons  what stands under the list: Check, Hint
    reply       what was said of the drawing last
    """

    def __init__(
        self,
        case: BoardCase,
        question: str = "",
        buttons: tuple[Element, ...] = (),
        reply: str = "",
    ) -> None:
        self.case, self.buttons, self.reply = case, buttons, reply
        self.question = question or entry("board").text("question").format(asked=case.asked)

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        told = self._told(v)
        name = f"{told['picture']} {told['live']}"
        return act_drawing(
            self.case,
            lambda sheet: BoardPicture(self.case, LAYOUTS[sheet.name], v).drawn(name),
            self.question,
            [*self._list(v), *self.buttons],
            told["live"],
            below=[
                element("p", told["lengths"], class_="st-hint"),
                element("p", self.reply, class_="st-reply", role="status", data_told="reply"),
            ],
        )

    def _told(self, v: Mapping[str, Numeric]) -> dict[str, str]:
        """The board in words."""
        case, words = self.case, entry("board")
        arrows = " ".join(
            words.text("arrow").format(letter=letter, where=self._where(v, letter))
            for letter in case.letters
        )
        cut = chosen_words(v["cut"], [words.text("no_cut"), *case.bodies])
        pivot = chosen_words(v["pivot"], [words.text("no_pivot"), *case.pivots])
        return {
            "picture": words.text("picture").format(
                thing=words.part("things").text(case.thing.name),
                places=", ".join(case.places),
                lengths=", ".join(case.lengths),
            ),
            "lengths": words.text("lengths").format(
                lengths=", ".join(case.lengths), example=f"{case.lengths[0]} + {case.lengths[-1]}"
            ),
            "live": words.text("live").format(cut=cut, arrows=arrows, pivot=pivot),
        }

    def _where(self, v: Mapping[str, Numeric], letter: str) -> str:
        """Where an arrow is and which way it points, in words."""
        words = entry("board")

        def at(place: str, way: str) -> str:
            return words.text("placed").format(way=words.text(way), place=place)

        known = [
            where(
                v[f"down_{letter}"],
                partial(at, place, "down"),
                partial(at, place, "up"),
            )
            for place in self.case.places
        ]
        return chosen_words(v[f"at_{letter}"], [words.text("not_drawn"), *known])

    def _list(self, v: Mapping[str, Numeric]) -> list[Element]:
        """The list: the body, the rack of arrows, where the one picked acts, the pivot."""
        case, words = self.case, entry("board")
        rack = element(
            "div",
            (self._in_rack(v, k) for k in range(1, len(case.forces) + 1)),
            class_="st-rack",
            role="group",
            aria_label=words.text("rack"),
        )
        return [
            self._choice("cut", words.text("cut"), [words.text("no_cut"), *case.bodies]),
            rack,
            *(self._picked(v, k, letter) for k, letter in enumerate(case.letters, 1)),
            self._choice("pivot", words.text("pivot"), [words.text("no_pivot"), *case.pivots]),
        ]

    def _in_rack(self, v: Mapping[str, Numeric], k: int) -> Element:
        words, (letter, meaning) = entry("board"), self.case.forces[k - 1]
        return element(
            "button",
            element("b", letter),
            element("span", meaning),
            element("small", self._where(v, letter)),
            type="button",
            class_="st-arrow",
            aria_pressed=where(v["picked"] == k, lambda: "true", lambda: "false"),
            disabled="disabled" if self.case.locked else "",
            data_set=f'{{"picked": {k}}}',
            data_once=words.text("once").format(letter=letter),
            **_carried(f"at_{letter}", letter),
        )

    def _picked(self, v: Mapping[str, Numeric], k: int, letter: str) -> Element:
        """The list of places of the arrow that was picked, and the button that turns it over."""
        words, down = entry("board"), v[f"down_{letter}"]
        turn = push_button(
            where(
                down,
                lambda: words.text("turn_up").format(letter=letter),
                lambda: words.text("turn_down").format(letter=letter),
            ),
            disabled="disabled" if self.case.locked else "",
            flips=f"down_{letter}",
        )
        places = self._choice(
            f"at_{letter}",
            words.text("acts_at").format(letter=letter),
            [words.text("not_drawn"), *self.case.places],
        )
        hidden = hidden_unless(v["picked"] == k)
        return element("div", places, turn, class_="st-part", hidden=hidden)

    def _choice(self, name: str, label: str, options: list[str]) -> Element:
        """A list to choose one thing from."""
        made = element(
            "select",
            (element("option", text, value=str(k)) for k, text in enumerate(options)),
            disabled="disabled" if self.case.locked else "",
            data_moves=name,
            aria_label=label,
        )
        named = element("label", element("span", label, class_="st-name"), made)
        refusal = element("span", "", class_="st-refusal", role="alert")
        return element("div", named, refusal, class_="st-control st-pick")
