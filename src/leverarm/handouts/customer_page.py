"""The page to hand over: what came off the front axle of one machine on one day.

    customer_page(day, "page.html", system="lb", dealer="...", customer="...")

One self-contained HTML file: no script, nothing loaded, every typed word escaped, one printed
page of Letter or A4.  Its numbers work out as printed (page_numbers); words that a dealer would
change stand in data/customer_page.toml.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date as Date
from decimal import Decimal
from functools import cache
from html import escape
from importlib import resources
from pathlib import Path

from leverarm.files import write_whole
from leverarm.handouts.logo import logo_uri
from leverarm.handouts.page_facts import BALLAST, PageFacts
from leverarm.handouts.page_manual import BLANK_PAGE, manual_lines, stop_line
from leverarm.handouts.page_numbers import PageNumbers, page_numbers, spoken
from leverarm.handouts.page_picture import pictures
from leverarm.handouts.page_plus_minus import how_sure
from leverarm.handouts.page_words import page_words
from leverarm.quantities import Refusal, known_system, read, to_unit, unit_of
from leverarm.uncertainty import Measured, from_half_width
from leverarm.weighing.day import WeighDay
from leverarm.weighing.facts import one_line
from leverarm.weighing.results import results
from leverarm.weighing.scales import read_measured

# What may be told for the page, with the letters that fit: what is not told is a line to write on.
ABOUT = {
    "dealer": 50,
    "address": 70,
    "customer": 40,
    "model": 40,
    "serial": 40,
    "hours": 20,
    "mower": 40,
    "fuel": 40,
    "ballast": 40,
    "weighed_by": 40,
}
# What would make invented numbers look like somebody's.
OWN = ("dealer", "address", "logo", "customer", "model", "serial", "hours", "weighed_by")
MANY_LETTERS = 180
LENGTH_PLACES = {"in": 1, "m": 2}
STAMP = "EXAMPLE: invented numbers, no real machine"


def customer_page(
    day: WeighDay,
    path: str | Path,
    *,
    piece: str = "bucket",
    weight: str | float | None = None,
    weight_error: str | float | None = None,
    ahead: str | float | None = None,
    ahead_error: str | float | None = None,
    system: str | None = None,
    logo: str | Path | None = None,
    **about: str,
) -> Path:
    """Write the page of a weigh day as one HTML file, whole or not at all; returns its path.

    path        ends in .html; the folder must be there
    piece       what came off between the two weighings
    weight, ahead   of the piece, told where only the front axle was read; one of them is enough.
                    weight_error, ahead_error   how far off it may be; without it, what was told
                    carries no ±, and the page says that it was not weighed
    The rest    as for :func:`page_html`
    """
    path = Path(path)
    if path.suffix.lower() != ".html":
        raise Refusal("page", path.name, "a name that ends in .html", "choose such a name")
    found = results(
        day,
        piece,
        weight=_with_error(weight, weight_error, "weight", f"weight of the {piece}"),
        ahead=_with_error(ahead, ahead_error, "length", f"overhang of the {piece}"),
    )
    facts = PageFacts.from_results(found)
    write_whole(path, page_html(facts, system=system, logo=logo, **about).encode())
    return path


def _with_error(
    told: str | float | None, error: str | float | None, kind: str, what: str
) -> Measured | None:
    """What was told with the limit of its error; without one, no ± is known."""
    if told is None:
        if error is not None:
            raise Refusal(what, f"a ± of {error} alone", "the number too", "tell both, or none")
        return None
    number = read_measured(
        told, kind, f"{what}, told", low=0 if kind == "weight" else -20, high=20000
    )
    if error is None:
        return number
    limit = read(error, kind, f"± of the {what}", 0, abs(number.value), open_low=True)
    source = from_half_width(f"{what}, told", limit, cause="stated")
    return Measured(number.value, {source: 1.0})


def page_html(
    facts: PageFacts, *, system: str | None = None, logo: str | Path | None = None, **about: str
) -> str:
    """The page as text; the same facts and words give the same text.

    system      "lb" for pounds and inches, "kg" for kilograms and meters; the one chosen, if none
                is named
    logo        a PNG or JPEG file, which is put into the page
    about       dealer=, address=, customer=, model=, serial=, hours=, mower=, fuel=, ballast=,
                weighed_by=; what is not told stays a line to write on.  Invented numbers take
                none that would name a dealer or an owner
    """
    system = known_system(system)
    return _Page(facts, system, _lines_about(facts, logo, about), logo_uri(logo)).html


def _lines_about(
    facts: PageFacts, logo: str | Path | None, about: dict[str, str]
) -> dict[str, str]:
    """What stands on the page's lines: what was told for it, else what the machine's file says."""
    unknown = next((name for name in about if name not in ABOUT), None)
    if unknown:
        raise Refusal("page", unknown, ", ".join(ABOUT), "use one of these names")
    lines = {
        name: one_line(about.get(name, ""), name.replace("_", " "), most)
        for name, most in ABOUT.items()
    }
    if facts.invented:
        named = [name for name in OWN if lines.get(name) or (name == "logo" and logo)]
        if named:
            raise Refusal(
                named[0].replace("_", " "),
                lines.get(named[0]) or "a file",
                "nothing on a page of invented numbers",
                "weigh the machine first",
            )
    machine = facts.machine
    known = {
        "model": machine.model,
        "serial": machine.serial,
        "hours": machine.hours,
        "mower": machine.mower,
        "ballast": "on, both times" if facts.with_ballast else "",
    }
    return {name: lines[name] or known.get(name, "") for name in ABOUT}


class _Page:
    """One page: its facts, its numbers as printed, and what was told for it."""

    def __init__(self, facts: PageFacts, system: str, about: dict[str, str], logo: str) -> None:
        self.facts, self.system, self.about, self.logo = facts, system, about, logo
        self.unit, self.length = unit_of("weight", system), unit_of("length", system)
        self.numbers: PageNumbers = self._numbers()
        self.piece = escape(facts.name)
        self.s = "" if facts.several else "s"
        self.they, self.it, self.its = (
            ("they", "them", "their") if facts.several else ("it", "it", "its")
        )
        self.of_it = f"{self.piece}’" if self.piece.endswith("s") else f"{self.piece}’s"

    def _numbers(self) -> PageNumbers:
        facts = self.facts

        def weight(kg: float) -> float:
            return to_unit(kg, "weight", self.unit)

        rear = facts.rear_on_kg, facts.rear_off_kg
        return page_numbers(
            (weight(facts.front_on_kg), weight(facts.front_off_kg)),
            None if rear[0] is None or rear[1] is None else (weight(rear[0]), weight(rear[1])),
            None if facts.weight_kg is None else weight(facts.weight_kg),
            to_unit(facts.machine.wheelbase_m, "length", self.length),
            LENGTH_PLACES[self.length],
        )

    @property
    def html(self) -> str:
        """The whole file as text."""
        facts = self.facts
        title = f"What came off the front axle: {facts.machine.name}, {_long_date(facts.date)}"
        on, off = pictures(facts, self.numbers, (self.unit, self.length))
        parts = (
            f'<p class="example">{STAMP}</p>' if facts.invented else "",
            self._letterhead(),
            self._headline(),
            f'<div class="pair">{on}{off}</div>',
            f'<div class="two">{self._why()}{self._shares()}</div>',
            stop_line(self.facts, self.numbers, self.unit),
            how_sure(facts, self.numbers, self.system),
            f'<div class="three">{"".join(_columns(facts))}</div>',
            self._record(),
            f'<p class="foot">{self._holds_for()}</p>',
            _STAMP_ACROSS if facts.invented else "",
        )
        return (
            '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
            '<meta name="viewport" content="width=device-width,initial-scale=1">'
            f"<title>{escape(title)}</title><style>{_style()}</style></head>"
            f"<body><main{self._full()}>{''.join(parts)}</main></body></html>\n"
        )

    def _full(self) -> str:
        """Smaller on paper, where more must stand on the one sheet than usual."""
        letters = sum(map(len, (*self.about.values(), *self.facts.notes, *self.facts.also_on)))
        long = letters > MANY_LETTERS
        stopped = stop_line(self.facts, self.numbers, self.unit)
        full = stopped or self.facts.machine.ratings_kg or self.facts.with_ballast or long
        return f' class="full{" fuller" if long and stopped else ""}"' if full else ""

    def _letterhead(self) -> str:
        dealer, address = (escape(self.about[name]) for name in ("dealer", "address"))
        alt = f"Logo of {dealer or 'the dealer'}"
        logo = f'<img src="{self.logo}" alt="{alt}">' if self.logo else ""
        name = f"<b>{dealer}</b>" if dealer else _blank("Dealer")
        return (
            f'<header>{logo}<div class="dealer">{name}<br>{address or _blank("Address")}</div>'
            f'<div class="day">Weighed<br><b>{_long_date(self.facts.date)}</b></div></header>'
        )

    def _headline(self) -> str:
        """What came off, and times what; then which machine."""
        n, facts = self.numbers, self.facts
        came_off = f"{n.headline(n.came_off)}\u00a0{self.unit}"
        words = f"Taking the {self.piece} off took <b>{came_off} off the front axle</b>"
        if n.factor is not None:
            words += f": <b>{n.times}\u00a0times</b> what the {self.piece} weigh{self.s}"
        machine = [escape(facts.machine.name)]
        if self.about["customer"]:
            machine.append(escape(self.about["customer"]))
        mower = self.about["mower"]
        mower = f"Mower: {escape(mower)}." if mower else "Mower not told."
        others = [piece for piece in facts.also_on if BALLAST not in piece.casefold()]
        also = f" On both times: {escape(_listed(others))}." if others else ""
        return f'<h1>{words}.</h1><p class="machine">{", ".join(machine)}. {mower}{also}</p>'

    def _why(self) -> str:
        gain = self.numbers.rear_gain
        size = "more than" if gain is None or gain > 0 else "just" if gain == 0 else "less than"
        title = "What is not known" if gain is None else f"Why {size} {self.its} own weight"
        return f"<section><h2>{title}</h2><p>{self._reason()}</p>{self._working()}</section>"

    def _reason(self) -> str:
        n, piece = self.numbers, self.piece
        if n.weight is None or n.rear_gain is None:
            return (
                f"What hangs ahead of the front axle also takes load off the rear. "
                f"How much came from the rear, and how many times {self.its} weight came off the "
                f"front, takes one more number: what the {piece} weigh{self.s}, or the rear scale."
            )
        weight, gain = (f"{spoken(abs(x))}\u00a0{self.unit}" for x in (n.weight, n.rear_gain))
        if n.rear_gain == 0:
            return (
                f"The {piece} hang{self.s} over the front axle, so the front carries all of "
                f"{self.it} and the rear none. Without {self.it}, the front loses the "
                f"{self.of_it} {weight}."
            )
        if n.rear_gain < 0:
            return (
                f"The {piece} sit{self.s} between the axles, so each axle carries part of "
                f"{self.it}. Without {self.it}, the rear loses {gain} of the {self.of_it} "
                f"{weight}, and the front the rest."
            )
        worked = " The rear was not read: its number is worked out." if n.rear is None else ""
        return (
            f"The {piece} hang{self.s} ahead of the front axle, so {self.they} also "
            f"take{self.s} load off the rear. "
            f"Without {self.it}, the front loses the {self.of_it} {weight} and gives {gain} back "
            f"to the rear.{worked}"
        )

    def _working(self) -> str:
        """Three lines anyone can check with a pencil; nothing where the weight is not known."""
        n, unit, length = self.numbers, self.unit, self.length
        if n.weight is None or n.factor is None or n.overhang is None or n.rear_gain is None:
            return ""
        sign, side = ("−", "−") if n.rear_gain < 0 else ("+", "+" if n.overhang >= 0 else "−")
        lines = (
            f"{spoken(n.weight)} {unit} {sign} {spoken(abs(n.rear_gain))} {unit} = "
            f"<b>{spoken(n.came_off)} {unit}</b>",
            f"{spoken(n.weight)} {unit} × {spoken(n.factor)} = "
            f"<b>{n.headline(n.came_off)} {unit}</b>",
            f"{spoken(n.factor)} = 1 {side} {spoken(abs(n.overhang))} {length} ÷ "
            f"{spoken(n.wheelbase)} {length}",
        )
        shown = "<br>".join(f'<span class="nb">{line}</span>' for line in lines)
        return f'<div class="work">{shown}</div>'

    def _shares(self) -> str:
        n = self.numbers
        name, on, off = _PLURALS[self.unit], f"{self.piece} on", "off"
        front = (spoken(n.front[0]), spoken(n.front[1]))
        if n.rear is None or n.shares is None or n.total is None:
            title, heads = "What the scales showed", [name, on, off, "change"]
            rows: list[tuple[str, ...]] = [
                ("front", *front, _change(-n.came_off)),
                ("rear", "not read", "not read", ""),
            ]
        else:
            title, heads = "Share on each axle", [name, on, "share", off, "share", "change"]
            rows = [
                (axle, spoken(a), f"{x} %", spoken(b), f"{y} %", _change(b - a))
                for axle, (a, b), x, y in zip(("front", "rear"), (n.front, n.rear), *n.shares)
            ]
            was, now = n.total
            rows.append(("together", spoken(was), "", spoken(now), "", _change(now - was)))
        head = "".join(f'<th scope="col">{one}</th>' for one in heads)
        body = "".join(
            f'<tr><th scope="row">{axle}</th>{"".join(f"<td>{one}</td>" for one in cells)}</tr>'
            for axle, *cells in rows
        )
        return (
            f"<section><h2>{title}</h2><table><thead><tr>{head}</tr></thead>"
            f"<tbody>{body}</tbody></table>{manual_lines(self.facts, self.unit)}</section>"
        )

    def _record(self) -> str:
        lines = {name: escape(self.about[name]) for name in _RECORD}
        lines["mower"] = lines["mower"] or "not told"
        cells = "".join(
            f"<div><dt>{label}</dt><dd>{lines[name]}</dd></div>" for name, label in _RECORD.items()
        )
        return f"<dl>{cells}</dl>"

    def _holds_for(self) -> str:
        same = _UNCHANGED[self.facts.unchanged]
        notes = " ".join(escape(note) for note in self.facts.notes)
        low = ", bucket empty and low" if self.facts.has("bucket") else ""
        return (
            f"This machine, this day, standing still on level ground{low}. {same} {notes}".rstrip()
        )


_PLURALS = {"lb": "pounds", "kg": "kilograms"}
_UNCHANGED = {
    True: "Fuel, operator and mower were the same both times.",
    False: (
        "Fuel, operator or mower changed between the weighings. "
        "Part of the change may come from that."
    ),
    None: "What was not told may have changed between the weighings.",
}
_RECORD = {
    "customer": "Customer",
    "model": "Model",
    "serial": "Serial",
    "hours": "Hours",
    "mower": "Mower",
    "fuel": "Fuel",
    "ballast": "Rear ballast",
    "weighed_by": "Weighed by",
}
_STAMP_ACROSS = (
    '<div class="stamp" aria-hidden="true"><svg viewBox="0 0 700 440"><text x="350" y="262" '
    'text-anchor="middle" transform="rotate(-28 350 220)">EXAMPLE</text></svg></div>'
)


def _blank(label: str) -> str:
    return f'<small>{label}</small> <span class="blank">&nbsp;</span>'


def _listed(names: Iterable[str]) -> str:
    """Names as a sentence lists them: "loader frame and ballast"."""
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last


def _change(number: Decimal) -> str:
    return f"<b>{spoken(number, sign=True)}</b>"


def _columns(facts: PageFacts) -> Iterable[str]:
    """What it does not mean, what to check, who decides: the words a dealer may change."""
    words = page_words()
    for column, kind in ((words.does_not_mean, ""), (words.before_mowing, ' class="boxes"')):
        lines = "".join(
            f"<li>{escape(item.text)}</li>" for item in column.items if item.fits(facts)
        )
        yield f"<section><h2>{escape(column.title)}</h2><ul{kind}>{lines}</ul></section>"
    who = words.who_decides
    said = "".join(f"<p>{escape(item.text)}</p>" for item in who.items if item.fits(facts))
    pages = " ".join(
        f'<span class="of">{escape(name)} p. {BLANK_PAGE}</span>' for name in words.look_up
    )
    yield (
        f"<section><h2>{escape(who.title)}</h2>{said}<p>{pages}</p>"
        f"<p>{escape(words.ask)}</p></section>"
    )


@cache
def _style() -> str:
    return resources.files("leverarm.handouts").joinpath("customer_page.css").read_text("utf-8")


def _long_date(day: str) -> str:
    """The day as a letter says it.

    >>> _long_date("2026-10-14")
    'October 14, 2026'
    """
    date = Date.fromisoformat(day)
    return f"{_MONTHS[date.month - 1]} {date.day}, {date.year}"


_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
