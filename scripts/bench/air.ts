/**
 * Times the air kernels: scent particles beside the same walk in NumPy, on the same wind and in one run.
 *
 *   node scripts/bench/air.ts [--json FILE]
 *
 * A cell of the particle row is one step of one particle. Processor time on both sides, so that a busy machine does
 * not decide.
 */
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { nightDrainage } from '../../core/air/drainage.ts';
import { localWind, windGround } from '../../core/air/local-wind.ts';
import { openWidths, releaseScent } from '../../core/air/particles.ts';
import { benchFrame, fractalGround } from './ground.ts';
import { printRows, rowOf } from './rows.ts';

const SIDE = 400;
const PARTICLES = 100_000;
const STEPS = 200;

function best(run: () => unknown, times: number): number {
  let fastest = Number.POSITIVE_INFINITY;
  for (let n = 0; n < times; n++) {
    const began = process.cpuUsage();
    run();
    const { user, system } = process.cpuUsage(began);
    fastest = Math.min(fastest, (user + system) / 1e6);
  }
  return fastest;
}

const { values } = parseArgs({ options: { json: { type: 'string' } } });
const frame = benchFrame(SIDE, SIDE, 5);
const east = Float32Array.from({ length: SIDE * SIDE }, (_, i) => {
  const x = i % SIDE;
  return 2.5 + 0.8 * Math.sin(x / 37) * Math.cos((i - x) / SIDE / 23);
});
const south = Float32Array.from({ length: SIDE * SIDE }, (_, i) => {
  const x = i % SIDE;
  return 0.6 * Math.cos(x / 29 + (i - x) / SIDE / 41);
});
let left = 0;
const walk = () => {
  left = releaseScent(
    { frame, east, south },
    {
      from: [frame.west + 200, frame.north - (SIDE / 2) * 5],
      height: 2,
      particles: PARTICLES,
      seconds: STEPS * 2,
      step: 2,
      seed: 1,
      width: openWidths('D'),
    },
  ).left;
};
const walkSeconds = best(walk, 9);
// Every particle takes every step: none leaves the map.
if (left > 0) throw new Error('particles left the map, so that their steps are not counted');
const moved = PARTICLES * STEPS;
const script = fileURLToPath(new URL('air_peers.py', import.meta.url));
const python = process.env.PYTHON ?? 'python3';
const peer = spawnSync(python, [script, String(PARTICLES), String(STEPS)], { encoding: 'utf8' });
const rate = peer.status === 0 ? (JSON.parse(peer.stdout).stepsPerSecond as number | null) : null;

const elevation = fractalGround(1024);
const cover = { frame: elevation.frame, cells: new Uint8Array(elevation.cells.length).fill(1) };
const canopy = { frame: elevation.frame, cells: new Float32Array(elevation.cells.length) };
const nightSeconds = best(() => nightDrainage(elevation, cover, 50, 8), 2);
const place = windGround(elevation, canopy);
const windSeconds = best(() => localWind(place, 250, 4), 3);

const rows = [
  rowOf(
    'scent particle steps',
    'uneven wind',
    moved,
    walkSeconds,
    'NumPy, whole-array steps',
    rate === null ? undefined : moved / rate,
  ),
  rowOf('cold air, one night', 'fractal 1024', elevation.cells.length, nightSeconds, '', undefined),
  rowOf('local wind, one sector', 'fractal 1024', elevation.cells.length, windSeconds, '', undefined),
];
printRows(rows);
if (rate === null)
  console.log('The peer needs Python 3 with NumPy; on Debian: apt-get install python3-numpy');
if (values.json) writeFileSync(values.json, `${JSON.stringify(rows, null, 2)}\n`);
