"""Makes the fixture of the flow between two ends with SciPy: the electrical flow on
4 and on 8 neighbours, randomised shortest paths after Saerens et al. (2009) and Kivimaki, Shimbo & Saerens (2014)
with the walk's weights scaled so that nothing underflows, the shortest path itself, and the closed form on an
endless plane. Run with Python 3; grids are row-major; null is a cell without resistance."""

import json
import os
import platform

import numpy as np
import scipy
from scipy.integrate import quad
from scipy.sparse import coo_matrix, diags, identity
from scipy.sparse.csgraph import dijkstra
from scipy.sparse.linalg import splu, spsolve
from scipy.special import k0, k1
from scipy.stats import binom

HERE = os.path.dirname(os.path.abspath(__file__))
OUT = os.path.join(HERE, "..", "fixtures", "travel")


def plain(a, digits=9):
    return [None if not np.isfinite(v) else float(f"{v:.{digits}g}") for v in np.asarray(a, float).ravel()]


def edges_of(r, moves):
    """Pairs of neighbouring cells with the length of the way between them and its mean resistance."""
    height, width = r.shape
    for y in range(height):
        for x in range(width):
            for dy, dx in moves:
                y2, x2 = y + dy, x + dx
                if 0 <= y2 < height and 0 <= x2 < width:
                    mean = (float(r[y, x]) + float(r[y2, x2])) / 2
                    if np.isfinite(mean):
                        yield y * width + x, y2 * width + x2, np.hypot(dx, dy), mean


FOUR = [(0, 1), (1, 0)]
EIGHT = FOUR + [(1, 1), (1, -1)]


def net_of(r, moves):
    """Conductances one over the cost of the way, cells one metre wide."""
    i, j, length, mean = map(np.array, zip(*edges_of(r, moves)))
    n = r.size
    g = 1 / (length * mean)
    return coo_matrix((np.r_[g, g], (np.r_[i, j], np.r_[j, i])), shape=(n, n)).tocsr()


def electrical(r, areas, moves):
    """Potentials with one unit sent from the cells of area 1 to those of area 2."""
    a = net_of(r, moves)
    degree = np.asarray(a.sum(1)).ravel()
    sent = np.where(areas == 1, 1 / np.sum(areas == 1), 0) - np.where(areas == 2, 1 / np.sum(areas == 2), 0)
    keep = np.flatnonzero(degree > 0)[1:]
    laplace = (diags(degree) - a).tocsr()
    v = np.zeros(r.size)
    v[keep] = spsolve(laplace[keep][:, keep].tocsc(), sent[keep])
    return v, a


def four_flow(a, v, shape):
    """East and south flows of every cell."""
    height, width = shape
    coo = a.tocoo()
    east, south = np.zeros(height * width), np.zeros(height * width)
    for i, j, g in zip(coo.row, coo.col, coo.data):
        if j == i + 1:
            east[i] = g * (v[i] - v[j])
        elif j == i + width:
            south[i] = g * (v[i] - v[j])
    return east, south


def bumpy(rng, height, width, holes):
    r = np.float32(np.exp(rng.rand(height, width) * 3))
    r[rng.rand(height, width) < holes] = np.nan
    return r


def electrical_case():
    rng = np.random.RandomState(5)
    height, width = 37, 50
    r = bumpy(rng, height, width, 0.06)
    areas = np.zeros((height, width), int)
    areas[4:8, 3:9] = 1
    areas[28:33, 40:46] = 2
    areas[~np.isfinite(r)] = 0
    v, a = electrical(r, areas.ravel(), FOUR)
    east, south = four_flow(a, v, r.shape)
    return dict(width=width, height=height, resistance=plain(r), areas=areas.ravel().tolist(),
                east=plain(east, 12), south=plain(south, 12))


def eight_case():
    """Shares over stretches of a column, on a net of 8 neighbours: two gaps in dear ground, cells of 5 m."""
    height, width, cell = 80, 120, 5.0
    x = (np.arange(width) + 0.5) * cell
    y = (height - np.arange(height) - 0.5) * cell
    x, y = np.meshgrid(x, y)
    belt = (np.abs(x - 300) < 20) & (np.abs(y - 200) > 22) & (np.abs(y - 330) > 15)
    r = np.where(belt, 30, 1.2)
    areas = np.zeros((height, width), int)
    areas[np.hypot(x - 100, y - 200) <= 20] = 1
    areas[np.hypot(x - 500, y - 200) <= 20] = 2
    v, a = electrical(r, areas.ravel(), EIGHT)
    column = 59
    coo = a.tocoo()
    over = {}
    for i, j, g in zip(coo.row, coo.col, coo.data):
        if i % width == column and j % width == column + 1:
            # A slanting way crosses the column's edge between its two rows.
            middle = height * cell - ((i // width + j // width) / 2 + 0.5) * cell
            over[middle] = over.get(middle, 0) + g * (v[i] - v[j])
    spans = [(0, 178), (178, 222), (222, 315), (315, 345), (345, 400)]
    shares = [sum(f for at, f in over.items() if lo < at < hi) for lo, hi in spans]
    return dict(spans=spans, shares=plain(shares, 12))


def paths_case(r, start, end, focuses):
    """Randomised shortest paths on 4 neighbours between two cells, with theta = focus / least cost on 8 neighbours."""
    height, width = r.shape
    n = r.size
    i, j, length, mean = map(np.array, zip(*edges_of(r, EIGHT)))
    eight = coo_matrix((length * mean, (i, j)), shape=(n, n)).tocsr()
    least = dijkstra(eight, directed=False, indices=start)[end]
    i, j, _, mean = map(np.array, zip(*edges_of(r, FOUR)))
    four = coo_matrix((mean, (i, j)), shape=(n, n)).tocsr()
    far, before = dijkstra(four, directed=False, indices=start, return_predecessors=True)
    path = [end]
    while path[-1] != start:
        path.append(int(before[path[-1]]))
    cases = []
    for focus in focuses:
        theta = focus / least
        t = theta / np.sqrt(2)
        x = t * mean
        log_couple = np.log(2 * t) - x - np.log1p(-np.exp(-2 * x))
        row, col, log_c = np.r_[i, j], np.r_[j, i], np.r_[log_couple, log_couple]
        log_out = np.full(n, -np.inf)
        np.logaddexp.at(log_out, row, log_c)
        values = np.nan_to_num(r.ravel(), nan=1)
        log_ground = np.log(4 * t * np.tanh(t * values / 2))
        # The reference walk P, and what a step costs (in units of 1 / theta): W = P o exp(-C).
        reached = np.isfinite(far)
        alive = np.flatnonzero(reached)
        cost = np.logaddexp(0, log_ground - log_out)
        use = reached[row]
        row, col, log_w = row[use], col[use], (log_c - log_out[row] - cost[row])[use]
        row, col = np.searchsorted(alive, row), np.searchsorted(alive, col)
        m = len(alive)
        s, e = np.searchsorted(alive, [start, end])
        lengths = coo_matrix((-log_w, (row, col)), shape=(m, m)).tocsr()
        # Scaled by the likeliest way from the start and to the end, no entry rises above one.
        ahead = dijkstra(lengths, indices=s)
        behind = dijkstra(lengths.T.tocsr(), indices=e)

        def solve(log_scaled, at, turned):
            w = coo_matrix((np.exp(log_scaled), (col, row) if turned else (row, col)), shape=(m, m)).tocsc()
            whole = splu(identity(m, format="csc") - w, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0,
                         options=dict(SymmetricMode=True))
            one = np.zeros(m)
            one[at] = 1
            return whole.solve(one)

        # z from the start: (I - W)^T z = 1_s with z = y exp(-ahead); to the end: (I - W) z = 1_e, z = u exp(-behind).
        log_from = np.log(solve(log_w - ahead[row] + ahead[col], s, True)) - ahead
        log_to = np.log(solve(log_w + behind[row] - behind[col], e, False)) - behind
        n_ij = np.exp(log_from[row] + log_w + log_to[col] - log_from[e])
        passed = coo_matrix((n_ij, (alive[row], alive[col])), shape=(n, n)).tocsr()
        net = (passed - passed.T).tocoo()
        east, south = np.zeros(n), np.zeros(n)
        for a, b, f in zip(net.row, net.col, net.data):
            if b == a + 1:
                east[a] = f
            elif b == a + width:
                south[a] = f
        cases.append(dict(focus=focus, east=plain(east, 8), south=plain(south, 8)))
    return dict(width=width, height=height, resistance=plain(r), start=start, end=end, least=least,
                path=path[::-1], pathCost=far[end], cases=cases)


def maze(rng, rooms):
    """A maze with some loops: passages one cell wide between rooms."""
    size = 2 * rooms - 1
    r = np.full((size, size), np.nan)
    seen = {(0, 0)}
    stack = [(0, 0)]
    r[0, 0] = 1
    while stack:
        y, x = stack[-1]
        ways = [(y + dy, x + dx) for dy, dx in ((0, 1), (1, 0), (0, -1), (-1, 0))
                if 0 <= y + dy < rooms and 0 <= x + dx < rooms and (y + dy, x + dx) not in seen]
        if not ways:
            stack.pop()
            continue
        y2, x2 = ways[rng.randint(len(ways))]
        r[2 * y2, 2 * x2] = 1
        r[y + y2, x + x2] = 1
        seen.add((y2, x2))
        stack.append((y2, x2))
    for _ in range(rooms * 3):
        y, x = rng.randint(rooms), rng.randint(rooms - 1)
        if rng.rand() < 0.5:
            r[2 * y, 2 * x + 1] = 1
        else:
            r[2 * x + 1, 2 * y] = 1
    return np.where(np.isfinite(r), np.float32(1 + rng.rand(size, size)), np.nan)


def plane_case():
    """Shares of the flow between two points of even ground over stretches of the line midway, on an endless plane.

    Walkers spread as z = K0(theta rho), and what crosses midway at an offset y is z dz/dx, twice, so it goes as
    K0(theta rho) K1(theta rho) / rho with rho the distance to either point.
    """
    cases = []
    for focus in (5, 10, 20):
        half = 102.5
        theta = focus / (2 * half)

        def density(y):
            rho = np.hypot(half, y)
            return k0(theta * rho) * k1(theta * rho) / rho

        whole = 2 * sum(quad(density, lo, lo + 50)[0] for lo in range(0, 2000, 50))
        stretches = [(0, 12.5), (12.5, 27.5), (27.5, 52.5), (52.5, 102.5)]
        cases.append(dict(focus=focus, stretches=stretches,
                          shares=[quad(density, lo, hi)[0] / whole for lo, hi in stretches]))
    return cases


def luck_case():
    """Chance of at least so many of so many, each found with a chance: the upper tail of the binomial."""
    rows = [(1, 3, 0.2), (2, 3, 0.5), (4, 9, 0.13), (7, 12, 0.31), (12, 12, 0.4), (0, 5, 0.1)]
    return [dict(found=f, of=n, chance=p, byLuck=float(binom.sf(f - 1, n, p))) for f, n, p in rows]


if __name__ == "__main__":
    rng = np.random.RandomState(23)
    focuses = [0.1, 1, 5, 10, 15, 20, 25]
    small = bumpy(rng, 18, 23, 0.05)
    large = bumpy(rng, 50, 50, 0.05)
    for r in (small, large):
        r[3, 3] = r[-4, -5] = 2
    labyrinth = maze(rng, 25)
    data = {
        "madeBy": "tests/reference/travel/make_flow.py",
        "versions": {"python": platform.python_version(), "numpy": np.__version__, "scipy": scipy.__version__},
        "electrical": electrical_case(),
        "eight": eight_case(),
        "paths": [
            paths_case(small, 3 * 23 + 3, 14 * 23 + 18, focuses),
            paths_case(large, 3 * 50 + 3, 46 * 50 + 45, [0.1, 10, 25]),
            paths_case(labyrinth, 0, labyrinth.size - 1, [5, 25]),
            # Far beyond what the program allows, where all travel keeps to the shortest path.
            paths_case(labyrinth, 0, labyrinth.size - 1, [400]),
        ],
        "plane": plane_case(),
        "luck": luck_case(),
    }
    with open(os.path.join(OUT, "flow.json"), "w") as f:
        json.dump(data, f)
