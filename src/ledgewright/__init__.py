"""Ledgewright takes a finish carpenter from a tape measure to a hung, tested floating shelf.

Inside the program lengths are mm, forces N, stresses MPa, masses kg and angles rad, and no name
carries a unit. People see the units of their own job file.

Axes in plan: x runs to the right along the first wall as you face it, y runs into that wall (the
room lies at negative y), z points up from the job's datum. A wall's own figures are `along` (from
its left end as you face it), `out` (from its reference line into the room) and `up`.
"""

__version__ = "0.1.0"
