"""The gate between a weigh day and everything made from it: what looks wrong, and why.

``look_over(day, others)`` gives a Finding for each thing that does not fit, in one plain sentence
that names the row and the likely cause.  A person takes its proposal, corrects the row, or says
that it is so: ``taken(day, finding)`` and ``kept(day, finding)`` give the day after that, and
``passed(day, others)`` the day once nothing is open.  The gate changes no reading by itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date as Date

from leverarm.quantities import Refusal, how_many
from leverarm.weighing.carried_over import copied_from_above, exchanged_in_a_repeat
from leverarm.weighing.causes import Cause, causes, named, swapped
from leverarm.weighing.day import WeighDay
from leverarm.weighing.finding import Finding, Proposal, day_rows, key_of, noted, reading_of
from leverarm.weighing.person import BROUGHT_BY_IT, best_person, like_off_zero, person_rows
from leverarm.weighing.piece_names import JOINED, two_names, with_names
from leverarm.weighing.plausible import FAR, DayRow, Judgment, Known, Oddity, judged, setups_of
from leverarm.weighing.readings import Weighing
from leverarm.weighing.row_checks import (
    NOT_SAID,
    machine_and_date,
    rows_alone,
    unchanged_not_said,
)

MOST_FINDINGS = 12
# What one oddity weighs against the fit of the rest (-2 ln), where causes are compared.
ODDITY = 30.0
# A second cause this close to the first: which of them it was is left to the person.
TOO_CLOSE = 4.0
# By how much a swap must fit better (-2 ln) to be named, and how alike readings are asked about.
SWAP_NAMED, NEARLY_ALIKE = 6.0, 0.12
# Of a slip of the pen: how badly the row may fit the others once mended (-2 ln).
MOST_OF_A_SLIP = 2.0
_OF_THE_DAY = {
    "swapped": {"place", "weight", "another day"},
    "unit": {"size", "another day"},
    "reversed": {"place", "weight", "another day", "lighter", "set-ups"},
}
# Causes that must leave the mended rows in order: many numbers would do for one sign alone.
_MENDS_ALL = ("total", "reversed", "wheels", "wheel unit", "one wheel")
# Of somebody who got on or off: how seldom, with a weight and a place free to fit; and how much
# better than that a wrong reading must fit to be named before it is asked.
PERSON, PERSON_FIRST = 8.0, 6.0
ON_OR_OFF = "on or off"


def look_over(
    day: WeighDay, others: Sequence[WeighDay] = (), today: str | None = None
) -> tuple[Finding, ...]:
    """Everything on a weigh day that looks wrong and that nobody has yet said is so.

    others      weigh days to compare with: other days of this machine, and other machines
    today       no reading can be of a later date
    """
    tidy = with_names(day)
    others = [with_names(one) for one in others if (one.name, one.rows) != (day.name, day.rows)]
    found = [
        *machine_and_date(tidy, others, today or Date.today().isoformat()),
        *two_names(day),
        *rows_alone(tidy),
        *_together(tidy, others),
    ]
    seen = {one.row for one in found}
    found += [one for one in exchanged_in_a_repeat(tidy) if one.row not in seen]
    if not any(one.cause == ON_OR_OFF for one in found):
        found += unchanged_not_said(tidy)
    explained = {one.row for one in found if one.cause == "wheel unit"}
    by_key = {one.key: one for one in found if not (one.cause == "step" and one.row in explained)}
    return tuple(one for one in by_key.values() if one.key not in day.accepted)


def passed(day: WeighDay, others: Sequence[WeighDay] = ()) -> WeighDay:
    """The day, each piece under one name, once nothing on it is open; else a Refusal."""
    open_ = look_over(day, others)
    if open_:
        raise Waiting(day.name, open_[0].brief or open_[0].sentence, len(open_) - 1)
    return with_names(day)


class Waiting(Refusal):
    """The Refusal of a day with an open finding: its row and likely cause, in one sentence."""

    def __init__(self, name: str, brief: str, more: int) -> None:
        super().__init__("weigh day", name, "a day on which nothing is open", brief)
        self._told = name, brief, more
        rest = f" ({how_many(more, 'remark')} more)" * bool(more)
        asks = brief.endswith("?")
        do = (
            " Answer beside the record." if asks else ("; correct it or say so, beside the record.")
        )
        say = f"{brief[0].lower()}{brief[1:].rstrip('.')}{do}"
        self.args = (f"{name} waits for your answer{rest}: {say}",)

    def __reduce__(self) -> tuple[type, tuple[object, ...]]:
        return type(self), self._told


def taken(day: WeighDay, finding: Finding) -> WeighDay:
    """The day with a finding's proposal: its corrected rows added, or its two names made one."""
    if finding.proposal is None:
        raise Refusal("remark", finding.sentence, "one with a proposal", "type the row again")
    if finding.proposal.unchanged is not None:
        return replace(day, unchanged=finding.proposal.unchanged)
    if finding.proposal.joined:
        return replace(day, accepted=(*day.accepted, finding.key, finding.key + JOINED))
    return day.with_rows(*finding.proposal.rows)


def kept(day: WeighDay, finding: Finding) -> WeighDay:
    """The day with the person's word that what was found is so; to a question, with its "no"."""
    if finding.cause == NOT_SAID:
        return replace(day, unchanged=False)
    said = replace(day, accepted=(*day.accepted, finding.key))
    return replace(said, unchanged=True) if finding.cause == ON_OR_OFF else said


def _together(day: WeighDay, others: Sequence[WeighDay]) -> Iterator[Finding]:
    rows = day_rows(day)
    known = Known(day.machine.wheelbase_m, day.scales, day.system, _elsewhere(day, others))
    settled: set[tuple[str, frozenset[int]]] = set()
    named_rows: set[int] = set()
    for _ in range(MOST_FINDINGS):
        now = judged(rows, known)
        odd = next(
            (
                one
                for one in now.oddities
                if one.sign not in settled and not named_rows & set(one.rows)
            ),
            None,
        )
        if odd is None:
            break
        cause, rivals, value = _likeliest(rows, odd, now, settled, known)
        asked = _on_or_off(rows, odd, now, settled, known, value)
        if asked and day.unchanged is False:  # that is what the remark on the day says
            settled.add(odd.sign)
            if odd.cause == "repeats":  # one of them is not of this set-up, and would be averaged
                yield _unexplained(rows, odd)
            continue
        if asked and asked.key not in day.accepted:
            yield asked
            named_rows |= set(odd.rows)
            continue
        finding = _explained(rows, odd, cause, rivals) if cause else _unexplained(rows, odd)
        if finding.key in day.accepted:
            after = judged(_mended(rows, cause), known) if cause else Judgment((), 0.0)
            gone = {one.sign for one in now.oddities} - {one.sign for one in after.oddities}
            settled |= gone if cause else {odd.sign}
            continue
        yield finding
        if cause:
            rows = _mended(rows, cause)
        else:
            named_rows |= set(odd.rows)
    if not named_rows:  # what nobody has explained yet would be judged by
        copied = [one for one in copied_from_above(rows, known) if one.key not in day.accepted]
        yield from copied or _perhaps_swapped(day, rows, known, settled)


def _elsewhere(
    day: WeighDay, others: Sequence[WeighDay]
) -> dict[frozenset[str], tuple[str, float, float]]:
    """Each set-up as the latest other day of this machine showed it."""
    found = {}
    for other in sorted(
        (one for one in others if one.machine.key == day.machine.key), key=lambda one: one.date
    ):
        known = Known(other.machine.wheelbase_m, other.scales)
        for one in setups_of(day_rows(other), known):
            found[one.pieces] = (other.date, one.front, one.rear)
    return found


def _mended(rows: Sequence[DayRow], cause: Cause) -> list[DayRow]:
    return [cause.rows.get(row.number, row) for row in rows]


def _likeliest(
    rows: Sequence[DayRow],
    odd: Oddity,
    now: Judgment,
    settled: set[tuple[str, frozenset[int]]],
    known: Known,
) -> tuple[Cause | None, list[Cause], float]:
    """(the cause that leaves the least unexplained, those that come close, how much it leaves)."""
    before = _left(now, settled)
    tried: list[tuple[float, int, Cause]] = []
    for cause in causes(rows, odd.rows):
        after = judged(_mended(rows, cause), known)
        value = _left(after, settled) + cause.rarity
        new = {one.sign for one in after.oddities} - {one.sign for one in now.oddities}
        same = any(one.sign == odd.sign for one in after.oddities)
        if not new and not same and value < before and _bears_out(cause, odd, rows, after, known):
            tried.append((value, len(tried), cause))
    if not tried:
        return None, [], before
    value, _, best = min(tried)
    near = [one for left, _, one in sorted(tried) if left < value + TOO_CLOSE]
    return best, [one for one in near if one.rows != best.rows], value


def _left(judgment: Judgment, settled: set[tuple[str, frozenset[int]]]) -> float:
    """What a judgment leaves unexplained (-2 ln), beside what a person has settled."""
    count = sum(one.sign not in settled for one in judgment.oddities)
    return judgment.misfit + ODDITY * count


def _on_or_off(
    rows: Sequence[DayRow],
    odd: Oddity,
    now: Judgment,
    settled: set[tuple[str, frozenset[int]]],
    known: Known,
    best: float,
) -> Finding | None:
    """The question whether somebody got on or off, where that explains an oddity about as well as
    the likeliest wrong reading, which leaves ``best``.
    """
    if odd.cause not in BROUGHT_BY_IT:
        return None
    before = {one.sign for one in now.oddities}
    found = []
    for own in person_rows(rows, odd):
        value, after = best_person(
            rows, own, lambda made: judged(made, known), lambda made: _left(made, settled)
        )
        signs = {one.sign for one in judged(after, known).oddities}
        if odd.sign not in signs and not signs - before and value + PERSON < best + PERSON_FIRST:
            found.append((value, own[0].number, own, like_off_zero(own[0], after)))
    if not found:
        return None
    _, _, own, zero = min(found)
    about = " & ".join(reading_of(row.weighing) for row in own[:5])
    dirt = "did something lie in the bucket, " if odd.cause == "lighter" else ""
    scales = "were the scales off zero, " if zero else ""
    brief = (
        f"Did somebody get on or off, {dirt}{scales}or did fuel or the mower change, between "
        f"{named(own)} and the others?"
    )
    return Finding(
        key_of(ON_OR_OFF, about),
        own[0].number,
        f"{brief} As typed, {odd.words}, and a person on the seat in one of them would explain "
        f"that{', as would scales not set to zero' * zero}.",
        ON_OR_OFF,
        Proposal("", unchanged=False),
        brief,
        ("Yes, something changed", "No, nothing did"),
    )


def _bears_out(
    cause: Cause, odd: Oddity, rows: Sequence[DayRow], after: Judgment, known: Known
) -> bool:
    """Whether a cause may be named at all.

    Many numbers are a slip of the pen away from one that would do, so a slip must be borne out:
    the mended row fits what the other rows say.  What was done to the whole day shows in what the
    whole day says of the machine, not in one repeat.
    """
    if len(cause.rows) == len(rows) and len(rows) > 1:
        return odd.cause in _OF_THE_DAY[cause.name]
    if cause.name in _MENDS_ALL and any(set(one.rows) & set(cause.rows) for one in after.oddities):
        return False
    if cause.name not in ("digits", "one wheel"):
        return True
    rest = judged([row for row in rows if row.number not in cause.rows], known)
    return after.misfit - rest.misfit < MOST_OF_A_SLIP


def _explained(
    rows: Sequence[DayRow], odd: Oddity, cause: Cause, rivals: Sequence[Cause] = ()
) -> Finding:
    """The Finding of an oddity with a likely cause, and the one about as likely, if there is."""
    own = [row for row in rows if row.number in cause.rows]
    about = " & ".join(reading_of(row.weighing) for row in own[:5])
    proposal = None
    if cause.offered and not rivals:
        mended = [cause.rows[row.number].weighing for row in own]
        words = "; ".join(f"row {row.number} reads {_both(new)}" for row, new in zip(own, mended))
        rows_new = tuple(noted(new, cause.name) for new in mended)
        proposal = Proposal(f"Correct it: {words}.", rows_new)
    said, rival = cause.sentence, next((one for one in rivals if one.name != cause.name), None)
    if rival:
        said += f"; or {rival.sentence[0].lower()}{rival.sentence[1:]}: which was it?"
    return Finding(
        key_of(cause.name, about),
        own[0].number,
        f"{said}{'' if rival else '.'} As typed, {odd.words}.",
        cause.name,
        proposal,
        said,
    )


def _both(row: Weighing) -> str:
    shown = (("front", row.front), ("rear", row.rear))
    return ", ".join(f"{axle} {reading}" for axle, reading in shown if reading)


_USUALLY = {
    "repeats": "A reading is wrong, the scales were not set to zero, or something else was on the "
    "machine or on the scales.",
    "set-ups": "A reading is wrong, or fuel, the operator or a piece changed in between.",
    "weight": "A reading is wrong, or another set-up was weighed than the row says.",
    "place": "A reading is wrong, or another set-up was weighed than the row says: was ballast on "
    "or off as well?",
    "lighter": "A reading is wrong, something lay in the bucket, or the two pieces have each "
    "other's name.",
    "another day": "A reading is wrong, ballast was added, or these are two machines under one "
    "name.",
    "size": "The unit or the wheelbase is wrong.",
    "nothing on it": "A digit or a sign is wrong, or the machine was about to tip.",
    "wheels": "A wheel of the other axle was written here, or a digit is wrong.",
}


def _unexplained(rows: Sequence[DayRow], odd: Oddity) -> Finding:
    """The Finding of an oddity that no single mistake explains: what it usually comes from."""
    own = [row for row in rows if row.number in odd.rows]
    usually = _USUALLY[odd.cause]
    where = named([row for row in own if row.number == odd.rows[0]] if odd.alone else own)
    brief = f"Look again at {where}: {usually[0].lower()}{usually[1:]}"
    sentence = f"Look again at {where}. As typed, {odd.words}. {usually}"
    about = " & ".join(reading_of(row.weighing) for row in own[:5])
    return Finding(key_of(odd.cause, about), odd.rows[0], sentence, odd.cause, brief=brief)


def _perhaps_swapped(
    day: WeighDay,
    rows: Sequence[DayRow],
    known: Known,
    settled: set[tuple[str, frozenset[int]]],
) -> Iterator[Finding]:
    """Front and rear so alike that a swap would break nothing: named if it fits far better, and
    asked about if nothing tells the two apart.  One set-up alone prints no change, so it is only
    compared with another day.
    """
    now = judged(rows, known)
    setups = setups_of(rows, known)
    for one in setups:
        if abs(one.front - one.rear) <= FAR * known.spread(one.front):
            continue  # it would change next to nothing
        turned = {row.number: swapped(row) for row in one.rows}
        after = judged([turned.get(row.number, row) for row in rows], known)
        if {odd.sign for odd in after.oddities} - {odd.sign for odd in now.oddities} - settled:
            continue
        better = now.misfit - after.misfit
        alike = abs(one.front - one.rear) <= NEARLY_ALIKE * one.total
        if better > SWAP_NAMED:
            cause = Cause("swapped", f"Front and rear look swapped in {named(one.rows)}", turned, 2)
            yield from _swapped_or_asked(day, rows, known, settled, cause)
        elif alike and better >= 0 and len(setups) > 1:
            where = named(one.rows)
            words = f"Front and rear are so alike in {where} that swapped they would fit too"
            cause = Cause("nearly alike", words, turned, 0)
            finding = _explained(rows, Oddity("", (), "", 0), cause)
            said = f"{words}: compare them with the sheet"
            yield replace(finding, sentence=f"{said}.", brief=said)


def _swapped_or_asked(
    day: WeighDay,
    rows: Sequence[DayRow],
    known: Known,
    settled: set[tuple[str, frozenset[int]]],
    cause: Cause,
) -> Iterator[Finding]:
    """A swap that fits better, or the question whether somebody got on or off, which fits too."""
    why = Oddity(
        "place",
        tuple(row.number for row in rows),
        "its pieces would hang where such pieces seldom do, or another day shows it the other way "
        "around",
        0,
    )
    finding = _explained(rows, why, cause)
    if finding.key in day.accepted:
        return
    left = judged(_mended(rows, cause), known).misfit + cause.rarity
    only = replace(why, words="its pieces would hang where such pieces seldom do")
    asked = _on_or_off(rows, only, judged(rows, known), settled, known, left)
    if not asked or asked.key in day.accepted:
        yield finding
    elif day.unchanged is not False:
        yield asked


__all__ = ["Finding", "Proposal", "kept", "look_over", "passed", "taken", "with_names"]
