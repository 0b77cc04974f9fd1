import type { Brief } from './types.ts';

export const EMPTY_BRIEF: Brief = {
  consultant: '',
  client: '',
  version: '1',
  changed: '',
  hunters: '',
  weapon: null,
  onFoot: null,
  parking: '',
  times: '',
  stands: '',
  deer: '',
  neighbours: '',
  stock: '',
  machines: '',
  boundary: 'drawn',
  paper: null,
  season: null,
  parts: null,
  arrive: null,
  startFrom: null,
  neighbour: null,
  budget: null,
  crewDays: null,
  machine: null,
  stockSpan: null,
};

/** What stands on every map while the line is not from a survey; null where it is. */
export const lineNote = ({ boundary }: Brief): string | null =>
  boundary === 'survey'
    ? null
    : boundary === 'deed'
      ? 'Property line from a deed or parcel map: not a survey'
      : 'Property line as drawn: not a survey';
