/**
 * Times each ground kernel beside a general-purpose peer on the same data in one run.
 *
 *   npm run bench                      ratios on 2048 x 2048 fractal ground and the real raster, then growth with size
 *   npm run bench -- --json FILE       the same, and one row a kernel into FILE
 *   npm run bench -- --quick           512 x 512 only, to see that it runs
 *   npm run bench -- --room air        another room's kernels: air or travel
 *   npm run bench -- --county          a raster of 200 million cells through the ground stage, with memory by step
 */
import { readFile, writeFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { fromArrayBuffer } from 'geotiff';
import type { Grid } from '../core/grid/frame.ts';
import { runCounty } from './bench/county.ts';
import { benchFrame, fractalGround } from './bench/ground.ts';
import { KERNELS, type Kernel } from './bench/kernels.ts';
import { timePeers } from './bench/peers.ts';
import { printRows, type Row, rowOf } from './bench/rows.ts';

const HOW_TO_INSTALL =
  'Some peers are not installed. They need Python 3 with NumPy, SciPy, scikit-image and GDAL; on Debian:\n' +
  '  apt-get install python3-numpy python3-scipy python3-skimage python3-gdal\n' +
  'PYTHON=/path/to/python3 picks another Python.';

/**
 * Best of several runs, s of processor time, so that a busy machine does not decide.
 */
function best(run: () => unknown, budget: number): number {
  let fastest = Number.POSITIVE_INFINITY;
  const start = performance.now();
  for (let n = 0; n < 9; n++) {
    const began = process.cpuUsage();
    run();
    const { user, system } = process.cpuUsage(began);
    fastest = Math.min(fastest, (user + system) / 1e6);
    if (n > 1 && performance.now() - start > budget * 1000) break;
  }
  return fastest;
}

async function realGround(): Promise<Grid> {
  const file = await readFile(new URL('../sample-rasters/ridge-and-valley-srtm3.tif', import.meta.url));
  const tiff = await fromArrayBuffer(Uint8Array.from(file).buffer);
  const image = await tiff.getImage();
  const [band] = (await image.readRasters()) as unknown as [ArrayLike<number>];
  return { frame: benchFrame(image.getWidth(), image.getHeight(), 90), cells: Float32Array.from(band) };
}

/** Runs a kernel on small ground until the engine has compiled it for good. */
function settle(kernel: Kernel): void {
  const run = kernel.prepare(fractalGround(256));
  for (let n = 0; n < 20; n++) run();
}

function compare(
  data: string,
  ground: Grid,
  seconds: number,
): { rows: Row[]; versions: Record<string, string> } {
  const peers = timePeers(ground, seconds);
  const rows = KERNELS.map((kernel): Row => {
    settle(kernel);
    const ours = best(kernel.prepare(ground), seconds);
    const own = kernel.ownPeer?.(ground);
    const theirs = own ? best(own.run, seconds) * own.share : peers.seconds[kernel.name];
    return rowOf(kernel.name, data, ground.cells.length, ours, kernel.peer, theirs);
  });
  return { rows, versions: peers.versions };
}

/** Nanoseconds a cell at growing sizes: flat means linear. */
function growth(kernels: readonly Kernel[], sizes: readonly number[], seconds: number): void {
  console.log(`\nns a cell by size${' '.repeat(7)}${sizes.map((size) => `${size}²`.padStart(9)).join('')}`);
  const grounds = sizes.map((size) => fractalGround(size));
  for (const kernel of kernels) {
    const times = grounds.map(
      (ground) => (best(kernel.prepare(ground), seconds) / ground.cells.length) * 1e9,
    );
    console.log(kernel.name.padEnd(24) + times.map((time) => time.toFixed(1).padStart(9)).join(''));
  }
}

const { values } = parseArgs({
  options: {
    json: { type: 'string' },
    quick: { type: 'boolean' },
    county: { type: 'boolean' },
    room: { type: 'string', default: 'ground' },
  },
});
if (values.room !== 'ground') {
  // The other rooms' benches read the command line themselves.
  process.argv.splice(2, process.argv.length, ...(values.json ? ['--json', values.json] : []));
  if (values.room === 'air') await import('./bench/air.ts');
  else if (values.room === 'travel') await import('./bench/travel.ts');
  else throw new Error(`no room called ${values.room}; there are ground, air and travel`);
} else if (values.county) await runCounty();
else {
  const side = values.quick ? 512 : 2048;
  const seconds = values.quick ? 1 : 4;
  console.log(`Fractal ground, ${side} x ${side}`);
  const fractal = compare(`fractal ${side}`, fractalGround(side), seconds);
  printRows(fractal.rows);
  console.log('\nReal ground, SRTM 403 x 344');
  const real = compare('real SRTM', await realGround(), seconds);
  printRows(real.rows);
  const { versions } = fractal;
  console.log(
    `\npeers: ${
      Object.entries(versions)
        .map(([name, version]) => `${name} ${version}`)
        .join(', ') || 'none'
    }`,
  );
  if (fractal.rows.some((row) => row.peer !== '' && row.ratio === null)) console.log(HOW_TO_INSTALL);
  if (!values.quick) {
    const linear = KERNELS.filter((kernel) => kernel.name !== 'viewshed, gdal_viewshed');
    growth(linear, [512, 1024, 2048, 4096], 2);
  }
  if (values.json)
    await writeFile(values.json, `${JSON.stringify([...fractal.rows, ...real.rows], null, 2)}\n`);
}
