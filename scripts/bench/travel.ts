/**
 * Accumulated cost and flow on about a million cells beside scikit-image and SciPy, on the same data in one run.
 *
 *     node scripts/bench/travel.ts [--side 1024] [--json <file>]
 *
 * SciPy's spsolve with its default ordering takes minutes and gigabytes at full size; --side 300 shows that it runs.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import type { GridNet } from '../../core/travel/aggregation.ts';
import { accumulateCost } from '../../core/travel/cost.ts';
import { createSolver } from '../../core/travel/multigrid.ts';
import { benchFrame, fractalGround } from './ground.ts';
import { printRows, rowOf } from './rows.ts';

const { values } = parseArgs({ options: { side: { type: 'string' }, json: { type: 'string' } } });
const side = Number(values.side ?? 1024);
const count = side * side;
const frame = benchFrame(side, side, 2.5);

/** Patches of easy and dear ground (1 to 40) with a rough grain, as a farm has. */
function patchwork(): Float32Array {
  const ground = fractalGround(side, 2.5, 3).cells;
  let state = 7;
  return ground.map((height) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    const band = Math.abs(Math.floor(height / 12)) % 5;
    return [1, 1.6, 2.5, 8, 40][band]! + state / 4294967296;
  });
}

/** The net of that ground, with long fences that have one gap each. */
function netOf(resistance: Float32Array): GridNet {
  const east = new Float64Array(count);
  const south = new Float64Array(count);
  for (let y = 0, i = 0; y < side; y++)
    for (let x = 0; x < side; x++, i++) {
      if (x + 1 < side) east[i] = 2 / (resistance[i]! + resistance[i + 1]!);
      if (y + 1 < side) south[i] = 2 / (resistance[i]! + resistance[i + side]!);
      const fenced = y % 128 === 64 && x % 512 !== 200;
      if (fenced) south[i]! *= 0.01;
    }
  return { width: side, height: side, east, south, ground: null };
}

/** Best of several, processor seconds, so that a busy machine does not decide; the peers run as often. */
function best(times: number, run: () => unknown): number {
  let fastest = Number.POSITIVE_INFINITY;
  for (let n = 0; n < times; n++) {
    const began = process.cpuUsage();
    run();
    const spent = process.cpuUsage(began);
    fastest = Math.min(fastest, (spent.user + spent.system) / 1e6);
  }
  return fastest;
}

const resistance = patchwork();
const net = netOf(resistance);
const start = Math.floor(side * 0.1) * side + Math.floor(side * 0.12);
const end = Math.floor(side * 0.9) * side + Math.floor(side * 0.85);
const labels = new Int32Array(count);
labels[start] = 1;
const injected = new Float64Array(count);
injected[start] = 1;
injected[end] = -1;

const folder = mkdtempSync(join(tmpdir(), 'hollowgate-bench-'));
try {
  for (const [name, array] of Object.entries({ resistance, east: net.east, south: net.south }))
    writeFileSync(join(folder, name), new Uint8Array(array.buffer, array.byteOffset, array.byteLength));
  const surface = (neighbours: 8 | 16): (() => unknown) => {
    return () => accumulateCost({ frame, cells: resistance }, labels, { neighbours });
  };
  const costSeconds = best(9, surface(8));
  const wideSeconds = best(9, surface(16));
  let bytes = 0;
  let steps = 0;
  const potential = new Float64Array(count);
  const flowSeconds = best(3, () => {
    const solver = createSolver(net);
    potential.fill(0);
    steps = solver.solve(injected, potential, { tolerance: 1e-8 }).steps;
    bytes =
      solver.bytes + net.east.byteLength + net.south.byteLength + injected.byteLength + potential.byteLength;
  });
  const { cost } = accumulateCost({ frame, cells: resistance }, labels, { neighbours: 8 });
  const script = fileURLToPath(new URL('travel_peers.py', import.meta.url));
  const python =
    [process.env.PYTHON, 'python3', '/usr/bin/python3'].find(
      (name) => name && spawnSync(name, ['-c', 'import scipy, skimage']).status === 0,
    ) ?? 'python3';
  const peer = spawnSync(python, [script, folder, String(side), String(start), String(end)], {
    encoding: 'utf8',
  });
  const peers: { seconds: Record<string, number>; farCost?: number; ohms?: number } =
    peer.status === 0 ? JSON.parse(peer.stdout) : { seconds: {} };
  const rows = [
    rowOf(
      'accumulated cost, 8',
      'patchwork',
      count,
      costSeconds,
      'scikit-image MCP_Geometric',
      peers.seconds.mcp,
    ),
    rowOf('accumulated cost, 16', 'patchwork', count, wideSeconds, '', undefined),
    rowOf('flow to 1e-8', 'patchwork', count, flowSeconds, 'SciPy spsolve', peers.seconds.spsolve),
    rowOf('flow to 1e-8', 'patchwork', count, flowSeconds, 'SciPy cg', peers.seconds.cg),
  ];
  printRows(rows);
  console.log(
    `flow: ${steps} steps, ${(bytes / count).toFixed(0)} bytes a cell with the net and both vectors`,
  );
  if (peers.farCost !== undefined)
    console.log(
      `cost at the far end: ${(cost[end]! / 2.5).toPrecision(9)}, peer ${peers.farCost.toPrecision(9)}`,
    );
  if (peers.ohms !== undefined)
    console.log(
      `ohms between the ends: ${(potential[start]! - potential[end]!).toPrecision(9)}, peer ${peers.ohms.toPrecision(9)}`,
    );
  if (peer.status !== 0)
    console.log(
      'The peers need Python 3 with NumPy, SciPy and scikit-image; on Debian:\n  apt-get install python3-numpy python3-scipy python3-skimage',
    );
  if (values.json) writeFileSync(values.json, `${JSON.stringify(rows, null, 2)}\n`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
