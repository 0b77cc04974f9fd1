#!/usr/bin/python3
"""Makes tests/reference/fixtures/readers: small rasters and vectors written by GDAL/OGR, and what GDAL and PROJ
read or compute from them. Run with Debian's python3-gdal (python3-numpy, python3-scipy, proj-bin):

    /usr/bin/python3 tests/reference/readers/make_fixtures.py

All ground in them is invented by the formula below.
"""
import json
import os
import subprocess
import zipfile

import numpy as np
import scipy
import scipy.interpolate
from osgeo import gdal, ogr, osr

gdal.UseExceptions()
ogr.UseExceptions()
gdal.SetConfigOption("GTIFF_WRITE_TOWGS84", "NO")
HERE = os.path.dirname(os.path.abspath(__file__))
OUT = os.path.join(HERE, "..", "fixtures", "readers")
SAMPLES = os.path.join(HERE, "..", "..", "..", "sample-rasters")
os.makedirs(OUT, exist_ok=True)
for old in os.listdir(OUT):
    os.remove(os.path.join(OUT, old))

W, H = 50, 44
col, row = np.meshgrid(np.arange(W), np.arange(H))
GROUND = (200 + 30 * np.sin(col / 7) + 20 * np.cos(row / 5) + 0.37 * col - 0.21 * row).astype(np.float32)


def srs(code):
    s = osr.SpatialReference()
    s.SetFromUserInput(code if isinstance(code, str) else f"EPSG:{code}")
    s.SetAxisMappingStrategy(osr.OAMS_TRADITIONAL_GIS_ORDER)
    return s


def write(name, data, code, transform, kind=None, options=(), nodata=None, **more):
    data = np.atleast_3d(data)
    if data.shape[0] == H and data.shape[1] == W:
        data = np.moveaxis(data, 2, 0)
    kind = kind or {
        "float32": gdal.GDT_Float32, "float64": gdal.GDT_Float64, "int16": gdal.GDT_Int16, "uint16": gdal.GDT_UInt16,
        "int32": gdal.GDT_Int32, "uint8": gdal.GDT_Byte}[str(data.dtype)]
    path = os.path.join(OUT, name)
    ds = gdal.GetDriverByName("GTiff").Create(path, data.shape[2], data.shape[1], data.shape[0], kind, list(options))
    if code is not None:
        ds.SetProjection(srs(code).ExportToWkt())
    if transform is not None:
        ds.SetGeoTransform(transform)
    for i in range(data.shape[0]):
        band = ds.GetRasterBand(i + 1)
        if nodata is not None:
            band.SetNoDataValue(nodata)
        if "unit" in more:
            band.SetUnitType(more["unit"])
        if "scale" in more:
            band.SetScale(more["scale"])
            band.SetOffset(more["offset"])
        if "colours" in more:
            band.SetColorTable(more["colours"])
        band.WriteArray(data[i])
    if more.get("point"):
        ds.SetMetadataItem("AREA_OR_POINT", "Point")
    ds = None
    if more.get("overviews"):
        ds = gdal.Open(path, gdal.GA_Update)
        ds.BuildOverviews("AVERAGE", more["overviews"])
        ds = None
    return path


UTM = (440000, 10, 0, 4050000, 0, -10)
T = ["TILED=YES", "BLOCKXSIZE=16", "BLOCKYSIZE=16"]
i16 = GROUND.round().astype(np.int16)
u16 = GROUND.round().astype(np.uint16)
hole = GROUND.copy()
hole[10:14, 20:26] = -9999
rasters = {
    "float32-none-strips.tif": dict(data=GROUND, options=[]),
    "float32-none-tiles.tif": dict(data=GROUND, options=T),
    "float64-deflate.tif": dict(data=GROUND.astype(np.float64), options=["COMPRESS=DEFLATE"]),
    "int16-lzw-predictor2.tif": dict(data=i16, options=T + ["COMPRESS=LZW", "PREDICTOR=2"]),
    "int16-lzw-strips.tif": dict(data=i16, options=["COMPRESS=LZW", "BLOCKYSIZE=7"]),
    "uint16-packbits.tif": dict(data=u16, options=["COMPRESS=PACKBITS"]),
    "int32-deflate-predictor2.tif": dict(data=(GROUND * 100).astype(np.int32), options=["COMPRESS=DEFLATE", "PREDICTOR=2"]),
    "float32-deflate-predictor2.tif": dict(data=GROUND, options=T + ["COMPRESS=DEFLATE", "PREDICTOR=2"]),
    "float32-deflate-predictor3.tif": dict(data=hole, options=T + ["COMPRESS=DEFLATE", "PREDICTOR=3"], nodata=-9999),
    "float32-lzw-predictor3-big-endian.tif": dict(data=GROUND, options=["COMPRESS=LZW", "PREDICTOR=3", "ENDIANNESS=BIG"]),
    "int16-deflate-predictor2-big-endian.tif": dict(data=i16, options=["COMPRESS=DEFLATE", "PREDICTOR=2", "ENDIANNESS=BIG"]),
    "float32-none-big-endian.tif": dict(data=GROUND, options=["ENDIANNESS=BIG"]),
    "float32-bigtiff.tif": dict(data=GROUND, options=T + ["BIGTIFF=YES", "COMPRESS=DEFLATE"]),
    "float32-zstd-predictor3.tif": dict(data=GROUND, options=T + ["COMPRESS=ZSTD", "PREDICTOR=3"]),
    "float32-lerc.tif": dict(data=GROUND, options=T + ["COMPRESS=LERC"]),
    "float32-lerc-deflate.tif": dict(data=GROUND, options=T + ["COMPRESS=LERC_DEFLATE"]),
    "float32-lerc-zstd.tif": dict(data=GROUND, options=T + ["COMPRESS=LERC_ZSTD"]),
    "int16-scale-offset.tif": dict(data=((GROUND - 100) * 50).astype(np.int16), options=[], scale=0.02, offset=100.0),
    "float32-sparse.tif": dict(data=np.full((H, W), -3.4028234663852886e38, np.float32), options=T + ["SPARSE_OK=TRUE"],
                               nodata=-3.4028234663852886e38),
    "float32-point.tif": dict(data=GROUND, options=[], point=True),
    "float32-feet.tif": dict(data=GROUND, options=[], unit="US survey foot"),
}
expected = {}
rng = np.random.default_rng(7)
for name, what in rasters.items():
    path = write(name, code=26916, transform=UTM, **what)
    ds = gdal.Open(path)
    band = ds.GetRasterBand(1)
    values = band.ReadAsArray().astype(np.float64) * (band.GetScale() or 1) + (band.GetOffset() or 0)
    if band.GetNoDataValue() is not None:
        values[band.ReadAsArray() == band.GetNoDataValue()] = np.nan
    picks = rng.integers(0, [H, W], (60, 2)).tolist() + [[0, 0], [H - 1, W - 1], [0, W - 1], [H - 1, 0], [11, 22], [15, 16], [16, 15]]
    expected[name] = dict(
        geotransform=list(ds.GetGeoTransform()), unit=band.GetUnitType(),
        samples=[[r, c, None if np.isnan(values[r, c]) else float(values[r, c])] for r, c in picks])

# Photos.
rgbn = np.stack([(GROUND * k).clip(1, 255) for k in (0.4, 0.6, 0.5, 0.9)]).astype(np.uint8)
photo = {
    "rgbn-deflate-pixel.tif": (rgbn, ["COMPRESS=DEFLATE", "PHOTOMETRIC=RGB", "ALPHA=NO"]),
    "rgbn-deflate-band.tif": (rgbn, T + ["COMPRESS=DEFLATE", "INTERLEAVE=BAND", "PHOTOMETRIC=RGB", "ALPHA=NO"]),
    "rgba.tif": (np.concatenate([rgbn[:3], np.where(col > 40, 0, 255)[None].astype(np.uint8)]), ["COMPRESS=LZW", "PHOTOMETRIC=RGB", "ALPHA=YES"]),
    "rgbn-uint16.tif": (rgbn.astype(np.uint16) * 100, ["COMPRESS=DEFLATE", "PREDICTOR=2", "PHOTOMETRIC=RGB", "ALPHA=NO"]),
}
for name, (data, options) in photo.items():
    path = write(name, data, 26916, UTM, options=options)
    ds = gdal.Open(path)
    values = ds.ReadAsArray()
    picks = rng.integers(0, [H, W], (30, 2)).tolist()
    expected[name] = dict(geotransform=list(ds.GetGeoTransform()), unit="",
                          bands=[[r, c, [int(v) for v in values[:, r, c]]] for r, c in picks])
smooth = np.kron(rgbn[:3], np.ones((1, 4, 4), np.uint8))
path = write("rgb-jpeg-ycbcr.tif", smooth, 26916, UTM, options=["TILED=YES", "BLOCKXSIZE=64", "BLOCKYSIZE=64", "COMPRESS=JPEG", "PHOTOMETRIC=YCBCR", "JPEG_QUALITY=95"])
values = gdal.Open(path).ReadAsArray()
picks = (rng.integers(0, [H, W], (30, 2)) * 4 + 1).tolist()
expected["rgb-jpeg-ycbcr.tif"] = dict(geotransform=list(UTM), unit="", bands=[[r, c, [int(v) for v in values[:, r, c]]] for r, c in picks])

# Cloud-optimised files: overviews in front, a photo under JPEG with its mask of what it shows.
fine_ground = (200 + 30 * np.sin(np.arange(240) / 31)[None, :] + 20 * np.cos(np.arange(200) / 23)[:, None]).astype(np.float32)
source = gdal.GetDriverByName("MEM").Create("", 240, 200, 1, gdal.GDT_Float32)
source.SetProjection(srs(26916).ExportToWkt())
source.SetGeoTransform((440000, 1, 0, 4050000, 0, -1))
source.GetRasterBand(1).WriteArray(fine_ground)
source.GetRasterBand(1).SetUnitType("metre")
gdal.GetDriverByName("COG").CreateCopy(os.path.join(OUT, "cog-elevation.tif"), source, options=["BLOCKSIZE=128", "COMPRESS=ZSTD", "PREDICTOR=YES", "OVERVIEW_RESAMPLING=AVERAGE"])
source = gdal.GetDriverByName("MEM").Create("", 200, 176, 4, gdal.GDT_Byte)
source.SetProjection(srs(26916).ExportToWkt())
source.SetGeoTransform((440000, 2.5, 0, 4050000, 0, -2.5))
for i in range(3):
    source.GetRasterBand(i + 1).WriteArray(smooth[i])
shown = (np.hypot(*np.meshgrid(np.arange(200) - 100, np.arange(176) - 88)) < 80).astype(np.uint8) * 255
source.GetRasterBand(4).WriteArray(shown)
source.GetRasterBand(4).SetColorInterpretation(gdal.GCI_AlphaBand)
gdal.GetDriverByName("COG").CreateCopy(os.path.join(OUT, "cog-photo.tif"), source, options=["BLOCKSIZE=128", "COMPRESS=JPEG", "QUALITY=95", "OVERVIEW_RESAMPLING=AVERAGE"])
for name in ("cog-elevation.tif", "cog-photo.tif"):
    ds = gdal.Open(os.path.join(OUT, name))
    values = ds.ReadAsArray()
    mask = ds.GetRasterBand(1).GetMaskBand().ReadAsArray()
    h, w = mask.shape
    picks = rng.integers(0, [h, w], (40, 2)).tolist()
    if name == "cog-elevation.tif":
        expected[name] = dict(geotransform=list(ds.GetGeoTransform()), unit="metre", samples=[[r, c, float(values[r, c])] for r, c in picks])
    else:
        expected[name] = dict(geotransform=list(ds.GetGeoTransform()), unit="",
                              bands=[[r, c, [int(v) for v in values[:, r, c]] if mask[r, c] else []] for r, c in picks])
    assert ds.GetRasterBand(1).GetOverviewCount() > 0

# Systems to refuse, or that need care.
write("nad27.tif", GROUND, 26716, UTM)
write("no-projection.tif", GROUND, None, UTM)
write("no-position.tif", GROUND, None, None)
write("all-nodata.tif", np.full((H, W), -9999, np.float32), 26916, UTM, nodata=-9999)
write("unlisted-voids.tif", hole, 26916, UTM, unit="m")
write("claims-60-gb.tif", np.zeros((1, 1, 1), np.float32), 26916, UTM) and None
os.remove(os.path.join(OUT, "claims-60-gb.tif"))
ds = gdal.GetDriverByName("GTiff").Create(os.path.join(OUT, "claims-60-gb.tif"), 122880, 122880, 1, gdal.GDT_Float32,
                                          ["TILED=YES", "BLOCKXSIZE=8192", "BLOCKYSIZE=8192", "SPARSE_OK=TRUE", "BIGTIFF=YES", "COMPRESS=DEFLATE"])
ds.SetProjection(srs(26916).ExportToWkt())
ds.SetGeoTransform((440000, 1, 0, 4050000, 0, -1))
ds.GetRasterBand(1).SetUnitType("metre")
ds = None

# Two tiles of one ground that meet, and the reference warps.
write("tile-west.tif", GROUND[:, :25].reshape(1, H, 25), 26916, UTM, unit="metre", options=["COMPRESS=DEFLATE"])
write("tile-east.tif", GROUND[:, 25:].reshape(1, H, 25), 26916, (440250, 10, 0, 4050000, 0, -10), unit="metre", options=["COMPRESS=DEFLATE"])


def reference(source, epsg, bounds, size, how, picks=120, scale=1.0):
    """Values of gdalwarp at random cells. XSCALE and YSCALE of 1 keep GDAL from widening its bilinear kernel."""
    options = [] if how != "bilinear" else ["XSCALE=1", "YSCALE=1"]
    warped = gdal.Warp("", source, format="MEM", dstSRS=f"EPSG:{epsg}", outputBounds=bounds, xRes=size, yRes=size, resampleAlg=how,
                       errorThreshold=0, warpOptions=options + ["SAMPLE_GRID=YES"], dstNodata=-32768 if how == "bilinear" else None,
                       outputType=gdal.GDT_Float64)
    values = warped.GetRasterBand(1).ReadAsArray()
    cells = rng.integers(0, values.shape, (picks, 2)).tolist()
    out = []
    for r, c in cells:
        v = float(values[r, c])
        out.append([r, c, None if v == -32768 else v * scale])
    return dict(epsg=epsg, bounds=bounds, size=size, how=how, values=out)


warps = {}
srtm = os.path.join(SAMPLES, "ridge-and-valley-srtm3.tif")
warps["srtm"] = reference(srtm, 32616, [730890, 4069260 - 364 * 90, 730890 + 345 * 90, 4069260], 90, "bilinear", 300)

# State plane in US survey feet, heights in the same feet by a compound system.
tn = osr.CoordinateTransformation(srs(4326), srs(2274))
x0, y0, _ = tn.TransformPoint(-84.25, 36.2)
FEET = (round(x0), 30, 0, round(y0), 0, -30)
feet = (GROUND / (1200 / 3937)).astype(np.float32)
path = write("state-plane-feet.tif", feet, "EPSG:2274+6360", FEET, options=["COMPRESS=DEFLATE", "PREDICTOR=3"])
back = osr.CoordinateTransformation(srs(2274), srs(32616))
cx, cy, _ = back.TransformPoint(FEET[0] + 15 * W, FEET[3] - 15 * H)
bounds = [round(cx / 10) * 10 - 180, round(cy / 10) * 10 - 150, round(cx / 10) * 10 + 180, round(cy / 10) * 10 + 150]
ds = gdal.Open(path)
flat = gdal.Translate("", ds, format="MEM", outputSRS="EPSG:2274")
warps["state-plane-feet.tif"] = reference(flat, 32616, bounds, 10, "bilinear", scale=1200 / 3937)
assert gdal.Open(path).GetSpatialRef().IsCompound()

# The projection of the national land cover, user-defined in the file.
ALBERS = ('PROJCS["Albers_Conical_Equal_Area",GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]],'
          'PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],PROJECTION["Albers_Conic_Equal_Area"],'
          'PARAMETER["latitude_of_center",23],PARAMETER["longitude_of_center",-96],PARAMETER["standard_parallel_1",29.5],'
          'PARAMETER["standard_parallel_2",45.5],PARAMETER["false_easting",0],PARAMETER["false_northing",0],UNIT["metre",1]]')
albers = srs(4326)
to_albers = osr.CoordinateTransformation(srs(4326), srs(5070))
ax, ay, _ = to_albers.TransformPoint(-84.25, 36.2)
codes = np.array([11, 21, 41, 42, 43, 71, 81, 82, 90])
nlcd = codes[((col // 3 + row // 4) % 9)].astype(np.uint8)
table = gdal.ColorTable()
for code in codes:
    table.SetColorEntry(int(code), (int(code), 100, 50, 255))
path = write("landcover-albers.tif", nlcd, ALBERS, (round(ax), 30, 0, round(ay), 0, -30), colours=table, options=["COMPRESS=DEFLATE"])
lx, ly, _ = osr.CoordinateTransformation(srs(5070), srs(32616)).TransformPoint(round(ax) + 15 * W, round(ay) - 15 * H)
bounds = [round(lx / 10) * 10 - 300, round(ly / 10) * 10 - 300, round(lx / 10) * 10 + 300, round(ly / 10) * 10 + 300]
warps["landcover-albers.tif"] = reference(path, 32616, bounds, 10, "near")

# A fine source averaged onto coarse cells, and through overviews.
fine = (200 + 30 * np.sin(np.arange(240) / 31)[None, :] + 20 * np.cos(np.arange(200) / 23)[:, None]).astype(np.float32)
path = write("fine-1m.tif", fine.reshape(1, 200, 240), 26916, (440000.3, 1, 0, 4050000.7, 0, -1), unit="metre",
             options=T + ["COMPRESS=DEFLATE", "PREDICTOR=3"])
warps["fine-1m.tif"] = reference(path, 32616, [440004, 4049808, 440238, 4049997], 4.5, "average")
write("fine-1m-overviews.tif", fine.reshape(1, 200, 240), 26916, (440000.3, 1, 0, 4050000.7, 0, -1), unit="metre",
      options=T + ["COMPRESS=DEFLATE", "PREDICTOR=3"], overviews=[2, 4])
# A grid turned against its axes.
path = write("turned.tif", GROUND, 26916, (440000, 9, 3, 4050000, 3, -9), unit="metre")
warps["turned.tif"] = reference(path, 32616, [440100, 4049700, 440400, 4049980], 10, "bilinear")

# Vectors, one set of shapes in four forms.
SHAPES = [
    ("fence", "North fence", "LINESTRING (-87.6650 36.5900,-87.6640 36.5905,-87.6630 36.5900)"),
    ("stand", "Oak stand", "POINT (-87.6645 36.5890)"),
    ("food", "Clover plot", "POLYGON ((-87.6648 36.5880,-87.6640 36.5880,-87.6640 36.5886,-87.6648 36.5886,-87.6648 36.5880))"),
]


def vectors(driver, path, code, layer="features", options=()):
    ds = ogr.GetDriverByName(driver).CreateDataSource(path)
    to = osr.CoordinateTransformation(srs(4326), srs(code))
    by_type = {"ESRI Shapefile": True}.get(driver, False)
    layers = {}
    for kind, name, wkt in SHAPES:
        g = ogr.CreateGeometryFromWkt(wkt)
        g.Transform(to)
        key = f"{layer}_{kind}" if by_type else layer
        if key not in layers:
            layers[key] = ds.CreateLayer(key, srs(code), g.GetGeometryType() if by_type else ogr.wkbUnknown, list(options))
            layers[key].CreateField(ogr.FieldDefn("kind", ogr.OFTString))
            layers[key].CreateField(ogr.FieldDefn("name", ogr.OFTString))
        f = ogr.Feature(layers[key].GetLayerDefn())
        f["kind"], f["name"] = kind, name
        f.SetGeometry(g)
        layers[key].CreateFeature(f)
    ds = None


vectors("GPKG", os.path.join(OUT, "shapes.gpkg"), 26916)
folder = os.path.join(OUT, "shp")
os.makedirs(folder)
vectors("ESRI Shapefile", folder, 2274)
with zipfile.ZipFile(os.path.join(OUT, "shapes.zip"), "w", zipfile.ZIP_DEFLATED) as z:
    for name in sorted(os.listdir(folder)):
        z.write(os.path.join(folder, name), f"export/{name}")
        os.remove(os.path.join(folder, name))
os.rmdir(folder)
to = osr.CoordinateTransformation(srs(4326), srs(32616))
shapes = []
for kind, name, wkt in SHAPES:
    g = ogr.CreateGeometryFromWkt(wkt)
    g.Transform(to)
    shapes.append(dict(kind=kind, name=name, wkt=wkt, geometry=json.loads(g.ExportToJson(options=["COORDINATE_PRECISION=6"]))))

# PROJ: coordinates and convergence.
points = []
for lon, lat in [(-84.2, 36.6), (-87, 45), (-89.99, 31.2), (-121.5, 47.9), (-69.3, 45.3), (-81.69, 39.3), (15.2, -33.9), (-93.4, 16.7)]:
    zone = int((lon + 180) // 6) + 1
    definition = ["+proj=utm", f"+zone={zone}", "+datum=WGS84"] + (["+south"] if lat < 0 else [])
    text = subprocess.run(["proj", "-d", "6", *definition], input=f"{lon} {lat}\n", capture_output=True, text=True, check=True).stdout.split()
    verbose = subprocess.run(["proj", "-V", *definition], input=f"{lon} {lat}\n", capture_output=True, text=True, check=True).stdout
    line = next(x for x in verbose.splitlines() if x.startswith("Convergence"))
    points.append(dict(longitude=lon, latitude=lat, epsg=(32600 if lat > 0 else 32700) + zone, x=float(text[0]), y=float(text[1]),
                       convergence=float(line.split("[")[1].split("]")[0]) if "[" in line else line))
systems = []
for code in [2274, 6576, 5070, 3857, 32617, 26916, 4269, 2226, 2264, 3082, 6350, 26985, 2965]:
    s = srs(code)
    area = s.GetAreaOfUse()
    lon, lat = (area.west_lon_degree + area.east_lon_degree) / 2, (max(area.south_lat_degree, -80) + min(area.north_lat_degree, 80)) / 2
    if code in (3857, 4269, 5070, 6350):
        lon, lat = -84.25, 36.2
    # The tool takes NAD83 as WGS 84, so the reference goes from the system's own geographic coordinates.
    base = srs(code).CloneGeogCS()
    base.SetAxisMappingStrategy(osr.OAMS_TRADITIONAL_GIS_ORDER)
    x, y, _ = osr.CoordinateTransformation(base, s).TransformPoint(lon, lat)
    systems.append(dict(epsg=code, longitude=lon, latitude=lat, x=x, y=y))

# Ground known at a cell in seven, joined by triangles: SciPy's linear interpolation.
state, known = 7, []
for i in range(90 * 70):
    state = (state * 1664525 + 1013904223) & 0xFFFFFFFF
    if state / 2**32 < 1 / 7:
        known.append((i % 90, i // 90))
known = np.array(known)


def hills(x, y):
    return 200 + 0.4 * x - 0.3 * y + 3 * np.sin(x / 14) * np.cos(y / 11)


yy, xx = np.mgrid[0:70, 0:90]
joined = scipy.interpolate.griddata(known, hills(known[:, 0], known[:, 1]), (xx, yy), method="linear")
inside = np.ones((70, 90), bool)
inside[known[:, 1], known[:, 0]] = False
error = (joined - hills(xx, yy))[inside]
tin = dict(points=len(known), outside=int(np.isnan(joined).sum()), rmse=float(np.sqrt(np.nanmean(error**2))))

version = subprocess.run(["proj"], capture_output=True, text=True).stderr.splitlines()[0]
json.dump(dict(made_by=f"GDAL {gdal.__version__}, PROJ {version}, NumPy {np.__version__}, SciPy {scipy.__version__}", rasters=expected, warps=warps,
               shapes=shapes, points=points, systems=systems, tin=tin),
          open(os.path.join(OUT, "expected.json"), "w"), separators=(",", ":"))
for name in os.listdir(OUT):
    if name.endswith(".aux.xml"):
        os.remove(os.path.join(OUT, name))
