"""Nothing is installed in a class site: it holds all its packages, and asks no other host."""

from .piplite import install

__all__ = ["install"]
