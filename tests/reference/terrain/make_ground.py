"""Reference answers for the ground kernels: gdaldem slope, aspect, shade and TPI, scikit-image reconstruction,
SciPy annulus means. Writes tests/reference/fixtures/terrain/ground.json.

    /usr/bin/python3 tests/reference/terrain/make_ground.py

Needs GDAL with Python bindings, NumPy, SciPy, scikit-image.
"""
import base64
import json
import os
import sys

import numpy as np
import scipy
import skimage
from osgeo import gdal, ogr, osr
from scipy import ndimage
from skimage.morphology import reconstruction

gdal.UseExceptions()
HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.join(HERE, "..", "..", "..")
OUT = os.path.join(HERE, "..", "fixtures", "terrain", "ground.json")


def pack(array):
    array = np.ascontiguousarray(array)
    kind = {"float32": "f4", "uint8": "u1", "float64": "f8"}[str(array.dtype)]
    return {"type": kind, "data": base64.b64encode(array.astype("<" + kind).tobytes()).decode()}


def rough_ground(width, height, seed):
    """Invented ground: smoothed noise at several scales, tens of metres of relief, closed depressions."""
    rng = np.random.default_rng(seed)
    z = np.zeros((height, width))
    for sigma, size in ((12, 60.0), (5, 12.0), (1.5, 1.5)):
        noise = ndimage.gaussian_filter(rng.standard_normal((height, width)), sigma, mode="reflect")
        z += size * noise / noise.std()
    return (250 + z).astype(np.float32)


def dataset(z, cell):
    nodata = -9999.0
    memory = gdal.GetDriverByName("MEM").Create("", z.shape[1], z.shape[0], 1, gdal.GDT_Float32)
    srs = osr.SpatialReference()
    srs.ImportFromEPSG(32616)
    memory.SetProjection(srs.ExportToWkt())
    memory.SetGeoTransform((600000, cell, 0, 4300000, 0, -cell))
    band = memory.GetRasterBand(1)
    band.SetNoDataValue(nodata)
    band.WriteArray(np.where(np.isnan(z), nodata, z))
    return memory


def dem(z, cell, what, **options):
    result = gdal.DEMProcessing("", dataset(z, cell), what, format="MEM", **options).ReadAsArray()
    return result


def filled(z):
    """Morphological reconstruction by erosion from the map's edge and the cells beside no data."""
    hole = np.isnan(z)
    seed = np.full(z.shape, np.nanmax(z), np.float32)
    edge = np.zeros(z.shape, bool)
    edge[0, :] = edge[-1, :] = edge[:, 0] = edge[:, -1] = True
    edge |= ndimage.binary_dilation(hole, np.ones((3, 3), bool))
    mask = np.where(hole, np.nanmin(z) - 1, z).astype(np.float32)
    seed[edge] = mask[edge]
    out = reconstruction(seed, mask, method="erosion", footprint=np.ones((3, 3))).astype(np.float32)
    out[hole] = np.nan
    return out


def annulus(z, inner, outer):
    """Weiss's position with SciPy: the cell less the mean of the cells at inner <= distance <= outer."""
    reach = int(outer)
    y, x = np.mgrid[-reach : reach + 1, -reach : reach + 1]
    d2 = x * x + y * y
    ring = (d2 >= inner * inner) & (d2 <= outer * outer)
    if inner == 0:
        ring &= d2 > 0
    known = ~np.isnan(z)
    weights = ring.astype(float)
    total = ndimage.correlate(np.where(known, z, 0).astype(float), weights, mode="constant")
    count = ndimage.correlate(known.astype(float), weights, mode="constant")
    return (z - total / np.round(count)).astype(np.float64)


def contours(z, cell, interval):
    """Vertices of gdal_contour's lines, in cells from the north-west corner, by level."""
    source = ogr.GetDriverByName("Memory").CreateDataSource("")  # must outlive its layer
    layer = source.CreateLayer("contours", None, ogr.wkbLineString)
    layer.CreateField(ogr.FieldDefn("elevation", ogr.OFTReal))
    raster = dataset(z, cell)
    gdal.ContourGenerate(raster.GetRasterBand(1), interval, 0, [], 1, -9999, layer, -1, 0)
    levels = {}
    for feature in layer:
        points = feature.GetGeometryRef().GetPoints()
        level = levels.setdefault(f"{feature.GetField(0):.3f}", [])
        level.extend([round((p[0] - 600000) / cell, 6), round((4300000 - p[1]) / cell, 6)] for p in points)
    return {"interval": interval, "levels": levels}


def case(name, z, cell):
    return {
        "name": name,
        "width": z.shape[1],
        "height": z.shape[0],
        "cellSize": cell,
        "elevation": pack(z),
        "slope": pack(dem(z, cell, "slope", alg="Horn", slopeFormat="degree")),
        "aspect": pack(dem(z, cell, "aspect", alg="Horn")),
        "shade": pack(dem(z, cell, "hillshade", alg="Horn", azimuth=315, altitude=45)),
        "tpi": pack(dem(z, cell, "TPI")),
        "roughness": pack(dem(z, cell, "Roughness")),
        "contours": contours(z, cell, 5.0 if cell < 50 else 40.71),
        "filled": pack(filled(z)),
        "annuli": [
            {"inner": inner, "outer": outer, "position": pack(annulus(z, inner, outer))}
            for inner, outer in ((0, 5), (4, 9.5))
        ],
    }


def main():
    rough = rough_ground(90, 70, 4)
    holes = rough_ground(60, 64, 9)
    holes[20:31, 25:40] = np.nan
    holes[45, 10] = np.nan
    holes[:5, 50:] = np.nan
    raster = gdal.Open(os.path.join(ROOT, "sample-rasters", "ridge-and-valley-srtm3.tif"))
    real = raster.ReadAsArray(200, 120, 90, 80).astype(np.float32)
    result = {
        "made": {
            "by": "tests/reference/terrain/make_ground.py",
            "python": sys.version.split()[0],
            "gdal": gdal.VersionInfo("RELEASE_NAME"),
            "numpy": np.__version__,
            "scipy": scipy.__version__,
            "scikit-image": skimage.__version__,
        },
        "cases": [case("rough", rough, 2.0), case("holes", holes, 3.0), case("real, 90 m", real, 90.0)],
    }
    os.makedirs(os.path.dirname(OUT), exist_ok=True)
    with open(OUT, "w") as file:
        json.dump(result, file, separators=(",", ":"))
    print(os.path.getsize(OUT), "bytes")


if __name__ == "__main__":
    main()
