/**
 * Mutated files through every reader, and a process killed again and again while it saves.
 *
 *   npm run stress                          5,000 files and 200 kills
 *   npm run stress -- --files N --kills N   --seed N   another set of files
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { createProperty } from '../electron/store/property-file.ts';
import { importedOf } from '../tests/electron/store/support.ts';
import { killWhileEditing, survived } from '../tests/stress/kills.ts';
import { stressReaders } from '../tests/stress/readers.ts';

const { values } = parseArgs({
  options: {
    files: { type: 'string', default: '5000' },
    kills: { type: 'string', default: '200' },
    seed: { type: 'string', default: '1' },
  },
});

const { faults, read, refused, held, longest } = await stressReaders(
  Number(values.files),
  Number(values.seed),
);
process.stdout.write(
  `${read + refused + faults.length} mutated files: ${read} read, ${refused} refused in plain words, ${faults.length} faults; ` +
    `at most ${(held / 1e6).toFixed(0)} MB held and ${(longest / 1000).toFixed(1)} s of processor time for one\n`,
);
for (const { name, seed, what } of faults) process.stdout.write(`  ${name}, seed ${seed}: ${what}\n`);

const folder = mkdtempSync(join(tmpdir(), 'stress-'));
const path = join(folder, 'farm.gpkg');
createProperty(path, importedOf()).close();
let lost = 0;
const kills = Number(values.kills);
for (let i = 0; i < kills; i++) {
  // Waits spread evenly over the first 80 ms after the second answer, in no order (multiples of the golden ratio).
  const killed = await killWhileEditing(path, ((i * 0.618034) % 1) * 80);
  if (survived(killed)) continue;
  lost++;
  process.stdout.write(`  kill ${i}: ${JSON.stringify(killed)}\n`);
}
rmSync(folder, { recursive: true, force: true });
process.stdout.write(`${kills} kills while saving: the property opened whole after ${kills - lost}\n`);
process.exitCode = faults.length + lost > 0 ? 1 : 0;
