import type { Feature } from '../features/feature.ts';
import type { Crew, JobKind } from './types.ts';

/** Which crew a kind of job takes. */
export const CREW: Record<JobKind, Crew> = {
  barricade: 'saw',
  'hinge cut': 'saw',
  'felled bedding': 'saw',
  'cleared trail': 'hand',
  'mulched lane': 'machine',
  'screen planting': 'hand',
  conifers: 'hand',
  opening: 'saw',
  'food plot': 'machine',
  'water crossing': 'machine',
  'fence lowering': 'hand',
  stand: 'hand',
  'tower blind': 'hand',
  'feeder to remove': 'hand',
};

/** The day a feature was built, YYYY-MM-DD, as ticked off or brought back from the field; null while it is not. */
export const doneOn = ({ attributes }: Feature): string | null =>
  typeof attributes.done === 'string' && /^\d{4}-\d\d-\d\d$/.test(attributes.done) ? attributes.done : null;

/**
 * What a feature is as a piece of work; null for what is only there. A feature is work while it is proposed, and
 * stays on the list once it is `done`. A feeder is work when it is to be taken out (`remove`).
 */
export function jobKindOf(feature: Feature): JobKind | null {
  const { kind, attributes, geometry, status } = feature;
  if (kind === 'feeder') return attributes.remove === true || doneOn(feature) ? 'feeder to remove' : null;
  if (status !== 'proposed' && doneOn(feature) === null) return null;
  const isLine = /LineString$/.test(geometry.type);
  switch (kind) {
    case 'barricade':
      return isLine ? 'barricade' : null;
    case 'cut':
      return attributes.method === 'fell' ? 'felled bedding' : 'hinge cut';
    case 'bedding':
      return attributes.method === 'fell' ? 'felled bedding' : 'hinge cut';
    case 'trail':
    case 'access':
      return isLine ? (attributes.method === 'mulch' ? 'mulched lane' : 'cleared trail') : null;
    case 'screen':
      return 'screen planting';
    case 'conifers':
      return 'conifers';
    case 'opening':
      return 'opening';
    case 'food':
      return 'food plot';
    case 'gap':
      if (attributes.type === 'ford' || attributes.type === 'culvert') return 'water crossing';
      return attributes.type === 'lowered' ? 'fence lowering' : null;
    case 'stand':
      return attributes.structure === 'tower' ? 'tower blind' : 'stand';
    default:
      return null;
  }
}
