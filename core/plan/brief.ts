import type { Weapon } from '../stands/types.ts';

/** What the client says before anyone walks: words for the report, and answers that set defaults elsewhere. */
export interface Brief {
  /** Who makes the plan and for whom, as the report's front names them. */
  consultant: string;
  client: string;
  /** Of the report, and what changed since the last one. */
  version: string;
  changed: string;
  hunters: string;
  weapon: Weapon | null;
  onFoot: 'far and steep' | 'a mile on easy ground' | 'short and level' | null;
  /** Where they park and live, when they can hunt. */
  parking: string;
  times: string;
  /** Stands that stand and why they fail; where big deer are seen. */
  stands: string;
  deer: string;
  neighbours: string;
  stock: string;
  machines: string;
  /** Where the property line on the map comes from. */
  boundary: 'survey' | 'deed' | 'drawn';
  /** Null goes by the units: letter with yards, A4 with metres. */
  paper: 'letter' | 'A4' | null;
}

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
};

/** What stands on every map while the line is not from a survey; null where it is. */
export const lineNote = ({ boundary }: Brief): string | null =>
  boundary === 'survey'
    ? null
    : boundary === 'deed'
      ? 'Property line from a deed or parcel map: not a survey'
      : 'Property line as drawn: not a survey';
