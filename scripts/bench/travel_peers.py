"""Times general-purpose peers of the travel kernels and prints processor seconds by kernel as JSON.

    python3 travel_peers.py <folder with resistance, east, south> <side> <start cell> <end cell>
"""
import json
import os
import sys
import time

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import cg, spsolve
from skimage.graph import MCP_Geometric

folder, side, start, end = sys.argv[1], int(sys.argv[2]), int(sys.argv[3]), int(sys.argv[4])
seconds = {}


def timed(name, run, times=1):
    fastest = float("inf")
    for _ in range(times):
        began = time.process_time()
        result = run()
        fastest = min(fastest, time.process_time() - began)
    seconds[name] = fastest
    return result


def read(name, kind):
    return np.fromfile(os.path.join(folder, name), kind)


resistance = read("resistance", "<f4").reshape(side, side).astype(float)
costs, _ = timed("mcp", lambda: MCP_Geometric(resistance).find_costs([divmod(start, side)]), 9)

n = side * side
east, south = read("east", "<f8"), read("south", "<f8")
i = np.arange(n)
a = np.concatenate([i[east > 0], i[south > 0]])
b = np.concatenate([i[east > 0] + 1, i[south > 0] + side])
g = np.concatenate([east[east > 0], south[south > 0]])
laplacian = coo_matrix(
    (np.concatenate([-g, -g, g, g]), (np.concatenate([a, b, a, b]), np.concatenate([b, a, a, b]))), shape=(n, n)
).tocsr()
# One cell held at zero, as a direct solver needs.
keep = np.delete(i, end)
matrix = laplacian[keep][:, keep]
right = np.zeros(n)
right[start] = 1
right = right[keep]
place = np.searchsorted(keep, start)

x, failed = timed("cg", lambda: cg(matrix, right, tol=1e-8, atol=0, maxiter=20000))
ohms = None if failed else float(x[place])
direct = matrix.tocsc()
x = timed("spsolve", lambda: spsolve(direct, right))
if ohms is None:
    del seconds["cg"]
ohms = float(x[place])
print(json.dumps({"seconds": seconds, "farCost": float(costs[divmod(end, side)]), "ohms": ohms}))
