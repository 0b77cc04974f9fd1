import type { Weights } from './assumptions.ts';

/**
 * Whose travel, and when: what differs from the usual weights. All our assumptions; no deer were measured. What the
 * ground is underfoot (climbing, sidehill, steep faces, trails) counts alike in all of them.
 */
interface AssumptionSet {
  label: string;
  /** In plain words, what the set holds true. */
  holds: string;
  overrides: Partial<Weights>;
}

/** A set fitted to sightings and taken over by the user: every weight in which it differs from the usual ones. */
export interface FittedSet {
  label: string;
  holds: string;
  weights: Record<string, number>;
}

export const ASSUMPTION_SETS = {
  usual: { label: 'Usual travel by day', holds: 'Cover by day, food at its edges.', overrides: {} },
  rut: {
    label: 'Bucks cruising by day in the rut',
    holds: 'They cross farther and barer ground from block to block, and care less for food.',
    overrides: { exposure: 6, feeding: 1, reach: 5000, focus: 7, county: 70 },
  },
  feeding: {
    label: 'Doe families feeding at dusk',
    holds: 'They go to food, not far, and step into the open as light fails.',
    overrides: { exposure: 4, feeding: 4, reach: 1800, exposureAtEdge: 0.2 },
  },
  night: {
    label: 'By night',
    holds: 'Open ground and buildings put them off far less; roads are quieter.',
    overrides: { exposure: 1.5, feeding: 3, disturbance: 1, highway: 250, county: 50, lane: 15 },
  },
  pressed: {
    label: 'After gunfire',
    holds: 'They keep to thick cover at almost any cost and leave food alone by day.',
    overrides: { exposure: 16, feeding: 0.5, disturbance: 6, exposureAtEdge: 0.6, interior: 0, focus: 8 },
  },
} as const satisfies Record<string, AssumptionSet>;

type NamedSetKey = keyof typeof ASSUMPTION_SETS;
/** One of the named sets, or the one fitted to sightings. */
export type AssumptionSetKey = NamedSetKey | 'fitted';
export const ASSUMPTION_SET_KEYS = [...Object.keys(ASSUMPTION_SETS), 'fitted'] as AssumptionSetKey[];

/** The label, what it holds true and the weights of a set. */
export const assumptionSet = (key: AssumptionSetKey, fitted: FittedSet | null): AssumptionSet | null =>
  key !== 'fitted' ? ASSUMPTION_SETS[key] : fitted && { ...fitted, overrides: fitted.weights };
