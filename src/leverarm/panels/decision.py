"""Mow or unhook: one machine, one job, every set-up side by side."""

from dataclasses import replace
from html import escape
from pathlib import Path

import ipywidgets as w

from leverarm import decision
from leverarm.decision.setups import Setup
from leverarm.decision.table import Row
from leverarm.decision.words import RowMeaning
from leverarm.panels.base import html, html_table, set_if_changed
from leverarm.panels.case_form import CaseForm
from leverarm.panels.controls import dropdown
from leverarm.panels.day_choice import FOLDER
from leverarm.panels.gate import asked_first
from leverarm.quantities import Refusal, show, show_number
from leverarm.stage.elements import as_text
from leverarm.stage.setups import setups_still
from leverarm.stage.setups_case import SetupsCase

GLANCE, EVERYTHING = "at a glance", "everything"
GLANCE_ROWS = ("front", "rear", "minutes")
ORDER, MINUTES, OTHER = "the order", "what a minute buys", "the other side"
PARTS = (ORDER, *decision.GROUPS, MINUTES, OTHER)
OWN = (
    "Everything here is your machine's: nothing is borrowed. Rows that need more say what was not "
    "told, and the manual's shares stay empty until you read them. Slope and minutes count as they "
    "stand under job: put in your own."
)
INVENTED = (
    "This is not your machine. Numbers you change are tried on {name}. All the others, the mower "
    "and the manual's shares included, stay as they were."
)


class MowOrUnhook(CaseForm):
    """The machine shown, typed or weighed, the mower, the job, the manual's word; the set-ups side
    by side: three rows first, everything else on request.

    case        decision.Case as told;  table  decision.Table
    source      as in CaseForm;  matters  the rows the set-ups are ordered by
    """

    questions, why = asked_first("mow_or_unhook", "front", "rear")

    def build(self) -> list[w.Widget]:
        self.first, self.second = (
            dropdown(
                name,
                [
                    (decision.MEANINGS[key].name.format("near", "deep"), key)
                    for key in decision.MATTERS
                ],
                value,
                on_change=self.redraw,
            )
            for name, value in (("Matters most", "front"), ("then", "total"))
        )
        # Four set-ups by three rows first; the rest, with its reasons, on request.
        self.part = dropdown(
            "Show",
            [(name, name) for name in (GLANCE, *PARTS, EVERYTHING)],
            GLANCE,
            on_change=self.redraw,
        )
        self.reasons = w.Checkbox(value=False, description="Reasons under each row", indent=False)
        self.reasons.observe(self.redraw, "value")
        self.picture, self.out, self.whose = html(), html(), html()
        left = [*self.form(), *self.gate_parts(), self.first, self.second]
        return [
            *left,
            self.picture,
            self.part,
            self.reasons,
            self.whose,
            self.out,
            html(f"<ul>{''.join(f'<li>{escape(line)}</li>' for line in decision.CAUTIONS)}</ul>"),
        ]

    @property
    def matters(self) -> tuple[str, ...]:
        """The rows the set-ups are ordered by, the first one first."""
        return tuple(dict.fromkeys((self.first.value, self.second.value)))

    @property
    def table(self) -> decision.Table:
        """The set-ups side by side."""
        return decision.decide(self.case)

    def withdraw(self) -> None:
        if self.source == "record":
            set_if_changed(self.picture, "")
            set_if_changed(self.out, "")

    def draw(self) -> None:
        table = self.table
        whose = OWN if self.source != "demo" else INVENTED.format(name=table.case.name)
        set_if_changed(self.whose, f"<p>{escape(whose)}</p>")
        set_if_changed(self.picture, self._picture(table))
        if self.hidden:
            set_if_changed(self.out, self._promise(table))
            return
        shown = self.part.value
        parts = (GLANCE, *PARTS) if shown == EVERYTHING else (shown,)
        set_if_changed(self.out, "".join(self._part(name, table) for name in parts))

    def _stopped(self, table: decision.Table) -> str:
        """The set-ups that the manual rules out, with the reason."""
        ruled_out = "".join(
            f"<li>{escape(f'Ruled out: {one.name}. ' + ' '.join(decision.stops(one, self.system)))}"
            "</li>"
            for one in table.setups
            if one.key in table.stopped
        )
        return f"<ul>{ruled_out}</ul>" if ruled_out else ""

    def _part(self, name: str, table: decision.Table) -> str:
        """One part: the order, a group of rows, what a minute buys, or the other side."""
        if name == GLANCE:
            glance = replace(table, rows=tuple(table.row(key) for key in GLANCE_ROWS))
            rows = side_by_side(glance, self.system, self.reasons.value, caption="At a glance")
            return self._predicted(table) + rows + self._stopped(table)
        if name == ORDER:
            return self._ordered(table)
        if name in decision.GROUPS:
            return side_by_side(table, self.system, self.reasons.value, name)
        return self._minutes_worth(table) if name == MINUTES else self._other_side(table)

    def _picture(self, table: decision.Table) -> str:
        """The machine in every set-up on its scales; what is not opened yet stands there unread."""
        case = SetupsCase(table.case, self.system)
        drawn = setups_still(case, large=self.large, hidden=self.hidden)
        return f'<div class="lv-pic">{as_text(drawn)}</div>'.replace("st@", self.key)

    def _promise(self, table: decision.Table) -> str:
        """What to predict, while the other set-ups are kept back."""
        on, off = table.setups[0], next(one for one in table.setups if one.key == "loader_off")
        return (
            '<p class="lv-say">With everything on, mowing, the front axle carries '
            f"<b>{show(on.front.value, 'weight', self.system)}</b> and "
            f"the rear <b>{show(on.rear.value, 'weight', self.system)}</b>. "
            "Predict what each scale does when bucket and loader come off, then lock it in. "
            "You said that takes "
            f"{show_number(off.minutes, 0)} minutes.</p>"
        )

    def _predicted(self, table: decision.Table) -> str:
        """The predictions beside what statics gives."""
        predicted = self.predictions
        if not predicted:
            return ""
        on, off = table.setups[0], next(one for one in table.setups if one.key == "loader_off")
        kilos = {
            axle: (predicted[axle], (getattr(off, axle) - getattr(on, axle)).value)
            for axle in ("front", "rear")
        }
        rows = [
            [
                f"{axle.capitalize()} scale, loader off",
                *(show(kg, "weight", self.system, sign=True) for kg in pair),
            ]
            for axle, pair in kilos.items()
        ]
        return html_table(["", "you said", "statics gives"], rows)

    def _ordered(self, table: decision.Table) -> str:
        """The set-ups in the order of what matters, or why they cannot be ordered."""
        names = " and then ".join(
            table.row(key).name(self.system)[0].lower() + table.row(key).name(self.system)[1:]
            for key in self.matters
        )
        try:
            lines = decision.order(table, *self.matters).sentences(self.system)
        except Refusal as refusal:
            return f"<p>{escape(str(refusal))}</p>"
        items = "".join(f"<li>{escape(line)}</li>" for line in lines)
        return (
            f'<p class="lv-say"><b>In the order of what matters to you</b>: {escape(names)}.</p>'
            f'<ul style="list-style:none;padding-left:0">{items}</ul>'
            "<p>This is an order, not advice. It knows what you told it, and nothing else.</p>"
        )

    def _minutes_worth(self, table: decision.Table) -> str:
        """What each piece of work buys, and which buys most per minute."""
        lines = "".join(
            f"<li>{escape(step.sentence(self.system))}</li>" for step in decision.steps(table)
        )
        best = decision.most_per_minute(table)
        said = (
            "<p>Most off the front axle for each minute of work: "
            f"<b>{escape(best.after.name.lower())}</b>. "
            f"{escape(decision.why_most(table, self.system))}</p>"
            if best
            else ""
        )
        return f"<p><b>What a minute of work buys</b></p><ul>{lines}</ul>{said}"

    def _other_side(self, table: decision.Table) -> str:
        """Counter-arguments and what the manuals must decide."""
        against = "".join(
            f"<li><b>{escape(one.title)}.</b> {escape(one.said)}</li>"
            for one in decision.counters(table, self.system)
        )
        asked = "".join(
            f"<li>{escape(q.asked)}: {escape(q.answer) if q.answer else '<b>look it up</b>'}</li>"
            for q in decision.manual_questions(table.case, self.system)
        )
        left = "".join(f"<li>{escape(line)}</li>" for line in decision.LEFT_OUT)
        return (
            f"<p><b>The other side</b></p><ul>{against}</ul><p><b>The manuals decide</b></p>"
            f"<ul>{asked}</ul><p><b>Left out of every row</b></p><ul>{left}</ul>"
        )


def side_by_side(
    table: decision.Table,
    system: str | None = None,
    why: bool = True,
    group: str | None = None,
    caption: str = "All rows",
) -> str:
    """The rows of a group, or all, for every set-up as a table; why True puts reason, confidence
    and what is left out under each.
    """
    head = "".join(f'<th scope="col">{escape(one.name)}</th>' for one in table.setups)
    rows = "".join(
        _lines(row, table.setups, system, why)
        for row in table.rows
        if group in (None, row.meaning.group)
    )
    return (
        f'<table class="lv-table lv-decide"><caption>{escape(group or caption)}</caption>'
        f"<tr><td></td>{head}</tr>{rows}</table>"
    )


def _lines(row: Row, setups: tuple[Setup, ...], system: str | None, why: bool) -> str:
    """One row, and under it what it means."""
    cells = "".join(
        f'<td data-setup="{escape(one.name)}">{escape(cell)}</td>'
        for one, cell in zip(setups, row.cells(system))
    )
    under = (
        f'<tr class="lv-why"><td colspan="{len(row.values) + 1}"><small>{_under(row.meaning)}'
        "</small></td></tr>"
        if why
        else ""
    )
    return f'<tr><th scope="row">{escape(row.name(system))}</th>{cells}</tr>{under}'


def _under(meaning: RowMeaning) -> str:
    return (
        f"{escape(meaning.reason)} <b>How sure:</b> {escape(meaning.confidence)}. "
        f"<b>Left out:</b> {escape(meaning.leaves_out)}."
    )


def mow_or_unhook(
    case: decision.Case | None = None, *, record: str | Path = FOLDER, gated: bool = True
) -> MowOrUnhook:
    """The decision panel; gated False shows every set-up from the start.

    In code: panel.set(bucket="110 kg", slope="6 deg"), panel.mowers.value = "rear",
    panel.sources.value = "record",
    panel.first.value = "total", panel.case, panel.table, panel.gate.lock_in(front="down 420 kg",
    rear="up 100 kg"), panel.gate.reveal().
    case        the machine shown first, instead of the invented one; a machine typed or weighed
                borrows nothing from it
    """
    return MowOrUnhook(case, record=record, gated=gated)
