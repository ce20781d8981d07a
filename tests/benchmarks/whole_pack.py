"""`stairjig pack` without its proof, for the clock.

python -m tests.benchmarks.whole_pack JOB OUT
"""

from __future__ import annotations

import functools
import sys

from stairjig import cli

if __name__ == "__main__":
    cli.spare_the_collector()
    from stairjig import pack

    pack.make_pack = functools.partial(pack.make_pack, proof=False)
    sys.exit(cli.main(["pack", sys.argv[1], "-o", sys.argv[2]]))
