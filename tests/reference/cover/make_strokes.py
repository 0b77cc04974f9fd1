"""Strokes of a brush as OGR's buffer has them. Writes tests/reference/fixtures/cover/strokes.json.

    /usr/bin/python3 tests/reference/cover/make_strokes.py

Debian: python3-numpy, python3-gdal.
"""
import json
import os
import sys

import numpy
from osgeo import gdal, ogr

ogr.UseExceptions()
OUT = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "fixtures", "cover", "strokes.json")


def main():
    rng = numpy.random.default_rng(11)
    turn = numpy.linspace(0, 2.1 * numpy.pi, 60)
    strokes = [
        ("dab", [[500, 500]], 30),
        ("straight", [[200, 300], [700, 420]], 12),
        ("closed loop with a hole", numpy.column_stack([500 + 90 * numpy.cos(turn), 500 + 70 * numpy.sin(turn)]), 24),
        ("by a shaking hand", numpy.cumsum(rng.normal([4, 1], 6, (80, 2)), axis=0) + [250, 300], 18),
        ("off the map at its end", [[900, 500], [1100, 520]], 40),
    ]
    cases = []
    for name, path, width in strokes:
        path = [[float(x), float(y)] for x, y in path]
        line = ogr.Geometry(ogr.wkbLineString if len(path) > 1 else ogr.wkbPoint)
        for x, y in path:
            line.AddPoint_2D(x, y)
        ground = ogr.CreateGeometryFromWkt("POLYGON((0 0,1000 0,1000 1000,0 1000,0 0))")
        area = line.Buffer(width / 2, 60).Intersection(ground)
        cells = []
        for row in range(500):
            for column in range(500):
                spot = ogr.Geometry(ogr.wkbPoint)
                spot.AddPoint_2D(2 * column + 1, 1000 - 2 * row - 1)
                if area.Contains(spot):
                    cells.append(row * 500 + column)
        cases.append({"name": name, "path": path, "width": width, "area": area.GetArea(), "cells": cells})
    made = {"by": "tests/reference/cover/make_strokes.py", "python": sys.version.split()[0], "gdal": gdal.__version__}
    with open(OUT, "w") as file:
        json.dump({"made": made, "cases": cases}, file, separators=(",", ":"))
    print(os.path.getsize(OUT))


main()
