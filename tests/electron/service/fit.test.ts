import { expect, test } from 'vitest';
import { DEFAULT_SETTINGS, type Settings } from '../../../core/analysis/settings.ts';
import { travelAssumptions } from '../../../core/travel/assumptions.ts';
import type { WeightFit } from '../../../core/travel/fit-weights.ts';
import type { ServiceContext } from '../../../electron/service/context.ts';
import { fitHandlers } from '../../../electron/service/handlers/fit.ts';

/** What the handlers make of a fit, without solving one. */

const found: WeightFit = {
  outcome: 'offered',
  seen: 64,
  blocks: 21,
  usual: { areaUnderCurve: 0.8, inTopTenth: 0.4 },
  fitted: { areaUnderCurve: 0.9, inTopTenth: 0.6 },
  heldOut: { gain: Math.log(1.5), error: Math.log(1.1) },
  changes: [{ key: 'exposure', from: 6, to: 12 }],
};

function scene(fit: WeightFit, given: Partial<Settings> = {}) {
  const asked: { kept: Set<string> }[] = [];
  const kept: Settings[] = [];
  const property = {
    input: {
      settings: {
        ...DEFAULT_SETTINGS,
        travel: { ...DEFAULT_SETTINGS.travel, set: 'rut' },
        weights: { fence: 30 },
        ...given,
      },
    },
    artifacts: { assumptions: travelAssumptions({ fence: 30 }, 'rut') },
    offered: null,
    store: { changeSettings: async (settings: Settings) => void kept.push(settings) },
  };
  const context = {
    property,
    emit: () => {},
    inquiring: {
      ask: async (_: unknown, __: unknown, question: { kept: Set<string> }) => {
        asked.push(question);
        return fit;
      },
    },
  } as unknown as ServiceContext;
  return { context, property, asked, kept };
}

// What the edit shows afterwards needs a store; that it came so far is what matters here.
const take = (context: ServiceContext) => fitHandlers['travel.takeFit'](context, {}, null).catch((e) => e);

test('a fit is offered by name over the set in force, and taking it is one edit', async () => {
  const { context, asked, kept } = scene(found);
  const answer = await fitHandlers['travel.fit'](context, {}, null);
  expect([...asked[0]!.kept]).toEqual(['fence']);
  expect(answer.name).toBe('Fitted to 64 sightings');
  expect(answer.heldOut!.times).toBeCloseTo(1.5, 9);
  expect(answer.sentence).toContain('1.50 times as likely');
  expect(answer.changes[0]!.label).toBe('Full exposure by day, far from cover');
  expect(kept).toHaveLength(0);
  await take(context);
  expect(kept).toHaveLength(1);
  expect(kept[0]!.travel).toMatchObject({ set: 'fitted', fitted: { label: 'Fitted to 64 sightings' } });
  // The rut's other weights stay, and what the user set stays the user's.
  expect(kept[0]!.travel.fitted!.weights).toMatchObject({ exposure: 12, feeding: 1, county: 70 });
  expect(kept[0]!.weights).toEqual({ fence: 30 });
});

test('what was not offered, or was fitted from other assumptions, is not taken', async () => {
  const { context, property, kept } = scene({ ...found, outcome: 'no better' });
  const answer = await fitHandlers['travel.fit'](context, {}, null);
  expect(answer.name).toBeNull();
  expect(answer.sentence).toContain('No better than the weights in force');
  expect((await take(context)).message).toContain('changed since');
  const other = scene(found);
  await fitHandlers['travel.fit'](other.context, {}, null);
  other.property.input.settings = { ...other.property.input.settings, weights: { fence: 40 } };
  expect((await take(other.context)).message).toContain('changed since');
  expect([...kept, ...other.kept]).toEqual([]);
  expect(property.offered).toBeNull();
});
