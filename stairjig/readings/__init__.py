"""What the tape says against the set-out: tape readings of a rail's marks, and a verdict on them.

`parse` turns text into tables, `match` puts a table's lines on the rail's marks, `diagnose` gives
the verdict. Everything that more than one of them takes stands in `values`.
"""
