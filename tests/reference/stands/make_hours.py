"""Hours of a season in a good wind, counted from a made record with PyEphem's sun. Writes fixtures/stands/hours.json.

    /usr/bin/python3 tests/reference/stands/make_hours.py

Debian: python3-ephem. The record is made by the same rule in tests/core/stands/hour-calendar.test.ts.
"""
import json
import math
import os
import sys
from datetime import datetime, timedelta, timezone

import ephem

OUT = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "fixtures", "stands", "hours.json")
LONGITUDE, LATITUDE, ELEVATION = -81.7, 39.3, 250
ZONE = timedelta(hours=-5)
BEFORE, AFTER = timedelta(minutes=30), timedelta(minutes=20)
SECTORS = "N NNE NE ENE E ESE SE SSE S SSW SW WSW W WNW NW NNW".split()
GOOD = {"before sunrise": {"W"}, "morning": {"W", "WNW", "NW"}, "midday": set(), "evening": {"S", "calm"}}
RECORD_START = datetime(2021, 9, 1, tzinfo=timezone.utc)
RECORD_HOURS = 24 * 400


def sun(day):
    """Rise and set of a calendar day of the place, UTC."""
    place = ephem.Observer()
    place.lon, place.lat, place.elevation = str(LONGITUDE), str(LATITUDE), 0
    place.pressure, place.horizon = 0, "-0.8333"
    noon = datetime(day.year, day.month, day.day, 12, tzinfo=timezone.utc) - timedelta(hours=LONGITUDE / 15)
    place.date = noon.replace(tzinfo=None)
    as_utc = lambda date: date.datetime().replace(tzinfo=timezone.utc)
    return as_utc(place.previous_rising(ephem.Sun(), use_center=True)), as_utc(
        place.next_setting(ephem.Sun(), use_center=True)
    )


def spans(rise, down):
    third = (down - rise) / 3
    return {
        "before sunrise": (rise - timedelta(hours=2), rise),
        "morning": (rise, rise + third),
        "midday": (rise + third, down - third),
        "evening": (down - third, down + timedelta(hours=1)),
    }


def record():
    """Counts of good and of all hours by month and part."""
    counts = {}
    for k in range(RECORD_HOURS):
        at = RECORD_START + timedelta(hours=k)
        day = (at + timedelta(hours=LONGITUDE / 15)).date()
        for part, (start, end) in spans(*sun(day)).items():
            if not start <= at < end:
                continue
            if k % 11 == 0:
                wind = "calm"
            elif k % 23 == 0:
                wind = None
            else:
                wind = SECTORS[math.floor(((k * 7919) % 360) / 22.5 + 0.5) % 16]
            good, total = counts.get((day.month, part), (0, 0))
            counts[(day.month, part)] = (good + (wind in GOOD[part]), total + 1)
    return counts


def main():
    counts = record()
    days = []
    day = datetime(2026, 10, 25).date()
    while day <= datetime(2026, 11, 15).date():
        rise, down = sun(day)
        first, last = rise - BEFORE, down + AFTER
        midnight = datetime(day.year, day.month, day.day, tzinfo=timezone.utc) - ZONE
        cells = []
        for hour in range(24):
            start = midnight + timedelta(hours=hour)
            end = start + timedelta(hours=1)
            minutes = good = 0
            for part, (a, b) in spans(rise, down).items():
                lit = (min(b, last, end) - max(a, first, start)).total_seconds() / 60
                if lit <= 0:
                    continue
                of, total = counts[(day.month, part)]
                minutes += lit
                good += lit * of / total
            if minutes > 0:
                cells.append([hour, round(minutes, 3), round(good, 3)])
        days.append({"date": day.isoformat(), "cells": cells})
        day += timedelta(days=1)
    made = {"by": "tests/reference/stands/make_hours.py", "python": sys.version.split()[0], "pyephem": ephem.__version__}
    with open(OUT, "w") as file:
        json.dump({"made": made, "days": days}, file)
    print(len(days), os.path.getsize(OUT))


main()
