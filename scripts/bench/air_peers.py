"""Times the scent walk of core/air/particles.ts written for NumPy, and prints particle-steps a second as JSON.

    python3 air_peers.py <particles> <steps>

Whole-array steps over batches that stay in the cache, 32-bit floats, what a cell's wind does worked out once for each
cell, NumPy's quickest generator, visits and the steps they were after release summed once a batch: as NumPy is best at.
"""
import json
import sys
import time

try:
    import numpy as np
except ImportError:
    print(json.dumps({"stepsPerSecond": None, "versions": {}}))
    sys.exit()

particles, steps = int(sys.argv[1]), int(sys.argv[2])
side, cell, step, batch = 400, 5.0, 2.0, 20_000
f = np.float32
yy, xx = np.mgrid[0:side, 0:side]
east = (2.5 + 0.8 * np.sin(xx / 37.0) * np.cos(yy / 23.0)).astype(f).ravel()
south = (0.6 * np.cos(xx / 29.0 + yy / 41.0)).astype(f).ravel()
spacing = 0.625
d = np.arange(4000) * spacing
across = np.append(0, 0.08 * d[1:] / np.sqrt(1 + 1e-4 * d[1:]))
up = np.append(0, 0.06 * d[1:] / np.sqrt(1 + 1.5e-3 * d[1:]))
across_step = np.sqrt(np.diff(across**2) / spacing).astype(f)
up_step = np.sqrt(np.diff(up**2) / spacing).astype(f)
per_spacing = f(1 / spacing)


def walk():
    speed = np.sqrt(east * east + south * south)
    move_east, move_south = (east * step / cell).astype(f), (south * step / cell).astype(f)
    metres, per_root = (speed * step).astype(f), (1 / np.sqrt(speed * step)).astype(f)
    rng = np.random.Generator(np.random.SFC64(1))
    visits = np.zeros(side * side, np.int64)
    after = np.zeros(side * side)
    moved = 0
    for begin in range(0, particles, batch):
        n = min(batch, particles - begin)
        x = np.full(n, 40.0, f)
        y = np.full(n, side / 2, f)
        z = np.full(n, 2.0, f)
        gone = np.zeros(n, f)
        cells = np.full(n, (side // 2) * side + 40, np.int32)
        seen, counts = [], []
        for _ in range(steps):
            e, s, m, r = move_east[cells], move_south[cells], metres[cells], per_root[cells]
            place = ((gone + f(0.5) * m) * per_spacing).astype(np.int32)
            np.minimum(place, len(across_step) - 1, out=place)
            aside = across_step[place] * r * rng.standard_normal(len(x), f)
            x += e - s * aside
            y += s + e * aside
            z = np.abs(z + up_step[place] * m * r * rng.standard_normal(len(x), f))
            gone += m
            moved += len(x)
            inside = (x >= 0) & (x < side) & (y >= 0) & (y < side)
            if not inside.all():
                x, y, z, gone = x[inside], y[inside], z[inside], gone[inside]
            cells = y.astype(np.int32) * side + x.astype(np.int32)
            low = cells[z < 2]
            seen.append(low)
            counts.append(len(low))
        where = np.concatenate(seen)
        visits += np.bincount(where, minlength=side * side)
        numbers = np.repeat(np.arange(len(counts), dtype=f), counts)
        after += np.bincount(where, weights=numbers, minlength=side * side)
    return moved


best = 0.0
for _ in range(3):
    began = time.process_time()
    moved = walk()
    best = max(best, moved / (time.process_time() - began))
print(json.dumps({"stepsPerSecond": best, "versions": {"numpy": np.__version__, "python": sys.version.split()[0]}}))
