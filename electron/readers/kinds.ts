import { FEATURE_KINDS, type FeatureKind } from '../../core/features/feature.ts';

/**
 * Words people and public data use for each kind, tried in this order on whole words; the kind's own name counts
 * for every kind. Common practice, no source.
 */
const WORDS: [FeatureKind, RegExp][] = [
  ['boundary', /\b(boundary|boundaries|property lines?|parcels?|ownership|tracts?|deed)\b/],
  ['powerline', /\b(power ?lines?|transmission|utility|pipelines?|right of way)\b/],
  ['railroad', /\b(rail|rails|railroads?|railways?)\b/],
  ['gap', /\b(gap|gaps|gates?|underpass|culverts?|fords?|fence crossings?)\b/],
  ['barricade', /\b(barricades?|tree ?tops? wall|brush wall|blockades?)\b/],
  ['screen', /\b(screen|screens|screening)\b/],
  ['fence', /\b(fence|fences|fence ?lines?)\b/],
  ['creek', /\b(creeks?|streams?|rivers?|branch|brooks?|ditch|ditches|drains?|flowlines?)\b/],
  ['pond', /\b(ponds?|lakes?|reservoirs?|water ?holes?)\b/],
  ['access', /\b(access|parking|entry|approach)\b/],
  ['trail', /\b(trails?|paths?|footway|two track)\b/],
  ['road', /\b(roads?|streets?|highways?|lanes?|drive|driveway|motorway|residential)\b/],
  ['building', /\b(buildings?|houses?|barns?|cabins?|sheds?|structures?)\b/],
  ['bedding', /\b(bed|beds|bedding)\b/],
  ['crop', /\b(crops?|corn|soybeans?|beans?|alfalfa|hay|wheat|fields?|farmland)\b/],
  ['food', /\b(food|food ?plots?|plots?|clover|brassicas?|browse)\b/],
  ['stand', /\b(stands?|blinds?|ladder stand|tree ?stands?)\b/],
  ['conifers', /\b(conifers?|pine planting|cedar planting|spruce planting|tree planting)\b/],
  ['opening', /\b(openings?|clearings?)\b/],
  ['feeder', /\b(feeders?|bait sites?)\b/],
  ['cut', /\b(cuts?|clear ?cuts?|timber harvest|logging)\b/],
  ['quiet', /\b(quiet (ground|area|zone)|no entry|sanctuary|sanctuaries|refuge)\b/],
  ['visit', /\b(visits?|visit log|sits)\b/],
  ['observation', /\b(observations?|seen from (the )?stand|hunt log)\b/],
  ['sighting', /\b(sightings?|tracks seen|camera counts?|deer seen)\b/],
];

const FIELDS = [
  'kind',
  'type',
  'class',
  'category',
  'fclass',
  'feature',
  'layer',
  'highway',
  'waterway',
  'railway',
];
const NAMES = ['name', 'title', 'label', 'sym', 'cmt', 'desc', 'description'];

const tidy = (text: unknown): string =>
  typeof text === 'string'
    ? text
        .trim()
        .toLowerCase()
        .replaceAll(/[_\-./]+/g, ' ')
    : '';

/** The kind a few words name, or null. */
export function kindInWords(text: unknown): FeatureKind | null {
  const words = tidy(text);
  if (words === '') return null;
  if ((FEATURE_KINDS as readonly string[]).includes(words)) return words as FeatureKind;
  return WORDS.find(([, pattern]) => pattern.test(words))?.[0] ?? null;
}

export type KindFound = { kind: FeatureKind } | { unknown: string };

/**
 * What a feature is: by its `kind` (or like) attribute; else by its folder or layer; else by the words of its
 * name; else the file's own default. A kind that is stated but not known is reported, not guessed.
 */
export function kindOf(
  properties: Record<string, unknown>,
  layer: string | null,
  fallback: FeatureKind | null,
): KindFound {
  const lower = new Map(Object.entries(properties).map(([key, value]) => [key.toLowerCase(), value]));
  const stated = lower.get('kind');
  const byStated = kindInWords(stated);
  if (byStated) return { kind: byStated };
  if (tidy(stated) !== '') return { unknown: tidy(stated) };
  for (const field of FIELDS.slice(1)) {
    // `waterway: drain`, `railway: rail`: the field itself says the kind where its value does not.
    const value = lower.get(field);
    const kind = kindInWords(value) ?? (tidy(value) !== '' ? kindOfField(field) : null);
    if (kind) return { kind };
  }
  const byLayer = kindInWords(layer);
  if (byLayer) return { kind: byLayer };
  if (fallback) return { kind: fallback };
  for (const field of NAMES) {
    const kind = kindInWords(lower.get(field));
    if (kind) return { kind };
  }
  return { unknown: tidy(lower.get('name')) || tidy(layer) || 'nothing' };
}

const kindOfField = (field: string): FeatureKind | null =>
  (({ highway: 'road', waterway: 'creek', railway: 'railroad' }) as Record<string, FeatureKind>)[field] ??
  null;
