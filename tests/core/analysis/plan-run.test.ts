import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import { type AnyStep, planRun } from '../../../core/analysis/plan-run.ts';
import { DEFAULT_SETTINGS, type Settings } from '../../../core/analysis/settings.ts';
import { STEPS } from '../../../core/analysis/step-table.ts';

const digest = (text: string) => createHash('sha256').update(text).digest('hex');
const sources = {
  elevation: 'e1',
  imagery: 'i1',
  landcover: 'none',
  features: 'f1',
  wind: 'none',
  vegetation: 'none',
  surroundings: 'none',
  holes: 'none',
};

const step = (
  name: string,
  needs: string[],
  makes: string[],
  params = (_: Settings): unknown => null,
): AnyStep => ({
  name,
  version: 1,
  title: name,
  needs: needs as never,
  makes: makes as never,
  params,
  run: () => ({}) as never,
});

const keysOf = (steps: AnyStep[], keys = sources, settings = DEFAULT_SETTINGS) =>
  Object.fromEntries(
    planRun(steps, keys, settings, digest).map((planned) => [planned.step.name, planned.key]),
  );

const chain = [
  step('slope', ['elevation'], ['slope']),
  step('cover', ['imagery'], ['cover']),
  step('travel', ['slope', 'cover', 'features'], ['resistance'], (settings) => settings.weights),
];

test('a step comes after everything it needs, in whatever order the table stands', () => {
  const names = planRun([...chain].reverse(), sources, DEFAULT_SETTINGS, digest).map(
    ({ step: { name } }) => name,
  );
  expect(names.indexOf('travel')).toBe(2);
});

test('an edit changes the keys of what depends on it and of nothing else', () => {
  const before = keysOf(chain);
  const after = keysOf(chain, { ...sources, features: 'f2' });
  expect(after).toEqual({ ...before, travel: after.travel });
  expect(after.travel).not.toBe(before.travel);
});

test('a proposal changes only the steps that look at proposals, and what follows from them', () => {
  const tried = { ...step('plan', ['resistance', 'features'], ['planTravel']), proposed: true as const };
  const steps = [...chain, tried];
  const before = keysOf(steps, { ...sources, today: 't1' } as typeof sources);
  const moved = keysOf(steps, { ...sources, features: 'f2', today: 't1' } as typeof sources);
  expect(moved).toEqual({ ...before, plan: moved.plan });
  expect(moved.plan).not.toBe(before.plan);
  expect(keysOf(steps, { ...sources, today: 't2' } as typeof sources).travel).not.toBe(before.travel);
});

test('a setting changes only the steps that declare it', () => {
  const before = keysOf(chain);
  const after = keysOf(chain, sources, { ...DEFAULT_SETTINGS, weights: { open: 3 }, name: 'Other' });
  expect(after.slope).toBe(before.slope);
  expect(after.travel).not.toBe(before.travel);
});

test('a new version of a step is a new key for it and its children', () => {
  const before = keysOf(chain);
  const after = keysOf([{ ...chain[0]!, version: 2 }, chain[1]!, chain[2]!]);
  expect(after.slope).not.toBe(before.slope);
  expect(after.travel).not.toBe(before.travel);
  expect(after.cover).toBe(before.cover);
});

test('circles, missing makers and two makers of one thing are refused by name', () => {
  expect(() => keysOf([step('a', ['slope'], ['filled']), step('b', ['filled'], ['slope'])])).toThrow(
    /circle/,
  );
  expect(() => keysOf([step('a', ['pools'], ['slope'])])).toThrow(/step a needs pools, but no step makes it/);
  expect(() => keysOf([chain[0]!, step('again', ['elevation'], ['slope'])])).toThrow(
    /both slope and again make slope/,
  );
});

test('the step table of the program plans, and every product is made once', () => {
  const planned = planRun(STEPS, sources, DEFAULT_SETTINGS, digest);
  expect(planned).toHaveLength(STEPS.length);
  expect(new Set(planned.map(({ key }) => key)).size).toBe(STEPS.length);
});
