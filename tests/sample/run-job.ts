import { createHash } from 'node:crypto';
import type { Artifacts } from '../../core/analysis/artifacts.ts';
import { planRun, type SourceKeys } from '../../core/analysis/plan-run.ts';
import type { ReportModel } from '../../core/analysis/report.ts';
import { buildReport } from '../../core/analysis/report-model/build-report.ts';
import type { Settings } from '../../core/analysis/settings.ts';
import { STEPS } from '../../core/analysis/step-table.ts';
import { ownedArea } from '../../core/features/owned-area.ts';
import { silent } from '../../core/grid/progress.ts';
import { listInputs } from '../../electron/readers/folder.ts';
import { type Imported, readProperty } from '../../electron/readers/property.ts';

export const SAMPLE = new URL('../../sample-rasters/invented-farm', import.meta.url).pathname;
export const REAL = new URL('../../sample-rasters/ridge-and-valley-srtm3.tif', import.meta.url).pathname;

const sha256 = (text: string): string => createHash('sha256').update(text).digest('hex');

/** Reads the inputs and runs every step one after the other, without workers, cache or property file. */
export async function runJob(
  path: string,
  settings: Partial<Settings> = {},
): Promise<{ imported: Imported; artifacts: Artifacts; report: ReportModel }> {
  const imported = await readProperty(await listInputs(path), { settings });
  const artifacts = runSteps(imported.sources as Artifacts, imported.settings, () => true);
  const { frame, sources, notes, missing } = imported;
  const report = buildReport(
    frame,
    imported.settings,
    artifacts,
    notes,
    missing,
    ownedArea(sources.features),
  );
  return { imported, artifacts, report };
}

/** Runs the chosen steps over artifacts that are there already; what they make is new, the rest is kept. */
export function runSteps(from: Artifacts, settings: Settings, choose: (name: string) => boolean): Artifacts {
  const artifacts = { ...from };
  const sources = [
    'elevation',
    'imagery',
    'landcover',
    'vegetation',
    'holes',
    'surroundings',
    'features',
    'wind',
  ] as const;
  const sourceKeys = Object.fromEntries(sources.map((name) => [name, name])) as SourceKeys;
  for (const { step, params } of planRun(STEPS, sourceKeys, settings, sha256)) {
    if (choose(step.name)) Object.assign(artifacts, step.run(artifacts, params, silent));
  }
  return artifacts;
}
