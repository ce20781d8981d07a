"""`stairjig pack` without its proof, for the clock.

python -m tests.benchmarks.whole_pack JOB OUT
"""

from __future__ import annotations

import sys
from pathlib import Path

from stairjig.files import write_whole
from stairjig.intake import open_job

if __name__ == "__main__":
    opened = open_job(Path(sys.argv[1]))
    from stairjig.pack import make_pack

    write_whole(Path(sys.argv[2]), make_pack(opened.job, opened.wanted, proof=False).data)
