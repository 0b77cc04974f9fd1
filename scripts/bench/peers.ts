import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Grid } from '../../core/grid/frame.ts';
import { fillDepressions } from '../../core/terrain/filling.ts';
import { flowDirections } from '../../core/terrain/flow.ts';
import { benchInterval } from './kernels.ts';

export interface PeerTimes {
  /** Seconds by kernel; a kernel whose peer is not installed is missing. */
  seconds: Record<string, number>;
  versions: Record<string, string>;
}

/** Pythons that may hold the libraries, the user's own first. */
const PYTHONS = [process.env.PYTHON, 'python3', '/usr/bin/python3'].filter((name) => name !== undefined);

/** Times the peers on a raster in one Python, the one with the most of them. */
export function timePeers(ground: Grid, secondsEach: number): PeerTimes {
  const folder = mkdtempSync(join(tmpdir(), 'hollowgate-bench-'));
  try {
    const raster = join(folder, 'ground.f32');
    const { width, height, cellSize } = ground.frame;
    writeFileSync(
      raster,
      new Uint8Array(ground.cells.buffer, ground.cells.byteOffset, ground.cells.byteLength),
    );
    writeFileSync(`${raster}.directions`, flowDirections(fillDepressions(ground)).cells);
    const script = new URL('peers.py', import.meta.url).pathname;
    const interval = benchInterval(ground);
    let best: PeerTimes = { seconds: {}, versions: {} };
    for (const python of PYTHONS) {
      const probe = spawnSync(python, ['-c', 'import numpy, skimage, osgeo.gdal']);
      if (probe.status !== 0 && python !== PYTHONS[PYTHONS.length - 1]) continue;
      const run = spawnSync(
        python,
        [script, raster, width, height, cellSize, interval, secondsEach].map(String),
        {
          encoding: 'utf8',
        },
      );
      if (run.status === 0) best = JSON.parse(run.stdout) as PeerTimes;
      else if (run.stderr) console.error(run.stderr.trim());
      break;
    }
    return best;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
