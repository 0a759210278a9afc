"""The page to hand over as one self-contained HTML file: no script, nothing loaded, every typed
word escaped.
"""

from html import escape

from leverarm.handouts.customer_page_words import CALL, PageWords
from leverarm.scene import page_style, picture

_STYLE = """
body{margin:0;background:var(--lv-paper);color:var(--lv-ink);
font:17px/1.4 Helvetica,Arial,'Liberation Sans',sans-serif}
main{max-width:46rem;margin:0 auto;padding:1rem}
h1{font-size:1.7rem;margin:.2rem 0}
h2{font-size:1.15rem;margin:1rem 0 .2rem}
dl{display:grid;
grid-template-columns:repeat(auto-fill,minmax(13rem,1fr));gap:.4rem 1rem;margin:.5rem 0}
dt{font-size:.85rem}
dd{margin:0;min-height:1.5em;
border-bottom:1px solid currentColor}
table{border-collapse:collapse;width:100%}
th,td{text-align:right;padding:.25rem .4rem;
border-bottom:1px solid currentColor;vertical-align:top}
th:first-child{text-align:left}
td small{display:block;font-size:1em}
.two{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,18rem),1fr));gap:0 1.5rem}
ul{padding-left:1.2rem;margin:.2rem 0}
.boxes{list-style:none;padding-left:0}
.boxes li::before{content:"☐ "}
.stop{border:2px solid currentColor;padding:.4rem .7rem;font-weight:700}
.blank{display:inline-block;min-width:4rem;
border-bottom:1px solid currentColor}
@media(max-width:30rem){th,td{padding:.2rem .15rem;font-size:.9rem}
}
@media print{body{font-size:11pt;line-height:1.18}
main{padding:0;max-width:none}
.two{grid-template-columns:1fr 1fr}
h1{font-size:17pt;margin:0}
h2{font-size:11.5pt;margin:.3rem 0 0}
.pictures{display:grid;grid-template-columns:1fr 1fr}
.lv-pic svg{max-height:2.1in}
.lv-pic .lv-narrow{display:none}
.lv-pic .lv-wide{display:block}
dl{grid-template-columns:repeat(3,1fr);gap:.05rem .8rem;margin:.1rem 0}
dt{font-size:9pt}
ul{margin:0}
p{margin:.1rem 0}
th,td{padding:.05rem .3rem}
td small{display:inline}
@page{margin:11mm}
}
"""


def page_html(words: PageWords) -> str:
    """The page as text."""
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width,initial-scale=1">'
        f"<title>{escape(words.title)}</title><style>{page_style()}{_STYLE}</style></head>"
        f'<body class="lv-panel"><main>{_body(words)}</main></body></html>\n'
    )


def _body(words):
    return "\n".join(
        (
            f"<h1>{escape(words.title)}</h1>",
            f"<p>{escape(words.note)}</p>" if words.note else "",
            "<dl>"
            + "".join(
                f"<div><dt>{escape(name)}</dt><dd>{escape(text)}</dd></div>"
                for name, text in words.blanks
            )
            + "</dl>",
            '<div class="pictures">',
            picture(words.sketch, key="sketch"),
            picture(words.bars, key="bars"),
            "</div>",
            _table(words),
            f'<p class="stop">STOP. {escape(" ".join((*words.stops, CALL)))}</p>'
            if words.stops
            else "",
            '<div class="two">',
            _list("What this means", words.means),
            _list("What it does not mean", words.not_meant),
            _list("Before you mow", words.checklist, "boxes"),
            _manual(words),
            "</div>",
            "<h2>How it was worked out</h2>",
            "<p>" + "<br>".join(map(escape, words.working)) + f"<br>{escape(words.assumed)}</p>",
        )
    )


def _table(words):
    head = "".join(
        f'<th scope="col">{escape(name)}</th>' if name else "<td></td>" for name in words.head
    )
    rows = "".join(
        f'<tr><th scope="row">{escape(name)}</th>'
        + "".join(f"<td>{escape(kg)} <small>{escape(lb)}</small></td>" for kg, lb in cells)
        + "</tr>"
        for name, *cells in words.rows
    )
    return f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"


def _list(title, lines, kind=""):
    items = "".join(f"<li>{escape(line)}</li>" for line in lines)
    return f'<section><h2>{escape(title)}</h2><ul class="{kind}">{items}</ul></section>'


def _manual(words):
    items = "".join(
        f'<li>{escape(line)}: page <span class="blank">&nbsp;</span></li>' for line in words.manual
    )
    return f"<section><h2>Your manual decides</h2><ul>{items}</ul></section>"
