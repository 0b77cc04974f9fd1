"""Times general-purpose peers of our kernels on one raster and prints seconds by kernel as JSON.

    python3 peers.py <raw little-endian float32 file> <width> <height> <cell size> <contour interval> <seconds a peer may take>

Processor time, as for ours, so that a busy machine does not decide; the best of several runs. A peer whose library
is missing is left out.
"""
import json
import sys
import time

path, width, height, cell, interval, budget = sys.argv[1:]
width, height, cell, interval, budget = int(width), int(height), float(cell), float(interval), float(budget)
results = {}
versions = {"python": sys.version.split()[0]}

try:
    import numpy as np
except ImportError:
    print(json.dumps({"seconds": results, "versions": versions}))
    sys.exit()
versions["numpy"] = np.__version__
z = np.fromfile(path, "<f4").reshape(height, width)


def best(run, times=3):
    fastest = float("inf")
    start = time.process_time()
    for _ in range(times):
        began = time.process_time()
        run()
        fastest = min(fastest, time.process_time() - began)
        if time.process_time() - start > budget:
            break
    return fastest


try:
    from osgeo import gdal, ogr, osr

    gdal.UseExceptions()
    versions["gdal"] = gdal.VersionInfo("RELEASE_NAME")
    memory = gdal.GetDriverByName("MEM").Create("", width, height, 1, gdal.GDT_Float32)
    srs = osr.SpatialReference()
    srs.ImportFromEPSG(32616)
    memory.SetProjection(srs.ExportToWkt())
    memory.SetGeoTransform((500000, cell, 0, 4000000, 0, -cell))
    memory.GetRasterBand(1).WriteArray(z)

    def surface():
        for what in ("slope", "aspect", "hillshade"):
            gdal.DEMProcessing("", memory, what, format="MEM")

    results["slope + aspect + shade"] = best(surface)

    def contours():
        source = ogr.GetDriverByName("Memory").CreateDataSource("")  # must outlive its layer
        layer = source.CreateLayer("contours", None, ogr.wkbLineString)
        layer.CreateField(ogr.FieldDefn("elevation", ogr.OFTReal))
        gdal.ContourGenerate(memory.GetRasterBand(1), interval, 0, [], 0, 0, layer, -1, 0)

    results["contours"] = best(contours)

    def viewshed():
        gdal.ViewshedGenerate(
            memory.GetRasterBand(1), "MEM", "", [], 500000 + (width // 2 + 0.5) * cell,
            4000000 - (height // 2 + 0.5) * cell, 2, 1, 255, 0, 0, -1, 0.87, 1, 0, 0, [],
        )  # fmt: skip

    results["viewshed, gdal_viewshed"] = best(viewshed)
except ImportError:
    pass

try:
    import skimage
    from skimage.morphology import reconstruction

    versions["scikit-image"] = skimage.__version__

    def fill():
        seed = np.full_like(z, z.max())
        seed[0, :], seed[-1, :], seed[:, 0], seed[:, -1] = z[0, :], z[-1, :], z[:, 0], z[:, -1]
        return reconstruction(seed, z, method="erosion", footprint=np.ones((3, 3)))

    results["depression filling"] = best(fill, 2)
except ImportError:
    pass


def receivers(directions):
    """Index of each cell's receiver from codes 1..8 clockwise from east; the cell itself where it has none."""
    step = np.array([0, 1, width + 1, width, width - 1, -1, -width - 1, -width, -width + 1, 0])
    return np.arange(directions.size) + step[directions]


try:
    directions = np.fromfile(path + ".directions", "u1")
    to = receivers(directions)

    def sweep():
        """Peels the drainage tree from its leaves inwards, a whole layer at a time."""
        total = np.ones(to.size, np.uint32)
        waiting = np.bincount(to[to != np.arange(to.size)], minlength=to.size)
        layer = np.flatnonzero(waiting == 0)
        while layer.size:
            layer = layer[to[layer] != layer]
            below = to[layer]
            np.add.at(total, below, total[layer])
            np.subtract.at(waiting, below, 1)
            layer = np.unique(below[waiting[below] == 0])
        return total

    results["accumulation, D8"] = best(sweep, 2)
except FileNotFoundError:
    pass

print(json.dumps({"seconds": results, "versions": versions}))
