import { computed } from '@preact/signals';
import type { FeatureCollection } from 'geojson';
import type { OverlaySummary } from '../../electron/service/contract.ts';
import { aimed } from './aiming.ts';
import { airMarks, airOverlays } from './air-marks.ts';
import { spotMark } from './asked-marks.ts';
import { blindMarks, isBlind } from './blind-trial.ts';
import { draftMarks } from './draft.ts';
import { groundMarks, groundOverlays } from './ground-asks.ts';
import { measureMarks } from './measuring.ts';
import { planOverlays } from './plans.ts';
import { standOverlays } from './stand-marks.ts';
import { travelMarks, travelOverlays } from './travel-asks.ts';
import { walkMarks } from './walk.ts';

/** What the answers of the open stage lay over the map and draw on it. */

export const overlays = computed((): OverlaySummary[] => [
  ...groundOverlays.value,
  ...(isBlind.value ? [] : [...travelOverlays.value, ...planOverlays.value]),
  ...airOverlays.value,
  ...standOverlays.value,
]);

export const askedMarks = computed(
  (): FeatureCollection => ({
    type: 'FeatureCollection',
    features: [
      ...groundMarks.value,
      ...(isBlind.value ? [] : travelMarks.value),
      ...blindMarks.value,
      ...airMarks.value,
      ...measureMarks.value,
      ...walkMarks.value,
      ...draftMarks.value,
      ...aimed.value.map((at, n) => spotMark(`aimed-${n}`, at, '')),
    ],
  }),
);
