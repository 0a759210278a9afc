"""Cells of a table that spreadsheets open, edit and save: text defused, numbers read as they are written there."""

import csv
import io
import re
from dataclasses import dataclass
from datetime import date

from leverarm.numerals import number_readings, plain

# What a spreadsheet takes for the start of a formula, full-width twins included.
_STARTS = "=+\\-@\t\r＝＋－＠"
_FORMULA = re.compile(f"'*[{_STARTS}]")
_QUOTED_FORMULA = re.compile(f"'+[{_STARTS}]")


def defused(text):
    """Text that no spreadsheet will run: an apostrophe before what looks like a formula.  Numbers stay.

    >>> defused("=1+1"), defused("-82.7"), defused("new bucket")
    ("'=1+1", '-82.7', 'new bucket')
    """
    return "'" + text if _FORMULA.match(text) and not number_readings(text) else text


def as_it_was(text):
    """The text before :func:`defused`; exactly, for every text.

    >>> as_it_was("'=1+1"), as_it_was("'tis level")
    ('=1+1', "'tis level")
    """
    return text[1:] if _QUOTED_FORMULA.match(text) and not number_readings(text[1:]) else text


@dataclass(frozen=True)
class Format:
    """How a file writes its cells: what stands between them, the decimal mark, the encoding, the line end."""

    delimiter: str = ","
    decimal: str = "."
    encoding: str = "utf-8-sig"
    newline: str = "\r\n"

    def line(self, cells):
        """One row as text, quoted where it must be."""
        out = io.StringIO()
        csv.writer(out, delimiter=self.delimiter, lineterminator=self.newline).writerow(cells)
        return out.getvalue()

    def number(self, value):
        """A number with every digit it has, in this file's decimal mark; an empty cell for None."""
        text = "" if value is None else repr(float(value)).removesuffix(".0")
        return text.replace(".", self.decimal)


def decoded(data):
    """(text, encoding) of a file's bytes: UTF-8 with or without its mark, UTF-16 with one, else Windows-1252."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16", "replace"), "utf-16-le" if data[:1] == b"\xff" else "utf-16-be"
    try:
        return data.decode("utf-8-sig"), "utf-8"
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace"), "cp1252"


def format_of(text, encoding):
    """The Format a file is in, found from its header and its numbers."""
    header = text.partition("\n")[0]
    delimiter = max(",;\t", key=header.count)
    # Semicolons stand between cells where the comma is a decimal mark; elsewhere the numbers must show it.
    comma = delimiter == ";" or (
        re.search(r'(^|[",\t])-?\d+,\d{1,2}(["\t\r\n]|$)', text) is not None
        if delimiter != ","
        else re.search(r'"-?\d+,\d{1,2}"', text) is not None
    )
    return Format(delimiter, "," if comma else ".", encoding, "\r\n" if "\r\n" in text else "\n")


def number_cell(text, form):
    """The number in a cell, or None where it is no number or could be two.

    In a file with decimal commas 1.234 may be grouped or not, so it is left to the reader.

    >>> number_cell("602,5", Format(";", ",")), number_cell("1,234", Format()), number_cell("1.234", Format(";", ","))
    (602.5, 1234.0, None)
    """
    text = plain(text)
    readings = number_readings(text)
    if form.decimal == "," and re.fullmatch(r"[+-]?\d{1,3}\.\d{3}", text):
        return None
    return (readings[-1] if form.decimal == "," else readings[0]) if readings else None


def date_cell(text):
    """A date as ISO text, or None: 2025-05-14, 14.05.2025, or a form with slashes that has one meaning only.

    >>> date_cell("14.5.2025"), date_cell("5/14/2025"), date_cell("5/4/2025")
    ('2025-05-14', '2025-05-14', None)
    """
    text = plain(text)
    parts = [int(part) for part in re.findall(r"\d+", text)[:3]]
    if re.fullmatch(r"\d{4}[-/.]\d{1,2}[-/.]\d{1,2}", text):
        orders = [parts]
    elif re.fullmatch(r"\d{1,2}\.\d{1,2}\.\d{4}", text):
        orders = [parts[::-1]]
    elif re.fullmatch(r"\d{1,2}[/-]\d{1,2}[/-]\d{4}", text):
        orders = [[parts[2], parts[1], parts[0]], [parts[2], parts[0], parts[1]]]
    else:
        return None
    found = {day for day in map(_real, orders) if day}
    return found.pop() if len(found) == 1 else None


def _real(parts):
    try:
        return date(*parts).isoformat()
    except ValueError:
        return None
