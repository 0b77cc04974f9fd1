"""Times the scent walk of core/air/particles.ts written for NumPy, and prints particle-steps a second as JSON.

    python3 air_peers.py <particles> <steps>

Whole-array steps over all particles at once, as NumPy is best at.
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
side, cell, step = 400, 5.0, 2.0
rng = np.random.default_rng(1)
yy, xx = np.mgrid[0:side, 0:side]
east = (2.5 + 0.8 * np.sin(xx / 37.0) * np.cos(yy / 23.0)).astype(np.float32).ravel()
south = (0.6 * np.cos(xx / 29.0 + yy / 41.0)).astype(np.float32).ravel()
spacing = 0.625
d = np.arange(4000) * spacing
across = np.append(0, 0.08 * d[1:] / np.sqrt(1 + 1e-4 * d[1:]))
up = np.append(0, 0.06 * d[1:] / np.sqrt(1 + 1.5e-3 * d[1:]))
across_step = np.sqrt(np.diff(across**2) / spacing).astype(np.float32)
up_step = np.sqrt(np.diff(up**2) / spacing).astype(np.float32)


def walk():
    x = np.full(particles, 40.0, np.float32)
    y = np.full(particles, side / 2, np.float32)
    z = np.full(particles, 2.0, np.float32)
    distance = np.zeros(particles, np.float32)
    dose = np.zeros(side * side)
    moved = 0
    for _ in range(steps):
        i = y.astype(np.int32) * side + x.astype(np.int32)
        u, v = east[i], south[i]
        speed = np.sqrt(u * u + v * v)
        gone = speed * step
        place = np.minimum(((distance + 0.5 * gone) / spacing).astype(np.int32), len(across_step) - 1)
        root = np.sqrt(gone)
        side_step = across_step[place] * root * rng.standard_normal(len(x), np.float32) / speed
        x += (u * step - v * side_step) / cell
        y += (v * step + u * side_step) / cell
        z = np.abs(z + up_step[place] * root * rng.standard_normal(len(x), np.float32))
        distance += gone
        moved += len(x)
        inside = (x >= 0) & (x < side) & (y >= 0) & (y < side)
        if not inside.all():
            x, y, z, distance = x[inside], y[inside], z[inside], distance[inside]
        low = z < 2
        i = y[low].astype(np.int32) * side + x[low].astype(np.int32)
        dose += np.bincount(i, minlength=side * side) * step
    return moved


best = 0.0
for _ in range(3):
    began = time.process_time()
    moved = walk()
    best = max(best, moved / (time.process_time() - began))
print(json.dumps({"stepsPerSecond": best, "versions": {"numpy": np.__version__, "python": sys.version.split()[0]}}))
