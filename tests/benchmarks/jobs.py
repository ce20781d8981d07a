"""Jobs of any size for the benchmarks: slightly uneven treads, three balusters on each."""

from __future__ import annotations

_HEAD = """
title: Heron Lodge
units: inch
openings: irc
balusters:
  plain: {shape: square, width: 5/8, tread_hole: {size: 15/16, depth: 1},
          rail_hole: {size: 15/16, depth: 3/4}}
rail: {height: 36, depth: 2 1/2, width: 2 3/8}
sections:
"""
_FLIGHT = """
  - name: Flight {number}
    kind: treads
    side: left
    rise: 7 1/2
    nosing: 1 1/8
    line: 1 3/4
    set_back: 5/16
    lower_newel: {{width: 3 1/2}}
    upper_newel: {{width: 3 1/2}}
    treads: [{treads}]
"""


def flights(number: int, treads: int) -> str:
    """A job of `number` flights of `treads` treads; every third run is 1/16 in shorter."""
    runs = ", ".join("10 3/16" if tread % 3 == 1 else "10 1/4" for tread in range(treads))
    return _HEAD + "".join(_FLIGHT.format(number=n + 1, treads=runs) for n in range(number))
