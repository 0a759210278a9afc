"""The listed wrong turns of all lessons, by what is asked."""

from leverarm.exercises.slips_field import FIELD_SLIPS
from leverarm.exercises.slips_lever import LEVER_SLIPS

SLIPS = LEVER_SLIPS | FIELD_SLIPS
