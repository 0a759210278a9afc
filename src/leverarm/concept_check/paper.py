"""The check on paper, each page one file of HTML: form A, form B, the slips, and the key apart."""

from collections.abc import Iterable
from html import escape

from leverarm.concept_check.pictures import PAPER_SHEET, drawing
from leverarm.concept_check.questions import FORMS, CheckQuestion, check_words, form
from leverarm.concept_check.sheet import WHEN, CheckSlip
from leverarm.marking.codes import shown_code
from leverarm.marking.pages import cells_table, whole_page
from leverarm.scene import page_style, svg

_PRINT = """
.item p{margin:.2rem 0}.item svg{width:100%;max-width:310px;height:auto;display:block}
ol.letters{list-style:none;padding:0;margin:.2rem 0}
.letters li{padding-left:2.6em;text-indent:-2.6em}
.item.two{display:grid;grid-template-columns:1fr 310px;gap:0 1rem;align-items:center}
.item.two>:is(h2,p){grid-column:1/-1}
@media(max-width:40rem){.item.two{display:block}}
@media print{.item h2{font-size:1rem;margin:.3rem 0 0}body{font-size:10pt;line-height:1.35}}
.slips{display:grid;grid-template-columns:repeat(auto-fill,minmax(17rem,1fr));gap:0}
.slips div{border:1px dashed;padding:.8rem;break-inside:avoid}
"""
_ROUNDS = "before the lessons or after them (ring one)"


def form_page(name: str, system: str | None = None) -> str:
    """A form to print: a head to fill in, the rules, the questions; nothing tells a key."""
    words = check_words()
    items = "".join(_item(question) for question in form(name, system))
    return whole_page(
        f"{words.title}, form {name}",
        f"<style>{page_style()}{_PRINT}</style>",
        f"<h1>{escape(words.title)}: form {name}</h1>",
        '<p>Code <span class="line"></span> Date <span class="line"></span></p>',
        f"<p>This sheet is {_ROUNDS}.</p><p><i>{escape(words.rules)}</i></p>",
        items,
    )


def _item(question: CheckQuestion) -> str:
    options = "".join(
        f"<li>□ <b>{letter}</b> {escape(option.text)}</li>"
        for letter, option in zip(question.letters, question.options)
    )
    picture = svg(drawing(question), PAPER_SHEET, style=False)
    return (
        f'<div class="item two"><h2>{question.form}{question.number}</h2>'
        f'<p>{escape(question.text)}</p><ol class="letters">{options}</ol>{picture}</div>'
    )


def slips_page(slips: Iterable[CheckSlip], title: str) -> str:
    """Slips to cut: a code, the form, and the key to type in the notebook."""
    cards = "".join(
        f"<div><p>Concept check, {WHEN[one.round]}</p>"
        f"<p>Code <code>{shown_code(one.code)}</code><br>Form <b>{one.form}</b><br>"
        f"Number key <code>{escape(one.key)}</code></p></div>"
        for one in slips
    )
    return whole_page(
        title,
        f"<style>{_PRINT}</style>",
        f"<h1>{escape(title)}</h1>",
        "<p>Cut along the lines. In the notebook type code and number key; the key says which form "
        "it is. On paper write the code on that form.</p>",
        f'<div class="slips">{cards}</div>',
    )


def check_key_page(system: str | None = None) -> str:
    """Every right letter with its reason, and the thought behind each wrong one: for you alone."""
    words = check_words()
    parts = [
        f"<h1>{escape(words.title)}: key</h1>",
        "<p>For the instructor alone. Do not read it out before everybody has done the second "
        f"round.</p><p>{escape(words.unproved)}</p>",
    ]
    for name in FORMS:
        asked = form(name, system)
        rows = [
            (
                f"{name}{question.number} {letter}",
                escape(option.text),
                f"<b>{escape(option.slip or 'right')}</b>",
                escape(option.thought),
            )
            for question in asked
            for letter, option in zip(question.letters, question.options)
        ]
        letters = " ".join(f"{question.number}{question.key}" for question in asked)
        parts += [
            f"<h2>Form {name}: {letters}</h2>",
            cells_table(
                ("question", "answer", "what it catches", "the reason, or the thought"),
                rows,
                named=True,
            ),
        ]
    return whole_page(f"{words.title}: key", *parts)
