import { readdir, rm, stat } from 'node:fs/promises';
import { basename, dirname, extname, join, resolve } from 'node:path';
import { Problem } from '../../../core/grid/problem.ts';
import { root } from '../../host/places.ts';
import { type InputSet, listInputs } from '../../readers/folder.ts';
import { freeName } from '../../store/free-name.ts';
import type { Handlers, ServiceContext } from '../context.ts';
import type { PropertySummary } from '../contract.ts';
import { openProperty } from '../open-property.ts';
import { summarize } from '../summary.ts';

const SAMPLE_FOLDER = join(root, 'sample-rasters', 'invented-farm');

const SAMPLE_STEM = 'Sample invented';

/** The newest copy of the sample from earlier starts, unless the sample itself has changed since. */
async function sampleCopy(dataFolder: string): Promise<string | null> {
  const newest = async (folder: string, wanted: (name: string) => boolean) => {
    const names = (await readdir(folder)).filter(wanted);
    const files = names.map(async (name) => {
      const path = join(folder, name);
      return { path, changed: (await stat(path)).mtimeMs };
    });
    return (await Promise.all(files)).sort((a, b) => b.changed - a.changed)[0];
  };
  try {
    const isCopy = (name: string) => name.startsWith(SAMPLE_STEM) && name.endsWith('.gpkg');
    const copy = await newest(join(dataFolder, 'properties'), isCopy);
    const source = await newest(SAMPLE_FOLDER, () => true);
    return copy && source && copy.changed > source.changed ? copy.path : null;
  } catch {
    return null;
  }
}

/** Shows a property file in the window and starts its scout. */
async function show(context: ServiceContext, path: string): Promise<PropertySummary> {
  // Opened again while it is open, it stays as it is.
  if (context.property && resolve(context.property.path) === resolve(path))
    return summarize(context.property);
  const property = await openProperty(path);
  await context.replace(property);
  await context.shelf.place(property.head);
  await context.scouting.start(property);
  return summarize(property);
}

/** What a process that was ended in the middle of its writing leaves beside the file it would have made. */
async function removeUnfinished(target: string): Promise<void> {
  const folder = dirname(target);
  const names = await readdir(folder).catch(() => []);
  for (const name of names)
    if (name.startsWith(`${basename(target)}.building-`)) await rm(join(folder, name), { force: true });
}

/** Turns input files into a new property file and shows it. */
export async function importNew(
  context: ServiceContext,
  inputs: InputSet,
  stem: string,
  answers: Record<string, string>,
): Promise<PropertySummary> {
  const target = await freeName(join(context.options.dataFolder, 'properties'), stem);
  try {
    await context.inquiring.within('import', (inquirer) =>
      inquirer.job('import', { inputs, settings: {}, answers, target }),
    );
  } catch (error) {
    await removeUnfinished(target);
    throw error;
  }
  return show(context, target);
}

/** A question that comes up says what was being opened, so that it can be opened with the answer. */
async function open(
  context: ServiceContext,
  path: string,
  answers: Record<string, string> = {},
): Promise<PropertySummary> {
  const found = await stat(path).catch(() => null);
  if (!found) {
    throw new Problem(`There is nothing at ${path}.`, {
      file: path,
      fix: 'Check the path, or drop the files in the window.',
    });
  }
  if (found.isFile() && extname(path).toLowerCase() === '.gpkg') return show(context, path);
  try {
    return await importNew(context, await listInputs(path), basename(path, extname(path)), answers);
  } catch (error) {
    if (!(error instanceof Problem && error.question)) throw error;
    const { message, file, fix, question } = error;
    throw new Problem(message, { ...(file ? { file } : {}), fix, question: { ...question, path } });
  }
}

export const propertyHandlers: Handlers<
  'property.openSample' | 'property.open' | 'property.pick' | 'property.summary'
> = {
  'property.openSample': async (context) => {
    const copy = await sampleCopy(context.options.dataFolder);
    try {
      if (copy) return await show(context, copy);
    } catch (error) {
      // Damaged, or open in another Hollowgate: a new copy will do.
      if (!(error instanceof Problem)) throw error;
    }
    return importNew(context, await listInputs(SAMPLE_FOLDER), SAMPLE_STEM, {});
  },

  'property.open': (context, { path, answers }) => open(context, path, answers),

  'property.pick': async (context, { what }) => {
    const { pick } = context.options;
    if (!pick) {
      throw new Problem('This window cannot open the system’s file dialog.', {
        fix: 'Drop the files in the window or type the path.',
      });
    }
    const path = await pick(what);
    return path === null ? null : open(context, path);
  },

  'property.summary': async ({ property }) => (property ? summarize(property) : null),
};
