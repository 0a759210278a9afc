"""Tables as CSV text: records, rosters and mark sheets.

Reading finds out how a spreadsheet saved the file: encoding, separator, decimal mark.  Writing
puts an apostrophe before text that a spreadsheet would run as a formula, and reading takes it
away again.
"""

import codecs
import csv
import io
import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from leverarm.numerals import number_readings, plain
from leverarm.quantities import Refusal

# A list that a person keeps, such as a roster or a mark sheet.
MOST_LIST_BYTES, MOST_LIST_ROWS, MOST_LIST_COLUMNS = 1_000_000, 5_000, 40

_BYTE_ORDER_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
# What a spreadsheet takes for the start of a formula, full-width twins and the minus sign included.
_STARTS = r"=+\-@\t\r|%＝＋－＠−"
_FORMULA = re.compile(f"'*[{_STARTS}]")
_QUOTED_FORMULA = re.compile(f"'+[{_STARTS}]")


# Bytes to text -----------------------------------------------------------------------------


def decoded(data: bytes) -> tuple[str, str]:
    """(text, encoding) of a file's bytes, without its byte order mark.

    A byte order mark decides; without one, plain letters with a zero beside each of them betray
    UTF-16.  What is not UTF-8 is read as Windows-1252, which spreadsheets on Windows save.

    >>> decoded("\\ufeffcode;name".encode("utf-16")), decoded("Ren\\xe9".encode("cp1252"))
    (('code;name', 'utf-16-le'), ('René', 'cp1252'))
    """
    mark, encoding = next(
        ((mark, name) for mark, name in _BYTE_ORDER_MARKS if data.startswith(mark)),
        (b"", _utf_16_or_8(data)),
    )
    data = data[len(mark) :]
    try:
        return data.decode(encoding, "strict" if encoding == "utf-8" else "replace").lstrip(
            "\ufeff"
        ), encoding
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace"), "cp1252"


def _utf_16_or_8(data: bytes) -> str:
    """The encoding of bytes without a mark, judged by the zeros in the first two."""
    if data[1:2] == b"\0" != data[:1]:
        return "utf-16-le"
    return "utf-16-be" if data[:1] == b"\0" != data[1:2] else "utf-8"


def visible(text: str, most: int = 200) -> str:
    """Text of a stranger on one line, without what hides, turns the reading direction or breaks it.

    >>> visible("a\\u202eb\\nc\\0")
    'ab c'
    """
    text = text[: 4 * most]
    shown = " ".join((text if text.isprintable() else "".join(map(_shown, text))).split())
    return shown if len(shown) <= most else shown[: most - 3] + "..."


def _shown(c: str) -> str:
    """A character as it may be shown: a break as a space, what hides or turns as nothing."""
    kind = unicodedata.category(c)
    return " " if kind in ("Cc", "Zl", "Zp") else "" if kind in ("Cf", "Cs", "Co", "Cn") else c


# Cells -------------------------------------------------------------------------------------


def defused(text: str) -> str:
    """Text that no spreadsheet will run: an apostrophe before a formula.  Numbers stay.

    >>> defused("=1+1"), defused("-82.7"), defused("new bucket")
    ("'=1+1", '-82.7', 'new bucket')
    """
    return "'" + text if _FORMULA.match(text) and not number_readings(text) else text


def as_it_was(text: str) -> str:
    """The text before :func:`defused`; exactly, for every text.

    >>> as_it_was("'=1+1"), as_it_was("'tis level")
    ('=1+1', "'tis level")
    """
    return text[1:] if _QUOTED_FORMULA.match(text) and not number_readings(text[1:]) else text


@dataclass(frozen=True)
class Format:
    """How a file writes its cells: separator, decimal mark, encoding, line end."""

    delimiter: str = ","
    decimal: str = "."
    encoding: str = "utf-8-sig"
    newline: str = "\r\n"

    def line(self, cells: Iterable[object]) -> str:
        """One row as text, quoted where it must be."""
        out = io.StringIO()
        csv.writer(out, delimiter=self.delimiter, lineterminator=self.newline).writerow(cells)
        return out.getvalue()

    def number(self, value: float | None) -> str:
        """A number with every digit it has, in this file's decimal mark; an empty cell for None."""
        text = "" if value is None else repr(float(value)).removesuffix(".0")
        return text.replace(".", self.decimal)


def format_of(text: str, encoding: str) -> Format:
    """The Format a file is in, found from its header and its numbers."""
    delimiter = delimiter_of(text)
    # Semicolons separate cells where the comma is a decimal mark; elsewhere the numbers tell.
    comma = delimiter == ";" or (
        re.search(r'(^|["\t])-?\d+,\d{1,2}(["\t\r]|$)', text, re.MULTILINE) is not None
        if delimiter != ","
        else re.search(r'"-?\d+,\d{1,2}"', text) is not None
    )
    return Format(delimiter, "," if comma else ".", encoding, "\r\n" if "\r\n" in text else "\n")


def delimiter_of(text: str) -> str:
    """The separator: the one of comma, semicolon and tab that the first line has most of."""
    return max(",;\t", key=re.split(r"[\r\n]", text, maxsplit=1)[0].count)


def number_cell(text: str, form: Format) -> float | None:
    """The number in a cell, or None where it is no number or could be two.

    In a file with decimal commas 1.234 may be grouped or not, so it is left to the reader.

    >>> commas = Format(";", ",")
    >>> number_cell("602,5", commas), number_cell("1.234", commas), number_cell("1,234", Format())
    (602.5, None, 1234.0)
    """
    text = plain(text)
    readings = number_readings(text)
    if form.decimal == "," and re.fullmatch(r"[+-]?\d{1,3}\.\d{3}", text):
        return None
    return (readings[-1] if form.decimal == "," else readings[0]) if readings else None


def date_cell(text: str) -> str | None:
    """A date as ISO text, or None: 2025-05-14, 14.05.2025, or slashes with one meaning only.

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
    found = {day for day in map(_real_date, orders) if day}
    return found.pop() if len(found) == 1 else None


def _real_date(parts: list[int]) -> str | None:
    try:
        return date(*parts).isoformat()
    except ValueError:
        return None


# Rows --------------------------------------------------------------------------------------


@dataclass(frozen=True)
class BrokenRow:
    """Where a table breaks off: the number of the line, and what the reader said."""

    line: int
    reason: str


def rows_of(text: str, delimiter: str) -> tuple[list[tuple[int, list[str]]], BrokenRow | None]:
    """(number of its first line, cells) of every row that is not blank; where the table breaks off.

    >>> rows_of('a,b\\n\\n1,"2\\n3"\\nx,"y', ",")
    ([(1, ['a', 'b']), (3, ['1', '2\\n3'])], BrokenRow(line=5, reason='unexpected end of data'))
    """
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    found: list[tuple[int, list[str]]] = []
    start = 1
    while True:
        try:
            cells = next(reader, None)
        except csv.Error as error:
            return found, BrokenRow(start, str(error))
        if cells is None:
            return found, None
        if any(cell.strip() for cell in cells):
            found.append((start, cells))
        start = reader.line_num + 1


def read_list(data: bytes, field: str) -> list[list[str]]:
    """The rows of a list that a person keeps, each cell as before :func:`csv_bytes`; or a Refusal.

    >>> read_list(b"code;name\\r\\nK7MPTDC;'=me", "roster")
    [['code', 'name'], ['K7MPTDC', '=me']]
    """
    if len(data) > MOST_LIST_BYTES:
        raise Refusal(
            field,
            f"{len(data)} bytes",
            f"up to {MOST_LIST_BYTES} bytes",
            "check that this is the right file",
        )
    text, _ = decoded(data)
    rows, broken = rows_of(text, delimiter_of(text))
    if broken:
        raise Refusal(
            field,
            f"a file whose line {broken.line} is no row ({broken.reason})",
            "a CSV file",
            "check the quotes in that line, or save the list as CSV again",
        )
    if not 1 <= len(rows) <= MOST_LIST_ROWS or max(len(r) for _, r in rows) > MOST_LIST_COLUMNS:
        raise Refusal(
            field,
            f"{len(rows)} rows",
            f"1 to {MOST_LIST_ROWS} rows of up to {MOST_LIST_COLUMNS} cells",
            "check that this is the right file",
        )
    return [[as_it_was(cell) for cell in row] for _, row in rows]


def csv_bytes(rows: Iterable[Iterable[object]]) -> bytes:
    """Rows as a CSV file for any spreadsheet: UTF-8 with its mark, commas, text made plain.

    >>> csv_bytes([["code", "note"], ["K7MPTDC", "=HYPERLINK(1)"], [-3, None]]).decode("utf-8-sig")
    "code,note\\r\\nK7MPTDC,'=HYPERLINK(1)\\r\\n-3,\\r\\n"
    """
    form = Format()
    return "".join(form.line(map(_cell, row)) for row in rows).encode(form.encoding)


def _cell(value: object) -> str | int:
    """A value as a cell: numbers as they are, text on one line, visible and defused."""
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.6g}"
    if isinstance(value, int):
        return value
    # A spreadsheet set to semicolons would start a new cell at one.
    return defused(visible(str(value), 2000).replace(";", ","))
