import { computed } from '@preact/signals';
import type { Feature } from 'geojson';
import type { AirLattice, OverlaySummary } from '../../electron/service/contract.ts';
import { airLeaf, hourAir, hourScent, wayScent } from './air-asks.ts';
import { arrowsOn, release } from './air-clock.ts';
import { spotMark } from './asked-marks.ts';
import { trailMarks } from './trail-asks.ts';
import { stage } from './view.ts';
import { wayMarks } from './way-scent.ts';

/** What the air's answers lay over the map and draw on it. */

const clockOpen = computed(() => stage.value === 'air' && airLeaf.value === 'clock');

export const airOverlays = computed((): OverlaySummary[] => {
  if (!clockOpen.value) return [];
  const scent = release.value ? hourScent.answer.value?.overlay : null;
  const walker = wayScent.answer.value?.overlay;
  const air = hourAir.answer.value;
  return [air?.overlay, air?.pools, walker, scent].flatMap((it) => it ?? []);
});

export const airArrows = computed((): AirLattice | null =>
  clockOpen.value && arrowsOn.value ? (hourAir.answer.value?.arrows ?? null) : null,
);

export const airMarks = computed((): Feature[] => {
  if (!clockOpen.value) return trailMarks.value;
  return [...wayMarks.value, ...seatMarks()];
});

function seatMarks(): Feature[] {
  const from = release.value;
  if (!from) return [];
  const spill = hourScent.answer.value?.spill;
  return [
    spotMark('scent-from', from.at, from.name ? '' : 'scent from here'),
    ...(spill ? [spotMark('scent-spill', spill, 'spills out here')] : []),
  ];
}
