"""Least ways of a walker by SciPy's dijkstra, from Tobler's formula. Writes fixtures/stands/walk.json.

    /usr/bin/python3 tests/reference/stands/make_walk.py
"""
import json
import os
import sys

import numpy as np
import scipy
from scipy import ndimage
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import dijkstra

HERE = os.path.dirname(os.path.abspath(__file__))
OUT = os.path.join(HERE, "..", "fixtures", "stands", "walk.json")


def tobler(slope):
    """Tobler 1993, m/s."""
    return 6 * np.exp(-3.5 * np.abs(slope + 0.05)) / 3.6


def main():
    rng = np.random.default_rng(3)
    height, width, cell = 33, 38, 5.0
    z = ndimage.gaussian_filter(rng.standard_normal((height, width)), 3)
    z = (200 + 25 * z / z.std()).astype(np.float32)
    pace = (0.2 + 0.8 * rng.random((height, width))).astype(np.float32)
    price = (1 + 5 * rng.random((height, width))).astype(np.float32)
    pace[rng.random((height, width)) < 0.1] = np.nan
    pace[5, 6] = 1.0
    is_open = ~np.isnan(pace)
    moves = [(dx, dy) for dx in range(-2, 3) for dy in range(-2, 3) if 0 < dx * dx + dy * dy <= 5 and np.gcd(dx, dy) == 1]
    rows, cols, values = [], [], []
    for y in range(height):
        for x in range(width):
            if not is_open[y, x]:
                continue
            for dx, dy in moves:
                tx, ty = x + dx, y + dy
                if not (0 <= tx < width and 0 <= ty < height and is_open[ty, tx]):
                    continue
                if abs(dx) + abs(dy) == 3:
                    sx, sy = int(np.sign(dx)), int(np.sign(dy))
                    straight = (y, x + sx) if abs(dx) == 2 else (y + sy, x)
                    if not (is_open[straight] and is_open[y + sy, x + sx]):
                        continue
                run = np.hypot(dx, dy) * cell
                slope = (float(z[ty, tx]) - float(z[y, x])) / run
                seconds = run / ((float(pace[y, x]) + float(pace[ty, tx])) / 2) / tobler(slope)
                rows.append(y * width + x)
                cols.append(ty * width + tx)
                values.append(seconds * (float(price[y, x]) + float(price[ty, tx])) / 2)
    graph = coo_matrix((values, (rows, cols)), shape=(height * width,) * 2).tocsr()
    start = 5 * width + 6
    cost = dijkstra(graph, indices=start)

    def plain(a):
        return [None if not np.isfinite(v) else float(v) for v in np.asarray(a, float).ravel()]

    data = {
        "made": {"by": "tests/reference/stands/make_walk.py", "python": sys.version.split()[0],
                 "numpy": np.__version__, "scipy": scipy.__version__},
        "width": width, "height": height, "cellSize": cell, "start": start,
        "elevation": plain(z), "pace": plain(pace), "price": plain(price), "cost": plain(cost),
    }  # fmt: skip
    with open(OUT, "w") as file:
        json.dump(data, file)
    print(os.path.getsize(OUT), "bytes", np.isfinite(cost).sum(), "reached")


if __name__ == "__main__":
    main()
