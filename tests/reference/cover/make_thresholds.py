"""Otsu thresholds of scikit-image on seeded data, for tests/reference/cover/thresholds.test.ts.

Run: python3 tests/reference/cover/make_thresholds.py
"""
import json
import platform
from pathlib import Path

import numpy as np
import skimage
from skimage.filters import threshold_multiotsu, threshold_otsu

rng = np.random.default_rng(20240611)


def case(name, values, classes=2):
    values = np.round(values, 4).astype(np.float32)
    if classes == 2:
        wanted = [float(threshold_otsu(values, nbins=256))]
    else:
        wanted = [float(t) for t in threshold_multiotsu(values, classes=3, nbins=256)]
    return {"name": name, "values": [float(f"{v:.4f}") for v in values], "thresholds": wanted}


cases = [
    case("two humps", np.concatenate([rng.normal(0.1, 0.05, 900), rng.normal(0.6, 0.08, 600)])),
    case("one hump", rng.normal(40, 7, 1200)),
    case("uneven humps", np.concatenate([rng.normal(20, 3, 1800), rng.normal(60, 9, 90)])),
    case("counts", rng.integers(0, 256, 1500).astype(float)),
    case(
        "three humps",
        np.concatenate([rng.normal(-3.5, 0.2, 700), rng.normal(-2.6, 0.25, 400), rng.normal(-1.9, 0.2, 600)]),
        3,
    ),
]
out = {
    "made_with": {"scikit-image": skimage.__version__, "numpy": np.__version__, "python": platform.python_version()},
    "cases": cases,
}
path = Path(__file__).parents[1] / "fixtures" / "cover" / "thresholds.json"
path.parent.mkdir(parents=True, exist_ok=True)
path.write_text(json.dumps(out, separators=(",", ":")) + "\n")
