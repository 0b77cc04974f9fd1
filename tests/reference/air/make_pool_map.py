"""A map of where cold air pools by terrain alone, after Lundquist, Pepin & Rochford (2008), "Automated algorithm for
mapping regions of cold-air pooling in complex terrain", J. Geophysical Research 113, for tests/reference/air/
pool-map.test.ts. Rules and limits from memory: steep ground (over 30 degrees) and ridges (convex, or in the upper half
of the elevations within the distance between valleys) do not pool; gentle or concave ground in the lower part does.

Run with a Python that has GDAL, NumPy and SciPy: /usr/bin/python3 tests/reference/air/make_pool_map.py
"""
import json
import platform
from pathlib import Path

import numpy as np
import scipy
from osgeo import gdal
from scipy import ndimage

gdal.UseExceptions()
root = Path(__file__).parents[3]
z = gdal.Open(str(root / "sample-rasters" / "ridge-and-valley-srtm3.tif")).ReadAsArray().astype(float)
z = z[120:230, 150:270]
CELL = 85.0  # 3 arc-seconds at 36.6 N, the mean of its two sides

RADIUS = 12  # cells, about 1 km: half the distance from valley to valley
yy, xx = np.mgrid[-RADIUS : RADIUS + 1, -RADIUS : RADIUS + 1]
disc = xx**2 + yy**2 <= RADIUS**2
percentile = ndimage.generic_filter(z, lambda v: (v < v[len(v) // 2]).mean(), footprint=disc, mode="nearest")
gy, gx = np.gradient(ndimage.gaussian_filter(z, 1.5), CELL)
slope = np.degrees(np.arctan(np.hypot(gx, gy)))
curvature = ndimage.laplace(ndimage.gaussian_filter(z, 2)) / CELL**2
pools = (slope < 30) & (percentile < 0.35) & ((curvature > 0) | (slope < 4))
never = (slope >= 30) | ((percentile > 0.65) & (curvature < 0))
out = {
    "made_with": {
        "numpy": np.__version__,
        "scipy": scipy.__version__,
        "gdal": gdal.VersionInfo("RELEASE_NAME"),
        "python": platform.python_version(),
    },
    "width": z.shape[1],
    "height": z.shape[0],
    "cellSize": CELL,
    "elevation": z.astype(int).ravel().tolist(),
    "map": "".join("p" if p else "n" if n else "." for p, n in zip(pools.ravel(), never.ravel())),
}
path = Path(__file__).parents[1] / "fixtures" / "air" / "pool-map.json"
path.write_text(json.dumps(out, separators=(",", ":")) + "\n")
print(pools.mean(), never.mean())
