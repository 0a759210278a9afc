"""What the decision panel says: the states side by side, the order, a minute's worth, the other
side.
"""

from html import escape

from leverarm import decision
from leverarm.panels.base import picture_html
from leverarm.panels.base import table as numbers
from leverarm.quantities import Refusal, show, show_number
from leverarm.scene import Look, side_view
from leverarm.scene.load_charts import state_rows, states_chart


def state_view(panel, table):
    """The machine in the state chosen, on its scales, outlines of everything on behind it."""
    state = next((one for one in table.states if one.key == panel.shown), table.states[0])
    before = table.states[0].level()
    now = before if panel.hidden else state.level()
    look = Look(panel.system, hidden=panel.hidden)
    attached = state.attachments()
    return picture_html(
        side_view(
            table.case.tractor,
            attached,
            now,
            before=None if state is table.states[0] else before,
            look=look,
        ),
        panel,
        "m",
    )


def load_chart(table, system="kg"):
    """Front and rear load of every state, in pairs of bars with their words."""
    return states_chart(state_rows(table), system, title="What each axle carries while mowing")


def side_by_side(table, system="kg", why=True, group=None):
    """The rows of a group, or all, for every state as a table; why True puts reason, confidence and
    what is left out under each.
    """
    head = "".join(f'<th scope="col">{escape(one.name)}</th>' for one in table.states)
    rows = "".join(
        _lines(row, table.states, system, why)
        for row in table.rows
        if group in (None, row.meaning.group)
    )
    return (
        f'<table class="lv-table lv-decide"><caption>{escape(group or "All rows")}</caption>'
        f"<tr><td></td>{head}</tr>{rows}</table>"
    )


def _lines(row, states, system, why):
    """One row, and under it what it means."""
    cells = "".join(
        f'<td data-state="{escape(one.name)}">{escape(cell)}</td>'
        for one, cell in zip(states, row.cells(system))
    )
    under = (
        f'<tr class="lv-why"><td colspan="{len(row.values) + 1}"><small>{_under(row.meaning)}'
        "</small></td></tr>"
        if why
        else ""
    )
    return f'<tr><th scope="row">{escape(row.name(system))}</th>{cells}</tr>{under}'


def _under(meaning):
    return (
        f"{escape(meaning.reason)} <b>How sure:</b> {escape(meaning.confidence)}. "
        f"<b>Left out:</b> {escape(meaning.leaves_out)}."
    )


def ordered(panel, table):
    """The states in the order of what matters, or why they cannot be ordered."""
    names = " and then ".join(
        table.row(key).name(panel.system)[0].lower() + table.row(key).name(panel.system)[1:]
        for key in panel.matters
    )
    try:
        lines = decision.order(table, *panel.matters).sentences(panel.system)
    except Refusal as refusal:
        return f"<p>{escape(str(refusal))}</p>"
    items = "".join(f"<li>{escape(line)}</li>" for line in lines)
    return (
        f'<p class="lv-say"><b>In the order of what matters to you</b> ({escape(names)}):</p><ul '
        f'style="list-style:none;padding-left:0">{items}</ul>'
        "<p>This is an order, not advice. It knows what you told it, and nothing else.</p>"
    )


def minutes_worth(panel, table):
    """What each piece of work buys, and which buys most per minute."""
    lines = "".join(
        f"<li>{escape(step.sentence(panel.system))}</li>" for step in decision.steps(table)
    )
    best = decision.most_per_minute(table)
    said = (
        f"<p>Most off the front axle for each minute of work: <b>{escape(best.after.name.lower())}"
        "</b>.</p>"
        if best
        else ""
    )
    return f"<p><b>What a minute of work buys</b></p><ul>{lines}</ul>{said}"


def other_side(panel, table):
    """Counter-arguments and what the manuals must decide."""
    against = "".join(
        f"<li><b>{escape(one.title)}.</b> {escape(one.said)}</li>"
        for one in decision.counters(table, panel.system)
    )
    asked = "".join(
        f"<li>{escape(q.asked)}: {escape(q.answer) if q.answer else '<b>look it up</b>'}</li>"
        for q in decision.manual_questions(table.case, panel.system)
    )
    left = "".join(f"<li>{escape(line)}</li>" for line in decision.LEFT_OUT)
    return (
        f"<p><b>The other side</b></p><ul>{against}</ul><p><b>The manuals decide</b></p>"
        f"<ul>{asked}</ul><p><b>Left out of every row</b></p><ul>{left}</ul>"
    )


def promise(panel, table):
    """What to predict, while the other states are kept back."""
    on, off = table.states[0], next(one for one in table.states if one.key == "loader_off")
    return (
        '<p class="lv-say">With everything on, mowing, the front axle carries '
        f"<b>{show(on.front.value, 'weight', panel.system)}</b> and "
        f"the rear <b>{show(on.rear.value, 'weight', panel.system)}</b>. Predict what each scale "
        "does when bucket and loader come off, then lock it in. You said that takes "
        f"{show_number(off.minutes, 0)} minutes.</p>"
    )


def said_beside(panel, table):
    """The predictions beside what statics gives."""
    told = panel.predictions
    if not told:
        return ""
    on, off = table.states[0], next(one for one in table.states if one.key == "loader_off")
    kilos = {
        axle: (told[axle], (getattr(off, axle) - getattr(on, axle)).value)
        for axle in ("front", "rear")
    }
    rows = [
        [
            f"{axle.capitalize()} scale, loader off",
            *(show(kg, "weight", panel.system, sign=True) for kg in pair),
        ]
        for axle, pair in kilos.items()
    ]
    return numbers(["", "you said", "statics gives"], rows)


def cautions():
    """The cautions, always there."""
    return "<ul>" + "".join(f"<li>{escape(line)}</li>" for line in decision.CAUTIONS) + "</ul>"
