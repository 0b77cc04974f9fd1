import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { openWidths, releaseScent } from '../../core/air/particles.ts';
import type { Frame } from '../../core/grid/frame.ts';

/**
 * Particle-steps a second of the scent walk beside the same walk in NumPy, on the same wind and in one run:
 *
 *     node scripts/bench/air.ts [--json <file>]
 */
const side = 400;
const frame: Frame = {
  epsg: 32616,
  west: 500_000,
  north: 4_000_000,
  cellSize: 5,
  width: side,
  height: side,
  longitude: -87,
  latitude: 36,
  convergence: 0,
};
const east = new Float32Array(side * side);
const south = new Float32Array(side * side);
for (let y = 0, i = 0; y < side; y++) {
  for (let x = 0; x < side; x++, i++) {
    east[i] = 2.5 + 0.8 * Math.sin(x / 37) * Math.cos(y / 23);
    south[i] = 0.6 * Math.cos(x / 29 + y / 41);
  }
}
const particles = 20_000;
const steps = 200;

function ours(): number {
  // Processor time on both sides, so that a busy machine does not decide.
  const began = process.cpuUsage();
  const { moved } = releaseScent(
    { frame, east, south },
    {
      from: [frame.west + 200, frame.north - (side / 2) * 5],
      height: 2,
      particles,
      seconds: steps * 2,
      step: 2,
      seed: 1,
      width: openWidths('D'),
    },
  );
  const spent = process.cpuUsage(began);
  return (moved / (spent.user + spent.system)) * 1e6;
}

let oursPerS = 0;
for (let run = 0; run < 4; run++) oursPerS = Math.max(oursPerS, ours());
const peer = spawnSync(
  'python3',
  [fileURLToPath(new URL('air_peer.py', import.meta.url)), String(particles), String(steps)],
  { encoding: 'utf8' },
);
const theirs = peer.status === 0 ? (JSON.parse(peer.stdout).stepsPerSecond as number | null) : null;
const row = {
  kernel: 'scent particles x steps',
  cells: side * side,
  oursMcellPerS: oursPerS / 1e6,
  peer: 'NumPy, whole-array steps',
  peerMcellPerS: theirs === null ? null : theirs / 1e6,
  ratio: theirs === null ? null : oursPerS / theirs,
};
console.log(
  `${row.kernel}: ${row.oursMcellPerS.toFixed(1)} million a second, ${
    row.ratio === null
      ? 'peer not installed (apt-get install python3-numpy)'
      : `NumPy ${row.peerMcellPerS!.toFixed(1)}, ratio ${row.ratio.toFixed(1)}`
  }`,
);
const json = process.argv.indexOf('--json');
if (json > 0) writeFileSync(process.argv[json + 1]!, `${JSON.stringify([row], null, 1)}\n`);
