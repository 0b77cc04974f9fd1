"""Reference viewsheds by gdal_viewshed. Writes tests/reference/fixtures/terrain/viewshed.json.

    /usr/bin/python3 tests/reference/terrain/make_viewshed.py
"""
import json
import os
import sys

import numpy as np
from osgeo import gdal

from make_ground import HERE, ROOT, dataset, pack, rough_ground

OUT = os.path.join(HERE, "..", "fixtures", "terrain", "viewshed.json")


def seen(z, cell, column, row, height, target, radius):
    source = dataset(z, cell)
    result = gdal.ViewshedGenerate(
        source.GetRasterBand(1), "MEM", "", [], 600000 + (column + 0.5) * cell, 4300000 - (row + 0.5) * cell,
        height, target, 1, 0, 0, -1, 0.87, 2, radius, None, None, 1, [],
    )  # fmt: skip
    # GDAL crops its result to the radius; put it back in its place.
    west, _, _, north, _, _ = result.GetGeoTransform()
    whole = np.zeros(z.shape, np.uint8)
    x0 = round((west - 600000) / cell)
    y0 = round((4300000 - north) / cell)
    part = result.ReadAsArray()
    whole[y0 : y0 + part.shape[0], x0 : x0 + part.shape[1]] = part
    return whole


def main():
    raster = gdal.Open(os.path.join(ROOT, "sample-rasters", "ridge-and-valley-srtm3.tif"))
    real = raster.ReadAsArray(100, 60, 160, 150).astype(np.float32)
    cases = []
    for name, z, cell, column, row, height, target, radius in (
        ("rough", rough_ground(150, 140, 4), 5.0, 70, 66, 4.0, 1.0, 300.0),
        ("rough, tower", rough_ground(150, 140, 6), 5.0, 20, 100, 30.0, 0.0, 0.0),
        ("real, 90 m, 6 km", real, 90.0, 120, 40, 30.0, 0.0, 6000.0),
    ):
        cases.append({
            "name": name, "width": z.shape[1], "height": z.shape[0], "cellSize": cell, "column": column, "row": row,
            "observerHeight": height, "targetHeight": target, "radius": radius or None, "elevation": pack(z),
            "seen": pack(seen(z, cell, column, row, height, target, radius)),
        })  # fmt: skip
    made = {
        "by": "tests/reference/terrain/make_viewshed.py",
        "python": sys.version.split()[0],
        "gdal": gdal.VersionInfo("RELEASE_NAME"),
        "numpy": np.__version__,
    }
    with open(OUT, "w") as file:
        json.dump({"made": made, "cases": cases}, file, indent=1)
    print(os.path.getsize(OUT), "bytes")


if __name__ == "__main__":
    main()
