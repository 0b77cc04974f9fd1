import { afterAll, beforeAll, expect, test } from 'vitest';
import { type OnSample, openOnSample } from './on-sample.ts';

/** Where stands should go, on the sample property after its scout. */

let sample: OnSample;
let ask: OnSample['ask'];

beforeAll(async () => {
  sample = await openOnSample();
  ({ ask } = sample);
}, 300_000);
afterAll(() => sample?.close());

test('stands lie side by side with the same numbers as each alone, and no clean way in is said', async () => {
  const before = process.cpuUsage();
  const { stands, sentences, cautions, notes } = await ask('stands.compare', { stands: null });
  const { user, system } = process.cpuUsage(before);
  // All stands, sectors and parts of the day within a minute of the machine.
  expect((user + system) / 1e6).toBeLessThan(60);
  expect(stands.map(({ name }) => name)).toEqual(['Saddle stand', 'Bench stand', 'Fill stand']);
  const alone = await ask('stands.verdict', {
    stand: 'stand-bench',
    at: null,
    seatHeight: null,
    weapon: null,
    range: null,
    date: null,
  });
  expect(stands[1]!.verdict.hours).toEqual(alone.verdict.hours);
  const look = await ask('stands.look', {
    stand: 'stand-fill',
    at: null,
    seatHeight: null,
    weapon: null,
    range: null,
    leaves: null,
  });
  expect(stands[2]!.fire).toEqual(look.reach.fire.degrees);
  expect(stands[2]!.closed.reduce((sum, { from, to }) => sum + to - from, 0)).toBe(
    look.reach.fire.degrees.closed,
  );
  // The trap of the sample: every way to the bench goes through the underpass, the best neck there is.
  expect(stands[1]!.ways.every(({ clean }) => clean === false)).toBe(true);
  expect(stands[1]!.usable).toBe(0);
  expect(sentences.join(' ')).toMatch(/clean way in|walked to cleanly/);
  expect(cautions.join(' ')).toMatch(/does not say that a shot is safe/);
  expect(notes.join(' ')).toMatch(/The way in is judged on foot/);
  await expect(ask('stands.compare', { stands: ['gone'] })).rejects.toThrow('That stand is not on the map.');
}, 240_000);
