"""What the homework page says: what to do without a slip, how far each problem is, where the answers lie."""

from base64 import b64encode
from hashlib import sha1
from html import escape

from leverarm.marking import shown_code
from leverarm.panels.base import IN_BROWSER

PRACTICE = "<p>This is practice. Its answers go away when you close the notebook.</p>"


def entry_words(slips, assignments):
    """What to do where there is no slip yet."""
    if slips:
        return (
            "<p>Choose your slip. Or type another one.</p>"
            if assignments
            else "<p>Choose your slip.</p>"
        )
    if assignments:
        return "<p>Type the code and the number key from your slip. You do this once.</p>"
    return (
        "<p>No slip and no assignment lies beside this notebook yet. Put the file from your "
        "instructor here: its name ends in <b>.assignment.txt</b> or <b>.slip.txt</b>. Then look "
        "again.</p>"
    )


def item_words(at, title, standing):
    state = (
        "right"
        if standing.right
        else "no try left"
        if not standing.open
        else f"{standing.tries} {'try' if standing.tries == 1 else 'tries'} so far"
        if standing.tries
        else "to do"
    )
    return f"{at}. {title}: {state}"


def head(work, standing):
    """Whose slip, how far, until when."""
    right = sum(one.right for one in standing.values())
    due = f" Due {escape(work.slip.assignment.due)}." if work.slip.assignment.due else ""
    return (
        f"<p><b>{escape(work.slip.assignment.name)}</b>, code {shown_code(work.slip.code)}. "
        f"{right} of {len(standing)} right.{due}</p>"
    )


def kept(work, fresh=False):
    """Where the answers are, and a copy to take along; fresh says that some were given in this visit.

    In a tab the copy is the only thing that lasts. The page reads the stamp, and asks before
    it closes on answers whose stamp no download had.
    """
    if not work.path.is_file():
        return "<p>Your first check starts your answer file" + (
            ".</p>" if IN_BROWSER else ", beside this notebook.</p>"
        )
    data, name = work.path.read_bytes(), escape(work.path.name)
    link = (
        f'<a style="text-decoration:underline" download="{name}" '
        f'href="data:text/plain;base64,{b64encode(data).decode()}">Save a copy</a>'
    )
    if not IN_BROWSER:
        return (
            f"<p>Every check is kept in <b>{name}</b>, beside this notebook. That is the file "
            f"to hand in. {link}</p>"
        )
    stamp = sha1(data).hexdigest()[:12] if fresh else ""
    return (
        f'<p class="lv-answers" data-file="{name}" data-stamp="{stamp}"><b>Your answers are in '
        "this tab only, until you save a "
        f"copy.</b> Save it again after your last answer. <b>{name}</b> is the file to hand in. "
        f"{link}</p>"
    )
