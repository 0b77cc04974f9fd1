"""Exact tests of small counts by SciPy. Writes tests/reference/fixtures/stands/counts.json.

    /usr/bin/python3 tests/reference/stands/make_counts.py
"""
import itertools
import json
import os

import scipy
from scipy import stats

OUT = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "fixtures", "stands", "counts.json")


def main():
    binomial = [
        {"came": k, "of": n, "chance": p, "p": float(stats.binomtest(k, n, p).pvalue)}
        for n, p in ((8, 0.1), (12, 0.25), (15, 0.5), (30, 0.07), (9, 0.0), (10, 1.0))
        for k in sorted({0, 1, n // 3, n // 2, n})
    ]
    fisher = [
        {"first": [a, n], "second": [b, m], "p": float(stats.fisher_exact([[a, n - a], [b, m - b]])[1])}
        for (n, m) in ((4, 4), (8, 5), (12, 20), (30, 9))
        for a, b in itertools.product(sorted({0, 1, n // 2, n}), sorted({0, m // 3, m}))
    ]
    with open(OUT, "w") as f:
        json.dump({"versions": {"scipy": scipy.__version__}, "binomial": binomial, "fisher": fisher}, f, indent=1)
        f.write("\n")


if __name__ == "__main__":
    main()
