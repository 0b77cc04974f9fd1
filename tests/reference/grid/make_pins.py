"""Pictures laid on a map by pins: NumPy's lstsq and GDAL's GCPsToGeoTransform. Writes fixtures/grid/pins.json.

    /usr/bin/python3 tests/reference/grid/make_pins.py

Debian: python3-numpy, python3-gdal.
"""
import json
import os
import sys

import numpy
from osgeo import gdal

OUT = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "fixtures", "grid", "pins.json")


def similar(at, to):
    """x = tx + p u + q v, y = ty + q u - p v."""
    rows, right = [], []
    for (u, v), (x, y) in zip(at, to):
        rows += [[1, 0, u, v], [0, 1, -v, u]]
        right += [x, y]
    tx, ty, p, q = numpy.linalg.lstsq(numpy.array(rows), numpy.array(right), rcond=None)[0]
    return [tx, p, q, ty, q, -p]


def affine(at, to):
    left = numpy.column_stack([numpy.ones(len(at)), at])
    solved = numpy.linalg.lstsq(left, to, rcond=None)[0]
    return [*solved[:, 0], *solved[:, 1]]


def misses(placing, at, to):
    a, b, c, d, e, f = placing
    x = a + b * at[:, 0] + c * at[:, 1]
    y = d + e * at[:, 0] + f * at[:, 1]
    return numpy.hypot(x - to[:, 0], y - to[:, 1])


def main():
    rng = numpy.random.default_rng(7)
    cases = []
    for count in (2, 3, 3, 4, 4, 5, 7, 12, 40):
        at = rng.uniform([0, 0], [6000, 4000], (count, 2))
        turn, pixel, slant = rng.uniform(-3, 3), rng.uniform(0.05, 0.8), rng.uniform(-0.05, 0.05)
        p, q = pixel * numpy.cos(turn), pixel * numpy.sin(turn)
        x = 440000 + p * at[:, 0] + q * (1 + slant) * at[:, 1]
        y = 4350000 + q * at[:, 0] - p * (1 + slant) * at[:, 1]
        to = numpy.column_stack([x, y]) + rng.normal(0, 2, (count, 2))
        placing = similar(at, to) if count == 2 else affine(at, to)
        found = {
            "pins": [{"at": list(a), "to": list(b)} for a, b in zip(at, to)],
            "placing": placing,
            "misses": list(misses(placing, at, to)),
            "similarRms": float(numpy.sqrt(numpy.mean(misses(similar(at, to), at, to) ** 2))),
        }
        if count > 2:
            gcps = [gdal.GCP(b[0], b[1], 0, a[0], a[1]) for a, b in zip(at, to)]
            found["gdal"] = list(gdal.GCPsToGeoTransform(gcps, 1))
        cases.append(found)
    made = {
        "by": "tests/reference/grid/make_pins.py",
        "python": sys.version.split()[0],
        "numpy": numpy.__version__,
        "gdal": gdal.__version__,
    }
    with open(OUT, "w") as file:
        json.dump({"made": made, "cases": cases}, file)
    print(len(cases), os.path.getsize(OUT))


main()
