import type { Artifacts } from '../../core/analysis/artifacts.ts';
import { DEFAULT_SETTINGS } from '../../core/analysis/settings.ts';
import type { Step } from '../../core/analysis/step.ts';
import { groundSteps } from '../../core/analysis/steps/ground.ts';
import { benchFrame, fractalGround } from './ground.ts';

/** 14 208² is 202 million cells: a county of 43 km a side at 3 m. */
const SIDE = 14_208;

/** Runs the ground stage on a county-sized raster, one step after another, and tells what each holds. */
export async function runCounty(side = SIDE): Promise<void> {
  const tile = fractalGround(4096);
  const cells = new Float32Array(side * side);
  // Tiles mirrored at their seams make one unbroken surface; a tilt makes it drain.
  const { width } = tile.frame;
  for (let y = 0, i = 0; y < side; y++) {
    const row = Math.floor(y / width) & 1 ? width - 1 - (y % width) : y % width;
    for (let x = 0; x < side; x++, i++) {
      const column = Math.floor(x / width) & 1 ? width - 1 - (x % width) : x % width;
      cells[i] = tile.cells[row * width + column]! + 0.004 * (x + 2 * y);
    }
  }
  const artifacts = {
    elevation: { frame: benchFrame(side, side, 3), cells },
    features: [],
  } as unknown as Artifacts;
  console.log(
    `${((side * side) / 1e6).toFixed(0)} million cells\n${'step'.padEnd(20)}seconds   arrays GB   peak GB`,
  );
  for (const step of groundSteps as unknown as Step[]) {
    const began = performance.now();
    let told = 0;
    Object.assign(
      artifacts,
      step.run(artifacts, step.params(DEFAULT_SETTINGS), () => {
        told++;
      }),
    );
    const { arrayBuffers } = process.memoryUsage();
    console.log(
      step.name.padEnd(20) +
        ((performance.now() - began) / 1000).toFixed(1).padStart(7) +
        (arrayBuffers / 1e9).toFixed(2).padStart(12) +
        (process.resourceUsage().maxRSS / 1e6).toFixed(2).padStart(10) +
        (told > 0 ? `   told progress ${told} times` : ''),
    );
  }
}
