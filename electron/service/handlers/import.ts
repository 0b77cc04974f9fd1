import { randomUUID } from 'node:crypto';
import { appendFile, mkdir, readdir, rm } from 'node:fs/promises';
import { basename, extname, join } from 'node:path';
import type { Feature } from '../../../core/features/feature.ts';
import { intoVariant } from '../../../core/features/variants.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { asBuilt } from '../../../core/plan/as-built.ts';
import { isoToday } from '../../../core/plan/days.ts';
import { answersBrought } from '../../../core/plan/walk-answers.ts';
import { troubleOf } from '../../host/trouble.ts';
import { readFeatures } from '../../readers/features.ts';
import { classifyInputs } from '../../readers/folder.ts';
import type { InputFile } from '../../readers/inputs.ts';
import { isClip, isPhoto } from '../../readers/media.ts';
import { isCounts } from '../../readers/vectors.ts';
import { isWind } from '../../readers/wind.ts';
import { readAddedWind } from '../added-wind.ts';
import { type Handlers, opened, type ServiceContext } from '../context.ts';
import type { PropertySummary } from '../contract.ts';
import { readFieldNotes } from '../field-notes.ts';
import { refresh } from '../open-property.ts';
import { summarize } from '../summary.ts';
import { removed, walkOf } from '../walk.ts';
import { importNew } from './property.ts';

const VECTOR = new Set(['.geojson', '.json', '.kml', '.kmz', '.gpx', '.zip', '.gpkg']);

export const stagingFolder = (context: ServiceContext, staging: string) => {
  if (!/^[0-9a-f-]{36}$/.test(staging))
    throw new Problem('These files were not handed over.', { fix: 'Drop them again.' });
  return join(context.options.dataFolder, 'staging', staging);
};

/**
 * Adds staged files to the open property in one edit: vector files and wind all or none, then photos and clips, of
 * which those that cannot be placed are told of and left out.
 *
 * @throws Problem with a question where a table's columns cannot be told, or a wind record is there already
 */
async function addToOpen(
  context: ServiceContext,
  paths: string[],
  answers: Record<string, string>,
): Promise<PropertySummary> {
  const property = opened(context);
  const files = paths.map((path) => ({ name: basename(path), path }));
  const isMedia = ({ name }: InputFile) => isPhoto(name) || isClip(name);
  const isVector = (file: InputFile) => VECTOR.has(extname(file.name).toLowerCase()) || isCounts(file);
  const vectors = files.filter(isVector);
  const winds = files.filter((file) => !isMedia(file) && !isVector(file) && isWind(file));
  const other = files.find((file) => !isMedia(file) && !isVector(file) && !winds.includes(file));
  if (other) {
    throw new Problem(`${other.name} cannot be added to an open property.`, {
      file: other.name,
      fix: 'Boundary, lines, areas, stands, walks, counts at cameras (with columns for latitude and longitude), photos with a position, clips and hourly wind can be added. For another elevation or aerial photo, drop all its files together as a new property.',
    });
  }
  const { frame, sources, settings } = property.input;
  const found: Feature[] = [];
  for (const { path } of vectors) found.push(...(await readFeatures(path, frame)).features);
  const { notes, pictures, left } = readFieldNotes(
    files.filter(isMedia),
    [...sources.features, ...found],
    frame,
  );
  const wind = winds.length > 0 ? await readAddedWind(winds, sources.wind, answers) : null;
  const [first] = left;
  if (first && notes.length === 0 && found.length === 0 && !wind) throw first;
  await property.store.keepMedia(pictures);
  const today = isoToday();
  const { built, rest: others } = asBuilt(sources.features, found, today);
  const { rest, ...said } = answersBrought(walkOf(property)?.spots ?? [], others, today);
  const puts = [...built, ...said.puts, ...rest, ...notes].map((feature) => ({
    type: 'put' as const,
    feature: intoVariant(feature, settings.plans),
  }));
  const kept = wind
    ? [{ type: 'wind' as const, id: await property.store.keepWind(wind.wind, wind.used) }]
    : [];
  const label = [
    ...(built.length > 0 ? [`${built.length} as built`] : []),
    ...(puts.length > built.length ? [`${puts.length - built.length} features`] : []),
    ...(wind ? ['a wind record'] : []),
  ].join(' and ');
  if (label !== '')
    await property.store.change(`Bring in ${label}`, [...removed(property, said.removes), ...puts, ...kept]);
  for (const problem of left) context.emit({ type: 'host.trouble', trouble: troubleOf(problem) });
  await refresh(property);
  await context.scouting.start(property);
  const summary = summarize(property);
  context.emit({ type: 'property.changed', summary });
  return summary;
}

export const importHandlers: Handlers<'import.begin' | 'import.file' | 'import.finish'> = {
  'import.begin': async (context) => {
    const staging = randomUUID();
    await mkdir(stagingFolder(context, staging), { recursive: true });
    return { staging };
  },

  'import.file': async (context, { staging, name }, binary) => {
    const safe = basename(name.replaceAll('\\', '/'));
    if (safe === '' || safe.startsWith('.')) {
      throw new Problem(`“${name}” is not a file name that can be taken.`, {
        file: name,
        fix: 'Rename the file and drop it again.',
      });
    }
    await appendFile(join(stagingFolder(context, staging), safe), binary ?? new Uint8Array());
    return { received: binary?.length ?? 0 };
  },

  'import.finish': async (context, { staging, into, answers }) => {
    const folder = stagingFolder(context, staging);
    const names = await readdir(folder).catch(() => []);
    if (names.length === 0)
      throw new Problem('No files were handed over.', { fix: 'Drop an elevation raster (GeoTIFF).' });
    const files = names.map((name) => ({ name, path: join(folder, name) }));
    const summary =
      into === 'open'
        ? await addToOpen(
            context,
            files.map(({ path }) => path),
            answers,
          )
        : await importNew(
            context,
            await classifyInputs(files),
            basename(names[0]!, extname(names[0]!)),
            answers,
          );
    // Kept on failure, so that an answer to a question need not send the files again.
    await rm(folder, { recursive: true, force: true });
    return summary;
  },
};
