"""Tables: read however a spreadsheet saved them, written so that no spreadsheet runs a cell."""

import csv
import io
import random

import pytest

from leverarm import tables
from leverarm.numerals import number_readings
from leverarm.quantities import Refusal
from leverarm.tables import as_it_was, csv_bytes, decoded, defused, format_of, read_list, rows_of

NASTY = (
    '=HYPERLINK("http://x","y")',
    "-1+cmd|' /C calc'!A0",
    "@SUM(1)",
    "\tx",
    "a\r\nb",
    "＝1+1",
    "−1+1",
    "%0A=1",
    "|x",
    "x;=1+1",
    " =1",
    "\u200b=1",
    "\ufeff=1",
    "'=1",
)


@pytest.mark.parametrize("text", NASTY)
def test_no_cell_is_run_by_a_spreadsheet(text):
    data = csv_bytes([[text, "b"]])
    assert data.count(b"\r\n") == 1 and b"\t" not in data
    for separator in ",;\t":
        for got in next(csv.reader(io.StringIO(data.decode("utf-8-sig")), delimiter=separator)):
            assert not got.lstrip(' "').startswith(("=", "+", "-", "@", "＝", "−", "%", "|"))


def test_a_text_comes_back_exactly_and_is_harmless_or_a_number():
    rng, runs = random.Random(1), "=+-@\t\r|%＝＋－＠−"
    for _ in range(5_000):
        text = "".join(rng.choices(runs + "'19. ab", k=rng.randrange(1, 8)))
        assert as_it_was(defused(text)) == text
        assert text[0] not in runs or defused(text)[0] == "'" or number_readings(text)


def test_a_list_read_and_written_again_and_again_stays_as_it_is():
    rows = [["code", "name"], ["K7MPTDC", "=Anna"], ["3", "'=Bo"], ["4", "O'Neil"], ["5", "-7"]]
    data = csv_bytes(rows)
    for _ in range(3):
        assert read_list(data, "list") == rows and csv_bytes(read_list(data, "list")) == data


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("ends", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize(
    "encoding",
    ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "cp1252"],
)
def test_a_list_is_read_however_it_was_saved(delimiter, ends, encoding):
    rows = [["Name", "Code"], ["René", "K7MP-TDC"], [f"Doe{delimiter} Jo", "3"]]
    out = io.StringIO()
    csv.writer(out, delimiter=delimiter, lineterminator=ends).writerows(rows)
    assert read_list(out.getvalue().encode(encoding), "list") == rows


@pytest.mark.parametrize(
    "data, encoding",
    [
        (b"", "utf-8"),
        (b"\xef\xbb\xbfa", "utf-8"),
        ("é".encode(), "utf-8"),
        (b"\xe9", "cp1252"),
        (b"a\0", "utf-16-le"),
        (b"\0a", "utf-16-be"),
        (b"\0\0", "utf-8"),
        (b"\xff\xfea\0", "utf-16-le"),
        (b"\xfe\xff\0a", "utf-16-be"),
        (b"\xff\xfe\0\0a\0\0\0", "utf-32-le"),
    ],
)
def test_the_encoding_is_found(data, encoding):
    text, found = decoded(data)
    assert found == encoding and "\ufeff" not in text


@pytest.mark.parametrize(
    "text, delimiter, decimal",
    [
        ("a,b\n1,2\n", ",", "."),
        ("a;b\n1,5;2\n", ";", ","),
        ("a\tb\n1,5\t2\n", "\t", ","),
        ("a\tb\n1.5\t2\n", "\t", "."),
        ('a,b\n"1,5",2\n', ",", ","),
        ('a,b\n"1,500",2\n', ",", "."),
        ("a;b,c;d\n", ";", ","),
    ],
)
def test_the_format_is_found(text, delimiter, decimal):
    form = format_of(text, "utf-8")
    assert (form.delimiter, form.decimal) == (delimiter, decimal)


@pytest.mark.parametrize(
    "size, fits",
    [
        ({"rows": tables.MOST_LIST_ROWS}, True),
        ({"rows": tables.MOST_LIST_ROWS + 1}, False),
        ({"columns": tables.MOST_LIST_COLUMNS}, True),
        ({"columns": tables.MOST_LIST_COLUMNS + 1}, False),
        ({"rows": 0}, False),
    ],
)
def test_a_list_has_bounds(size, fits):
    size = {"rows": 1, "columns": 1} | size
    data = csv_bytes([["x"] * size["columns"]] * size["rows"])
    if fits:
        assert len(read_list(data, "list")) == size["rows"]
    else:
        with pytest.raises(Refusal, match=f"{size['rows']} rows.*5000 rows of up to 40"):
            read_list(data, "list")


def test_a_list_too_large_or_broken_is_refused_with_the_line():
    whole = b"x\n" * 4 + b"y" * (tables.MOST_LIST_BYTES - 8)
    with pytest.raises(Refusal, match="line 5"):
        read_list(whole, "list")  # a cell longer than any name, but no byte too many
    with pytest.raises(Refusal, match=f"up to {tables.MOST_LIST_BYTES} bytes"):
        read_list(whole + b"y", "list")
    with pytest.raises(Refusal, match="line 2 is no row"):
        read_list(b'code,name\nK7MPTDC,"Anna\nM4,Bo\n', "list")


def test_rows_keep_the_number_of_their_line():
    rows, broken = rows_of("a,b\r\n\r\n \r\n1,2\r\n", ",")
    assert rows == [(1, ["a", "b"]), (4, ["1", "2"])] and broken is None
