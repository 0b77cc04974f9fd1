import { computed } from '@preact/signals';
import type { Point } from '../../core/grid/frame.ts';
import type { LaidPicture, MapPin } from '../map/picture-layer.ts';
import { drawnOf, fitOf, pictureChoice, pictures, pinning } from './pictures.ts';

/** Pinned pictures as the map draws them. */
export const laidPictures = computed(() =>
  pictures.value.flatMap(({ id }): LaidPicture[] => {
    const drawn = drawnOf(id);
    const placing = fitOf(id)?.fit?.placing;
    const { on, opacity } = pictureChoice(id);
    if (!drawn || !placing || !on) return [];
    const [a, b, c, d, e, f] = placing;
    const { bitmap, scale } = drawn;
    return [{ id, bitmap, opacity, placing: [a, b * scale, c * scale, d, e * scale, f * scale] }];
  }),
);

export const mapPins = computed((): MapPin[] => {
  const picture = pinning.value;
  if (!picture) return [];
  const placing = fitOf(picture.id)?.fit?.placing;
  return picture.pins.map(({ at: [u, v], to }) => {
    if (!placing) return { to, lies: null };
    const [a, b, c, d, e, f] = placing;
    const lies: Point = [a + b * u + c * v, d + e * u + f * v];
    return { to, lies };
  });
});
