import { randomUUID } from 'node:crypto';
import { copyFile, mkdir, mkdtemp, rename, rm, rmdir, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import type { Artifacts } from '../../core/analysis/artifacts.ts';
import type { ReportModel } from '../../core/analysis/report.ts';
import type { Grid, TypedArray } from '../../core/grid/frame.ts';
import { Problem } from '../../core/grid/problem.ts';
import { type Progress, silent } from '../../core/grid/progress.ts';
import { iCalendarOf } from '../../core/plan/icalendar.ts';
import { picturesOf } from '../store/kept-media.ts';
import { fieldPlan } from './field-files.ts';
import { geoJsonOf } from './geojson.ts';
import { encodeGeoTiff } from './geotiff.ts';
import { gpxOf, walkGpxOf } from './gpx.ts';
import { GRIDS, geoTiffOptions, gridNames } from './grid-catalog.ts';
import { kmlOf, kmzOf } from './kml.ts';
import { encodePdf } from './pdf/report-pdf.ts';
import { encodeSheet } from './pdf/sheet-pdf.ts';
import { type Stills, withRoom } from './pdf/stills.ts';
import type { TableName } from './tables.ts';
import { workCsvOf } from './work-csv.ts';

export type MakePdf = (report: ReportModel, artifacts: Artifacts, pictures: Stills) => Promise<Uint8Array>;

/** The tables that leave as GeoJSON. */
const TABLES = [
  'features',
  'necks',
  'crossings',
  'corridors',
  'stand-risks',
] as const satisfies readonly TableName[];

/** For phones, receivers, spreadsheets and calendars. */
const FIELD_FILES = 7;

/** Every file this program may put into an output folder; what a run does not write is taken away as outdated. */
const OWN_FILES = [
  'property.gpkg',
  ...TABLES.map((name) => `${name}.geojson`),
  'plan.gpx',
  'plan.kml',
  'plan.kmz',
  'walk.gpx',
  'work.csv',
  'work.ics',
  'sheet.pdf',
  'report.json',
  'report.pdf',
  ...gridNames.map((name) => join('layers', `${GRIDS[name].name}.tif`)),
];

/**
 * Writes everything that leaves the office. All of it is made in a folder beside and moved into place when it is
 * whole; other files in the output folder are left alone.
 *
 * @param property path of the property file, closed
 * @param makePdf makes the report, here or elsewhere
 * @returns the paths written
 * @throws Problem when the folder cannot be written to; Cancelled through `progress`
 */
export async function writeOutputs(
  folder: string,
  property: string,
  artifacts: Artifacts,
  report: ReportModel,
  progress: Progress = silent,
  makePdf: MakePdf = encodePdf,
): Promise<string[]> {
  const target = resolve(folder);
  await checkWritable(target);
  const staging = await inPlainWords(target, () => makeStaging(target));
  try {
    return await inPlainWords(target, async () => {
      const files = await writeAll(staging, property, artifacts, report, progress, makePdf);
      await moveIntoPlace(staging, target, files);
      return files.map((file) => join(target, file));
    });
  } finally {
    await rm(staging, { recursive: true, force: true });
  }
}

/** A new folder on the target's own disk, so that files move from it without being copied: inside where it is there. */
async function makeStaging(target: string): Promise<string> {
  const inside = await stat(target).catch(() => null);
  const parent = inside ? target : dirname(target);
  await mkdir(parent, { recursive: true });
  const staging = join(parent, `.${basename(target)}-${randomUUID()}`);
  await mkdir(staging);
  return staging;
}

/** Paths within the folder, in the order a person would look for them. */
async function writeAll(
  folder: string,
  property: string,
  artifacts: Artifacts,
  report: ReportModel,
  progress: Progress,
  makePdf: MakePdf,
): Promise<string[]> {
  // Half of all the work, so it may go on beside the rest; whether it failed is looked at when it is wanted.
  const wanted = report.pages.flatMap(({ pictures }) => pictures ?? []);
  const stills = picturesOf(property, [...new Set(wanted.map(({ id }) => id))]);
  const pdf = makePdf(report, artifacts, withRoom(wanted, stills));
  pdf.catch(() => {});
  const grids = gridNames.filter((name) => artifacts[name]);
  const files: string[] = [];
  const steps = grids.length + TABLES.length + FIELD_FILES + 3;
  const put = async (file: string, content: Uint8Array | string): Promise<void> => {
    await writeFile(join(folder, file), content);
    files.push(file);
    progress(files.length / steps);
  };

  await copyFile(property, join(folder, 'property.gpkg'));
  files.push('property.gpkg');
  await mkdir(join(folder, 'layers'));
  for (const name of grids) {
    const grid = artifacts[name] as Grid<TypedArray>;
    await put(join('layers', `${GRIDS[name].name}.tif`), await encodeGeoTiff(grid, geoTiffOptions(name)));
  }
  const { name, invented, epsg } = report.property;
  for (const table of TABLES) {
    await put(`${table}.geojson`, JSON.stringify(geoJsonOf(table, artifacts, epsg, { name, invented })));
  }
  const plan = fieldPlan(artifacts, report);
  await put('plan.gpx', gpxOf(plan));
  await put('plan.kml', kmlOf(plan));
  await put('plan.kmz', kmzOf(plan, new Date(report.made)));
  await put('walk.gpx', walkGpxOf(plan));
  await put('work.csv', workCsvOf(report.work));
  const { calendar, jobs } = report.work;
  await put('work.ics', iCalendarOf(calendar, jobs, { name, key: name }, report.made));
  await put('sheet.pdf', await encodeSheet(report, artifacts));
  await put('report.json', `${JSON.stringify(report, null, 2)}\n`);
  await put('report.pdf', await pdf);
  return files;
}

/**
 * Files that were there step aside first and come back if any of the new ones cannot take its place (a report open in
 * a viewer, a folder of the same name), so that the output never mixes two runs.
 */
async function moveIntoPlace(staging: string, target: string, files: string[]): Promise<void> {
  if (dirname(staging) !== target) {
    await rename(staging, target);
    return;
  }
  const aside = join(staging, 'aside');
  await mkdir(join(aside, 'layers'), { recursive: true });
  await mkdir(join(target, 'layers'), { recursive: true });
  const undo: (() => Promise<void>)[] = [];
  const move = async (from: string, to: string): Promise<void> => {
    await rename(from, to);
    undo.unshift(() => rename(to, from));
  };
  try {
    for (const file of OWN_FILES) {
      const place = join(target, file);
      if (await stat(place).catch(() => null)) await move(place, join(aside, file));
      if (files.includes(file)) await move(join(staging, file), place);
    }
  } catch (error) {
    for (const step of undo) await step();
    throw error;
  }
}

/**
 * Makes sure that results can be written into a folder (made later where it is not there yet), before an hour's work
 * is spent on them.
 *
 * @throws Problem when they cannot
 */
export async function checkWritable(folder: string): Promise<void> {
  const target = resolve(folder);
  await inPlainWords(target, async () => {
    let place = target;
    // The nearest folder that is there must let a new one be made in it.
    for (;;) {
      const found = await stat(place).catch(() => null);
      if (found?.isDirectory()) break;
      if (found) {
        throw new Problem(`${place} is a file, so results cannot be written into it.`, {
          file: place,
          fix: 'Choose another output folder.',
        });
      }
      place = dirname(place);
    }
    await rmdir(await mkdtemp(join(place, '.hollowgate-')));
  });
}

const REASONS: Record<string, string> = {
  EACCES: 'writing there is not allowed',
  EPERM: 'writing there is not allowed',
  EROFS: 'it is on a disk that cannot be written to',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the disk quota is used up',
  ENOTDIR: 'a part of the path is a file',
  ENAMETOOLONG: 'the path is too long',
  ENOENT: 'the place cannot be made',
  EEXIST: 'a file stands where a folder must be',
  EBUSY: 'a file there is open in another program',
};

async function inPlainWords<T>(folder: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    const reason = REASONS[(error as { code?: string }).code ?? ''];
    if (error instanceof Problem || !reason) throw error;
    throw new Problem(`Results cannot be written to ${folder}: ${reason}.`, {
      file: folder,
      fix: 'Choose another output folder, or make room or permission there.',
    });
  }
}
