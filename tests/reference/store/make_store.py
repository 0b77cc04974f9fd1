"""Makes fixtures/store/*.json: what GDAL and OGR write for the same geometries, tiles and systems.

Run with the system's Python (needs osgeo): python3 tests/reference/store/make_store.py
"""

import base64
import json
import os
import tempfile

import numpy as np
from osgeo import gdal, ogr, osr

gdal.UseExceptions()
HERE = os.path.dirname(os.path.abspath(__file__))
OUT = os.path.join(HERE, "..", "fixtures", "store")
VERSIONS = {"gdal": gdal.__version__, "numpy": np.__version__}


def save(name, content):
    with open(os.path.join(OUT, name), "w") as file:
        json.dump({"made by": "tests/reference/store/make_store.py", "versions": VERSIONS, **content}, file, indent=1)
        file.write("\n")


def geometries():
    """Well-known binary of every kind of geometry, as OGR writes it."""
    shapes = [
        {"type": "Point", "coordinates": [440123.25, 4350001.5]},
        {"type": "LineString", "coordinates": [[0.1, -2.5], [3, 4], [1e7, -1e-3]]},
        {
            "type": "Polygon",
            "coordinates": [
                [[0, 0], [10, 0], [10, 10], [0, 10], [0, 0]],
                [[2, 2], [2, 4], [4, 4], [4, 2], [2, 2]],
            ],
        },
        {"type": "MultiPoint", "coordinates": [[1, 2], [3, 4]]},
        {"type": "MultiLineString", "coordinates": [[[0, 0], [1, 1]], [[5, 5], [6, 7], [8, 9]]]},
        {"type": "MultiPolygon", "coordinates": [[[[0, 0], [1, 0], [1, 1], [0, 0]]], [[[5, 5], [6, 5], [6, 6], [5, 5]]]]},
        {
            "type": "GeometryCollection",
            "geometries": [{"type": "Point", "coordinates": [1, 2]}, {"type": "LineString", "coordinates": [[0, 0], [1, 1]]}],
        },
    ]
    rows = []
    for shape in shapes:
        geometry = ogr.CreateGeometryFromJson(json.dumps(shape))
        rows.append({"geometry": shape, "wkb": bytes(geometry.ExportToWkb(ogr.wkbNDR)).hex()})
    save("wkb.json", {"rows": rows})


def tiles():
    """LZW strips of 32-bit floats as libtiff packs them, with the SHA-256 of the samples they hold."""
    rng = np.random.default_rng(7)
    y, x = np.mgrid[0:64, 0:64]
    arrays = {
        "nodata": np.full((64, 64), -9999, "f4"),
        "steps": np.floor((x + y) / 5).astype("f4"),
        "smooth": (200 + 30 * np.sin(x / 9.0) * np.cos(y / 7.0)).astype("f4"),
        "noise": rng.random((64, 64)).astype("f4"),
    }
    rows = []
    for name, array in arrays.items():
        with tempfile.TemporaryDirectory() as folder:
            path = os.path.join(folder, "tile.tif")
            driver = gdal.GetDriverByName("GTiff")
            options = ["COMPRESS=LZW", "BLOCKYSIZE=64", "PREDICTOR=1"]
            dataset = driver.Create(path, 64, 64, 1, gdal.GDT_Float32, options)
            dataset.GetRasterBand(1).WriteArray(array)
            dataset = None
            dataset = gdal.Open(path)
            band = dataset.GetRasterBand(1)
            offset = int(band.GetMetadataItem("BLOCK_OFFSET_0_0", "TIFF"))
            size = int(band.GetMetadataItem("BLOCK_SIZE_0_0", "TIFF"))
            strip = open(path, "rb").read()[offset : offset + size]
        rows.append(
            {
                "name": name,
                "lzw": base64.b64encode(strip).decode(),
                "samples": base64.b64encode(array.tobytes()).decode(),
            }
        )
    save("lzw.json", {"rows": rows})


def systems():
    """Well-known text of UTM zones north and south."""
    rows = []
    for epsg in [32601, 32610, 32616, 32617, 32660, 32701, 32733, 32760]:
        system = osr.SpatialReference()
        system.ImportFromEPSG(epsg)
        rows.append({"epsg": epsg, "wkt": system.ExportToWkt()})
    geodetic = osr.SpatialReference()
    geodetic.ImportFromEPSG(4326)
    save("wkt.json", {"rows": rows, "wgs84": geodetic.ExportToWkt()})


geometries()
tiles()
systems()
