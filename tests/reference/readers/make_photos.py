"""Photos with the metadata a phone writes, made with Pillow: what the photo reader is checked against.

Tags after the Exif 2.32 standard (CIPA DC-008-2019 / JEITA CP-3451E). Run from the project's top:
    python3 tests/reference/readers/make_photos.py
"""
import json
from pathlib import Path

import PIL
from PIL import Image
from PIL.TiffImagePlugin import IFDRational

FOLDER = Path(__file__).parent.parent / "fixtures" / "readers" / "photos"


def dms(degrees):
    degrees = abs(degrees)
    whole = int(degrees)
    minutes = int((degrees - whole) * 60)
    seconds = (degrees - whole - minutes / 60) * 3600
    return (IFDRational(whole, 1), IFDRational(minutes, 1), IFDRational(round(seconds * 1000), 1000))


def photo(name, lat=None, lon=None, direction=None, reference="T", taken=None, offset=None, orientation=1):
    image = Image.new("RGB", (48, 32), (90, 120, 60))
    exif = image.getexif()
    exif[0x0112] = orientation
    inner = {}
    if taken:
        inner[0x9003] = taken
    if offset:
        inner[0x9011] = offset
    gps = {}
    if lat is not None:
        gps[1], gps[2] = ("N" if lat >= 0 else "S"), dms(lat)
        gps[3], gps[4] = ("E" if lon >= 0 else "W"), dms(lon)
    if direction is not None:
        gps[16], gps[17] = reference, IFDRational(round(direction * 100), 100)
    if inner:
        exif[0x8769] = inner
    if gps:
        exif[0x8825] = gps
    image.save(FOLDER / name, exif=exif, quality=60)


FOLDER.mkdir(exist_ok=True)
CASES = {
    "placed.jpg": dict(lat=39.30482, lon=-87.69715, direction=241.5, taken="2026:10:31 07:12:05", offset="-04:00"),
    "magnetic.jpg": dict(lat=-33.5, lon=150.25, direction=10, reference="M", taken="2026:10:31 07:12:05"),
    "timed.jpg": dict(taken="2026:10:31 07:14:00", offset="-04:00"),
    "bare.jpg": {},
}
for name, values in CASES.items():
    photo(name, **values)
(FOLDER / "photos.json").write_text(json.dumps({"pillow": PIL.__version__, "cases": CASES}, indent=1) + "\n")
