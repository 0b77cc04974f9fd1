import { computed } from '@preact/signals';
import type { Feature, FeatureCollection } from 'geojson';
import type { Point } from '../../core/grid/frame.ts';
import type { OverlaySummary } from '../../electron/service/contract.ts';
import { WAY_WORDS } from '../words/stands.ts';
import { approach, look, seatAt, standsLeaf } from './stands-asks.ts';
import { screenForm, screens } from './stands-screens.ts';
import { searchDrawn } from './stands-search.ts';
import { stage } from './view.ts';

/** What the answers about a stand lay over the map and draw on it. */

const leafOpen = (name: 'range' | 'ways' | 'verdict' | 'screens') =>
  stage.value === 'stands' && standsLeaf.value === name;

export const standOverlays = computed((): OverlaySummary[] => {
  if (leafOpen('range')) return look.answer.value ? [look.answer.value.overlay] : [];
  if (leafOpen('ways')) return approach.answer.value ? [approach.answer.value.overlay] : [];
  return [];
});

const drawAs = (draws: string, features: readonly Feature[], says?: (of: Feature) => string): Feature[] =>
  features.map((feature) => ({
    ...feature,
    properties: { ...feature.properties, draws, ...(says ? { says: says(feature) } : {}) },
  }));

export const standDrawn = computed((): FeatureCollection => {
  const features: Feature[] = [];
  if (leafOpen('range') && look.answer.value) {
    const { sectors, lanes } = look.answer.value;
    features.push(...drawAs('sector', sectors.features), ...drawAs('lane', lanes.features));
  }
  if (leafOpen('ways') && approach.answer.value)
    features.push(
      ...drawAs('way', approach.answer.value.lines.features, ({ properties }) => {
        const kind = properties?.kind as keyof typeof WAY_WORDS;
        return WAY_WORDS[kind] ?? '';
      }),
    );
  if (leafOpen('screens') && screens.answer.value)
    features.push(...drawAs('planting', screens.answer.value.lines.features));
  features.push(...searchDrawn.value);
  return { type: 'FeatureCollection', features };
});

/** The seat that can be dragged: only while its stand is asked about. */
export const seatMark = computed((): Point | null =>
  leafOpen('range') ||
  leafOpen('ways') ||
  leafOpen('verdict') ||
  (leafOpen('screens') && screenForm.value.shape !== 'beside')
    ? seatAt.value
    : null,
);
