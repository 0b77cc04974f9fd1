import { computed } from '@preact/signals';
import type { Feature, FeatureCollection } from 'geojson';
import { formatShare } from '../../core/features/units.ts';
import { dragTold } from './dragging.ts';
import { handAt, onward, smelledTold } from './hand.ts';

/** What is drawn of the spot under the hand. */
export const handDrawn = computed((): FeatureCollection => {
  const at = handAt.value;
  const features: Feature[] = [];
  if (at) {
    const scent = smelledTold.value;
    if (scent && 'answer' in scent)
      for (const nose of ['keen', 'usual'] as const) {
        const geometry = scent.answer[nose];
        if (geometry)
          features.push({ type: 'Feature', id: `smelled-${nose}`, geometry, properties: { draws: nose } });
      }
    const told = onward.told.value;
    // The slightest first, so that the heaviest lies on top.
    if (told && 'answer' in told)
      for (const [k, { path, share }] of [...told.answer.ways.entries()].reverse())
        features.push({
          type: 'Feature',
          id: `onward-${k}`,
          geometry: { type: 'LineString', coordinates: path },
          properties: { draws: 'onward', share, says: formatShare(share) },
        });
    features.push({
      type: 'Feature',
      id: 'hand',
      geometry: { type: 'Point', coordinates: at },
      properties: { draws: 'hand' },
    });
  }
  const drag = dragTold.value;
  if (drag && 'answer' in drag)
    for (const [k, { was, path, share }] of drag.answer.moved.entries())
      for (const [draws, line] of [
        ['was', was],
        ['rerouted', path],
      ] as const)
        if (line.length > 1)
          features.push({
            type: 'Feature',
            id: `${draws}-${k}`,
            geometry: { type: 'LineString', coordinates: line },
            properties: { draws, share },
          });
  return { type: 'FeatureCollection', features };
});
