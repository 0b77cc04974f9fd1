import type { Artifacts } from '../../core/analysis/artifacts.ts';
import { DEFAULT_SETTINGS } from '../../core/analysis/settings.ts';
import type { Step } from '../../core/analysis/step.ts';
import { groundSteps } from '../../core/analysis/steps/ground.ts';
import { benchFrame, fractalGround } from './ground.ts';

/** 14 208² is 202 million cells: a county of 43 km a side at 3 m. */
const SIDE = 14_208;

/**
 * Runs the ground stage on a county-sized raster, one step after another. What no later step needs is let go, as
 * when the layers are written out, so the figures are what each step needs, makes and works in. The ground is as
 * smooth as bare-earth elevation of hills is (few pits); rougher ground takes longer, not more.
 */
export async function runCounty(side = SIDE): Promise<void> {
  const tile = fractalGround(4096, 3, 1, 0.46);
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
  const held: Partial<Record<keyof Artifacts, unknown>> = {
    elevation: { frame: benchFrame(side, side, 3), cells },
    features: [],
  };
  console.log(`${((side * side) / 1e6).toFixed(0)} million cells`);
  console.log(`${'step'.padEnd(18)}seconds  held GB  highest GB  progress`);
  const steps = groundSteps as unknown as Step[];
  for (const [n, step] of steps.entries()) {
    const began = performance.now();
    let told = 0;
    let highest = 0;
    const made = step.run(held as Artifacts, step.params(DEFAULT_SETTINGS), () => {
      told++;
      highest = Math.max(highest, process.memoryUsage.rss());
    });
    highest = Math.max(highest, process.memoryUsage.rss());
    Object.assign(held, made);
    const later = new Set(steps.slice(n + 1).flatMap((next) => [...next.needs]));
    for (const name of Object.keys(held) as (keyof Artifacts)[]) if (!later.has(name)) delete held[name];
    const figures = [
      ((performance.now() - began) / 1000).toFixed(1).padStart(7),
      (process.memoryUsage().arrayBuffers / 1e9).toFixed(2).padStart(9),
      (highest / 1e9).toFixed(2).padStart(12),
      told.toString().padStart(10),
    ];
    console.log(step.name.padEnd(18) + figures.join(''));
    globalThis.gc?.();
  }
  console.log(`highest of all: ${(process.resourceUsage().maxRSS / 1e6).toFixed(2)} GB`);
}
