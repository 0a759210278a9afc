"""Spoken claims on cards, and an answer to a customer held against the readings."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from pathlib import Path

import ipywidgets as w

from leverarm import decision, weighing
from leverarm.panels.base import Panel, button, html, row, set_if_changed, show_if
from leverarm.panels.controls import choice, dropdown
from leverarm.panels.day_choice import FOLDER, DayChoice, offer_pieces
from leverarm.panels.weigh_day_record import KEPT_BACK
from leverarm.quantities import Refusal
from leverarm.weighing.claim_audit import FALSE, HALF, TRUE, UNKNOWN
from leverarm.weighing.gate import passed

OWN, SAID = "made from this machine's numbers", "what people say of loaders"
ASKS = "Is it true of this machine? Lock in your answer first."
SO = {
    TRUE: "It is true.",
    HALF: "It is half true.",
    FALSE: "It is not true.",
    UNKNOWN: "Not enough was told to judge it.",
}


@dataclass(frozen=True)
class Card:
    """A claim on a card: its words, whether it is so, the reasons, and what to say instead.

    truth   "true", "half true", "false" or "not known"
    """

    said: str
    truth: str
    why: tuple[str, ...]
    instead: str


def said_cards(case: decision.Case, system: str) -> tuple[Card, ...]:
    """What people say of loaders, as cards about one machine."""
    return tuple(
        Card(
            claim.said,
            {True: TRUE, False: FALSE, None: UNKNOWN}[decision.holds_for(claim, case)],
            (claim.truth, decision.true_number(claim, case, system)),
            f"Say instead: “{claim.say}”",
        )
        for claim in decision.CLAIMS
    )


class ClaimCards(Panel):
    """Claims one at a time: lock in true, half true or false, then the truth and its reason.

    cards       the claims on cards: of one piece of the machine and day chosen, made from its own
                numbers, or what people say of loaders
    at, card    which card is up;  locked  {words of a card: verdict};  reveal(), next(), back(),
                go(3)
    """

    def __init__(self, record: Path | str = FOLDER, case: decision.Case | None = None) -> None:
        self._record, self._case, self.at = record, case, 0
        self.locked: dict[str, str] = {}
        self._cards: tuple[Card, ...] = ()
        self._shown_of = ""
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.head, self.out = html(), html()
        self.day_choice = DayChoice(self._record, self.redraw)
        about = [(SAID, SAID)] if self._case else [(OWN, OWN), (SAID, SAID)]
        self.about = dropdown("Claims", about, on_change=self._another)
        self.piece = dropdown("About", [("the bucket", "bucket")], on_change=self._another)
        self.verdict = choice(
            "For this machine it is", [(one, one) for one in (TRUE, HALF, FALSE)], None
        )
        self.lock_button = button(
            "Lock in and show", lambda: self.attempt(self.reveal), primary=True
        )
        self.undo_button = button("Undo", self.undo)
        self.back_button, self.next_button = (
            button("Claim before", self.back),
            button("Next claim", self.next),
        )
        self.steps = row(self.lock_button, self.undo_button, self.back_button, self.next_button)
        chosen = [] if self._case else [row(self.about, self.piece), self.day_choice.widget]
        return [*chosen, self.head, self.verdict, self.steps, self.out]

    @property
    def cards(self) -> tuple[Card, ...]:
        """The cards of the deck that is chosen."""
        return self._cards

    @property
    def card(self) -> Card:
        """The card that is up."""
        if not self.cards:
            raise Refusal("claim", "no card", "a card that is up", "choose other claims, or a day")
        return self.cards[self.at]

    def _another(self, _: object) -> None:
        """Another deck: from its first card."""
        self.at = 0
        self.redraw()

    def lock_in(self, verdict: str) -> None:
        """Lock in a verdict: lock_in("true"), "half true" or "false"."""
        if verdict not in (TRUE, HALF, FALSE):
            raise Refusal("verdict", verdict, f"{TRUE}, {HALF} or {FALSE}", "choose one of these")
        self.verdict.value = verdict
        self.reveal()

    def reveal(self) -> None:
        """Show what is so; a verdict must be locked in first."""
        if self.verdict.value is None:
            raise Refusal("verdict", "nothing", f"{TRUE}, {HALF} or {FALSE}", "lock one in first")
        self.locked[self.card.said] = str(self.verdict.value)
        self.redraw()

    def undo(self) -> None:
        """Close the card again and take the verdict back."""
        self.locked.pop(self.card.said, None)
        self.redraw()

    def go(self, number: int) -> None:
        """Show a card, counted from 1."""
        most = len(self.cards)
        if number not in range(1, most + 1):
            raise Refusal("claim", number, f"a whole number from 1 to {most}", "count from 1")
        self.at = number - 1
        self.redraw()

    def next(self) -> None:
        """The next card."""
        self.go(min(self.at + 2, len(self.cards)))

    def back(self) -> None:
        """The card before."""
        self.go(max(self.at, 1))

    def withdraw(self) -> None:
        self._cards = ()
        self._show(False)
        set_if_changed(self.out, "")

    def _show(self, shown: bool) -> None:
        """Show or hide what belongs to a card."""
        show_if(shown, self.head, self.verdict, self.steps)

    def draw(self) -> None:
        note = self._deal()
        self._show(bool(self.cards))
        if not self.cards:
            set_if_changed(self.out, f"<p>{note}</p>")
            return
        self.at = min(self.at, len(self.cards) - 1)
        card = self.card
        up = card.said in self.locked
        set_if_changed(
            self.head,
            f"<p>Claim {self.at + 1} of {len(self.cards)}</p><p><b>“{escape(card.said)}”</b></p>",
        )
        self.verdict.disabled, self.verdict.value = up, self.locked.get(card.said)
        self.undo_button.disabled = not up
        self.back_button.disabled = self.at == 0
        self.next_button.disabled = self.at == len(self.cards) - 1
        below = f"<p>{escape(note)}</p>" if note else ""
        set_if_changed(self.out, (self._truth(card) if up else f"<p>{ASKS}</p>") + below)

    def _deal(self) -> str:
        """Take the deck that is chosen; returns where its numbers come from, or why it is empty."""
        if self._case is not None:
            self._cards = said_cards(self._case, self.system)
            return ""
        day, days = self.day_choice.read()
        show_if(self.about.value == OWN, self.piece)
        if self._shown_of not in ("", day.name):
            self.at, self.locked = 0, {}
        self._shown_of = day.name
        if self.day_choice.sealed and not day.invented:
            self._cards = ()
            return KEPT_BACK
        day = day if day.invented else passed(day, days)
        note = day.note if day.invented else ""
        if self.about.value == SAID:
            self._cards = said_cards(decision.case_of_day(day), self.system)
            return note
        offer_pieces(self.piece, day)
        self._cards = tuple(
            Card(
                one.said,
                one.truth,
                (one.audit.sentences(self.system)[1],),
                one.audit.instead(self.system),
            )
            for one in weighing.claim_cards(day, str(self.piece.value), self.system)
        )
        return note

    def _truth(self, card: Card) -> str:
        said = self.locked[card.said]
        lines = "".join(f"<p>{escape(line)}</p>" for line in card.why)
        instead = f"<p>{escape(card.instead)}</p>" if card.instead else ""
        return (
            f'<p class="lv-say"><b>{SO[card.truth]}</b> You said: {escape(said)}.</p>'
            f"{lines}{instead}"
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
            day = self.day_choice.opened()
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

    case    a machine told otherwise: then only what people say of loaders
    In code: .go(3), .lock_in("half true"), .undo(), .next(), .piece.value = "loader frame".
    """
    return ClaimCards(record, case)


def role_play(record: Path | str = FOLDER, *, case: decision.Case | None = None) -> RolePlay:
    """An answer to a customer, held against the readings.

    In code: .go("twice"), .answer("About 190 kg off the front axle.").
    """
    return RolePlay(record, case)
