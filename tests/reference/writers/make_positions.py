"""Makes fixtures/writers/positions.json: UTM positions in degrees as PROJ has them.

Run with the system's Python (needs osgeo): python3 tests/reference/writers/make_positions.py
"""

import json
import os

from osgeo import gdal, osr

osr.UseExceptions()
HERE = os.path.dirname(os.path.abspath(__file__))

wgs84 = osr.SpatialReference()
wgs84.ImportFromEPSG(4326)
wgs84.SetAxisMappingStrategy(osr.OAMS_TRADITIONAL_GIS_ORDER)
rows = []
for epsg, places in {
    32617: [(439983.4, 4350638.2), (500000, 4350000), (278000, 3600000.5)],
    32616: [(501000, 3998500), (699999.9, 5000000)],
    32733: [(262000, 6243000)],
}.items():
    utm = osr.SpatialReference()
    utm.ImportFromEPSG(epsg)
    transform = osr.CoordinateTransformation(utm, wgs84)
    for x, y in places:
        longitude, latitude, _ = transform.TransformPoint(x, y)
        rows.append({"epsg": epsg, "x": x, "y": y, "longitude": longitude, "latitude": latitude})

with open(os.path.join(HERE, "..", "fixtures", "writers", "positions.json"), "w") as file:
    versions = {"gdal": gdal.__version__, "proj": f"{osr.GetPROJVersionMajor()}.{osr.GetPROJVersionMinor()}.{osr.GetPROJVersionMicro()}"}
    json.dump({"made by": "tests/reference/writers/make_positions.py", "versions": versions, "rows": rows}, file, indent=1)
    file.write("\n")
