"""Pictures of lesson 10, of the invented machine: as it stands, and every state side by side."""

from leverarm.decision import decide, demo_case
from leverarm.scene.side_view import side_view
from leverarm.scene.states_chart import states_chart


def state_rows(table):
    """(name, front kg, rear kg) of every state, for states_chart."""
    return [(one.name, one.front.value, one.rear.value) for one in table.states]


def ready_to_mow():
    """Everything on, with the mid-mounted deck, on two scales."""
    on = decide(demo_case()).states[0]
    return side_view(on.case.tractor, on.attachments(), on.level())


def side_by_side(hidden=False):
    """Front and rear load of the four states; hidden keeps all but the first back."""
    rows = state_rows(decide(demo_case()))
    return states_chart(rows, hidden={name for name, *_ in rows[1:]} if hidden else ())
