import { describe, expect, it } from 'vitest';
import type { Feature } from '../../../core/features/feature.ts';
import { copiesFor, intoVariant, inVariant, proposedIn } from '../../../core/features/variants.ts';

const feature = (id: string, status: Feature['status'], variant?: string): Feature => ({
  id,
  kind: 'barricade',
  status,
  name: null,
  geometry: { type: 'Point', coordinates: [0, 0] },
  attributes: variant === undefined ? {} : { variant },
  source: 'drawn',
});
const plan = {
  variants: [
    { id: 'plan', name: 'Plan' },
    { id: 'b', name: 'Other' },
  ],
  chosen: 'b',
};
const all = [
  feature('fence', 'existing', 'b'),
  feature('first', 'proposed'),
  feature('second', 'proposed', 'b'),
  feature('orphan', 'proposed', 'gone'),
];
const ids = (features: Feature[]) => features.map(({ id }) => id);

describe('variants of a plan', () => {
  it('hold what names them, the first also what names none or one that is gone; what exists is in all', () => {
    expect(ids(inVariant(all, plan))).toEqual(['fence', 'second']);
    expect(ids(inVariant(all, plan, 'plan'))).toEqual(['fence', 'first', 'orphan']);
    expect(ids(proposedIn(all, plan, 'plan'))).toEqual(['first', 'orphan']);
  });

  it('take in what is newly proposed where they are chosen, and let go of what is built', () => {
    expect(intoVariant(feature('x', 'proposed'), plan).attributes.variant).toBe('b');
    expect(intoVariant(feature('x', 'proposed', 'plan'), plan).attributes.variant).toBe('plan');
    expect(intoVariant(feature('x', 'existing', 'b'), plan).attributes).toEqual({});
    const first = { ...plan, chosen: 'plan' };
    expect(intoVariant(feature('x', 'proposed'), first).attributes).toEqual({});
  });

  it('are copied with what belongs together still together', () => {
    const gate = {
      ...feature('gate', 'proposed'),
      attributes: { crosses: 'first', removes: 'fence', width: 4 },
    };
    let made = 0;
    const copies = copiesFor([all[1]!, gate], 'b', () => `copy-${++made}`);
    expect(ids(copies)).toEqual(['copy-1', 'copy-2']);
    expect(copies[1]!.attributes).toEqual({ crosses: 'copy-1', removes: 'fence', width: 4, variant: 'b' });
    expect(gate.attributes.crosses).toBe('first');
  });
});
