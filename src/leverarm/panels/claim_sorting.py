"""Claims on cards, sorted into four piles with a reason; a card says where it lies once sorted."""

import random
from dataclasses import dataclass
from html import escape

import ipywidgets as w

from leverarm.data import toml_file
from leverarm.panels.base import Panel, button, html, row, set_if_changed
from leverarm.panels.controls import choice
from leverarm.quantities import Refusal, show_number, to_unit, unit_of
from leverarm.stage.backed_case import PILES
from leverarm.stage.controls import entry
from leverarm.uncertainty import Measured, raised_to_print
from leverarm.uncertainty.separate import K
from leverarm.weighing.claim_audit import FALSE, HALF, OF, TRUE, SpokenAudit, audit_spoken
from leverarm.weighing.claim_cards import claim_cards
from leverarm.weighing.demo import READING_ERROR_KG, bucket_day
from leverarm.weighing.scales import Scales

# Where a claim belongs, by what the audit of its words found; anything else no scale can judge.
_BELONGS = {TRUE: "backed", FALSE: "contradicted", HALF: "incomplete"}
_FROM_READINGS = 6


@dataclass(frozen=True)
class SortedCard:
    """A claim, and the audit of its words."""

    said: str
    audit: SpokenAudit

    @property
    def pile(self) -> str:
        """The pile where the readings put it."""
        return _BELONGS.get(self.audit.truth, "beyond")


def _reasons() -> dict[str, tuple[str, str, str]]:
    """By name: the words of a reason, the pile it leads to, the answer where it leads to none."""
    found = {}
    for one in toml_file("claim_sorting").rows("reason"):
        pile = one.one_of("fits", PILES) if "fits" in one else ""
        answer = "" if pile else one.text("answer")
        found[one.text("name")] = one.text("text"), pile, answer
        one.done()
    return found


class ClaimSorting(Panel):
    """Cards one at a time: choose a pile and a reason, then see where the readings put it.

    cards       the SortedCards of one invented weigh day, in the unit shown
    at, card    which card is up, from 0;  piles  {which card: pile it was sorted to first}
    """

    def __init__(self, seed: int = 1) -> None:
        self._seed, self.at, self.piles = seed, 0, dict[int, str]()
        self._reason = ""
        super().__init__()

    def build(self) -> list[w.Widget]:
        told = toml_file("claim_sorting")
        self.head, self.out = html(), html("", "lv-say")
        names = [(entry("backed").text(one), one) for one in PILES]
        self.pile = choice(told.text("pile"), names, None)
        reasons = [(text, name) for name, (text, _, _) in _reasons().items()]
        self.because = choice(told.text("because"), reasons, None)
        self.sort_button = button(
            told.text("sort"), lambda: self.attempt(self._sort_chosen), primary=True
        )
        self.next_button = button(told.text("next"), lambda: self.attempt(self.next))
        buttons = row(self.sort_button, self.next_button)
        return [self.head, self.pile, self.because, buttons, self.out]

    @property
    def cards(self) -> tuple[SortedCard, ...]:
        """The cards, in an order that the seed gives."""
        day, told = bucket_day(), {"scales": Scales(u_reading=READING_ERROR_KG)}
        made = claim_cards(
            day, "bucket", self.system, count=_FROM_READINGS, seed=self._seed, told=told
        )
        cards = [SortedCard(card.said, card.audit) for card in made]
        for one in toml_file("claim_sorting").rows("beyond"):
            said = one.text("said")
            cards.append(SortedCard(said, audit_spoken(said, day, "bucket", told)))
            one.done()
        return tuple(random.Random(self._seed).sample(cards, len(cards)))

    @property
    def card(self) -> SortedCard:
        """The card that is up."""
        return self.cards[self.at]

    def sort(self, pile: str, because: str) -> None:
        """Sort the card that is up: sort("backed", because="inside")."""
        self.pile.value, self.because.value = pile, because
        self._sort_chosen()

    def _sort_chosen(self) -> None:
        pile, because = self.pile.value, self.because.value
        if pile is None or because is None:
            raise Refusal(
                "card",
                "no pile" if pile is None else "no reason",
                "a pile and a reason",
                "choose both, then sort it",
            )
        # Where it was sorted first is what counts.
        self.piles.setdefault(self.at, str(pile))
        self._reason = str(because)
        self.redraw()

    def next(self) -> None:
        """The next card; the one that is up must be sorted first."""
        if self.at not in self.piles:
            raise Refusal("card", "not sorted", "a pile and a reason", "sort this card first")
        self.at, self._reason = (self.at + 1) % len(self.cards), ""
        self.pile.value = self.because.value = None
        self.redraw()

    def draw(self) -> None:
        told, cards, card = toml_file("claim_sorting"), self.cards, self.card
        at = told.text("at").format(at=self.at + 1, many=len(cards))
        set_if_changed(self.head, f"<p>{at}</p><p><q>{escape(card.said)}</q></p>")
        set_if_changed(self.out, self._reply(card) if self.at in self.piles else "")

    def _reply(self, card: SortedCard) -> str:
        told, cards = toml_file("claim_sorting"), self.cards
        mine = self.piles[self.at]
        pile = entry("backed").text(card.pile)
        lines = [told.text("there" if mine == card.pile else "elsewhere").format(pile=pile)]
        lines += self._measured(card)
        lines.append(told.part("piles").text(card.pile))
        _, leads, answer = _reasons()[self._reason] if self._reason else ("", "", "")
        if answer:
            lines.append(answer)
        elif leads and leads != mine:
            lines.append(told.text("leads").format(pile=entry("backed").text(leads)))
        if len(self.piles) == len(cards):
            right = sum(self.piles[n] == one.pile for n, one in enumerate(cards))
            lines.append(told.text("done").format(right=right, many=len(cards)))
        return "".join(f"<p>{escape(line)}</p>" for line in lines)

    def _measured(self, card: SortedCard) -> list[str]:
        """What the readings found of everything a claim may mean."""
        told = toml_file("claim_sorting")
        if not card.audit.meanings:
            return [card.audit.why(self.system)]
        lines = []
        for one in card.audit.meanings:
            what, _, base = one.name.partition(OF)
            if one.found is None:
                lines.append(told.text("unknown").format(what=what))
                continue
            kind = card.audit.kind
            of = f" of {base}" if base and kind == "percent" else f" {base}" if base else ""
            number = _whole(one.found, kind, self.system)
            what = what[0].upper() + what[1:]
            lines.append(told.text("measured").format(what=what, number=number, of=of))
        return lines


def _whole(found: Measured, kind: str, system: str) -> str:
    """A number with its ± rounded up, in whole pounds, kilograms or percent, or a factor."""
    unit = unit_of("weight", system)
    one = to_unit(1.0, "weight", unit) if kind == "weight" else 1.0
    places, name = {"weight": (0, unit), "percent": (0, "percent"), "factor": (2, "times")}[kind]
    band = raised_to_print(K * found.u * one, places)
    return f"{show_number(found.value * one, places)} ± {show_number(band, places)} {name}"


def claim_sorting(seed: int = 1) -> ClaimSorting:
    """Cards of claims to sort: panel.sort("backed", because="inside"), .next(), .piles."""
    return ClaimSorting(seed)
