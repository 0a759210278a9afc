"""Spoken claims one by one, and an answer to a customer held against the readings."""

from __future__ import annotations

from html import escape
from pathlib import Path

import ipywidgets as w

from leverarm import decision
from leverarm.panels.base import Panel, button, html, row, set_if_changed
from leverarm.panels.controls import choice, dropdown
from leverarm.panels.day_choice import FOLDER, DayChoice
from leverarm.quantities import Refusal


class ClaimCards(Panel):
    """Claims one at a time: lock in "holds" or not, then the truth and the machine's number.

    at, claim   which card is up;  locked  {claim key: "holds" or "does not"};  reveal(), next(),
                back(), go(3)
    """

    def __init__(self, record: Path | str = FOLDER, case: decision.Case | None = None) -> None:
        self._record, self._case, self.at = record, case, 0
        self.locked: dict[str, str] = {}
        self.open: set[str] = set()
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.head, self.out = html(), html()
        self.day_choice = DayChoice(self._record, self.redraw)
        self.verdict = choice(
            "For this machine it",
            [("holds", "holds"), ("does not hold", "does not")],
            None,
        )
        self.lock_button = button(
            "Lock in and show", lambda: self.attempt(self.reveal), primary=True
        )
        self.undo_button = button("Undo", self.undo)
        self.back_button, self.next_button = (
            button("Claim before", self.back),
            button("Next claim", self.next),
        )
        return [
            self.head,
            self.verdict,
            row(self.lock_button, self.undo_button, self.back_button, self.next_button),
            *([] if self._case else [self.day_choice.widget]),
            self.out,
        ]

    @property
    def case(self) -> decision.Case:
        """The machine the numbers are of."""
        return self._case or self.day_choice.case()

    @property
    def claim(self) -> decision.SpokenClaim:
        """The claim whose card is up."""
        return decision.CLAIMS[self.at]

    def lock_in(self, verdict: str) -> None:
        """Lock in a verdict: lock_in("holds") or lock_in("does not")."""
        self.verdict.value = verdict
        self.reveal()

    def reveal(self) -> None:
        """Show what is so; a verdict must be locked in first."""
        if self.verdict.value is None:
            raise Refusal("verdict", "nothing", "holds, or does not hold", "lock one in first")
        self.locked[self.claim.key] = self.verdict.value
        self.open.add(self.claim.key)
        self.redraw()

    def undo(self) -> None:
        """Close the card again and take the verdict back."""
        self.locked.pop(self.claim.key, None)
        self.open.discard(self.claim.key)
        self.redraw()

    def go(self, number: int) -> None:
        """Show a card, counted from 1."""
        if number not in range(1, len(decision.CLAIMS) + 1):
            raise Refusal(
                "claim", number, f"a whole number from 1 to {len(decision.CLAIMS)}", "count from 1"
            )
        self.at = number - 1
        self.redraw()

    def next(self) -> None:
        """The next card."""
        self.go(min(self.at + 2, len(decision.CLAIMS)))

    def back(self) -> None:
        """The card before."""
        self.go(max(self.at, 1))

    def draw(self) -> None:
        claim, up = self.claim, self.claim.key in self.open
        set_if_changed(
            self.head,
            f"<p>Claim {self.at + 1} of {len(decision.CLAIMS)}</p><p><b>“{escape(claim.said)}”</b>"
            "</p>",
        )
        self.verdict.disabled, self.verdict.value = up, self.locked.get(claim.key)
        self.undo_button.disabled = not up
        self.back_button.disabled, self.next_button.disabled = (
            self.at == 0,
            self.at == len(decision.CLAIMS) - 1,
        )
        set_if_changed(
            self.out,
            self._truth(claim)
            if up
            else "<p>Does it hold for this machine? Lock in your answer first.</p>",
        )

    def _truth(self, claim: decision.SpokenClaim) -> str:
        case, note = self._case, ""
        if case is None:
            day = self.day_choice.day
            case = decision.case_of_day(day)
            note = day.note if day.invented else ""
        holds = decision.holds_for(claim, case)
        so = {
            True: "For this machine it holds, within the ±.",
            False: "For this machine it does not hold.",
            None: "Not enough was told to judge it.",
        }[holds]
        return (
            f'<p class="lv-say"><b>{so}</b> You said it '
            f"{'holds' if self.locked[claim.key] == 'holds' else 'does not hold'}.</p>"
            f"<p>{escape(claim.truth)}</p><p>"
            f"<b>{escape(decision.true_number(claim, case, self.system))}</b></p><p>Say instead: "
            f"“{escape(claim.say)}”</p>" + (f"<p>{escape(note)}</p>" if note else "")
        )


class RolePlay(Panel):
    """The customer says a claim; the answer is held against this machine.

    answer("About 190 kg comes off the front axle.") -> Points;  go("twice")
    """

    def __init__(self, record: Path | str = FOLDER, case: decision.Case | None = None) -> None:
        self._record, self._case, self._note = record, case, ""
        self.points: tuple[decision.ReplyPoint, ...] = ()
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.pick = dropdown(
            "The customer says", [(claim.said, claim.key) for claim in decision.CLAIMS]
        )
        self.heard = html()
        self.pick.observe(self._changed, "value")
        self.said = w.Textarea(
            description="You answer",
            placeholder="One or two sentences, as you would say them.",
            style={"description_width": "initial"},
        )
        self.check_button = button(
            "Hold it against the readings", lambda: self.attempt(self._check), primary=True
        )
        self.out = html()
        self.day_choice = DayChoice(self._record, self.redraw)
        choice_of_day = [] if self._case else [self.day_choice.widget]
        return [self.pick, self.heard, self.said, self.check_button, *choice_of_day, self.out]

    def _changed(self, _: object) -> None:
        self.points = ()
        self.said.value = ""
        self.redraw()

    def go(self, key: str) -> None:
        """Let the customer say the claim of this key."""
        self.pick.value = key

    def answer(self, text: str) -> tuple[decision.ReplyPoint, ...]:
        """Give an answer; returns its Points."""
        self.said.value = text
        self._check()
        return self.points

    def _check(self) -> None:
        claim = next(one for one in decision.CLAIMS if one.key == self.pick.value)
        case, self._note = self._case, ""
        if case is None:
            day = self.day_choice.day
            case, self._note = decision.case_of_day(day), day.note if day.invented else ""
        self.points = decision.check_answer(self.said.value, claim, case)
        self.draw()

    def draw(self) -> None:
        set_if_changed(self.heard, f"<p><b>“{escape(self.pick.label)}”</b></p>")
        items = "".join(
            f"<li>{'✓' if point.found else '→'} {escape(point.said)}</li>" for point in self.points
        )
        note = f"<p>{escape(self._note)}</p>" if self._note else ""
        set_if_changed(self.out, f'<ul class="lv-lines lv-say">{items}</ul>{note}' if items else "")


def claim_cards(record: Path | str = FOLDER, *, case: decision.Case | None = None) -> ClaimCards:
    """Spoken claims, one card at a time.

    In code: .go(3), .lock_in("does not"), .undo(), .next().
    """
    return ClaimCards(record, case)


def role_play(record: Path | str = FOLDER, *, case: decision.Case | None = None) -> RolePlay:
    """An answer to a customer, held against the readings.

    In code: .go("twice"), .answer("About 190 kg off the front axle.").
    """
    return RolePlay(record, case)
