import { expect, test } from 'vitest';
import type { Artifacts } from '../../../core/analysis/artifacts.ts';
import type { AnyStep, PlannedStep } from '../../../core/analysis/plan-run.ts';
import { Cancelled, Problem } from '../../../core/grid/problem.ts';
import type { ResultCache } from '../../../electron/workers/result-cache.ts';
import { runSteps } from '../../../electron/workers/run-steps.ts';
import type { StepPool } from '../../../electron/workers/step-pool.ts';

type Run = (inputs: Record<string, unknown>) => Record<string, unknown>;
const plan = (name: string, needs: string[], makes: string[]): PlannedStep => ({
  step: {
    name,
    version: 1,
    title: `Doing ${name}`,
    needs,
    makes,
    params: () => null,
    run: () => ({}),
  } as AnyStep,
  params: null,
  key: `key-${name}`,
});

/** A pool without threads that notes how many steps it ran at once. */
function fakePool(size: number, runs: Record<string, Run>) {
  const seen = { now: 0, most: 0, ran: [] as string[] };
  const pool: StepPool = {
    size,
    async run({ step, inputs, cancel }, progress) {
      seen.now++;
      seen.most = Math.max(seen.most, seen.now);
      seen.ran.push(step);
      await new Promise((resolve) => setTimeout(resolve, 5));
      progress(0.5);
      await new Promise((resolve) => setTimeout(resolve, 5));
      seen.now--;
      if (Atomics.load(new Int32Array(cancel), 0) !== 0) throw new Cancelled();
      return runs[step]!(inputs);
    },
    async close() {},
  };
  return { pool, seen };
}

const three = [
  plan('a', ['elevation'], ['slope']),
  plan('b', ['elevation'], ['aspect']),
  plan('c', ['slope', 'aspect'], ['shade']),
];
const runs: Record<string, Run> = {
  a: ({ elevation }) => ({ slope: Number(elevation) + 1 }),
  b: ({ elevation }) => ({ aspect: Number(elevation) * 2 }),
  c: ({ slope, aspect }) => ({ shade: [slope, aspect] }),
};
const start = () => ({ elevation: 10 }) as unknown as Partial<Artifacts>;
const quiet = { progress: () => {}, stepDone: () => {} };

test.each([1, 2, 8])('with %i workers the products are the same', async (size) => {
  const artifacts = start();
  const { pool, seen } = fakePool(size, runs);
  await runSteps(three, artifacts, pool, null, () => 1, new SharedArrayBuffer(4), quiet);
  expect(artifacts).toEqual({ elevation: 10, slope: 11, aspect: 20, shade: [11, 20] });
  expect(seen.most).toBe(Math.min(size, 2));
});

test('progress never falls and ends at the whole', async () => {
  const fractions: number[] = [];
  const { pool } = fakePool(2, runs);
  await runSteps(three, start(), pool, null, (step) => (step === 'c' ? 5 : 1), new SharedArrayBuffer(4), {
    progress: (fraction) => fractions.push(fraction),
    stepDone: () => {},
  });
  expect(fractions).toEqual([...fractions].sort((x, y) => x - y));
  expect(fractions.at(-1)).toBeGreaterThan(0.6);
});

test('a cached step is not run again, and what was run is put in the cache', async () => {
  const held = new Map<string, Record<string, unknown>>([['key-a', { slope: 99 }]]);
  const cache: ResultCache = {
    get: async (key) => held.get(key) ?? null,
    put: async (key, products) => void held.set(key, products),
  };
  const artifacts = start();
  const { pool, seen } = fakePool(2, runs);
  const fromCache: string[] = [];
  await runSteps(three, artifacts, pool, cache, () => 1, new SharedArrayBuffer(4), {
    progress: () => {},
    stepDone: ({ step }, cached) => cached && fromCache.push(step.name),
  });
  expect(seen.ran).toEqual(['b', 'c']);
  expect(fromCache).toEqual(['a']);
  expect(artifacts.shade).toEqual([99, 20]);
  expect(held.get('key-c')).toEqual({ shade: [99, 20] });
});

test('the first failure is the one thrown, after the running steps have ended', async () => {
  const problem = new Problem('too coarse', { fix: 'get a finer raster' });
  const { pool, seen } = fakePool(2, {
    ...runs,
    a: () => {
      throw problem;
    },
  });
  await expect(runSteps(three, start(), pool, null, () => 1, new SharedArrayBuffer(4), quiet)).rejects.toBe(
    problem,
  );
  expect(seen.now).toBe(0);
  expect(seen.ran).not.toContain('c');
});

test('cancelling ends the run with Cancelled', async () => {
  const cancel = new SharedArrayBuffer(4);
  const { pool } = fakePool(1, runs);
  const run = runSteps(three, start(), pool, null, () => 1, cancel, quiet);
  Atomics.store(new Int32Array(cancel), 0, 1);
  await expect(run).rejects.toBeInstanceOf(Cancelled);
});

test('what an earlier run made is not taken for what this one is still to make', async () => {
  const artifacts = start();
  const { pool, seen } = fakePool(8, runs);
  await runSteps(three, artifacts, pool, null, () => 1, new SharedArrayBuffer(4), quiet);
  Object.assign(artifacts, { elevation: 20 });
  await runSteps(
    [three[2]!, three[0]!, three[1]!],
    artifacts,
    pool,
    null,
    () => 1,
    new SharedArrayBuffer(4),
    quiet,
  );
  expect(seen.ran.slice(3)).toEqual(['a', 'b', 'c']);
  expect(artifacts).toEqual({ elevation: 20, slope: 21, aspect: 40, shade: [21, 40] });
});

test('features edited while a run goes on are not what its steps see', async () => {
  const [before, after] = ['before', 'after'].map((id) => ({ id, status: 'existing' }));
  const artifacts = { features: [before] } as unknown as Partial<Artifacts>;
  const steps = [plan('first', ['features'], ['slope']), plan('next', ['features', 'slope'], ['aspect'])];
  const { pool } = fakePool(1, {
    first: () => {
      artifacts.features = [after] as never;
      return { slope: 1 };
    },
    next: ({ features }) => ({ aspect: features }),
  });
  await runSteps(steps, artifacts, pool, null, () => 1, new SharedArrayBuffer(4), quiet);
  expect(artifacts.aspect).toEqual([before]);
  expect(artifacts.features).toEqual([after]);
});

test('a step sees proposed features only when it says so', async () => {
  const today = { id: 'fence', status: 'existing' };
  const drawn = { id: 'barricade', status: 'proposed' };
  const looks = plan('looks', ['features'], ['planTravel']);
  const steps = [
    plan('plain', ['features'], ['resistance']),
    { ...looks, step: { ...looks.step, proposed: true } },
  ];
  const artifacts = { features: [today, drawn] } as unknown as Partial<Artifacts>;
  const { pool } = fakePool(1, {
    plain: ({ features }) => ({ resistance: features }),
    looks: ({ features }) => ({ planTravel: features }),
  });
  await runSteps(steps as PlannedStep[], artifacts, pool, null, () => 1, new SharedArrayBuffer(4), quiet);
  expect(artifacts.resistance).toEqual([today]);
  expect(artifacts.planTravel).toEqual([today, drawn]);
  expect(artifacts.features).toEqual([today, drawn]);
});
