import type { FeatureKind } from '../../core/features/feature.ts';

/** The attributes the window asks for, under the words and in the units the analysis reads them in (SI). */
export type Field =
  | { key: string; label: string; type: 'height' }
  | { key: string; label: string; type: 'distance' }
  | { key: string; label: string; type: 'choice'; choices: string[] }
  | { key: string; label: string; type: 'text' };

export const FIELDS: Partial<Record<FeatureKind, Field[]>> = {
  fence: [{ key: 'height', label: 'Height', type: 'height' }],
  barricade: [{ key: 'height', label: 'Height', type: 'height' }],
  road: [{ key: 'class', label: 'Class', type: 'choice', choices: ['highway', 'county', 'lane', 'track'] }],
  creek: [
    { key: 'width', label: 'Width', type: 'height' },
    { key: 'depth', label: 'Depth below the banks', type: 'height' },
  ],
  gap: [
    {
      key: 'type',
      label: 'Type',
      type: 'choice',
      choices: ['gate', 'lowered', 'culvert', 'underpass', 'ford'],
    },
  ],
  note: [{ key: 'text', label: 'What was seen', type: 'text' }],
  truth: [
    {
      key: 'cover',
      label: 'Cover as it stands',
      type: 'choice',
      choices: ['open', 'brush', 'deciduous', 'evergreen', 'wet', 'water', 'built'],
    },
  ],
  stand: [
    { key: 'seatHeight', label: 'Seat height', type: 'height' },
    {
      key: 'weapon',
      label: 'Weapon',
      type: 'choice',
      choices: ['bow', 'crossbow', 'shotgun', 'muzzleloader', 'rifle'],
    },
    { key: 'range', label: 'Range you keep to', type: 'distance' },
  ],
};
