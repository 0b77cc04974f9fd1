"""Opens files with GDAL and says as JSON what it sees and every warning it gives. Used live by the tests.

python3 gdal-look.py file...
"""

import hashlib
import json
import sys

from osgeo import gdal, ogr, osr

gdal.DontUseExceptions()
messages = []
gdal.PushErrorHandler(lambda kind, number, text: messages.append(text))


def raster(name):
    dataset = gdal.Open(name)
    if dataset is None:
        return None
    bands = []
    for index in range(1, dataset.RasterCount + 1):
        band = dataset.GetRasterBand(index)
        cells = band.ReadAsArray()
        bands.append(
            {
                "type": gdal.GetDataTypeName(band.DataType),
                "nodata": band.GetNoDataValue(),
                "description": band.GetDescription(),
                "unit": band.GetUnitType(),
                "checksum": band.Checksum(),
                "sha256": hashlib.sha256(cells.tobytes()).hexdigest(),
                "colours": band.GetColorTable().GetCount() if band.GetColorTable() else 0,
            }
        )
    system = osr.SpatialReference(dataset.GetProjection())
    return {
        "width": dataset.RasterXSize,
        "height": dataset.RasterYSize,
        "transform": dataset.GetGeoTransform(),
        "epsg": system.GetAuthorityCode(None),
        "block": dataset.GetRasterBand(1).GetBlockSize() if dataset.RasterCount else None,
        "bands": bands,
        "subdatasets": [entry[0] for entry in dataset.GetSubDatasets()],
    }


def layers(name):
    dataset = ogr.Open(name)
    if dataset is None:
        return None
    found = {}
    for index in range(dataset.GetLayerCount()):
        layer = dataset.GetLayer(index)
        system = layer.GetSpatialRef()
        rows = []
        for feature in layer:
            geometry = feature.GetGeometryRef()
            rows.append(
                {
                    "geometry": json.loads(geometry.ExportToJson()) if geometry else None,
                    "valid": geometry.IsValid() if geometry else None,
                    "fields": {
                        feature.GetFieldDefnRef(field).GetName(): feature.GetField(field)
                        for field in range(feature.GetFieldCount())
                    },
                }
            )
        found[layer.GetName()] = {
            "type": ogr.GeometryTypeToName(layer.GetGeomType()),
            "epsg": system.GetAuthorityCode(None) if system else None,
            "rows": rows,
        }
    return found


answer = []
for name in sys.argv[1:]:
    if name.endswith(".tif"):
        answer.append({"raster": raster(name)})
    elif name.endswith(".gpkg"):
        top = raster(name)
        answer.append(
            {
                "raster": top,
                "rasters": {sub.split(":")[-1]: raster(sub) for sub in top["subdatasets"]},
                "layers": layers(name),
            }
        )
    else:
        answer.append({"layers": layers(name)})
print(json.dumps({"gdal": gdal.__version__, "files": answer, "messages": messages}))
