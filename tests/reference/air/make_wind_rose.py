"""An independent recount of a seeded wind record in NumPy, for tests/reference/air/wind-rose.test.ts.

Run: python3 tests/reference/air/make_wind_rose.py
"""
import json
import platform
from pathlib import Path

import numpy as np

rng = np.random.default_rng(7)
n = 3000
direction = rng.integers(0, 37, n) * 10.0
direction[:40] = np.tile([11.25, 348.75, 33.75, 360.0], 10)
speed = np.round(rng.weibull(1.8, n) * 4, 1)
calm = rng.random(n) < 0.12
variable = ~calm & (rng.random(n) < 0.05)
speed[calm] = 0
speed[~calm & (speed == 0)] = 0.5
direction[calm | variable] = np.nan
hours = 438_000 + np.arange(n)

blows = ~calm & ~variable
edges = np.arange(-11.25, 360, 22.5)
# Half-open sectors [middle - 11.25, middle + 11.25), as np.histogram counts them.
shifted = np.where(direction[blows] >= 348.75, direction[blows] - 360, direction[blows])
counts, _ = np.histogram(shifted, bins=edges)
which = np.digitize(shifted, edges) - 1
means = [float(speed[blows][which == k].mean()) for k in range(16)]

out = {
    "made_with": {"numpy": np.__version__, "python": platform.python_version()},
    "record": {
        "hours": hours.tolist(),
        "direction": [None if np.isnan(d) else float(d) for d in direction],
        "speed": speed.tolist(),
    },
    "counts": counts.tolist(),
    "means": means,
    "calms": int(calm.sum()),
    "variable": int(variable.sum()),
}
path = Path(__file__).parents[1] / "fixtures" / "air" / "wind-rose.json"
path.parent.mkdir(parents=True, exist_ok=True)
path.write_text(json.dumps(out, separators=(",", ":")) + "\n")
