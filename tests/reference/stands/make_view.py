"""What a stand sees of a deer's chest over rough ground, by gdal_viewshed. Writes fixtures/stands/view.json.

    /usr/bin/python3 tests/reference/stands/make_view.py
"""
import json
import os
import sys

import numpy as np
from osgeo import gdal

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "..", "terrain"))
from make_ground import pack, rough_ground  # noqa: E402
from make_viewshed import seen  # noqa: E402

OUT = os.path.join(HERE, "..", "fixtures", "stands", "view.json")
# Sitting eye over the seat, and the chest of a deer, as core/stands/spot.ts has them.
EYE_OVER_SEAT = 0.79
CHEST = 0.75


def main():
    cases = []
    for seed, cell, column, row, seat, radius in ((11, 2.5, 50, 47, 4.0, 90.0), (12, 2.5, 30, 60, 6.0, 110.0)):
        z = rough_ground(100, 96, seed)
        cases.append({
            "width": 100, "height": 96, "cellSize": cell, "column": column, "row": row, "seatHeight": seat,
            "radius": radius, "elevation": pack(z),
            "seen": pack(seen(z, cell, column, row, seat + EYE_OVER_SEAT, CHEST, radius)),
        })  # fmt: skip
    made = {
        "by": "tests/reference/stands/make_view.py",
        "python": sys.version.split()[0],
        "gdal": gdal.VersionInfo("RELEASE_NAME"),
        "numpy": np.__version__,
    }
    os.makedirs(os.path.dirname(OUT), exist_ok=True)
    with open(OUT, "w") as file:
        json.dump({"made": made, "cases": cases}, file, indent=1)
    print(os.path.getsize(OUT), "bytes", [int(np.frombuffer(__import__("base64").b64decode(c["seen"]["data"]), np.uint8).sum()) for c in cases])


if __name__ == "__main__":
    main()
