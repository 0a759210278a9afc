"""Lever-arm amplification on a tractor: derive it, predict it, weigh it, teach it.

A load hung ahead of the front axle adds more than its own weight to that axle
and takes the difference off the rear::

            a (ahead, +)              L (wheelbase)
   W  <------------------- F <-------------------- R        x grows forward, meters
  bucket              front axle               rear axle    h grows up from the ground

The front gains ``W(1 + a/L)``, the rear changes by ``-W a/L``, the machine gains
exactly ``W``.  Weights and readings are what a scale shows, in kg; lengths are in
meters.  Text with a unit is welcome anywhere: ``"243 lb"``, ``"43 in"``.

>>> bucket = Attachment("bucket", weight="260 lb", ahead="47 in")
>>> on = predict(demo_tractor(), bucket)
>>> f"{on.front_kg:.1f} {on.rear_kg:.1f} {on.total_kg:.1f}"
'802.0 713.0 1515.0'
"""

from types import ModuleType

from leverarm import statics
from leverarm.axles import compare, predict, shares
from leverarm.machine import Attachment, Tractor, demo_ballast, demo_loader, demo_tractor
from leverarm.quantities import Refusal, show, show_in

__version__ = "0.2.0"

# Parts that few callers need, and the heavy ones, load when first asked for.
_LATER = (
    "ballast",
    "decision",
    "driveline",
    "exercises",
    "graphs",
    "ground",
    "handouts",
    "marking",
    "panels",
    "scene",
    "stability",
    "weighing",
)

__all__ = [
    "Attachment",
    "Refusal",
    "Tractor",
    "compare",
    "demo_ballast",
    "demo_loader",
    "demo_tractor",
    "predict",
    "shares",
    "show",
    "show_in",
    "statics",
]


def __getattr__(name: str) -> ModuleType:
    if name in _LATER:
        from importlib import import_module

        return import_module(f"leverarm.{name}")
    raise AttributeError(f"module 'leverarm' has no attribute {name!r}")
