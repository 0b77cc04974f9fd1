import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { Cancelled, Problem } from '../../../core/grid/problem.ts';
import { listInputs } from '../../../electron/readers/folder.ts';
import { emptySet } from '../../../electron/readers/inputs.ts';
import { runApart } from '../../../electron/workers/run-apart.ts';
import { runJob } from '../../../electron/workers/run-job.ts';
import { folderOf, SAMPLES, tiff } from '../readers/support.ts';

const never = new AbortController().signal;
const silent = () => {};

/** The sample takes seconds to read: long enough to be stopped in the middle. */
async function sampleJob(target: string) {
  const inputs = await listInputs(join(SAMPLES, 'invented-farm'));
  return { name: 'import', input: { inputs, settings: {}, answers: {}, target }, about: 'the sample' };
}

test('files are read in a process of their own, and a question they leave open comes back as one', async () => {
  const folder = folderOf({ 'hill.tif': tiff(60, 60, (column, row) => 200 + column + row, { unit: false }) });
  const target = join(folder, 'property.gpkg');
  const inputs = { ...emptySet('hill'), elevation: [{ name: 'hill.tif', path: join(folder, 'hill.tif') }] };
  const read = (answers: Record<string, string>) =>
    runJob('import', { inputs, settings: {}, answers, target });
  const question = await read({}).catch((error: unknown) => error);
  expect(question).toBeInstanceOf(Problem);
  const { key, choices } = (question as Problem).question!;
  expect(choices.length).toBeGreaterThan(1);
  await read({ [key]: choices[0]!.value });
  expect(existsSync(target)).toBe(true);
});

test('a reading that takes too much memory ends its process, not this one, and says so', async () => {
  const target = join(folderOf({}), 'property.gpkg');
  const job = { ...(await sampleJob(target)), most: 60e6 };
  const problem = await runApart(job, silent, never).catch((error: unknown) => error);
  expect(problem).toBeInstanceOf(Problem);
  expect((problem as Problem).message).toContain('the sample');
  if (process.platform !== 'win32') expect((problem as Problem).message).toContain('0.1 GB of memory');
  expect(existsSync(target)).toBe(false);
});

test('a reading can be stopped in the middle and leaves nothing behind', async () => {
  const target = join(folderOf({}), 'property.gpkg');
  const stop = new AbortController();
  const told: number[] = [];
  const job = runApart(
    await sampleJob(target),
    (fraction) => {
      told.push(fraction);
      stop.abort();
    },
    stop.signal,
  );
  await expect(job).rejects.toBeInstanceOf(Cancelled);
  expect(told[0]).toBeLessThan(1);
  expect(existsSync(target)).toBe(false);
});
