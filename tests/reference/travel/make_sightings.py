"""Area under the curve, and its p-value against chance, of seeded sightings on a seeded passage, by SciPy, for
tests/reference/travel/sightings.test.ts. Passage is rounded, so that many cells tie; null is unknown ground.

Run: python3 tests/reference/travel/make_sightings.py
"""
import json
import platform
from pathlib import Path

import numpy as np
import scipy
from scipy.stats import mannwhitneyu

rng = np.random.default_rng(11)
height, width = 24, 31
cases = []
for sharpness, decimals in [(0.0, 2), (1.0, 2), (3.0, 1)]:
    passage = np.round(rng.gamma(0.8, 1.0, height * width), decimals)
    passage[rng.random(passage.size) < 0.1] = np.nan
    known = np.flatnonzero(~np.isnan(passage))
    chance = passage[known] ** sharpness if sharpness > 0 else np.ones(known.size)
    cells = rng.choice(known, size=60, p=chance / chance.sum())
    seen = passage[cells]
    test = mannwhitneyu(seen, passage[known], alternative="greater", method="asymptotic")
    mixed = 0.1 + 0.9 * seen / passage[known].mean()
    cases.append(
        {
            "passage": [None if np.isnan(v) else float(v) for v in passage],
            "cells": [int(c) for c in cells],
            "areaUnderCurve": float(test.statistic / (seen.size * known.size)),
            "p": float(test.pvalue),
            "meanLogScore": float(np.log(mixed).mean()),
        }
    )

out = Path(__file__).parent.parent / "fixtures" / "travel" / "sightings.json"
out.write_text(
    json.dumps(
        {
            "madeBy": "tests/reference/travel/make_sightings.py",
            "versions": {"python": platform.python_version(), "numpy": np.__version__, "scipy": scipy.__version__},
            "width": width,
            "height": height,
            "cases": cases,
        }
    )
)
