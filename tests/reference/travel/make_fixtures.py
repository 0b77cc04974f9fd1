"""Makes the fixtures of the travel room with general-purpose libraries. Run with Python 3; writes JSON beside the
other fixtures. Grids are row-major; null is a cell without resistance."""

import json
import os
import platform

import networkx
import numpy as np
import scipy
import skimage
from scipy.sparse import coo_matrix, csr_matrix
from scipy.sparse.csgraph import dijkstra
from scipy.sparse.linalg import spsolve
from skimage.graph import MCP_Geometric

HERE = os.path.dirname(os.path.abspath(__file__))
OUT = os.path.join(HERE, "..", "fixtures", "travel")
VERSIONS = {
    "python": platform.python_version(),
    "numpy": np.__version__,
    "scipy": scipy.__version__,
    "scikit-image": skimage.__version__,
    "networkx": networkx.__version__,
}


def write(name, data):
    os.makedirs(OUT, exist_ok=True)
    with open(os.path.join(OUT, name), "w") as f:
        json.dump({"madeBy": "tests/reference/travel/make_fixtures.py", "versions": VERSIONS, **data}, f)


def plain(a, digits=12):
    return [None if not np.isfinite(v) else float(f"{v:.{digits}g}") for v in np.asarray(a, float).ravel()]


def cost_fixture():
    rng = np.random.RandomState(7)
    height, width, cell = 31, 37, 2.5
    r = np.float32(np.exp(rng.rand(height, width) * 4))
    r[rng.rand(height, width) < 0.08] = np.nan
    sources = [(3, 4), (25, 30)]
    for s in sources:
        r[s] = 1.5
    blocked = np.where(np.isnan(r), -1, r).astype(float)

    mcp = MCP_Geometric(blocked)
    eight, _ = mcp.find_costs(sources)

    # 16 neighbours: a knight's move spends a quarter of its length in each of four cells.
    moves = [(0, 1), (1, 1), (1, 0), (1, -1), (1, 2), (2, 1), (2, -1), (1, -2)]
    rows, cols, vals = [], [], []
    for y in range(height):
        for x in range(width):
            for dy, dx in moves:
                y2, x2 = y + dy, x + dx
                if not (0 <= y2 < height and 0 <= x2 < width):
                    continue
                sy, sx = np.sign(dy), np.sign(dx)
                if abs(dx) + abs(dy) < 3:
                    cells = [(y, x), (y2, x2)]
                elif abs(dx) == 2:
                    cells = [(y, x), (y, x + sx), (y + sy, x + sx), (y2, x2)]
                else:
                    cells = [(y, x), (y + sy, x), (y + sy, x + sx), (y2, x2)]
                through = [float(r[c]) for c in cells]
                if np.any(np.isnan(through)):
                    continue
                rows.append(y * width + x)
                cols.append(y2 * width + x2)
                vals.append(np.hypot(dx, dy) * np.mean(through))
    n = width * height
    graph = csr_matrix((vals, (rows, cols)), shape=(n, n))
    starts = [y * width + x for y, x in sources]
    sixteen = dijkstra(graph, directed=False, indices=starts, min_only=True)
    write(
        "cost.json",
        {
            "width": width,
            "height": height,
            "cellSize": cell,
            "resistance": plain(r),
            "sources": starts,
            "eight": plain(eight * cell),
            "sixteen": plain(sixteen * cell),
        },
    )


def net_fixture():
    rng = np.random.RandomState(11)
    height, width = 23, 29
    n = width * height
    east = np.exp(rng.randn(height, width) * 1.5)
    south = np.exp(rng.randn(height, width) * 1.5)
    # A wall with one hole, and a far weaker stretch.
    east[:, 14] = 0
    east[9, 14] = 0.7
    south[11, 15:] *= 1e-4
    east[:, -1] = 0
    south[-1, :] = 0
    ground = 0.01 * rng.rand(height, width)
    rows, cols, vals = [], [], []
    for y in range(height):
        for x in range(width):
            i = y * width + x
            for g, j in ((east[y, x], i + 1), (south[y, x], i + width)):
                if g > 0:
                    rows += [i, j, i, j]
                    cols += [j, i, i, j]
                    vals += [-g, -g, g, g]
    free = coo_matrix((vals, (rows, cols)), shape=(n, n)).tocsr()
    injected = np.zeros(n)
    start, end = 2 * width + 3, 19 * width + 25
    injected[start], injected[end] = 1, -1
    keep = [i for i in range(n) if i != end]
    potential = np.zeros(n)
    potential[keep] = spsolve(free[keep][:, keep].tocsc(), injected[keep])
    leaky = free + csr_matrix((ground.ravel(), (range(n), range(n))), shape=(n, n))
    one = np.zeros(n)
    one[start] = 1
    write(
        "net.json",
        {
            "width": width,
            "height": height,
            "east": plain(east, 17),
            "south": plain(south, 17),
            "ground": plain(ground, 17),
            "start": start,
            "end": end,
            "potential": plain(potential, 14),
            "leaky": plain(spsolve(leaky.tocsc(), one), 14),
        },
    )


def cut_fixture():
    rng = np.random.RandomState(3)
    cases = []
    for height, width, corner in ((6, 7, 1), (11, 9, 2), (20, 24, 3)):
        east = np.round(rng.rand(height, width) * 9, 3)
        south = np.round(rng.rand(height, width) * 9, 3)
        east[rng.rand(height, width) < 0.15] = 0
        east[:, -1] = 0
        south[-1, :] = 0
        graph = networkx.DiGraph()
        source = [(y, x) for y in range(corner) for x in range(corner)]
        sink = [(height - 1 - y, width - 1 - x) for y in range(corner) for x in range(corner)]
        for y in range(height):
            for x in range(width):
                for c, other in ((east[y, x], (y, x + 1)), (south[y, x], (y + 1, x))):
                    if c > 0:
                        graph.add_edge((y, x), other, capacity=c)
                        graph.add_edge(other, (y, x), capacity=c)
        for cell in source:
            graph.add_edge("from", cell)
        for cell in sink:
            graph.add_edge(cell, "to")
        cases.append(
            {
                "width": width,
                "height": height,
                "east": plain(east),
                "south": plain(south),
                "source": [y * width + x for y, x in source],
                "sink": [y * width + x for y, x in sink],
                "maximumFlow": networkx.maximum_flow_value(graph, "from", "to"),
            }
        )
    write("cut.json", {"cases": cases})


if __name__ == "__main__":
    cost_fixture()
    net_fixture()
    cut_fixture()
