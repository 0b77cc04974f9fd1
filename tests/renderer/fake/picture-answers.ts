import { fitPins } from '../../../core/grid/pinning.ts';
import type { PictureAnswers, PinnedPicture, RequestParams } from '../../../electron/service/contract.ts';

/** Pixels of the one picture there is. */
export const WIDE = 200;
const HIGH = 100;

/** A picture of a cross on paper, kept by whatever name it is sent. */
export const pictureAnswers = (
  settings: () => Record<string, unknown>,
  keep: (patch: object) => PictureAnswers['pictures.keep']['summary'],
) => ({
  'pictures.keep': ({ name }: RequestParams<'pictures.keep'>): PictureAnswers['pictures.keep'] => {
    const pictures = (settings().pictures ?? []) as PinnedPicture[];
    const picture = { id: 'picture-1', name, width: WIDE, height: HIGH, pins: [] };
    return { summary: keep({ pictures: [...pictures, picture] }), id: picture.id, note: null };
  },
  'pictures.fit': ({ pins }: RequestParams<'pictures.fit'>): PictureAnswers['pictures.fit'] => ({
    fit: fitPins(pins),
    sentences:
      pins.length < 4 ? ['How far it is off cannot be known.'] : ['The pins are missed by a little.'],
  }),
  'notes.picture': async ({ id }: RequestParams<'notes.picture'>) => {
    if (id !== 'picture-1') return new Uint8Array();
    const canvas = new OffscreenCanvas(WIDE, HIGH);
    const pen = canvas.getContext('2d')!;
    pen.fillStyle = '#00c000';
    pen.fillRect(0, 0, WIDE, HIGH);
    return new Uint8Array(await (await canvas.convertToBlob({ type: 'image/png' })).arrayBuffer());
  },
});
