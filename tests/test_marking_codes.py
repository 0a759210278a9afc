"""Codes and keys: no look-alikes, every wrong character caught, no key tells of another."""

import hmac
import itertools
import random
from hashlib import sha256

import pytest
from class_files import demo_codes

from leverarm.marking import codes
from leverarm.quantities import Refusal

CODE = "K7MPTDC"
KEY = codes.number_key(codes.DEMO_KEY, CODE, "Week 3")


def test_no_look_alikes_and_no_words():
    assert not set("0O1IL2Z5S8BGUVQ" + "AEIOU") & set(codes.SYMBOLS)
    assert len(codes.SYMBOLS) == 19 == len(set(codes.SYMBOLS)), (
        "a prime, so the check character catches what it should"
    )


def test_every_single_wrong_character_of_a_code_is_caught():
    for at, other in itertools.product(range(7), codes.SYMBOLS):
        if CODE[at] != other:
            with pytest.raises(Refusal):
                codes.read_code(CODE[:at] + other + CODE[at + 1 :])


def test_every_two_swapped_characters_of_a_code_are_caught():
    for code in demo_codes(200):
        for at, other in itertools.combinations(range(7), 2):
            swapped = list(code)
            swapped[at], swapped[other] = swapped[other], swapped[at]
            if "".join(swapped) != code:
                with pytest.raises(Refusal):
                    codes.read_code("".join(swapped))


@pytest.mark.parametrize(
    "typed",
    [
        "k7mptdc",
        " K7MP-TDC ",
        "K7MP–TDC",
        "k7mp\u202ftdc",
        "Ｋ７ＭＰＴＤＣ",
        "K 7 M P T D C",
        "\u200bK7MPTDC",
    ],
)
def test_a_code_is_read_however_it_is_typed(typed):
    assert codes.read_code(typed) == CODE


@pytest.mark.parametrize(
    "typed, says",
    [
        ("", "7 characters"),
        ("K7MPTD", "7 characters"),
        ("K7MPTDO", "O is never used"),
        ("K7MPTD=", "= is never used"),
        (None, "7 characters"),
        (7, "7 characters"),
        ("K" * 10_000, "7 characters"),
        ("K7MPTD\u0007", "cannot be shown"),
    ],
)
def test_what_is_no_code_is_refused_in_a_sentence(typed, says):
    with pytest.raises(Refusal, match=says):
        codes.read_code(typed)


def test_new_codes_are_all_different_and_leave_out_those_taken():
    first = codes.new_codes(200)
    second = codes.new_codes(200, first)
    assert len(set(first + second)) == 400 and all(codes.read_code(c) == c for c in first + second)


@pytest.mark.parametrize("count", [0, -1, 2001, True, 2.0, "24"])
def test_a_strange_number_of_students_is_refused(count):
    with pytest.raises(Refusal):
        codes.new_codes(count)


def test_the_number_key_is_an_hmac_of_code_and_assignment():
    """HMAC as in RFC 2104 with SHA-256, worked out here from its definition."""
    key, message = codes.DEMO_KEY.encode().ljust(64, b"\0"), f"number key|{CODE}|Week 3".encode()
    inner = sha256(bytes(b ^ 0x36 for b in key) + message).digest()
    outer = sha256(bytes(b ^ 0x5C for b in key) + inner).digest()
    number, body = int.from_bytes(outer, "big"), ""
    for _ in range(12):
        number, digit = divmod(number, 19)
        body += codes.SYMBOLS[digit]
    assert KEY.replace("-", "")[:12] == body
    assert hmac.new(codes.DEMO_KEY.encode(), message, "sha256").digest() == outer


def test_hmac_by_a_published_vector():
    """RFC 4231, test case 2: what the keys are built on."""
    assert hmac.digest(b"Jefe", b"what do ya want for nothing?", "sha256").hex() == (
        "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843"
    )


def test_a_number_key_belongs_to_one_code_and_one_assignment():
    assert codes.read_number_key(KEY.lower().replace("-", " "), CODE, "Week 3") == KEY
    other = demo_codes(1)[0]
    for code, name in ((other, "Week 3"), (CODE, "Week 4")):
        with pytest.raises(Refusal, match="compare code, assignment and key"):
            codes.read_number_key(KEY, code, name)


def test_tickets_of_the_pen_in_a_number_key_are_caught():
    bare, missed, tried = KEY.replace("-", ""), 0, 0
    for at, other in itertools.product(range(16), codes.SYMBOLS):
        if bare[at] != other:
            tried += 1
            try:
                codes.read_number_key(bare[:at] + other + bare[at + 1 :], CODE, "Week 3")
                missed += 1
            except Refusal:
                pass
    assert tried == 288 and missed == 0


def test_keys_of_a_class_look_unrelated():
    """All different, each symbol as often as chance has it (chi-squared, 18 degrees of freedom)."""
    bodies = [
        codes.number_key(codes.DEMO_KEY, code, "Week 3").replace("-", "")[:12]
        for code in demo_codes(1000)
    ]
    assert len(set(bodies)) == 1000
    counts = [sum(body.count(symbol) for body in bodies) for symbol in codes.SYMBOLS]
    expected = 12_000 / 19
    assert sum((count - expected) ** 2 / expected for count in counts) < 47.6


def test_a_class_key_is_read_back_and_never_shown():
    key = codes.new_class_key()
    assert codes.read_class_key(f" {key.lower()}\n") == key and codes.new_class_key() != key
    for wrong in (
        key[:-1],
        key[1:] + key[0],
        "",
        None,
        key.replace(key[0], "3", 1) if key[0] != "3" else "4" + key[1:],
    ):
        with pytest.raises(Refusal) as told:
            codes.read_class_key(wrong)
        assert key[:9] not in str(told.value)


def test_seeds_differ_by_item_and_try_and_stay_the_same():
    seeds = [codes.seed(KEY, item, number) for item in ("a", "b", "a.2") for number in range(1, 50)]
    assert len(set(seeds)) == len(seeds) and seeds[0] == codes.seed(KEY, "a", 1)


def test_the_proof_does_not_give_the_key_away():
    shown = codes.proof(KEY)
    assert (
        len(shown) == 8
        and shown not in KEY.replace("-", "")
        and shown != codes.proof(KEY[:-1] + "3")
    )


@pytest.mark.parametrize(
    "name",
    [
        "",
        " ",
        "a/b",
        "..",
        "a..b",
        "../x",
        "x" * 41,
        "Week\n3\0",
        "Wöche",
        None,
        3,
        "=1",
        "-x",
        "a.",
    ],
)
def test_names_that_are_no_file_names_are_refused(name):
    with pytest.raises(Refusal):
        codes.assignment_name(name)


def test_random_text_is_never_taken_for_a_key():
    rng = random.Random(5)
    for _ in range(2000):
        typed = "".join(rng.choice(codes.SYMBOLS) for _ in range(16))
        with pytest.raises(Refusal):
            codes.read_number_key(typed, CODE, "Week 3")
