"""What the homework page says: what to do without a slip, how far each problem is, where the answers lie."""

from base64 import b64encode
from html import escape

from leverarm.marking import shown_code

PRACTICE = "<p>This is practice. Its answers go away when you close the notebook.</p>"


def entry_words(slips, assignments):
    """What to do where there is no slip yet."""
    if slips:
        return "<p>Choose your slip. Or type another one.</p>" if assignments else "<p>Choose your slip.</p>"
    if assignments:
        return "<p>Type the code and the number key from your slip. You do this once.</p>"
    return ("<p>No slip and no assignment lies beside this notebook yet. Put the file from your instructor here: its name ends in "
            "<b>.assignment.txt</b> or <b>.slip.txt</b>. Then look again.</p>")


def item_words(at, title, standing):
    state = ("right" if standing.right else "no try left" if not standing.open else
             f"{standing.tries} {'try' if standing.tries == 1 else 'tries'} so far" if standing.tries else "to do")
    return f"{at}. {title}: {state}"


def head(work, standing):
    """Whose slip, how far, until when."""
    right = sum(one.right for one in standing.values())
    due = f" Due {escape(work.slip.assignment.due)}." if work.slip.assignment.due else ""
    return (f"<p><b>{escape(work.slip.assignment.name)}</b>, code {shown_code(work.slip.code)}. "
            f"{right} of {len(standing)} right.{due}</p>")


def kept(work):
    """Where the answers are, and a copy to take along where files are hard to get at."""
    if not work.path.is_file():
        return "<p>Your first check starts your answer file, beside this notebook.</p>"
    copy = b64encode(work.path.read_bytes()).decode()
    return (f"<p>Every check is kept in <b>{escape(work.path.name)}</b>, beside this notebook. That is the file to hand in. "
            f'<a style="text-decoration:underline" download="{escape(work.path.name)}" href="data:text/plain;base64,{copy}">Save a copy</a></p>')
