"""The bank: every kind of problem by name, in lesson order; within a lesson numbers, formulas, drawings, concepts."""

from leverarm.exercises import bank_bodies, bank_concepts, bank_field, bank_formulas, bank_lever

_ALL = (
    bank_lever.KINDS
    + bank_field.KINDS
    + bank_formulas.KINDS
    + bank_bodies.KINDS
    + bank_concepts.KINDS
)
BANK = {kind.name: kind for kind in sorted(_ALL, key=lambda kind: kind.lesson)}
# What kinds were called before; files handed out under these names are still read.
OLD_NAMES = {kind.stream: kind.name for kind in BANK.values() if kind.stream}
