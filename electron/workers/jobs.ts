import { basename, extname, join } from 'node:path';
import type { WindRecord } from '../../core/air/types.ts';
import type { Artifacts } from '../../core/analysis/artifacts.ts';
import type { ReportModel } from '../../core/analysis/report.ts';
import type { Settings } from '../../core/analysis/settings.ts';
import type { Progress } from '../../core/grid/progress.ts';
import type { InputSet } from '../readers/folder.ts';
import type { InputFile } from '../readers/inputs.ts';
import { readProperty } from '../readers/property.ts';
import { readScan, type Scan } from '../readers/scan.ts';
import { hashFile } from '../readers/source.ts';
import { readWind } from '../readers/wind.ts';
import { type Backup, packBackup, unpackBackup } from '../store/backup.ts';
import { freeName } from '../store/free-name.ts';
import { makeNameless } from '../store/nameless.ts';
import { createProperty, openProperty, type PropertyHead } from '../store/property-file.ts';
import { type MakePdf, writeOutputs } from '../writers/outputs.ts';
import { encodePdf } from '../writers/pdf/report-pdf.ts';
import { runJob } from './run-job.ts';

/** Long work with files that must not hold up the service: run in a worker of its own through `runJob`. */
export const JOBS = {
  /** Reads the inputs onto a frame and writes a new property file. */
  async import(
    job: { inputs: InputSet; settings: Partial<Settings>; answers: Record<string, string>; target: string },
    progress: Progress,
  ): Promise<{ path: string }> {
    const { inputs, settings, answers, target } = job;
    const imported = await readProperty(inputs, { settings, answers, progress });
    createProperty(target, imported).close();
    return { path: target };
  },

  /** A wind record of files, and the files' hashes; null when all were left out. */
  async wind({ files, answers }: { files: InputFile[]; answers: Record<string, string> }): Promise<{
    wind: WindRecord | null;
    used: { name: string; hash: string }[];
  }> {
    const wind = readWind(files, answers);
    const used = files.map(async ({ name, path }) => ({ name, hash: await hashFile(path, name) }));
    return { wind, used: await Promise.all(used) };
  },

  /** A scan or photo that need not say where it lies, as the window can show it. */
  scan: ({ file }: { file: InputFile }): Promise<Scan> => readScan(file),

  /** Writes every deliverable of an analysed property. */
  async outputs(
    job: { folder: string; property: string; artifacts: Artifacts; report: ReportModel },
    progress: Progress,
  ): Promise<{ files: string[] }> {
    const { folder, property, artifacts, report } = job;
    const ending = new AbortController();
    const makePdf: MakePdf = (...given) => runJob('report', given, () => {}, ending.signal);
    try {
      return { files: await writeOutputs(folder, property, artifacts, report, progress, makePdf) };
    } finally {
      ending.abort();
    }
  },

  /** Sets the report as a PDF. */
  report: (given: Parameters<MakePdf>): Promise<Uint8Array> => encodePdf(...given),

  /** A whole copy of a property that is not open; answers with what the copy says of itself. */
  async copy({ path, target }: { path: string; target: string }): Promise<PropertyHead> {
    return copyProperty(path, target);
  },

  /** A copy with names, notes and history left out. */
  async nameless({ path, target }: { path: string; target: string }): Promise<PropertyHead> {
    return makeNameless(path, target);
  },

  /** Several property files, none of them open, in one; `folder` holds copies on their way. */
  async backup(
    { files, folder, target }: { files: Backup[]; folder: string; target: string },
    progress: Progress,
  ): Promise<{ bytes: number }> {
    const copies = files.map((file, i) => {
      const path = join(folder, `${i + 1}.gpkg`);
      copyProperty(file.path, path);
      return { ...file, path };
    });
    return { bytes: await packBackup(copies, target, progress) };
  },

  /** The property files of a backup, each checked, beside those in a folder. */
  async restore(
    { path, folder, into }: { path: string; folder: string; into: string },
    progress: Progress,
  ): Promise<{ restored: { head: PropertyHead; client: string; archived: boolean }[] }> {
    const restored = [];
    for (const { path: unpacked, name, client, archived } of await unpackBackup(path, folder, progress)) {
      const target = await freeName(into, basename(name, extname(name)));
      restored.push({ head: copyProperty(unpacked, target), client, archived });
    }
    return { restored };
  },
};

function copyProperty(path: string, target: string): PropertyHead {
  const property = openProperty(path);
  try {
    property.copyTo(target);
    return { ...property.head(), path: target };
  } finally {
    property.close();
  }
}

export type JobName = keyof typeof JOBS;
