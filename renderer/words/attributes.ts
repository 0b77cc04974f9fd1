import type { FeatureKind } from '../../core/features/feature.ts';
import type { FieldUnit } from '../../core/features/units.ts';

/** The attributes the window asks for, under the words and in the units the analysis reads them in (SI). */
export type Field = { /** Of work that is proposed, and of nothing else. */ work?: true } & (
  | { key: string; label: string; type: 'height' }
  | { key: string; label: string; type: 'distance' }
  | { key: string; label: string; type: 'measured'; unit: FieldUnit }
  | { key: string; label: string; type: 'count' }
  | { key: string; label: string; type: 'choice'; choices: string[] }
  | { key: string; label: string; type: 'text' }
  /** A day of any year, MM-DD. */
  | { key: string; label: string; type: 'day' }
  /** A day of one year, YYYY-MM-DD. */
  | { key: string; label: string; type: 'date' }
  | { key: string; label: string; type: 'years' }
);

const span = (from: string, to: string, what: string): Field[] => [
  { key: from, label: `${what} from`, type: 'day' },
  { key: to, label: `${what} until`, type: 'day' },
];
const SEASON = span('from', 'to', 'There only');
/** Typed as measured, or counted with a prism. */
const BASAL_AREA: Field[] = [
  { key: 'basalArea', label: 'Basal area today', type: 'measured', unit: 'ft²/acre', work: true },
  { key: 'prismTrees', label: 'Or trees in by the prism, all points', type: 'count', work: true },
  { key: 'prismPoints', label: 'Points it was held at', type: 'count', work: true },
  { key: 'stem', label: 'Stems that go, at breast height', type: 'measured', unit: 'in', work: true },
];
const LEFT: Field = {
  key: 'basalAreaLeft',
  label: 'Basal area to leave',
  type: 'measured',
  unit: 'ft²/acre',
  work: true,
};
const asked = (key: string, label: string): Field => ({
  key,
  label,
  type: 'measured',
  unit: 'lb/acre',
  work: true,
});

export const FIELDS: Partial<Record<FeatureKind, Field[]>> = {
  fence: [{ key: 'height', label: 'Height', type: 'height' }, ...SEASON],
  barricade: [
    { key: 'height', label: 'Height', type: 'height' },
    { key: 'width', label: 'Width', type: 'height' },
    { key: 'density', label: 'Laid', type: 'choice', choices: ['loose', 'thick', 'tight'] },
    { key: 'clearance', label: 'Room under it', type: 'height' },
    { key: 'lasts', label: 'Lasts', type: 'years' },
  ],
  trail: [
    { key: 'width', label: 'Width', type: 'height' },
    { key: 'method', label: 'Made by', type: 'choice', choices: ['clear', 'mulch'] },
  ],
  cut: [
    { key: 'method', label: 'Method', type: 'choice', choices: ['hinge', 'fell'] },
    { key: 'age', label: 'Cut so long ago', type: 'years' },
    ...BASAL_AREA,
    LEFT,
  ],
  bedding: [
    { key: 'method', label: 'To be made by', type: 'choice', choices: ['hinge', 'fell'], work: true },
    ...BASAL_AREA,
    LEFT,
  ],
  opening: BASAL_AREA,
  screen: [
    {
      key: 'species',
      label: 'Of',
      type: 'choice',
      choices: ['switchgrass', 'giant miscanthus', 'conifers', 'brush'],
    },
    { key: 'plant', label: 'Planted as', type: 'choice', choices: ['seed', 'rhizomes'] },
    { key: 'rowSpacing', label: 'Between rows', type: 'height' },
    { key: 'spacing', label: 'Between plants', type: 'height' },
    { key: 'age', label: 'Planted so long ago', type: 'years' },
  ],
  conifers: [
    { key: 'rowSpacing', label: 'Between rows', type: 'height' },
    { key: 'spacing', label: 'Between plants', type: 'height' },
  ],
  crop: span('standingFrom', 'standingTo', 'Stands'),
  food: [
    ...SEASON,
    ...span('stockFrom', 'stockTo', 'Stock in it'),
    asked('lime', 'Soil test: lime, effective'),
    asked('nitrogen', 'Soil test: nitrogen'),
    asked('phosphate', 'Soil test: phosphate (P2O5)'),
    asked('potash', 'Soil test: potash (K2O)'),
  ],
  road: [{ key: 'class', label: 'Class', type: 'choice', choices: ['highway', 'county', 'lane', 'track'] }],
  creek: [
    { key: 'width', label: 'Width', type: 'height' },
    { key: 'depth', label: 'Depth below the banks', type: 'height' },
    ...span('highFrom', 'highTo', 'High water'),
    { key: 'highDepth', label: 'Depth in high water', type: 'height' },
  ],
  gap: [
    {
      key: 'type',
      label: 'Type',
      type: 'choice',
      choices: ['gate', 'lowered', 'culvert', 'underpass', 'ford'],
    },
    ...SEASON,
  ],
  quiet: span('from', 'to', 'Nobody enters'),
  visit: [
    { key: 'date', label: 'On', type: 'date' },
    {
      key: 'who',
      label: 'Who or what',
      type: 'choice',
      choices: ['sit', 'owner', 'stock', 'mowing', 'feed'],
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
    { key: 'structure', label: 'Built as', type: 'choice', choices: ['hang-on', 'ladder', 'tower'] },
    { key: 'towerHeight', label: 'Tower height', type: 'height' },
  ],
};
