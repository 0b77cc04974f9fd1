import { readFileSync } from 'node:fs';
import { z } from 'zod';
import { DEFAULT_SETTINGS, overDefaults, type Settings } from '../../core/analysis/settings.ts';
import { HUNTED } from '../../core/stands/case-verdict.ts';
import { CREEK_STAGES, WEAPONS } from '../../core/stands/types.ts';
import { ASSUMPTION_SET_KEYS } from '../../core/travel/assumption-sets.ts';
import type { InputFile } from './inputs.ts';
import { refusal } from './refusal.ts';
import { unreadable } from './source.ts';

const byWeapon = (most: number) => z.record(z.enum(WEAPONS), z.number().positive().max(most));
/** A day of any year, MM-DD. */
const day = z.string().regex(/^(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/);
const span = z.strictObject({ from: day, to: day });
const spot = z.tuple([z.number(), z.number()]);
const words = z.string().max(2000);

const schema = z.strictObject({
  name: z.string().trim().min(1).max(200),
  invented: z.boolean(),
  units: z.enum(['us', 'metric']),
  cellSize: z.number().min(0.1).max(1000).nullable(),
  margin: z.number().min(0).max(20_000),
  answers: z.record(z.string().max(300), z.string().max(4000)),
  weights: z.record(z.string().max(100), z.number()),
  ground: z.strictObject({
    drainageThreshold: z.number().positive().nullable(),
    contourInterval: z.number().positive().nullable(),
    sunAzimuth: z.number().min(0).max(360),
    sunAltitude: z.number().min(0).max(90),
  }),
  travel: z
    .strictObject({
      maxPairs: z.int().min(1).max(500),
      maxNecks: z.int().min(1).max(500),
      runs: z.int().min(1).max(500),
      seed: z.int().min(0),
      set: z.enum(ASSUMPTION_SET_KEYS),
      fitted: z
        .strictObject({
          label: z.string().trim().min(1).max(100),
          holds: z.string().max(500),
          weights: z.record(z.string().max(100), z.number()),
        })
        .nullable(),
      date: day.nullable(),
      year: z.number().min(0).max(20),
    })
    .refine(({ set, fitted }) => set !== 'fitted' || fitted !== null, {
      path: ['set'],
      message: 'there is no set fitted to sightings yet',
    }),
  plans: z
    .strictObject({
      variants: z
        .array(z.strictObject({ id: z.string().min(1).max(200), name: z.string().trim().min(1).max(100) }))
        .min(1)
        .max(20),
      chosen: z.string(),
    })
    .refine(({ variants, chosen }) => variants.some(({ id }) => id === chosen), {
      path: ['chosen'],
      message: 'it must be the id of one of the variants',
    }),
  air: z.strictObject({
    cooling: z.number().positive().max(500),
    hours: z.number().positive().max(24),
    creekStage: z.enum(CREEK_STAGES),
  }),
  stands: z.strictObject({
    range: byWeapon(1000),
    danger: byWeapon(10_000),
    backstop: z.number().positive().max(1000),
    setback: z.strictObject({
      building: z.number().min(0).max(5000).nullable(),
      road: z.number().min(0).max(5000).nullable(),
    }),
    leaves: z.enum(['on', 'off']),
    laneWidth: z.number().positive().max(20),
    allowNeighbour: z.boolean(),
    dryLeaves: z.boolean(),
  }),
  hunt: z.strictObject({
    lightBefore: z.number().min(0).max(120).nullable(),
    lightAfter: z.number().min(0).max(120).nullable(),
    season: span,
    rutPeak: day.nullable(),
    rest: z.int().min(0).max(60),
    sit: z.number().min(0.5).max(14),
    pace: z.number().min(0.1).max(3),
    settle: z.number().min(0).max(180),
    apart: z.number().min(0).max(5000),
    spoilt: z.number().min(0).max(1),
    alarm: z.number().min(0).max(1),
    arrive: z.enum(['foot', 'vehicle']),
    legs: z.strictObject({
      pace: z.number().min(0.2).max(2),
      longest: z.number().min(50).max(50_000).nullable(),
    }),
    startFrom: z.string().min(1).max(200).nullable(),
    parts: z.array(z.enum(HUNTED)).min(1).max(HUNTED.length),
  }),
  plan: z.strictObject({
    rates: z.record(z.string().max(100), z.number().min(0).max(1e9)),
    calendar: z.strictObject({
      lastFrost: day,
      firstFrost: day,
      season: span,
      dormant: span,
      nesting: span,
      bats: span,
      stock: span.nullable(),
      start: z.iso.date().nullable(),
      settle: z.int().min(0).max(180),
      hoursPerDay: z.number().min(1).max(16),
    }),
    budget: z.number().min(0).max(1e9).nullable(),
    crewDays: z.number().min(0).max(1000).nullable(),
  }),
  brief: z.strictObject({
    consultant: words,
    client: words,
    version: words,
    changed: words,
    hunters: words,
    weapon: z.enum(WEAPONS).nullable(),
    onFoot: z.enum(['far and steep', 'a mile on easy ground', 'short and level']).nullable(),
    parking: words,
    times: words,
    stands: words,
    deer: words,
    neighbours: words,
    stock: words,
    machines: words,
    boundary: z.enum(['survey', 'deed', 'drawn']),
    paper: z.enum(['letter', 'A4']).nullable(),
    season: span.nullable(),
    parts: z.enum(['mornings', 'evenings', 'mornings and evenings']).nullable(),
    arrive: z.enum(['foot', 'vehicle']).nullable(),
    startFrom: z.string().min(1).max(200).nullable(),
    neighbour: z.enum(['may be crossed', 'may not be crossed']).nullable(),
    budget: z.number().min(0).max(1e9).nullable(),
    crewDays: z.number().min(0).max(1000).nullable(),
    machine: z.enum(['their own', 'hired']).nullable(),
    stockSpan: span.nullable(),
  }),
  views: z
    .array(
      z.strictObject({
        id: z.string().min(1).max(200),
        caption: words,
        stage: z.string().min(1).max(40),
        extent: z.array(z.number()).length(4),
        layers: z.record(
          z.string().max(100),
          z.strictObject({ on: z.boolean(), opacity: z.number().min(0).max(1) }),
        ),
      }),
    )
    .max(60),
  pictures: z
    .array(
      z.strictObject({
        id: z.string().min(1).max(200),
        name: z.string().min(1).max(255),
        width: z.int().positive(),
        height: z.int().positive(),
        pins: z.array(z.strictObject({ at: spot, to: spot })).max(60),
      }),
    )
    .max(40),
});

/**
 * Fills what is not given from the defaults and checks every value.
 * @param file named in the Problem
 * @throws Problem naming the key, what is wrong and what is allowed
 */
export function checkSettings(value: unknown, file: string): Settings {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw refusal(`${file} must hold one object of settings`, {
      file,
      fix: 'write { "name": "…" } into it',
    });
  const given = value as Record<string, Record<string, unknown>>;
  const result = schema.safeParse(overDefaults(given));
  if (result.success) return result.data;
  const issue = result.error.issues[0]!;
  const where = issue.path.join('.');
  if (issue.code === 'unrecognized_keys') {
    const known = Object.keys(where === '' ? DEFAULT_SETTINGS : (DEFAULT_SETTINGS[where as 'ground'] ?? {}));
    throw refusal(`${file} has the unknown key “${[where, issue.keys[0]].filter(Boolean).join('.')}”`, {
      file,
      fix: `the keys here are ${known.join(', ')}`,
    });
  }
  throw refusal(`${file}: the value of “${where}” is wrong: ${issue.message}`, {
    file,
    fix: `correct “${where}”, or leave it out to get the usual value`,
  });
}

/** Settings of a property.json, as given: keys not in it stay with the defaults. */
export function readSettings(file: InputFile): Settings {
  let text: string;
  try {
    text = readFileSync(file.path, 'utf8');
  } catch (error) {
    throw unreadable(error, file.name);
  }
  let value: unknown;
  try {
    value = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    throw refusal(`${file.name} is not valid JSON: ${(error as Error).message}`, {
      file: file.name,
      fix: 'look for a missing comma, quote or bracket there',
    });
  }
  return checkSettings(value, file.name);
}
