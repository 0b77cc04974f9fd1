"""Scans that do not say where they lie, and what Pillow and NumPy read in them: what the scan reader is checked against.

Run from the project's top:
    /usr/bin/python3 tests/reference/readers/make_scans.py

Debian: python3-pil, python3-numpy, python3-gdal.
"""
import json
import sys
from pathlib import Path

import numpy
import PIL
from osgeo import gdal
from PIL import Image

gdal.UseExceptions()
FOLDER = Path(__file__).parent.parent / "fixtures" / "readers" / "scans"
FOLDER.mkdir(exist_ok=True)


def tiff(name, array, options):
    bands = array if array.ndim == 3 else array[None]
    made = gdal.GetDriverByName("GTiff").Create(
        str(FOLDER / name), bands.shape[2], bands.shape[1], bands.shape[0], gdal.GDT_Byte, options
    )
    for k, band in enumerate(bands):
        made.GetRasterBand(k + 1).WriteArray(band)
    return made


def main():
    rng = numpy.random.default_rng(3)
    colour = rng.integers(0, 256, (3, 30, 41), dtype=numpy.uint8)
    tiff("colour-tiled.tif", colour, ["TILED=YES", "BLOCKXSIZE=16", "BLOCKYSIZE=16", "COMPRESS=DEFLATE", "PHOTOMETRIC=RGB"])
    tiff("grey-lzw.tif", colour[0], ["COMPRESS=LZW"])
    ink = (colour[1] > 127).astype(numpy.uint8)
    tiff("ink.tif", ink, ["NBITS=1", "COMPRESS=PACKBITS"])
    tiff("ink-white-is-zero.tif", ink, ["NBITS=1", "COMPRESS=DEFLATE", "PHOTOMETRIC=MINISWHITE"])
    indexed = (colour[2] // 64).astype(numpy.uint8)
    made = tiff("palette.tif", indexed, ["PHOTOMETRIC=PALETTE"])
    table = gdal.ColorTable()
    for k, entry in enumerate([(255, 255, 255), (0, 0, 0), (200, 40, 10), (10, 90, 220)]):
        table.SetColorEntry(k, entry)
    made.GetRasterBand(1).SetColorTable(table)
    del made
    # Longer than is kept whole: each kept pixel stands for two by two.
    wide = numpy.tile((numpy.arange(6000) // 3 % 256).astype(numpy.uint8), (6, 1))
    wide[1::2] = 255 - wide[1::2] // 2
    tiff("wide.tif", wide, ["COMPRESS=DEFLATE"])
    photo = Image.fromarray(numpy.moveaxis(colour, 0, 2))
    exif = photo.getexif()
    exif[0x0112] = 6
    photo.save(FOLDER / "on-its-side.jpg", exif=exif, quality=70)
    photo.save(FOLDER / "stepwise.jpg", progressive=True, quality=70)
    photo.save(FOLDER / "plain.png")
    photo.convert("CMYK").save(FOLDER / "print-colours.tif")

    expected = {}
    for name in ("colour-tiled.tif", "grey-lzw.tif", "ink.tif", "ink-white-is-zero.tif", "palette.tif"):
        image = Image.open(FOLDER / name)
        image = image.convert("RGB") if image.mode == "P" else image.convert("L") if image.mode == "1" else image
        expected[name] = numpy.asarray(image).reshape(30, 41, -1).tolist()
    halves = wide.astype(float).reshape(3, 2, 3000, 2).mean(axis=(1, 3))
    made = {"by": "tests/reference/readers/make_scans.py", "python": sys.version.split()[0], "pillow": PIL.__version__}
    made |= {"numpy": numpy.__version__, "gdal": gdal.__version__}
    with open(FOLDER / "expected.json", "w") as file:
        json.dump({"made": made, "pixels": expected, "wide": halves[:, ::100].tolist()}, file, separators=(",", ":"))


main()
