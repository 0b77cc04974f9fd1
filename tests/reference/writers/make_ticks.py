"""Makes fixtures/writers/ticks.json: where the crossings of a UTM grid lie in degrees, as PROJ has them.

Run with the system's Python (needs osgeo): python3 tests/reference/writers/make_ticks.py
"""

import json
import os

from osgeo import gdal, osr

osr.UseExceptions()
HERE = os.path.dirname(os.path.abspath(__file__))
EPSG = 32617

utm = osr.SpatialReference()
utm.ImportFromEPSG(EPSG)
wgs84 = osr.SpatialReference()
wgs84.ImportFromEPSG(4326)
wgs84.SetAxisMappingStrategy(osr.OAMS_TRADITIONAL_GIS_ORDER)
transform = osr.CoordinateTransformation(utm, wgs84)
crossings = []
for easting in range(439000, 439801, 100):
    for northing in range(4350300, 4351001, 100):
        longitude, latitude, _ = transform.TransformPoint(easting, northing)
        crossings.append([easting, northing, round(longitude, 10), round(latitude, 10)])

with open(os.path.join(HERE, "..", "fixtures", "writers", "ticks.json"), "w") as file:
    versions = {"gdal": gdal.__version__, "proj": f"{osr.GetPROJVersionMajor()}.{osr.GetPROJVersionMinor()}.{osr.GetPROJVersionMicro()}"}
    json.dump({"made by": "tests/reference/writers/make_ticks.py", "versions": versions, "epsg": EPSG, "crossings": crossings}, file)
    file.write("\n")
