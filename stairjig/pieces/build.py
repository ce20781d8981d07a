"""All strips of a job, in the order in which they are used."""

from __future__ import annotations

from stairjig.pieces.rail_strip import rail_strip, shoe_strip
from stairjig.pieces.tread_strip import tread_strip
from stairjig.pieces.values import Piece
from stairjig.setout.copies import strips
from stairjig.setout.values import Setout


def cut_pieces(setout: Setout) -> tuple[Piece, ...]:
    """Section by section: the tread strips going up, or the shoe strip; then the rail strip."""
    job, pieces = setout.job, []
    for section in setout.sections:
        if section.treads:
            pieces += [
                tread_strip(section, group, job.shown, setout.pack_id)
                for group in strips(section, job.copies)
            ]
        else:
            pieces.append(shoe_strip(section, job.shown, setout.pack_id))
        pieces.append(rail_strip(section, job.shown, setout.pack_id))
    return tuple(pieces)
