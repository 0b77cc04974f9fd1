"""Lit share of the moon by PyEphem (libastro). Writes tests/reference/fixtures/stands/moon.json.

    /usr/bin/python3 tests/reference/stands/make_moon.py

Debian: python3-ephem.
"""
import json
import os
import sys

import ephem

OUT = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "fixtures", "stands", "moon.json")
# Unix time of PyEphem's day 0, 1899-12-31 12:00.
START = -2209032000.0


def unix(date):
    return round((START + float(date) * 86400) * 1000)


def main():
    lit = []
    day = ephem.Date("2023/9/1")
    while day < ephem.Date("2031/2/1"):
        moon = ephem.Moon(day)
        later = ephem.Moon(ephem.Date(day + 0.05))
        lit.append([unix(day), round(moon.phase / 100, 5), later.phase > moon.phase])
        day = ephem.Date(day + 9.37)
    phases = {"new": [], "full": []}
    for name, find in (("new", ephem.next_new_moon), ("full", ephem.next_full_moon)):
        at = ephem.Date("2024/9/1")
        for _ in range(12):
            at = find(at)
            phases[name].append(unix(at))
            at = ephem.Date(at + 1)
    made = {
        "by": "tests/reference/stands/make_moon.py",
        "python": sys.version.split()[0],
        "pyephem": ephem.__version__,
    }
    with open(OUT, "w") as file:
        json.dump({"made": made, "lit": lit, "phases": phases}, file)
    print(len(lit), os.path.getsize(OUT))


main()
