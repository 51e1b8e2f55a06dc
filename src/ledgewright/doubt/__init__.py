"""What readings tell of figures that were only known in a range: narrowed by Bayes, and whether they fit at all."""

from ledgewright.doubt.narrow import Believed, Narrowed, narrowed

__all__ = ["Believed", "Narrowed", "narrowed"]
