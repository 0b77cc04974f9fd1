import { createHash } from 'node:crypto';
import { rm } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { formatLength, type Units } from '../../../core/features/units.ts';
import { fitPins, type Pin, type PinFit } from '../../../core/grid/pinning.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { runJob } from '../../workers/run-job.ts';
import { type Handlers, opened } from '../context.ts';
import { edit } from './edit.ts';
import { stagingFolder } from './import.ts';

export const pictureHandlers: Handlers<'pictures.keep' | 'pictures.fit'> = {
  'pictures.keep': async (context, { staging, name }) => {
    const { store } = opened(context);
    const folder = stagingFolder(context, staging);
    try {
      const file = { name: basename(name), path: join(folder, basename(name)) };
      const { bytes, type, width, height, note } = await runJob('scan', { file });
      const id = `picture-${createHash('sha256').update(bytes).digest('hex').slice(0, 16)}`;
      const { settings } = opened(context).input;
      if (settings.pictures.some((picture) => picture.id === id))
        throw new Problem(`${name} is on the map already.`, {
          file: name,
          fix: 'Choose it under On the map.',
        });
      await store.keepMedia([{ id, name: file.name, type, bytes }]);
      const pictures = [...settings.pictures, { id, name: file.name, width, height, pins: [] }];
      const summary = await edit(context, () => store.changeSettings({ ...settings, pictures }));
      return { summary, id, note };
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  },

  'pictures.fit': async (context, { pins }) => {
    const { units } = opened(context).input.settings;
    const fit = fitPins(pins);
    return { fit, sentences: sentencesOf(pins, fit, units) };
  },
};

/** What the pins tell of the picture, and what they cannot. */
function sentencesOf(pins: readonly Pin[], fit: PinFit | null, units: Units): string[] {
  if (!fit)
    return [
      pins.length < 2
        ? 'Two pins lay the picture by turning and scaling it; three or more let it stretch and slant too.'
        : 'The pins lie on one spot: set them far apart.',
    ];
  const feet = (metres: number) => formatLength(metres, units, 'height');
  const { rms, similarRms, inLine, kind } = fit;
  return [
    ...(inLine
      ? [
          'The pins lie nearly on a line, so the picture is only turned and scaled: set one well off to the side.',
        ]
      : []),
    rms === null
      ? `${pins.length} pins fit exactly, whatever their error: how far it is off cannot be known. One more pin tells something.`
      : `The pins are missed by ${feet(rms)} (root mean square) and at most ${feet(Math.max(...fit.misses!))}. Away from the pins it can be off by more.`,
    ...(rms !== null && kind === 'affine' && pins.length < 6
      ? [
          `Of ${pins.length} pins three are used up by the fit, so the misses are smaller than the error of the picture.`,
        ]
      : []),
    ...(kind === 'affine' && similarRms !== null
      ? [
          `Only turned and scaled, as a scan or a photo from straight above should be, it would miss them by ${feet(similarRms)}. Much more than its own scale explains means a wrong pin, or a picture taken at a slant.`,
        ]
      : []),
    'A flat picture over hilly ground is off on the slopes whatever the pins say. This is no survey and no boundary.',
  ];
}
