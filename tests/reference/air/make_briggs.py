"""Writes what Briggs' (1973) open-country formulas give, worked in NumPy in double precision from the formulas as
printed in G. A. Briggs, "Diffusion estimation for small emissions", NOAA ATDL contribution 79 (as in Hanna, Briggs &
Hosker, Handbook on Atmospheric Diffusion, 1982, table 4.5; formulas from memory).

    /usr/bin/python3 make_briggs.py > ../fixtures/air/briggs.json
"""
import json
import sys

import numpy as np

x = np.array([100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10000.0])
across = {"A": 0.22, "B": 0.16, "C": 0.11, "D": 0.08, "E": 0.06, "F": 0.04}
up = {
    "A": 0.20 * x,
    "B": 0.12 * x,
    "C": 0.08 * x * np.power(1 + 0.0002 * x, -0.5),
    "D": 0.06 * x * np.power(1 + 0.0015 * x, -0.5),
    "E": 0.03 * x * np.power(1 + 0.0003 * x, -1.0),
    "F": 0.016 * x * np.power(1 + 0.0003 * x, -1.0),
}
rows = [
    {"kind": kind, "x": float(at), "across": float(slope * at * (1 + 0.0001 * at) ** -0.5), "up": float(up[kind][k])}
    for kind, slope in across.items()
    for k, at in enumerate(x)
]
json.dump({"versions": {"numpy": np.__version__, "python": sys.version.split()[0]}, "rows": rows}, sys.stdout)
print()
