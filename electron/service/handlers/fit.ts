import { formatLength, formatShare } from '../../../core/features/units.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { assumptionSet } from '../../../core/travel/assumption-sets.ts';
import { BLOCK, ERRORS, LEAST_BLOCKS, LEAST_SPOTS } from '../../../core/travel/fit-weights.ts';
import type { FoundOf } from '../../workers/inquiries/table.ts';
import { type Handlers, opened } from '../context.ts';
import type { FitAnswer } from '../contract.ts';
import type { OpenProperty } from '../open-property.ts';
import { momentOf } from '../today.ts';
import { edit } from './edit.ts';

const DOUBTS = [
  'Sightings come from where people looked and cameras hung; ground nobody watched tells nothing, whatever the weights.',
  'Several assumptions can do the same to travel: another set may foretell the sightings as well.',
];

/** What an offer stands on: other assumptions, and it has to be made anew. */
const stateOf = ({ input: { settings } }: OpenProperty): string =>
  JSON.stringify([settings.weights, settings.travel.set, settings.travel.fitted]);

/** How many times likelier, as a person says it. */
const timesOf = (times: number): string => times.toFixed(2);

export const fitHandlers: Handlers<'travel.fit' | 'travel.takeFit'> = {
  'travel.fit': async (context) => {
    const property = opened(context);
    const { weights, travel } = property.input.settings;
    const from = stateOf(property);
    const found = await context.inquiring.ask(property, 'travel.fit', {
      moment: momentOf(property),
      seed: travel.seed,
      kept: new Set(Object.keys(weights)),
    });
    const rows = new Map((property.artifacts.assumptions ?? []).map((row) => [row.key, row]));
    const heldOut = found.heldOut && {
      times: Math.exp(found.heldOut.gain),
      low: Math.exp(found.heldOut.gain - ERRORS * found.heldOut.error),
      high: Math.exp(found.heldOut.gain + ERRORS * found.heldOut.error),
    };
    const name = found.outcome === 'offered' ? `Fitted to ${found.seen} sightings` : null;
    const base = assumptionSet(travel.set, travel.fitted);
    property.offered =
      (name &&
        base &&
        heldOut && {
          from,
          set: {
            label: name,
            holds: `“${base.label}” with ${found.changes.length} assumptions moved to where they foretell the sightings of this property best; ${timesOf(heldOut.times)} times likelier on ground held out.`,
            weights: {
              ...base.overrides,
              ...Object.fromEntries(found.changes.map(({ key, to }) => [key, to])),
            },
          },
        }) ||
      null;
    return {
      outcome: found.outcome,
      seen: found.seen,
      blocks: found.blocks,
      inForce: found.usual,
      fitted: found.fitted,
      heldOut,
      name,
      changes: found.changes.map((change) => ({
        ...change,
        label: rows.get(change.key)?.label ?? change.key,
        unit: rows.get(change.key)?.unit ?? '',
      })),
      sentence: sentenceOf(found, heldOut, property),
      doubts: name ? DOUBTS : [],
    };
  },

  'travel.takeFit': (context) =>
    edit(context, (property) => {
      const { offered, store, input } = property;
      if (!offered || offered.from !== stateOf(property))
        throw new Problem('The assumptions were changed since these weights were fitted.', {
          fix: 'Fit them again, then take them over.',
        });
      const { settings } = input;
      const travel = { ...settings.travel, set: 'fitted' as const, fitted: offered.set };
      return store.changeSettings({ ...settings, travel });
    }),
};

function sentenceOf(
  { outcome, seen, blocks, usual }: FoundOf<'travel.fit'>,
  heldOut: FitAnswer['heldOut'],
  { input }: OpenProperty,
): string {
  const wide = formatLength(BLOCK, input.settings.units);
  if (outcome === 'too few' || !heldOut || !usual)
    return `Too few to say: ${seen} sightings on ${blocks} squares of ground ${wide} wide. At least ${LEAST_SPOTS} on ${LEAST_BLOCKS} squares are needed to fit weights and to check them.`;
  if (outcome === 'by luck')
    return 'The sightings fall no better than luck would have it, under these weights and under any tried, so nothing can be fitted to them.';
  const range = `${timesOf(heldOut.times)} times as likely (${timesOf(heldOut.low)} to ${timesOf(heldOut.high)})`;
  if (outcome === 'no better')
    return `No better than the weights in force: sightings held out of the fit are ${range} under fitted weights, and that is not more than luck gives. ${formatShare(usual.inTopTenth)} of the sightings lie in the top tenth of passage as it is.`;
  return `Sightings held out of the fit are ${range} under the fitted weights as under those in force. Nothing is changed until you take them over.`;
}
