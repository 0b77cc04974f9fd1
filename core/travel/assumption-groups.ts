import type { WeightKey } from './assumptions.ts';

/** The assumptions by what they are about, in the order they are shown. */
export const ASSUMPTION_SUBJECTS = {
  'Cover and footing': ['brush', 'deciduous', 'evergreen', 'wet', 'unknownCover', 'tangle', 'unknownFooting'],
  'Being seen in the open': [
    'exposure',
    'exposureDistance',
    'exposureAtEdge',
    'canopyShield',
    'unknownScreening',
    'unknownOpenScreening',
  ],
  'Edges of cover': ['edgeBand', 'edgeFactor', 'interior'],
  'Climbing and steep ground': ['climb', 'descent', 'sidehill', 'steepFrom', 'steep', 'faceFrom', 'face'],
  'Water and creeks': ['water', 'creekBank', 'creekWidth', 'creekDepth', 'ford', 'culvert'],
  'Roads and rails': ['highway', 'county', 'lane', 'track', 'railroad', 'underpass'],
  'Fences and gates': ['fence', 'gate', 'lowered'],
  Barricades: ['barricade', 'barricadeThrough', 'barricadeUnder'],
  Trails: ['trailFactor', 'trailLane'],
  'Buildings and people': ['disturbance', 'disturbanceDistance', 'built'],
  'Bedding, food and the way between': ['feeding', 'reach', 'focus'],
} as const satisfies Record<string, readonly WeightKey[]>;

const SUBJECT_OF = new Map<string, string>(
  Object.entries(ASSUMPTION_SUBJECTS).flatMap(([subject, keys]) =>
    keys.map((key) => [key, subject] as [string, string]),
  ),
);

/** What an assumption is about. */
export const subjectOf = (key: string): string => SUBJECT_OF.get(key) ?? 'Other';
