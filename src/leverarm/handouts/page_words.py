"""The words of the page to hand over that a dealer may change, from data/customer_page.toml.

Checked when read: a missing, misspelled or too long text is refused with file and key.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from leverarm import data
from leverarm.handouts.page_facts import PageFacts

FILE = "customer_page"
# More would not leave the page one sheet that is read in a minute.
MOST_ITEMS, MOST_LETTERS, MOST_PAGES = 6, 110, 4


@dataclass(frozen=True)
class PageLine:
    """One line; piece and ballast say on which pages it stands."""

    text: str
    piece: str = ""
    ballast: bool = False

    def fits(self, facts: PageFacts) -> bool:
        """True where the line belongs on the page of these facts."""
        # A bucket that came off with its loader leaves no loader without an attachment.
        named = self.piece.casefold() in facts.name.casefold()
        return named and (facts.with_ballast or not self.ballast)


@dataclass(frozen=True)
class Column:
    """A heading with its lines."""

    title: str
    items: tuple[PageLine, ...]


@dataclass(frozen=True)
class PageWords:
    """The three columns, what to look up in the manual, and whom to ask."""

    does_not_mean: Column
    before_mowing: Column
    who_decides: Column
    look_up: tuple[str, ...]
    ask: str


@cache
def page_words() -> PageWords:
    """The words of the package's own file."""
    return read_words(data.toml_file(FILE))


def read_words(entry: data.Entry) -> PageWords:
    """Checked PageWords of a file."""
    not_meant, before = (_column(entry.part(key)) for key in ("does_not_mean", "before_mowing"))
    who = entry.part("who_decides")
    look_up = who.texts("look_up")
    if len(look_up) > MOST_PAGES:
        raise who.refusal("look_up", len(look_up), f"at most {MOST_PAGES}", "leave some out")
    ask = _short(who, "ask")
    last = _column(who)
    entry.done()
    return PageWords(not_meant, before, last, look_up, ask)


def _column(entry: data.Entry) -> Column:
    title = _short(entry, "title")
    rows = entry.rows("items", "text")
    if not 1 <= len(rows) <= MOST_ITEMS:
        raise entry.refusal("items", len(rows), f"1 to {MOST_ITEMS} items", "add or leave out some")
    items = []
    for row in rows:
        items.append(PageLine(_short(row, "text"), row.text("piece", ""), row.flag("ballast")))
        row.done()
    entry.done()
    return Column(title, tuple(items))


def _short(entry: data.Entry, key: str) -> str:
    text = entry.text(key)
    if not 1 <= len(text) <= MOST_LETTERS:
        raise entry.refusal(key, text, f"1 to {MOST_LETTERS} characters", "write it shorter")
    return text
