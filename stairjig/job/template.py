"""The job file that `stairjig new` writes: a plain stair that teaches its own keys."""

from __future__ import annotations


def commented_job() -> bytes:
    """A job file with every key: those that may be left out stand behind a `#`.

    A line such as `#show: 1/16  # default: …` says what holds without it; taking the `#` at its
    front away changes nothing until the value is changed.
    """
    return _JOB.encode()


_JOB = """\
# A stair for stairjig. What stands behind a # is a note.
# Keys behind a # may be left out. Take the # away to use one; where the note says "default",
# that is what holds without it.
#
# A length is written like 10, 10.25, 10 1/4, 10-1/4, 10¼, 10 1/4", 3' 6 1/2", 260 mm or 26 cm.
# Measure on the finished stair, with one tape, and write down what the tape says.

title: New stair          # printed on every sheet
units: inch               # inch or mm: what a bare number means
openings: irc             # irc, ibc, uk, ca or au; or your own limits, as the local official says:
                          #   openings: {stair: 4 3/8, level: 4, triangle: 6, equal: fails}
                          # equal: whether a gap exactly at the limit fails or passes
#paper: letter            # default; or legal, tabloid, a4, a3, roll 24, or a size like 10 x 15
#margin: 5/16             # default; what the printer leaves white (on a roll 1/2)
#allowance: 1/16          # default; how far inside the opening limit to stay
#tolerance: 1/8           # default; how far off a taped reading may be
#show: 1/16               # default; or 1/32, in mm jobs 0.5 or 1
#copies: each             # default; or shared: one strip for all treads alike

balusters:
  plain:                  # a name of your own; list each type that is used
    shape: square         # or round
    width: 1 1/4          # its face at the tread
    #narrowest: 1 1/4     # default: the width; its face at its narrowest part
    #base: 1 1/4          # default: the width; the size of a shoe or foot on the tread
    top: pin              # its upper end: square (what holds without it), bevel or pin
    tread_hole: {size: 3/4, depth: 1}      # may be left out: then nothing is bored there
    rail_hole: {size: 3/4, depth: 3/4}     # may be left out, too
    #fit: 1/8             # default; how much shorter than tread to rail it is cut, in all
#pattern: [plain]         # default: the only type; going up, it runs on over the section

rail:
  height: 36              # to the rail's top, plumb: on treads from the nosings, on level and
                          # sloped sections from the floor or the shoe's base
  depth: 2 1/2            # from its top to its underside, square to the rail
  width: 2 3/8            # of its underside
  #plow: {width: 1 1/4, depth: 1/4}        # where its underside has a groove

# A section is the balustrade between two newels, or between a newel and a wall.
sections:
  - name: Hall flight     # each section its own
    kind: treads          # treads, level or sloped
    side: left            # the open side, going up: left or right
    rise: 7 1/2           # one for all, or a list with one more than the treads:
                          #   rises: [7 1/2, 7 5/8, 7 3/8, 7 1/2, 7 1/2, 7 1/2, 7 1/2]
    nosing: 1 1/8         # how far a nosing stands in front of its riser's face
    line: 1 3/4           # from the finished end of the tread, its return nosing included, to the
                          # line of the balusters; where they aren't parallel, {front: 2, back: 1}
    #line_from: end       # default; string or wall where there is no straight tread end
    lower_newel:          # or wall, or none
      width: 3 1/2
      #narrowest: 3 1/2   # default: the width; its face at its narrowest part
      #place: gap         # default: found, so that its gap matches; where it stands already
                          # {face: 1/2}, from the first riser's face to its uphill face, + up the
                          # stair; or {replaces: 1-1}, in that baluster's place
    upper_newel:          # its {face: 1/2} is from the top riser's face to its downhill face
      width: 3 1/2
    #pattern: [plain]     # default: the job's
    #rail: {height: 36, depth: 2 1/2, width: 2 3/8}   # default: the job's
    #spacing: tread       # default: each tread its own gap; or even: one gap all along the line
    #per_tread: auto      # default: the fewest that pass; or a number
    #set_back: 0          # default; from the riser's face to the first baluster
    #first_tread: 1       # default; the number printed on the first tread
    #rail_taped: {from: 1-1, to: 6-2, length: 70 3/4}  # two marks plumbed to the propped rail
                          # and taped along its underside: governs the rail's pitch
    #rail_length: 79 1/4  # taped along the rail's underside, newel face to newel face
    treads:
      # run: face of riser to face of the next riser, square to the risers
      # depth: nosing edge to the face of the next riser; the run is the depth less the nosing
      - 10 1/4            # the same as {run: 10 1/4}
      - 10 1/8
      - 10 3/8
      - {depth: 11 3/8}
      - {run: 10 1/4, times: 2}            # as if it stood there twice
      #- {run: 10 1/4, skew: 0}            # skew: degrees by which the line crosses the risers
                          # off square, + where their outer end is further up the stair
      #- {line_run: 9, front_skew: 0, back_skew: -18}   # riser to riser along the line
      #- {sides: {end: 9, back: 45, wall: 36, front: 36}, diagonal: 50 7/8, check_diagonal: 37 1/8}
                          # a winder taped at the riser faces: tread end, back, wall side, front;
                          # diagonal: front at the tread end to back at the wall
      #- {run: 10 1/4, per_tread: 3}       # a count for this tread alone
      #- {run: 10 1/4, bare: yes}          # carries no baluster; only at an end of the section

  #- name: Balcony
    #kind: level
    #length: 96 1/2       # from newel face to newel face
    #lower_newel: {width: 3 1/2}
    #upper_newel: wall
    #count: auto          # the fewest that pass; or a number
    #shoe: {depth: 1 1/2} # the shoe's base to its top

  #- name: Knee wall
    #kind: sloped         # a shoe rail on a closed stringer or a knee wall
    #length: 121 3/8      # along the slope, from newel face to newel face
    #pitch: 36.9          # degrees
    #lower_newel: {width: 3 1/2}
    #upper_newel: none
    #shoe: {depth: 1 1/2} # a hole of 1 in would come out through a thinner one
    #bottom_rail: {lift: 1/2, rise: 7 1/2, run: 10, nosing: 1 1/8} # over open treads: its lift
                          # over the nosings, plumb, and the stair under it
"""
