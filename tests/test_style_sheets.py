"""Every style sheet of the package reads as one: no brace was lost, no line is half a declaration.

A browser passes over what it cannot read without a word, and drops the rules after it.
"""

import re
from pathlib import Path

import pytest

from leverarm.panels.page import page_rules

PACKAGE = Path(__file__).parents[1] / "src" / "leverarm"
SHEETS = sorted(PACKAGE.rglob("*.css"))
DECLARATION = re.compile(r"-{0,2}[a-z][a-z0-9-]*\s*:\s*\S[^{}]*", re.DOTALL)


def faults(text):
    """What does not read as CSS: rules inside rules, braces without a partner, odd declarations.

    By the grammar of CSS Syntax Level 3, as far as these sheets use it: a sheet is rules, a rule is
    a selector and declarations, and @media, @container and the like hold rules.
    """
    plain = re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL)
    plain = re.sub(r"'[^'\n]*'|\"[^\"\n]*\"", "''", plain)
    found, open_rules, before = [], [], ""
    for part in re.split(r"([{};])", plain):
        if part == "{":
            head = before.strip()
            holds_rules = head.startswith("@")
            if not head:
                found.append("a block without a selector")
            if open_rules and not open_rules[-1][1]:
                found.append(f"{head} stands inside {open_rules[-1][0]}")
            open_rules.append((head, holds_rules and not head.startswith(("@page", "@font"))))
        elif part in (";", "}"):
            told = before.strip()
            if told and (not open_rules or not DECLARATION.fullmatch(told)):
                found.append(f"no declaration: {told}")
            if part == "}":
                if open_rules:
                    open_rules.pop()
                else:
                    found.append("a brace that closes nothing")
        before = "" if part in "{};" and part else part
    found += [f"never closed: {head}" for head, _ in open_rules]
    return found + ([f"no rule: {before.strip()}"] if before.strip() else [])


def test_there_are_sheets_to_read():
    assert {one.name for one in SHEETS} >= {"page.css", "stage.css", "customer_page.css"}


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda one: one.name)
def test_a_style_sheet_reads_whole(sheet):
    assert faults(sheet.read_text("utf-8")) == []


def test_the_rules_a_page_carries_read_whole():
    assert faults(page_rules()) == []


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda one: one.name)
def test_every_brace_that_is_lost_or_doubled_is_found(sheet):
    """Each brace of the sheet in turn, as a merge would lose or double it."""
    text = sheet.read_text("utf-8")
    plain = re.sub(r"/\*.*?\*/", lambda one: " " * len(one[0]), text, flags=re.DOTALL)
    for one in re.finditer(r"[{}]", plain):
        lost = plain[: one.start()] + plain[one.end() :]
        doubled = plain[: one.start()] + one[0] + plain[one.start() :]
        assert faults(lost), plain[: one.start()][-80:]
        assert faults(doubled), plain[: one.start()][-80:]


def test_no_rule_asks_for_a_color_or_a_place_that_no_rule_gives():
    """A variable that a sheet uses is set in one of them or in the page around it."""
    everything = "".join(one.read_text("utf-8") for one in SHEETS) + page_rules()
    used = set(re.findall(r"var\((--[a-z-]+)", everything))
    assert used - set(re.findall(r"(--[a-z-]+)\s*:", everything)) == set()
