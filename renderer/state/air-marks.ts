import { computed } from '@preact/signals';
import type { Feature } from 'geojson';
import type { AirLattice, OverlaySummary } from '../../electron/service/contract.ts';
import { airLeaf, hourAir, hourScent } from './air-asks.ts';
import { arrowsOn, release } from './air-clock.ts';
import { spotMark } from './asked-marks.ts';
import { stage } from './view.ts';

/** What the air's answers lay over the map and draw on it. */

const clockOpen = computed(() => stage.value === 'air' && airLeaf.value === 'clock');

export const airOverlays = computed((): OverlaySummary[] => {
  if (!clockOpen.value) return [];
  const scent = release.value ? hourScent.answer.value?.overlay : null;
  return [hourAir.answer.value?.overlay, scent].flatMap((it) => it ?? []);
});

export const airArrows = computed((): AirLattice | null =>
  clockOpen.value && arrowsOn.value ? (hourAir.answer.value?.arrows ?? null) : null,
);

export const airMarks = computed((): Feature[] => {
  const from = clockOpen.value ? release.value : null;
  if (!from) return [];
  const spill = hourScent.answer.value?.spill;
  return [
    spotMark('scent-from', from.at, from.name ? '' : 'scent from here'),
    ...(spill ? [spotMark('scent-spill', spill, 'spills out here')] : []),
  ];
});
