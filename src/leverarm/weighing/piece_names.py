"""The names of a day's pieces and its machine: one thing under two names, or nearly so."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import combinations

from leverarm.weighing.causes import named
from leverarm.weighing.day import WeighDay
from leverarm.weighing.finding import Finding, Proposal, day_rows, key_of
from leverarm.weighing.spelling import meant_name, nearly_same

# Stands behind a finding's key where the person took two names as one piece.
JOINED = " (the same piece)"
_PLACES = {"front", "rear", "end", "back"}


def with_names(day: WeighDay) -> WeighDay:
    """The day with each piece under one name: as it was first written, and as the person joined."""
    first: dict[str, str] = {}
    for row in day.rows:
        for piece in row.setup:
            first.setdefault(piece.casefold(), piece)
    for key, one, other in _alike(day):
        if key + JOINED in day.accepted:
            first[one] = first[other]
    for key, one, meant in _misspelled(day):
        if key + JOINED in day.accepted:
            first[one] = meant
    rows = tuple(
        replace(row, setup=tuple(dict.fromkeys(first[piece.casefold()] for piece in row.setup)))
        for row in day.rows
    )
    return day if rows == day.rows else replace(day, rows=rows)


def two_names(day: WeighDay) -> Iterator[Finding]:
    """Pieces whose names are nearly the same, and that never hung on together."""
    rows = day_rows(day)
    for key, one, other in _alike(day):
        own = [row for row in rows if one in row.pieces]
        if not own:
            continue
        name = next(p for row in own for p in row.weighing.setup if p.casefold() == one)
        yield Finding(
            key,
            own[0].number,
            f'"{name}" in {named(own)} and "{other}" in other rows may be one piece under two '
            "names.",
            "names",
            Proposal(f'Take "{name}" and "{other}" as the same piece.', joined=(name, other)),
        )
    for key, one, meant in _misspelled(day):
        own = [row for row in rows if one in row.pieces]
        name = next(p for row in own for p in row.weighing.setup if p.casefold() == one)
        yield Finding(
            key,
            own[0].number,
            f'"{name}" in {named(own)} looks like "{meant}" with a wrong letter.',
            "names",
            Proposal(f'Write "{meant}" for "{name}".', joined=(name, meant)),
        )


def _misspelled(day: WeighDay) -> Iterator[tuple[str, str, str]]:
    """(key, the name, what was meant) where no other row spells the piece, or its name is near no
    other of the day's.
    """
    compared = {one for _, *both in _alike(day) for one in both}
    for piece in dict.fromkeys(piece for row in day.current for piece in sorted(row.key[0])):
        meant = meant_name(piece)
        if meant != piece and piece not in compared:
            yield key_of("names", f"{piece} for {meant}"), piece, meant


def _alike(day: WeighDay) -> Iterator[tuple[str, str, str]]:
    """(key, the misspelled or rarer name, the other) for pieces whose names are nearly the same.

    Two pieces that hung on together are two.
    """
    setups = [row.key[0] for row in day.current]
    count: dict[str, int] = {}
    for setup in setups:
        for piece in sorted(setup):
            count[piece] = count.get(piece, 0) + 1
    names = list(count)
    for one, other in combinations(names, 2):
        together = any({one, other} <= setup for setup in setups)
        if not together and (nearly_same(one, other) or _part_of(one, other)):
            rare, usual = sorted(
                (one, other),
                key=lambda name: (meant_name(name) == name, count[name], -names.index(name)),
            )
            yield key_of("names", f"{rare} and {usual}"), rare, usual


def _part_of(one: str, other: str) -> bool:
    """True where every word of one name stands in the other: loader, loader frame.

    Where a piece hangs says nothing if only one of the names tells it: front loader, loader frame.
    """
    a, b = set(re.findall(r"\w+", one)), set(re.findall(r"\w+", other))
    if not (a & _PLACES and b & _PLACES):
        a, b = a - _PLACES, b - _PLACES
    return bool(a and b) and (a <= b or b <= a)


def two_machine_names(day: WeighDay, others: Iterable[WeighDay]) -> Iterator[Finding]:
    """Another machine of nearly the same name."""
    for name in dict.fromkeys(one.machine.name for one in others):
        if nearly_same(day.machine.name.casefold(), name.casefold()):
            yield Finding(
                key_of("machine name", f"{day.machine.name} and {name}"),
                None,
                f'"{day.machine.name}" and "{name}" may be one machine under two names.',
                "machine name",
            )
