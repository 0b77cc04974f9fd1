"""Sun positions and times by PyEphem (libastro, VSOP87). Writes tests/reference/fixtures/terrain/sun.json.

    /usr/bin/python3 tests/reference/terrain/make_sun.py

Debian: python3-ephem.
"""
import json
import math
import os
import sys

import ephem

OUT = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "fixtures", "terrain", "sun.json")
PLACES = [(-85.8, 38.7, 250.0), (-84.24, 36.59, 500.0), (-110.0, 45.0, 2000.0), (145.0, -37.8, 30.0), (18.0, 66.0, 10.0)]
# Unix time of PyEphem's day 0, 1899-12-31 12:00.
START = -2209032000.0


def unix(date):
    return START + float(date) * 86400


def observer(place, day, height="0"):
    who = ephem.Observer()
    who.lon, who.lat, who.elevation = str(place[0]), str(place[1]), place[2]
    who.pressure = 0
    who.horizon = height
    who.date = day
    return who


def main():
    positions, times = [], []
    for place in PLACES:
        for day in ("2024/1/15", "2024/3/20", "2025/6/21", "2026/9/5", "2026/11/10", "2030/12/21"):
            for hour in (0, 5, 13, 18.4, 22):
                who = observer(place, ephem.Date(ephem.Date(day) + hour / 24))
                sun = ephem.Sun(who)
                positions.append({
                    "place": place, "time": unix(who.date) * 1000,
                    "azimuth": math.degrees(sun.az), "altitude": math.degrees(sun.alt),
                })  # fmt: skip
            if place[1] > 60:
                continue
            noon = ephem.Date(ephem.Date(day) + 0.5 - place[0] / 360)
            row = {"place": place, "date": [int(part) for part in day.split("/")]}
            for name, height, find in (
                ("dawn", "-6", "previous_rising"), ("sunrise", "-0.8333", "previous_rising"),
                ("sunset", "-0.8333", "next_setting"), ("dusk", "-6", "next_setting"),
            ):  # fmt: skip
                who = observer(place, noon, height)
                row[name] = unix(getattr(who, find)(ephem.Sun(), use_center=True)) * 1000
            times.append(row)
    made = {
        "by": "tests/reference/terrain/make_sun.py",
        "python": sys.version.split()[0],
        "pyephem": ephem.__version__,
    }
    with open(OUT, "w") as file:
        json.dump({"made": made, "positions": positions, "times": times}, file, indent=0)
    print(len(positions), len(times), os.path.getsize(OUT))


main()
